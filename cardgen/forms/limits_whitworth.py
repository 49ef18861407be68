"""Limits of Whitworth threads by BS 84, in inches to four places."""

from __future__ import annotations

from collections.abc import Mapping
from math import sqrt
from typing import Any

from cardgen.core.words import told
from cardgen.forms.form import MM, Form
from cardgen.forms.limit import Band, Limit, NutLimits, ScrewLimits
from cardgen.forms.sizes import Sizes
from cardgen.rules.thread_whitworth import whitworth_tolerance

_INCH = MM["in"]


def whitworth_screw(form: Form, sizes: Sizes, starts: int, cls: str) -> ScrewLimits:
    """Return a Whitworth screw's limits; an allowance is taken off small ones before tolerances."""
    del starts
    rule, group = form.tolerances, form.tolerances["class"][cls]
    root = sqrt(sizes.pitch / _INCH)
    allowance = _to_mm(form, _allowance(form, sizes, group))
    pitch_tolerance, major_tolerance, minor_tolerance = (
        _to_mm(form, group["share"] * _tolerance(form, sizes.major, sizes.pitch) + more * root)
        for more in (0.0, rule["major_root_pitch"], group["minor_root_pitch"])
    )
    major, pitch, minor = (
        Band(size - allowance - tolerance, size - allowance)
        for size, tolerance in (
            (sizes.major, major_tolerance),
            (sizes.pitch_diameter, pitch_tolerance),
            (sizes.minor, minor_tolerance),
        )
    )
    return ScrewLimits(
        major=major,
        pitch=pitch,
        minor=minor,
        groove=Band(
            sizes.groove(sizes.pitch_diameter - pitch.high),
            sizes.groove(sizes.pitch_diameter - pitch.low),
        ),
        allowance=allowance,
        crest_allowance=allowance,
        pitch_tolerance=pitch_tolerance,
        source=told("{source}; class {name}", source=rule["source"], name=cls),
        evidence=rule["evidence"],
        crest_evidence=rule["evidence"],
        note=_note(allowance, pitch_tolerance),
    )


def whitworth_nut(form: Form, sizes: Sizes, starts: int, cls: str) -> NutLimits:
    """Return a Whitworth nut's limits: none below basic, its root open."""
    del starts
    rule = form.tolerances
    share = rule["nut_class"][cls]["share"]
    tolerance = _to_mm(form, share * _tolerance(form, sizes.major, sizes.pitch))
    threads = _INCH / sizes.pitch
    step = next(row for row in rule["nut_minor"] if threads > row.get("finer_than", 0) - 1e-6)
    bore = _to_mm(form, step["pitches"] * sizes.pitch / _INCH + step["plus"])
    pitch = Band(sizes.pitch_diameter, sizes.pitch_diameter + tolerance)
    return NutLimits(
        major=Limit(sizes.nut_major, None),
        pitch=pitch,
        minor=Band(sizes.nut_minor, sizes.nut_minor + bore),
        groove=Band(sizes.pitch / 2, sizes.groove(tolerance)),
        source=told("{source}; nut, class {name}", source=rule["source"], name=cls),
        evidence=rule["evidence"],
        note=_note(0.0, tolerance),
    )


def _tolerance(form: Form, diameter: float, pitch: float) -> float:
    """Return T of the medium class for an engagement of one diameter; sizes in mm [in]."""
    a, b, c = form.tolerances["factors"]
    d = diameter / _INCH
    return whitworth_tolerance(d, d, pitch / _INCH, (a, b, c))


def _allowance(form: Form, sizes: Sizes, group: Mapping[str, Any]) -> float:
    """Return the allowance of small bolts: a share of T, that of the least size below it [in]."""
    rule = form.tolerances["allowance"]
    if not group["allowance"] or sizes.major / _INCH > rule["up_to"] + 1e-6:
        return 0.0
    if sizes.major / _INCH < rule["least_size"]:
        diameter, pitch = rule["least_size"] * _INCH, _INCH / rule["least_size_tpi"]
    else:
        diameter, pitch = sizes.major, sizes.pitch
    return float(rule["share"] * _tolerance(form, diameter, pitch))


def _to_mm(form: Form, inches: float) -> float:
    """Return a tolerance rounded to the standard's places, in mm."""
    return round(inches, form.places) * _INCH


def _note(allowance: float, tolerance: float) -> str:
    parts = [f"tolerance {tolerance / _INCH:.4f} in"]
    if allowance:
        parts.insert(0, f"allowance {allowance / _INCH:.4f} in")
    return ", ".join([*parts, "engagement taken as one diameter; formulae from memory"])
