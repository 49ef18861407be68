"""With a narrow blade before the form tool: one groove, or several side by side.

The narrow blade is plunged to near the bottom; the form tool follows it down, opens the groove to
its flanks and takes what was left at the bottom. Where the bottom is much wider than a blade that
the lathe can push, the blade is moved sideways by the compound slide and plunged again, each time
cutting only the strip that it was moved by, with room for the chip on the side already cut.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import ceil, radians, tan

from cardgen.core.words import told
from cardgen.rules.boring import Bar
from cardgen.rules.case import Case, Impossible, Method, Plan
from cardgen.rules.cutting import Groove
from cardgen.rules.dialling import divisions_reaching, divisions_within
from cardgen.rules.infeed import Known, Stuck
from cardgen.rules.passes import Stage

_UPRIGHT = Groove(0.0, 0.0)
_TENTH = 0.1
"""Blades are ground to whole tenths [mm]."""
_MORE = 2
"""Further strips that are tried beyond the fewest: narrower ones take deeper bites."""


def rough_then_form(case: Case, known: Known | None = None) -> Plan | Impossible:
    """Return the plan with one rough groove, of the width that makes the fewest passes."""
    known = {} if known is None else known
    widest = min(case.point - case.practice.rough_side, case.practice.plunge_tip)
    if widest < case.practice.rough_least:
        return Impossible(
            told(
                "the root of the groove, {root} mm, is too narrow for a roughing tool of at least "
                "{least} mm",
                root=f"{case.point:.2f}",
                least=f"{case.practice.rough_least:g}",
            )
        )
    return _fewest(
        [roughed(case, "rough-then-form", width, known=known) for width in _widths(case, widest)]
    )


def widen(case: Case, known: Known | None = None) -> Plan | Impossible:
    """Return the plan with several rough grooves side by side, in the fewest passes."""
    known = {} if known is None else known
    practice, side = case.practice, case.side_step
    if isinstance(case.lathe.work, Bar):
        return Impossible("a groove in a bore is not widened by steps that the eye cannot follow")
    if side is None:
        return Impossible("widening by steps needs a compound slide to move the tool sideways")
    opening = case.point - practice.rough_side
    widest = min(opening - practice.rough_try, practice.plunge_tip)
    if widest < practice.rough_least:
        return Impossible(
            told(
                "the root of the groove, {root} mm, is too narrow to be opened in steps by a tool "
                "of at least {least} mm",
                root=f"{case.point:.2f}",
                least=f"{practice.rough_least:g}",
            )
        )
    tried = [
        roughed(case, "widen", width, asides, known)
        for width in _widths(case, widest)
        for asides in _strips(opening, width, side)
    ]
    return _fewest(tried)


def _widths(case: Case, widest: float) -> Iterator[float]:
    """Give the widths of blades that are tried, widest first."""
    width = divisions_within(widest, _TENTH) * _TENTH
    while width >= case.practice.rough_least - 1e-9:
        yield round(width, 1)
        width -= case.practice.rough_try


def _strips(opening: float, width: float, side: float) -> Iterator[tuple[int, ...]]:
    """Give the places of further grooves, in divisions, for few and for a few more strips."""
    left = opening - width
    most = divisions_within(width, side)
    reach = divisions_within(left, side)
    fewest = ceil(reach / most)
    for count in range(fewest, min(fewest + _MORE, reach) + 1):
        yield tuple(reach * k // count for k in range(1, count + 1))


def _fewest(plans: list[Plan]) -> Plan:
    """Return the plan with the fewest passes, the widest blade first; or one that shows why not."""
    safe = [plan for plan in plans if not isinstance(plan.found, Stuck)]
    return min(safe, key=lambda plan: plan.passes) if safe else plans[0]


def roughed(
    case: Case,
    method: Method,
    width: float,
    asides: tuple[int, ...] = (),
    known: Known | None = None,
) -> Plan:
    """Return the plan with a narrow blade of a width, plunged once and again at each place."""
    practice, lathe = case.practice, case.lathe
    total, kept = case.full(lathe.step)
    least = case.least(lathe.step)
    left = min(max(divisions_reaching(practice.rough_bottom, lathe.step), least), total - 1)
    down = total - left
    taper = 2 * case.blade.length * tan(radians(practice.rough_taper))
    narrow = replace(case.blade, tip=width, shank=max(width - taper, width / 2))
    rough = Stage("rough", 0, down, width, _UPRIGHT, narrow, case.chip, case.confined)
    side = case.side_step or 0.0
    strips = [
        replace(
            rough,
            step="side",
            point=(aside - before) * side,
            law=case.open,
            slot=down,
            aside=aside,
        )
        for before, aside in zip((0, *asides), asides, strict=False)
    ]
    opened = width + (asides[-1] * side if asides else 0.0)
    form = Stage(
        "widen",
        0,
        down,
        case.point - opened,
        case.groove,
        case.blade,
        case.chip,
        case.confined,
        slot=down,
    )
    finish = replace(
        form,
        step="finish",
        start=down,
        end=total,
        point=case.point,
        chip=case.light(lathe.step) * lathe.step,
    )
    stages = (rough, *strips, form, finish)
    return Plan(method, lathe, total, kept, least, stages, known, rough_width=width, asides=asides)
