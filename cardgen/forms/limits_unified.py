"""Limits of Unified threads by ASME B1.1, in inches to four places."""

from __future__ import annotations

from math import sin

from cardgen import library
from cardgen.forms.form import MM, Form
from cardgen.forms.limit import Band, Limit, NutLimits, ScrewLimits
from cardgen.forms.sizes import Sizes
from cardgen.rules.profile import fundamental_height
from cardgen.rules.thread_unified import (
    half_even,
    half_up,
    nut_minor_tolerance_by_pitch,
    nut_minor_tolerance_by_size,
    pitch_tolerance,
    two_thirds_power,
)

_INCH = MM["in"]
_PITCH_PLACES = 8
_INTERMEDIATE = 6
_PLACES = 4
_BORE_PLACES = 3


def unified_screw(form: Form, sizes: Sizes, starts: int, cls: str) -> ScrewLimits:
    """Return a Unified screw's limits; its root is rounded (UNR).

    The standard's limits are for one start and may be used for more.
    """
    del starts
    rule, group = form.tolerances, form.tolerances["class"][cls]
    d, p = _nominal(sizes)
    basic = _pitch_tolerance(form, sizes)
    # Both classes that have an allowance have that of 2A.
    allowance = (
        half_even(half_up(rule["allowance"] * basic, _INTERMEDIATE), _PLACES)
        if group["allowance"]
        else 0.0
    )
    tolerance = half_up(half_up(group["pitch"] * basic, _INTERMEDIATE), _PLACES)
    crest = half_up(group["major"] * two_thirds_power(p), _INTERMEDIATE)
    major_high = half_up(d - allowance, _PLACES)
    pitch_high = half_up(_basic(sizes, sizes.pitch_diameter) - allowance, _PLACES)
    # The tables take the basic root of the nut, then half of an eighth of H on either side.
    root = half_up(_basic(sizes, sizes.nut_minor) - allowance, _PLACES)
    root = half_up(root - half_up(rule["root_truncation"] * p, _PLACES), _PLACES)
    pitch = Band(_mm(pitch_high - tolerance), _mm(pitch_high))
    return ScrewLimits(
        major=Band(_mm(major_high - crest), _mm(major_high)),
        pitch=pitch,
        minor=Band(min(_deepest_root(sizes, pitch.low), _mm(root)), _mm(root)),
        groove=Band(
            sizes.groove(sizes.pitch_diameter - pitch.high),
            sizes.groove(sizes.pitch_diameter - pitch.low),
        ),
        allowance=allowance * _INCH,
        crest_allowance=allowance * _INCH,
        pitch_tolerance=tolerance * _INCH,
        source=f"{group['source']}, class {cls}",
        evidence=group["evidence"],
        crest_evidence=group["evidence"],
        note=_note(form, sizes, tolerance, allowance)
        + "; the root is lowest where it is rounded to the least radius",
    )


def unified_nut(form: Form, sizes: Sizes, starts: int, cls: str) -> NutLimits:
    """Return a Unified nut's limits; no allowance is taken from the nut."""
    del starts
    group = form.tolerances["class"][cls]
    tolerance = half_up(half_up(group["pitch"] * _pitch_tolerance(form, sizes), 6), _PLACES)
    pitch_low = half_up(_basic(sizes, sizes.pitch_diameter), _PLACES)
    pitch = Band(_mm(pitch_low), _mm(pitch_low + tolerance))
    return NutLimits(
        # The standard leaves the nut's root open outwards.
        major=Limit(_mm(half_up(sizes.nut_major / _INCH, _PLACES)), None),
        pitch=pitch,
        minor=_bore(form, sizes, group["bore"]),
        groove=Band(
            sizes.groove(pitch.low - sizes.pitch_diameter),
            sizes.groove(pitch.high - sizes.pitch_diameter),
        ),
        source=f"{group['source']}, class {cls}",
        evidence=group["evidence"],
        note=_note(form, sizes, tolerance, 0.0),
    )


def length_of_engagement(form: Form, sizes: Sizes) -> float:
    """Return the engagement on which the limits of the form's series rest [in]."""
    rule = form.tolerances["engagement"]
    d, p = _nominal(sizes)
    by_diameter = form.series in rule["diameter_long"] or (
        form.series == "UN" and round(1 / p, 3) in rule["diameter_long_tpi"]
    )
    return d if by_diameter else half_up(rule["pitches_long"] * p, _INTERMEDIATE)


def _nominal(sizes: Sizes) -> tuple[float, float]:
    """Return diameter and pitch as the standard takes them [in]."""
    return half_up(sizes.major / _INCH, _PLACES), half_up(sizes.pitch / _INCH, _PITCH_PLACES)


def _basic(sizes: Sizes, diameter: float) -> float:
    """Return a basic diameter: the nominal less what is rounded to the intermediate places."""
    d, _ = _nominal(sizes)
    return d - half_up((sizes.major - diameter) / _INCH, _INTERMEDIATE)


def _pitch_tolerance(form: Form, sizes: Sizes) -> float:
    """Return the tolerance of class 2A, of which all others are multiples [in]."""
    rule = form.tolerances
    d, p = _nominal(sizes)
    taken = next(
        (
            float(row["taken_as_in"])
            for row in library.table(rule["ranges"])
            if float(row["over_in"]) < d <= float(row["up_to_in"])
        ),
        d,
    )
    return pitch_tolerance(
        taken,
        length_of_engagement(form, sizes),
        p,
        by_diameter=rule["by_diameter"],
        by_engagement=rule["by_engagement"],
        by_pitch=rule["by_pitch"],
    )


def _bore(form: Form, sizes: Sizes, kind: str) -> Band:
    """Return the nut's bore [mm]."""
    rules = form.tolerances["bore"]
    common, close = rules["common"], rules["close"]
    d, p = _nominal(sizes)
    least = _basic(sizes, sizes.nut_minor)
    places = _BORE_PLACES if d >= rules["places"]["from_diameter"] - 1e-9 else _PLACES
    small = d < common["from_diameter"]
    if kind == "common" and not small:
        coarse = 1 / p < common["coarse_below_tpi"] - 1e-6
        tolerance = (
            common["coarse"] * p
            if coarse
            else nut_minor_tolerance_by_pitch(p, common["linear"], common["square"])
        )
        high = half_up(least + half_up(tolerance, _PLACES), places)
        return Band(_mm(half_up(least, places)), _mm(high))
    by_size = nut_minor_tolerance_by_size(
        d, p, by_power=close["by_power"], by_ratio=close["by_ratio"], less=close["less"]
    )
    if kind == "common":
        floor = nut_minor_tolerance_by_pitch(p, common["linear"], common["square"])
    elif 1 / p > close["fine_from_tpi"] - 1e-6:
        floor = nut_minor_tolerance_by_pitch(p, close["fine_linear"], close["fine_square"])
    else:
        floor = close["coarse"] * p
    tolerance = min(max(by_size, floor), close["most"] * p)
    high = half_up(least + half_up(tolerance, _PLACES), _PLACES)
    if kind == "common":
        # Below 1/4 in the limit is that of four places, rounded once more.
        high = half_up(high, places)
    return Band(_mm(half_up(least, places)), _mm(high))


def _deepest_root(sizes: Sizes, pitch_low: float) -> float:
    """Return the least minor diameter: flanks at their lowest, root of the least radius [mm].

    A circle of radius R that touches both flanks of a V has its lowest point ``R (1/sin a - 1)``
    above the point where they meet.
    """
    height = fundamental_height(sizes.pitch, sizes.leading, sizes.trailing)
    above_apex = (sizes.least_root_radius or 0.0) * (1 / sin(sizes.leading) - 1)
    return pitch_low - height + 2 * above_apex


def _mm(inches: float) -> float:
    """Return a limit as the standard rounds it, in mm."""
    return half_up(inches, _PLACES) * _INCH


def _note(form: Form, sizes: Sizes, tolerance: float, allowance: float) -> str:
    engagement = length_of_engagement(form, sizes)
    note = f"tolerance {tolerance:.4f} in for an engagement of {engagement:.3g} in"
    return f"allowance {allowance:.4f} in, {note}" if allowance else note
