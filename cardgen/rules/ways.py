"""With the form tool alone: straight in, along one flank, or along both flanks in turn."""

from __future__ import annotations

from dataclasses import replace
from math import cos, degrees, radians

from cardgen.core.words import told
from cardgen.rules.case import Case, Impossible, Method, Plan
from cardgen.rules.cutting import Law
from cardgen.rules.passes import Lathe, Stage, Zigzag


def feed_angle_deg(case: Case) -> float:
    """Return the angle of the compound slide from straight in for flank feed [deg]."""
    return degrees(case.groove.trailing) - case.practice.flank_relief


def plunge(case: Case) -> Plan:
    """Return the plan for feeding straight in by the cross-slide."""
    return _straight(case, "plunge", case.lathe, case.confined)


def flank(case: Case) -> Plan | Impossible:
    """Return the plan for feeding along the trailing flank by the compound slide."""
    if case.compound_step is None:
        return Impossible("flank feed needs a compound slide that can be set over")
    angle_deg = feed_angle_deg(case)
    if angle_deg <= 0:
        return Impossible("flank feed needs sloping flanks; these are upright")
    step = case.compound_step * cos(radians(angle_deg))
    lathe = replace(case.lathe, step=step, feed=radians(angle_deg))
    return replace(_straight(case, "flank", lathe, case.open), feed_deg=angle_deg)


def alternate(case: Case) -> Plan | Impossible:
    """Return the plan for flanks that cut in turn.

    The cross-slide feeds, and the compound slide along the axis moves the tool to and fro: every
    bite is taken twice, first with the tool as far towards the chuck as the flank there recedes in
    the bite, then back in the middle. So one flank cuts at a time, by the share of both, and
    each wears half as much. The last cut is straight in, with the compound at 0, and trues both.
    """
    if case.side_step is None:
        return Impossible("alternating flanks need a compound slide to move the tool sideways")
    if case.flatter_deg <= 0:
        return Impossible("alternating flanks need sloping flanks; one of these is upright")
    lathe = case.lathe
    total, kept = case.full(lathe.step)
    least = case.least(lathe.step)
    light = min(case.light(lathe.step), total)
    # Bites come in pairs, so that what is left for the light cut may be a division more.
    light += (total - light) % 2
    rough = Stage(
        "rough",
        0,
        total - light,
        case.point,
        case.groove,
        case.blade,
        case.chip,
        case.open,
        zigzag=Zigzag(
            case.side_step, case.confined, case.practice.shave, leading_first=not case.left_hand
        ),
    )
    if rough.aside_by(case.chip) == 0:
        return Impossible(
            told(
                "one division of the compound slide, {division} mm, is more than a flank recedes "
                "in a pass",
                division=f"{case.side_step:g}",
            )
        )
    finish = _finish(rough, total, case.confined)
    stages = (rough, finish) if rough.end else (finish,)
    return Plan("alternate", lathe, total, kept, least, stages)


def _straight(case: Case, method: Method, lathe: Lathe, law: Law) -> Plan:
    """Return a plan with one tool all the way and a light last cut."""
    total, kept = case.full(lathe.step)
    least = case.least(lathe.step)
    light = min(case.light(lathe.step), total)
    rough = Stage("rough", 0, total - light, case.point, case.groove, case.blade, case.chip, law)
    finish = _finish(rough, total, law)
    stages = (finish,) if light == total else (rough, finish)
    return Plan(method, lathe, total, kept, least, stages)


def _finish(rough: Stage, total: int, law: Law) -> Stage:
    return replace(rough, step="finish", start=rough.end, end=total, law=law, zigzag=None)
