"""Limits of Unified threads by ASME B1.1, in inches to four places."""

from __future__ import annotations

from math import sin

from cardgen import library
from cardgen.core.figure import Evidence, weakest
from cardgen.core.words import told
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
)

_INCH = MM["in"]
_PITCH_PLACES = 8
_INTERMEDIATE = 6
_PLACES = 4
_BORE_PLACES = 3
_SAME = 1e-6


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
    crest = half_up(group["major"] * p ** (2 / 3), _PLACES)
    major_high = half_up(d - allowance, _PLACES)
    pitch_high = half_up(_basic(sizes, sizes.pitch_diameter) - allowance, _PLACES)
    # The tables take the basic root of the nut, then half of an eighth of H on either side.
    root = half_up(_basic(sizes, sizes.nut_minor) - allowance, _PLACES)
    truncation = _exception(form, "root_truncation", sizes)
    if truncation is None:
        truncation = half_up(rule["root_truncation"] * p, _PLACES)
    root = half_up(root - truncation, _PLACES)
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
        source=told("{source}, class {name}", source=group["source"], name=cls),
        evidence=_evidence(form, sizes, cls),
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
        source=told("{source}, class {name}", source=group["source"], name=cls),
        evidence=_evidence(form, sizes, cls),
        note=_note(form, sizes, tolerance, 0.0),
    )


def length_of_engagement(form: Form, sizes: Sizes) -> float:
    """Return the engagement on which the limits rest [in].

    That of the tables of the form's series; a special thread takes the pair's own where the tables
    do not hold for it.
    """
    special = form.series in form.tolerances["engagement"]["by_formula"]
    if form.engaged is not None and special and beyond_tables(form, sizes):
        return form.engaged / _INCH
    return _usual(form, sizes)


def tables_hold(form: Form, sizes: Sizes) -> Band:
    """Return the lengths of engagement for which the limits of the form's series are made [mm]."""
    rule = form.tolerances["engagement"]
    if _by_diameter(form, _nominal(sizes)[1]):
        return Band(0.0, rule["diameters_up_to"] * sizes.major)
    return Band(rule["pitches_from"] * sizes.pitch, rule["pitches_up_to"] * sizes.pitch)


def beyond_tables(form: Form, sizes: Sizes) -> bool:
    """Whether the pair engages over a length for which the tables of the series do not hold."""
    hold = tables_hold(form, sizes)
    return form.engaged is not None and not hold.low - _SAME <= form.engaged <= hold.high + _SAME


def tolerance_by_formula(form: Form, sizes: Sizes, cls: str, engagement: float) -> float:
    """Return the pitch-diameter tolerance of a class for any length of engagement, both in mm."""
    basic = _pitch_tolerance(form, sizes, engagement / _INCH)
    return _mm(half_up(form.tolerances["class"][cls]["pitch"] * basic, _INTERMEDIATE))


def _usual(form: Form, sizes: Sizes) -> float:
    """Return the engagement on which the tables of the form's series rest [in]."""
    known = _exception(form, "engagement", sizes)
    if known is not None:
        return known
    d, p = _nominal(sizes)
    pitches = form.tolerances["engagement"]["pitches_long"]
    return d if _by_diameter(form, p) else half_up(pitches * p, _INTERMEDIATE)


def _by_diameter(form: Form, pitch: float) -> bool:
    rule = form.tolerances["engagement"]
    return form.series in rule["diameter_long"] or (
        form.series == "UN" and round(1 / pitch, 3) in rule["diameter_long_tpi"]
    )


def _exception(form: Form, quantity: str, sizes: Sizes) -> float | None:
    """Return what the standard's tables print where no rule gives it [in]."""
    d, p = _nominal(sizes)
    for row in library.table(form.tolerances["exceptions"]):
        if (
            row["quantity"] == quantity
            and row["series"] in ("", form.series)
            and abs(float(row["d_in"] or d) - d) < _SAME
            and abs(1 / float(row["tpi"]) - p) < _SAME
        ):
            return float(row["value_in"])
    return None


def _nominal(sizes: Sizes) -> tuple[float, float]:
    """Return diameter and pitch as the standard takes them [in]."""
    return half_up(sizes.major / _INCH, _PLACES), half_up(sizes.pitch / _INCH, _PITCH_PLACES)


def _basic(sizes: Sizes, diameter: float) -> float:
    """Return a basic diameter: the nominal less what is rounded to the intermediate places."""
    d, _ = _nominal(sizes)
    return d - half_up((sizes.major - diameter) / _INCH, _INTERMEDIATE)


def _pitch_tolerance(form: Form, sizes: Sizes, engagement: float | None = None) -> float:
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
        length_of_engagement(form, sizes) if engagement is None else engagement,
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
    small = d < common["from_diameter"] and form.series not in common["always"]
    if kind == "common" and not small:
        coarse = 1 / p < common["coarse_below_tpi"] - 1e-6
        tolerance = (
            common["coarse"] * p
            if coarse
            else nut_minor_tolerance_by_pitch(p, common["linear"], common["square"])
        )
        high = half_even(half_up(least, _PLACES) + half_up(tolerance, _PLACES), places)
        return Band(_mm(half_even(half_up(least, _PLACES), places)), _mm(high))
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
    high = half_up(least, _PLACES) + half_up(tolerance, _PLACES)
    # The limit is that of four places, rounded once more where it is given to three.
    high = half_even(high, places if kind == "common" else _PLACES)
    return Band(_mm(half_even(half_up(least, _PLACES), places)), _mm(high))


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


def _takes_own(form: Form, sizes: Sizes) -> bool:
    """Whether the limits rest on the pair's engagement, not on that of the tables."""
    return length_of_engagement(form, sizes) != _usual(form, sizes)


def _evidence(form: Form, sizes: Sizes, cls: str) -> Evidence:
    """Return how well the limits are known: where the tables end is remembered."""
    known: Evidence = form.tolerances["class"][cls]["evidence"]
    if not _takes_own(form, sizes):
        return known
    ends: Evidence = form.tolerances["engagement"]["range_evidence"]
    return weakest(known, ends)


def _note(form: Form, sizes: Sizes, tolerance: float, allowance: float) -> str:
    engagement = length_of_engagement(form, sizes)
    note = f"tolerance {tolerance:.4f} in for an engagement of {engagement:.3g} in"
    if _takes_own(form, sizes):
        note += f", for which the tables, made for {_usual(form, sizes):.3g} in, do not hold"
    return f"allowance {allowance:.4f} in, {note}" if allowance else note
