"""Limits of inch buttress threads by ANSI B1.9, in inches to four places."""

from __future__ import annotations

from cardgen.forms.form import MM, Form
from cardgen.forms.limit import Band, Limit, NutLimits, ScrewLimits
from cardgen.forms.sizes import Sizes
from cardgen.rules.thread_buttress import buttress_pitch_tolerance
from cardgen.rules.thread_unified import half_up

_INCH = MM["in"]
_PLACES = 4


def buttress_inch_screw(form: Form, sizes: Sizes, starts: int, cls: str) -> ScrewLimits:
    """Return a buttress screw's limits; crest, flanks and root keep the allowance alike."""
    del starts
    rule = form.tolerances
    tolerance = _tolerance(form, sizes, cls)
    allowance = _tolerance(form, sizes, str(rule["allowance_class"]))
    major, pitch_high, minor = (
        half_up(size / _INCH - allowance, _PLACES)
        for size in (sizes.major, sizes.pitch_diameter, sizes.minor)
    )
    pitch = Band(_mm(pitch_high - tolerance), _mm(pitch_high))
    deepest = _mm(pitch_high - tolerance - rule["deepest"] * sizes.pitch / _INCH)
    return ScrewLimits(
        # Where nothing else is specified, crests have the tolerance of the pitch diameter.
        major=Band(_mm(major - tolerance), _mm(major)),
        pitch=pitch,
        minor=Band(deepest, _mm(minor)),
        groove=Band(
            sizes.groove(sizes.pitch_diameter - pitch.high),
            sizes.groove(sizes.pitch_diameter - pitch.low),
        ),
        allowance=allowance * _INCH,
        crest_allowance=allowance * _INCH,
        pitch_tolerance=tolerance * _INCH,
        source=f"{rule['source']}; class {cls}",
        evidence=rule["evidence"],
        crest_evidence=rule["evidence"],
        note=_note(form, tolerance) + f", allowance {allowance:.4f} in",
    )


def buttress_inch_nut(form: Form, sizes: Sizes, starts: int, cls: str) -> NutLimits:
    """Return a buttress nut's limits; no allowance is taken from the nut."""
    del starts
    rule = form.tolerances
    tolerance = _tolerance(form, sizes, cls)
    pitch_low, minor = (
        half_up(size / _INCH, _PLACES) for size in (sizes.pitch_diameter, sizes.nut_minor)
    )
    pitch = Band(_mm(pitch_low), _mm(pitch_low + tolerance))
    return NutLimits(
        major=Limit(
            _mm(sizes.nut_major / _INCH),
            _mm(pitch_low + tolerance + rule["deepest"] * sizes.pitch / _INCH),
        ),
        pitch=pitch,
        minor=Band(_mm(minor), _mm(minor + tolerance)),
        groove=Band(
            sizes.groove(pitch.low - sizes.pitch_diameter),
            sizes.groove(pitch.high - sizes.pitch_diameter),
        ),
        source=f"{rule['source']}; nut, class {cls}",
        evidence=rule["evidence"],
        note=_note(form, tolerance),
    )


def _tolerance(form: Form, sizes: Sizes, cls: str) -> float:
    """Return the pitch-diameter tolerance of a class, screw and nut alike [in]."""
    rule = form.tolerances
    pitch = sizes.pitch / _INCH
    return half_up(
        rule["factor"][cls.rstrip("AB")]
        * buttress_pitch_tolerance(
            sizes.major / _INCH,
            rule["engagement"] * pitch,
            pitch,
            by_diameter=rule["by_diameter"],
            by_engagement=rule["by_engagement"],
            by_pitch=rule["by_pitch"],
        ),
        _PLACES,
    )


def _mm(inches: float) -> float:
    return half_up(inches, _PLACES) * _INCH


def _note(form: Form, tolerance: float) -> str:
    pitches = form.tolerances["engagement"]
    return f"tolerance {tolerance:.4f} in for an engagement of {pitches} pitches"
