"""Limits of square threads: no standard, so what practice allows, and it says so."""

from __future__ import annotations

from cardgen.core.figure import Evidence
from cardgen.forms.form import MM, Form
from cardgen.forms.limit import Band, Limit, NutLimits, ScrewLimits
from cardgen.forms.sizes import Sizes
from cardgen.rules.thread_acme import crest_tolerance

_INCH = MM["in"]
_PRACTICE: Evidence = "practice"


def square_screw(form: Form, sizes: Sizes, starts: int, cls: str) -> ScrewLimits:
    """Return a square screw's limits: flanks stand square, so the groove's width is limited."""
    del starts, cls
    slack = _crest(form, sizes)
    wider = form.tolerances["groove_over"] * _INCH
    return ScrewLimits(
        major=Band(sizes.major - slack, sizes.major),
        pitch=None,
        minor=Band(sizes.minor - slack, sizes.minor),
        groove=Band(sizes.pitch / 2, sizes.pitch / 2 + wider),
        allowance=0.0,
        crest_allowance=0.0,
        pitch_tolerance=None,
        source=form.tolerances["source"],
        evidence=_PRACTICE,
        crest_evidence=_PRACTICE,
        note=(
            "no standard: crest and root as Acme general purpose; the groove no narrower than"
            f" half the pitch and at most {wider:.3f} mm wider"
        ),
    )


def square_nut(form: Form, sizes: Sizes, starts: int, cls: str) -> NutLimits:
    """Return a square nut's limits: the nut alone gives the play."""
    del starts, cls
    slack = _crest(form, sizes)
    low, high = (
        sizes.pitch / 2 + form.tolerances[key] * _INCH
        for key in ("nut_groove_low", "nut_groove_high")
    )
    return NutLimits(
        major=Limit(sizes.nut_major, sizes.nut_major + slack),
        pitch=None,
        minor=Band(sizes.nut_minor, sizes.nut_minor + slack),
        groove=Band(low, high),
        source=form.tolerances["source"],
        evidence=_PRACTICE,
        note=(
            f"no standard: tool for the nut {low - sizes.pitch / 2:.3f} to"
            f" {high - sizes.pitch / 2:.3f} mm wider than half the pitch"
        ),
    )


def _crest(form: Form, sizes: Sizes) -> float:
    rule = form.tolerances
    return _INCH * crest_tolerance(sizes.pitch / _INCH, rule["crest_pitches"], rule["crest_least"])
