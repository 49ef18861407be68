"""Limits of inch buttress threads by ANSI B1.9, in inches to four places."""

from __future__ import annotations

from cardgen import library
from cardgen.core.figure import Evidence, weakest
from cardgen.core.words import told
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
        source=told("{source}; class {name}", source=rule["source"], name=cls),
        evidence=_evidence(form, cls),
        crest_evidence=_evidence(form, cls),
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
        source=told("{source}; nut, class {name}", source=rule["source"], name=cls),
        evidence=_evidence(form, cls),
        note=_note(form, tolerance),
    )


def _tolerance(form: Form, sizes: Sizes, cls: str) -> float:
    """Return the pitch-diameter tolerance of a class, screw and nut alike [in]."""
    rule = form.tolerances
    usual = form.engaged is None
    return half_up(
        rule["class"][_number(cls)]["factor"]
        * buttress_pitch_tolerance(
            _mean_diameter(form, sizes.major / _INCH),
            (form.engaged or 0.0) / _INCH,
            sizes.pitch / _INCH,
            by_diameter=rule["by_diameter"],
            by_engagement=rule["by_engagement"],
            by_pitch=rule["by_pitch_alone" if usual else "by_pitch"],
        ),
        _PLACES,
    )


def _mean_diameter(form: Form, diameter: float) -> float:
    """Return the middle of the standard's range of diameters; outside them the diameter [in]."""
    rows = library.table(form.tolerances["ranges"])
    for row in rows:
        low, high = float(row["over_in"]), float(row["up_to_in"])
        if low - 1e-9 <= diameter <= high + 1e-9:
            return (low + high) / 2
    return diameter


def _number(cls: str) -> str:
    """Return a class without the letter for screw or nut."""
    return cls.rstrip("AB")


def _evidence(form: Form, cls: str) -> Evidence:
    """Return how well a class is known; its allowance is that of another."""
    rule = form.tolerances
    evidence: Evidence = rule["class"][_number(cls)]["evidence"]
    return weakest(evidence, rule["evidence"])


def _mm(inches: float) -> float:
    return half_up(inches, _PLACES) * _INCH


def _note(form: Form, tolerance: float) -> str:
    if form.engaged is None:
        pitches = form.tolerances["engagement_pitches"]
        return f"tolerance {tolerance:.4f} in for an engagement of {pitches} pitches"
    return f"tolerance {tolerance:.4f} in for the engagement of {form.engaged / _INCH:.3g} in"
