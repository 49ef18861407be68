"""Limits of Acme threads by ASME B1.5 (and stub Acme, B1.8), in inches to four places."""

from __future__ import annotations

from dataclasses import replace
from math import ceil, floor, sqrt

from cardgen import library
from cardgen.core.figure import Evidence
from cardgen.core.words import told
from cardgen.forms.form import MM, Form
from cardgen.forms.limit import Band, Limit, NutLimits, ScrewLimits
from cardgen.forms.sizes import Sizes
from cardgen.rules.thread_acme import acme_allowance, acme_pitch_tolerance, crest_tolerance

_INCH = MM["in"]


def acme_screw(form: Form, sizes: Sizes, starts: int, cls: str) -> ScrewLimits:
    """Return an Acme screw's limits.

    The standard's limits are for one start and may be used for more.
    """
    del starts
    rule, group = form.tolerances, form.tolerances["class"][cls]
    d, p = sizes.major / _INCH, sizes.pitch / _INCH
    mean = _mean_diameter(form, d)
    allowance = _rounded(form, acme_allowance(group["allowance"], mean))
    tolerance = _pitch_tolerance(form, cls, sizes)
    # The standard tabulates basic sizes and allowances rounded, and adds what it has tabulated.
    pitch_high = _rounded(form, sizes.pitch_diameter / _INCH) - allowance
    pitch = Band(_to_mm(form, pitch_high - tolerance), _to_mm(form, pitch_high))
    minor = _rounded(form, sizes.minor / _INCH)
    return ScrewLimits(
        major=Band(
            _to_mm(form, d - crest_tolerance(p, rule["crest_pitches"], rule["crest_least"])),
            _to_mm(form, d),
        ),
        pitch=pitch,
        minor=Band(_to_mm(form, minor - rule["root_factor"] * tolerance), _to_mm(form, minor)),
        groove=Band(
            sizes.groove(sizes.pitch_diameter - pitch.high),
            sizes.groove(sizes.pitch_diameter - pitch.low),
        ),
        allowance=allowance * _INCH,
        crest_allowance=0.0,
        pitch_tolerance=tolerance * _INCH,
        source=told("{source}; class {name}", source=group["source"], name=cls),
        evidence=group["evidence"],
        crest_evidence=rule["evidence"],
        note=(
            f"allowance {allowance:.4f} in"
            + (f" for the middle of the diameter range, {mean:g} in" if mean != d else "")
            + f"; tolerance {tolerance:.4f} in"
        ),
    )


def acme_nut(form: Form, sizes: Sizes, starts: int, cls: str) -> NutLimits:
    """Return an Acme nut's limits; no allowance is taken from the nut."""
    del starts
    rule, group = form.tolerances, form.tolerances["class"][cls]
    tolerance = _pitch_tolerance(form, cls, sizes)
    crest = crest_tolerance(sizes.pitch / _INCH, rule["crest_pitches"], rule["crest_least"])
    clearance = 2 * sizes.clearance / _INCH
    major, minor = (_rounded(form, size / _INCH) for size in (sizes.nut_major, sizes.nut_minor))
    pitch_low = _rounded(form, sizes.pitch_diameter / _INCH)
    pitch = Band(_to_mm(form, pitch_low), _to_mm(form, pitch_low + tolerance))
    evidence: Evidence = "memory"
    return NutLimits(
        # The root of the nut may be deeper by as much as it clears the screw.
        major=Limit(_to_mm(form, major), _to_mm(form, major + clearance)),
        pitch=pitch,
        minor=Band(_to_mm(form, minor), _to_mm(form, minor + crest)),
        groove=Band(sizes.pitch / 2, sizes.groove(pitch.high - sizes.pitch_diameter)),
        source=told("{source}; nut, class {name}, from memory", source=group["source"], name=cls),
        evidence=evidence,
        note=f"tolerance {tolerance:.4f} in, as for the screw",
    )


def centralizing_screw(form: Form, sizes: Sizes, starts: int, cls: str) -> ScrewLimits:
    """Return a centralizing Acme screw's limits: its crest is held closely, to bear in the nut."""
    group = form.tolerances["class"][cls]
    d = sizes.major / _INCH
    return replace(
        acme_screw(form, sizes, starts, cls),
        major=Band(_to_mm(form, d - _tabulated(form, group["major"] * sqrt(d))), _to_mm(form, d)),
        crest_evidence=group["evidence"],
    )


def centralizing_nut(form: Form, sizes: Sizes, starts: int, cls: str) -> NutLimits:
    """Return a centralizing Acme nut's limits: its root, not its flanks, guides the screw."""
    rule, group = form.tolerances, form.tolerances["class"][cls]
    d, p = sizes.major / _INCH, sizes.pitch / _INCH
    major = d + _tabulated(form, (sizes.nut_major - sizes.major) / _INCH)
    minor = _rounded(form, d - p) + _tabulated(form, rule["bore_pitches"] * p)
    crest = _tabulated(form, crest_tolerance(p, rule["crest_pitches"], rule["crest_least"]))
    return replace(
        acme_nut(form, sizes, starts, cls),
        major=Limit(
            _to_mm(form, major),
            _to_mm(form, major + _tabulated(form, group["nut_major"] * sqrt(d))),
        ),
        minor=Band(_to_mm(form, minor), _to_mm(form, minor + crest)),
        source=told("{source}; nut, class {name}", source=group["source"], name=cls),
        evidence=group["evidence"],
    )


def _pitch_tolerance(form: Form, cls: str, sizes: Sizes) -> float:
    group = form.tolerances["class"][cls]
    return acme_pitch_tolerance(
        group["diameter"], group["pitch"], sizes.major / _INCH, sizes.pitch / _INCH
    )


def _to_mm(form: Form, inches: float) -> float:
    """Return a limit as the standard rounds it, in mm."""
    return _rounded(form, inches) * _INCH


def _rounded(form: Form, inches: float) -> float:
    """Return a size rounded to the standard's places, half a last digit upwards [in]."""
    scale = 10.0 ** (form.places or 0)
    # What floating point leaves of a half must not turn it down.
    return floor(inches * scale + 0.5 + 1e-7) / scale


def _tabulated(form: Form, inches: float) -> float:
    """Return a tolerance as the standard tabulates it: half a last digit is left off [in]."""
    scale = 10.0 ** (form.places or 0)
    return ceil(inches * scale - 0.5 - 1e-7) / scale


def _mean_diameter(form: Form, diameter: float) -> float:
    """Return the middle of the standard's range in which a diameter lies [in].

    Beyond the ranges the standard's formula takes the diameter itself.
    """
    for row in library.table(form.tolerances["ranges"]):
        low, high = float(row["over_in"]), float(row["up_to_in"])
        if low < diameter <= high + 1e-9:
            return (low + high) / 2
    return diameter
