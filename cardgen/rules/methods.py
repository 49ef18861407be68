"""Straight in, along the flank, or rough first? The stages of each way, and which way to take.

Lengths in mm, angles in rad unless named ``_deg``.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import cos, radians, tan
from typing import Literal

from cardgen.rules.blade import Blade
from cardgen.rules.cutting import Groove, Law
from cardgen.rules.dialling import divisions_reaching, divisions_within, full_depth
from cardgen.rules.infeed import Schedule, Stuck, schedule
from cardgen.rules.passes import Lathe, Stage

Method = Literal["plunge", "flank", "rough-then-form"]


@dataclass(frozen=True, slots=True)
class Practice:
    """What the trade does, as numbers; the table of practice says each one's meaning."""

    least: float
    finish_bite: float
    plunge_tip: float
    plunge_edge: float
    passes_most: int
    rough_side: float
    rough_bottom: float
    rough_least: float
    rough_taper: float
    rough_try: float
    vee_least: float
    flank_relief: float


@dataclass(frozen=True, slots=True)
class Case:
    """A groove to be cut, the tool, and the lathe with the work in it.

    Attributes
    ----------
    lathe
        Set for feeding straight in by the cross-slide.
    depth
        Wanted radial depth [mm].
    shallowest, deepest
        Limits of the radial depth [mm], where there are any.
    point
        Width of the tool's point [mm].
    groove
        Flanks of the thread.
    blade
        Of the form tool.
    chip
        Thickest chip [mm].
    confined, open
        The cutting law for a chip hemmed in on both sides, and for one with room.
    compound_step
        Travel of one division of the compound slide [mm]; ``None`` if it cannot be set over.
    """

    lathe: Lathe
    depth: float
    shallowest: float | None
    deepest: float | None
    point: float
    groove: Groove
    blade: Blade
    chip: float
    confined: Law
    open: Law
    compound_step: float | None
    practice: Practice


@dataclass(frozen=True, slots=True)
class Plan:
    """One way of cutting the thread, worked out.

    Attributes
    ----------
    lathe
        As set for this way: its step is a division of the dial that feeds.
    total
        Divisions to full depth.
    kept
        Whether full depth on a whole division keeps the limits of the minor diameter.
    least
        Divisions of the least bite.
    feed_deg
        Compound slide from straight in [deg]; zero when the cross-slide feeds.
    rough_width
        Of the roughing tool [mm]; ``None`` if there is none.
    """

    method: Method
    lathe: Lathe
    total: int
    kept: bool
    least: int
    stages: tuple[Stage, ...]
    outcome: Schedule | Stuck
    feed_deg: float = 0.0
    rough_width: float | None = None

    @property
    def passes(self) -> int:
        """Number of cutting passes; zero if there is no safe schedule."""
        return len(self.outcome.bites) if isinstance(self.outcome, Schedule) else 0


@dataclass(frozen=True, slots=True)
class Impossible:
    """Why a way of cutting does not apply to this thread or machine at all."""

    reason: str


def edge_at_full_depth(case: Case) -> float:
    """Return the length of cutting edge in the groove at full depth [mm]; upright sides rub only.

    A side of a square thread does not cut, it only follows.
    """
    flanks = sum(case.depth / cos(a) for a in _angles(case.groove) if a > 0)
    return case.point + flanks


def feed_angle_deg(case: Case) -> float:
    """Return the angle of the compound slide from straight in for flank feed [deg]."""
    return _deg(case.groove.trailing) - case.practice.flank_relief


def plan(case: Case, method: Method) -> Plan | Impossible:
    """Work out one way of cutting the thread."""
    return {"plunge": _plunge, "flank": _flank, "rough-then-form": _rough_then_form}[method](case)


def choose(case: Case, asked: Method | None) -> tuple[Plan | Impossible, str]:
    """Return the way to cut the thread, and the reason for it.

    Parameters
    ----------
    case
        The thread.
    asked
        The way that the job asks for; ``None`` to choose.
    """
    if asked is not None:
        return plan(case, asked), "as the job asks"
    practice = case.practice
    if min(_deg(a) for a in _angles(case.groove)) >= practice.vee_least:
        if case.compound_step is None:
            return plan(case, "plunge"), "the compound slide cannot be set over"
        return plan(case, "flank"), "one flank cuts, so the chip runs free"
    return _full_width_or_roughed(case)


def _full_width_or_roughed(case: Case) -> tuple[Plan, str]:
    """Return the better of plunging at full width and roughing first, and the reason."""
    practice, edge = case.practice, edge_at_full_depth(case)
    straight = _plunge(case)
    if case.point > practice.plunge_tip:
        wide = f"the point is {case.point:.2f} mm wide, over {practice.plunge_tip:g} mm"
    elif edge > practice.plunge_edge:
        wide = f"{edge:.1f} mm of edge would cut at full depth, over {practice.plunge_edge:g} mm"
    elif 0 < straight.passes <= practice.passes_most:
        return straight, f"{edge:.1f} mm of edge at most, safe at full width"
    else:
        wide = ""
    roughed = _rough_then_form(case)
    if isinstance(roughed, Impossible):
        return straight, "; ".join(part for part in (wide, roughed.reason) if part)
    if wide and roughed.passes:
        return roughed, wide
    if roughed.passes and not straight.passes:
        return roughed, "at full width no pass is safe"
    if 0 < roughed.passes < straight.passes:
        return roughed, f"at full width it would take {straight.passes} passes"
    return straight, "; ".join(
        part for part in (wide, "roughing first would be no safer and no quicker") if part
    )


def _plunge(case: Case) -> Plan:
    total, kept = full_depth(case.depth, case.lathe.step, case.shallowest, case.deepest)
    return _straight(case, "plunge", case.lathe, total, kept, case.confined)


def _flank(case: Case) -> Plan | Impossible:
    if case.compound_step is None:
        return Impossible("flank feed needs a compound slide that can be set over")
    angle_deg = feed_angle_deg(case)
    if angle_deg <= 0:
        return Impossible("flank feed needs sloping flanks; these are upright")
    step = case.compound_step * cos(radians(angle_deg))
    lathe = replace(case.lathe, step=step, feed=radians(angle_deg))
    total, kept = full_depth(case.depth, step, case.shallowest, case.deepest)
    return replace(_straight(case, "flank", lathe, total, kept, case.open), feed_deg=angle_deg)


def _straight(case: Case, method: Method, lathe: Lathe, total: int, kept: bool, law: Law) -> Plan:
    """Return a plan with one tool all the way and a light last cut."""
    least = _least(case, lathe)
    light = min(_light(case, lathe), total)
    rough = Stage("rough", 0, total - light, case.point, case.groove, case.blade, case.chip, law)
    finish = replace(rough, step="finish", start=total - light, end=total)
    stages = (finish,) if light == total else (rough, finish)
    outcome = schedule(lathe, stages, least)
    return Plan(method, lathe, total, kept, least, stages, outcome)


def _rough_then_form(case: Case) -> Plan | Impossible:
    practice = case.practice
    widest = min(case.point - practice.rough_side, practice.plunge_tip)
    if widest < practice.rough_least:
        return Impossible(
            f"the root of the groove, {case.point:.2f} mm, is too narrow for a roughing tool of "
            f"at least {practice.rough_least:g} mm"
        )
    width = divisions_within(widest, 0.1) / 10
    tried = first = _roughed(case, width)
    while not tried.passes and width - practice.rough_try >= practice.rough_least:
        width = round(width - practice.rough_try, 1)
        tried = _roughed(case, width)
    return tried if tried.passes else first


def _roughed(case: Case, width: float) -> Plan:
    """Return the plan with a roughing tool of a given width."""
    practice, lathe = case.practice, case.lathe
    total, kept = full_depth(case.depth, lathe.step, case.shallowest, case.deepest)
    least = _least(case, lathe)
    left = min(max(divisions_reaching(practice.rough_bottom, lathe.step), least), total - 1)
    down = total - left
    upright = Groove(0.0, 0.0)
    taper = 2 * case.blade.length * tan(radians(practice.rough_taper))
    narrow = replace(case.blade, tip=width, shank=max(width - taper, width / 2))
    light = _light(case, lathe) * lathe.step
    stages = (
        Stage("rough", 0, down, width, upright, narrow, case.chip, case.confined),
        Stage(
            "widen",
            0,
            down,
            case.point - width,
            case.groove,
            case.blade,
            case.chip,
            case.confined,
            slot=down,
        ),
        Stage(
            "finish",
            down,
            total,
            case.point,
            case.groove,
            case.blade,
            light,
            case.confined,
            slot=down,
        ),
    )
    outcome = schedule(lathe, stages, least)
    return Plan("rough-then-form", lathe, total, kept, least, stages, outcome, rough_width=width)


def _least(case: Case, lathe: Lathe) -> int:
    """Return the divisions of the least bite: at least one."""
    return max(divisions_reaching(case.practice.least, lathe.step), 1)


def _light(case: Case, lathe: Lathe) -> int:
    """Return the divisions of a finishing bite, to the nearest; never less than the least bite."""
    return max(round(case.practice.finish_bite / lathe.step), _least(case, lathe))


def _angles(groove: Groove) -> tuple[float, float]:
    return groove.leading, groove.trailing


def _deg(angle: float) -> float:
    return angle / radians(1)
