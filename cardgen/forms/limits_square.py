"""Limits of threads without a standard: what practice allows for square ones, and it says so."""

from __future__ import annotations

from math import tan

from cardgen.core.figure import Evidence
from cardgen.forms.form import MM, Form, FormError
from cardgen.forms.limit import Band, Limit, NutLimits, ScrewLimits
from cardgen.forms.sizes import Sizes
from cardgen.rules.thread_acme import crest_tolerance

_INCH = MM["in"]
_PRACTICE: Evidence = "practice"
_PARALLEL = 1e-9


def square_screw(form: Form, sizes: Sizes, starts: int, cls: str) -> ScrewLimits:
    """Return a screw's limits: the groove's width is what is limited.

    Where the flanks are inclined, the limits of the pitch diameter follow from those of the width.

    Raises
    ------
    FormError
        If the pitch is so fine that the widest groove would leave no pitch line above its root.
    """
    del starts, cls
    slack = _crest(form, sizes)
    wider = form.tolerances["groove_over"] * _INCH
    narrowest, widest = sizes.pitch / 2, sizes.pitch / 2 + wider
    _ridge_left(form, sizes.section.crest_flat, wider)
    pitch = _pitch(sizes, sizes.pitch / 2 - narrowest, sizes.pitch / 2 - widest)
    if pitch is not None and pitch.low <= sizes.minor:
        msg = (
            f"a groove {wider:.3f} mm wider than half the pitch, which is what practice allows,"
            f" would leave {form.title} with a pitch of {sizes.pitch:g} mm no pitch line above its"
            " root; take a coarser pitch"
        )
        raise FormError(msg)
    return ScrewLimits(
        major=Band(sizes.major - slack, sizes.major),
        pitch=pitch,
        minor=Band(sizes.minor - slack, sizes.minor),
        groove=Band(narrowest, widest),
        allowance=0.0,
        crest_allowance=0.0,
        pitch_tolerance=None if pitch is None else pitch.high - pitch.low,
        source=form.tolerances["source"],
        evidence=_PRACTICE,
        crest_evidence=_PRACTICE,
        note=(
            "no standard: crest and root as Acme general purpose; the groove no narrower than"
            f" half the pitch and at most {wider:.3f} mm wider"
        ),
    )


def square_nut(form: Form, sizes: Sizes, starts: int, cls: str) -> NutLimits:
    """Return a nut's limits: the nut alone gives the play."""
    del starts, cls
    slack = _crest(form, sizes)
    low, high = (
        sizes.pitch / 2 + form.tolerances[key] * _INCH
        for key in ("nut_groove_low", "nut_groove_high")
    )
    _ridge_left(form, sizes.section.groove_width(sizes.nut_minor / 2), high - sizes.pitch / 2)
    pitch = _pitch(sizes, high - sizes.pitch / 2, low - sizes.pitch / 2)
    if pitch is not None and pitch.high >= sizes.nut_major:
        msg = (
            f"a groove {high - sizes.pitch / 2:.3f} mm wider than half the pitch, which is what"
            f" practice gives the nut, would leave {form.title} with a pitch of {sizes.pitch:g} mm"
            " no pitch line below its root; take a coarser pitch"
        )
        raise FormError(msg)
    return NutLimits(
        major=Limit(sizes.nut_major, sizes.nut_major + slack),
        pitch=pitch,
        minor=Band(sizes.nut_minor, sizes.nut_minor + slack),
        groove=Band(low, high),
        source=form.tolerances["source"],
        evidence=_PRACTICE,
        note=(
            f"no standard: tool for the nut {low - sizes.pitch / 2:.3f} to"
            f" {high - sizes.pitch / 2:.3f} mm wider than half the pitch"
        ),
    )


def _ridge_left(form: Form, crest: float, wider: float) -> None:
    """Refuse a ridge that the widest groove cuts to a point."""
    if crest <= wider:
        msg = (
            f"a groove {wider:.3f} mm wider than half the pitch, which is what practice allows,"
            f" would leave nothing of a crest {crest:.3f} mm wide on {form.title}; take a coarser"
            " pitch or steeper flanks"
        )
        raise FormError(msg)


def _pitch(sizes: Sizes, most: float, least: float) -> Band | None:
    """Return the pitch diameters of grooves so much wider than half the pitch.

    Parameters
    ----------
    sizes
        Basic sizes.
    most, least
        What the nut's groove is wider by; for a screw, whose groove widens inwards, less than
        nothing [mm].

    Returns
    -------
    Band or None
        ``None`` between flanks square to the axis, whose groove is as wide at any diameter.
    """
    spread = tan(sizes.leading) + tan(sizes.trailing)
    if spread < _PARALLEL:
        return None
    return Band(sizes.pitch_diameter + 2 * least / spread, sizes.pitch_diameter + 2 * most / spread)


def _crest(form: Form, sizes: Sizes) -> float:
    rule = form.tolerances
    return _INCH * crest_tolerance(sizes.pitch / _INCH, rule["crest_pitches"], rule["crest_least"])
