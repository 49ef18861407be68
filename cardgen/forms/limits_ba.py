"""Limits of British Association threads by BS 93: every tolerance a line in the pitch."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from cardgen.core.words import told
from cardgen.forms.form import Form, FormError
from cardgen.forms.limit import Band, Limit, NutLimits, ScrewLimits
from cardgen.forms.sizes import Sizes

_SAME = 1e-6


def ba_screw(form: Form, sizes: Sizes, starts: int, cls: str) -> ScrewLimits:
    """Return a BA screw's limits; finer pitches have a rule of their own, and no close class."""
    del starts
    group = _group(form, sizes, cls)
    allowance = group["allowance"]
    major, pitch, minor = (
        Band(size - allowance - _line(group[key], sizes.pitch), size - allowance)
        for key, size in (
            ("major", sizes.major),
            ("pitch", sizes.pitch_diameter),
            ("minor", sizes.minor),
        )
    )
    tolerance = pitch.high - pitch.low
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
        pitch_tolerance=tolerance,
        source=told("{source}; class {name}", source=form.tolerances["source"], name=cls),
        evidence=form.tolerances["evidence"],
        crest_evidence=form.tolerances["evidence"],
        note=(f"allowance {allowance:g} mm, " if allowance else "")
        + f"tolerance {tolerance:.4f} mm",
    )


def ba_nut(form: Form, sizes: Sizes, starts: int, cls: str) -> NutLimits:
    """Return a BA nut's limits; it has one class, and its root is open."""
    del starts, cls
    group = form.tolerances["nut"]
    tolerance = _line(group["pitch"], sizes.pitch)
    return NutLimits(
        major=Limit(sizes.nut_major, None),
        pitch=Band(sizes.pitch_diameter, sizes.pitch_diameter + tolerance),
        minor=Band(sizes.nut_minor, sizes.nut_minor + _line(group["minor"], sizes.pitch)),
        groove=Band(sizes.pitch / 2, sizes.groove(tolerance)),
        source=form.tolerances["source"],
        evidence=form.tolerances["evidence"],
        note=f"tolerance {tolerance:.4f} mm",
    )


def _group(form: Form, sizes: Sizes, cls: str) -> Mapping[str, Any]:
    groups = form.tolerances["class"][cls]
    for group in groups:
        if sizes.pitch >= group["pitch_from"] - _SAME:
            return dict(group)
    msg = (
        f"{form.title} has no class {cls!r} below a pitch of {groups[-1]['pitch_from']:g} mm"
        f" (0 to 10 BA have it); take class {form.default_class!r}"
    )
    raise FormError(msg)


def _line(rule: Mapping[str, float], pitch: float) -> float:
    return rule["pitches"] * pitch + rule.get("plus", 0.0)
