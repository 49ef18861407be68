"""How far the compound slide moves the tool sideways, where it does."""

from __future__ import annotations

from collections.abc import Sequence

from cardgen.core.figure import Input, Sheet
from cardgen.rules.case import Case, Plan
from cardgen.rules.infeed import Bite

SIDEWAYS = (
    "Compound parallel to the bed: winding it in moves the tool towards the chuck. Come to each of "
    "its settings that way, back to 0 from half a turn beyond: the play lies on one side."
)
"""How the compound is set where it moves the tool sideways."""

IN_TURN = (
    "cross-slide to the setting, compound to what stands after “aside”. One flank cuts at a time, "
    "first the one towards the chuck."
)
"""How flanks are cut in turn."""

_SOURCE = "whole divisions of the compound slide"


def record_sideways(sheet: Sheet, case: Case, plan: Plan, bites: Sequence[Bite]) -> None:
    """Record the moves of the compound slide, set along the axis, for the ways that need them."""
    side = case.side_step
    if side is None:
        return
    if plan.asides:
        _record_grooves(sheet, plan, side)
    elif plan.method == "alternate":
        most = max(bite.aside for bite in bites)
        sheet.add(
            "cutting.aside_most",
            most * side,
            formula="N s",
            inputs=_travel(most, side),
            source=_SOURCE,
            basis="computed",
            note="as far as the flank recedes in the bite; every second pass is cut at 0",
        )


def _record_grooves(sheet: Sheet, plan: Plan, side: float) -> None:
    places = (0, *plan.asides)
    strip = max(after - before for before, after in zip(places, plan.asides, strict=False))
    sheet.add(
        "cutting.grooves",
        float(len(places)),
        formula="method: of the fewest grooves that open the bottom, and a few more, those with "
        "the fewest passes",
        inputs={
            "w": sheet.ref("tool.tip_width"),
            "wr": sheet.ref("cutting.rough_width"),
        },
        source="this schedule",
        basis="computed",
    )
    sheet.add(
        "cutting.strip_width",
        strip * side,
        formula="N s",
        inputs=_travel(strip, side),
        source=_SOURCE,
        basis="computed",
    )
    sheet.add(
        "cutting.opened_width",
        sheet.number("cutting.rough_width") + plan.asides[-1] * side,
        formula="wr + N s",
        inputs={"wr": sheet.ref("cutting.rough_width"), **_travel(plan.asides[-1], side)},
        source=_SOURCE,
        basis="computed",
    )


def record_worst(sheet: Sheet, case: Case, plan: Plan, worst: Bite) -> None:
    """Record how far the hardest pass goes sideways, where the flanks cut in turn."""
    stage, side = worst.stage, case.side_step
    if stage.zigzag is None or side is None:
        return
    # Back in the middle the compound shows 0: the tool comes from where the bite began.
    towards = stage.towards_leading(back=worst.aside == 0)
    moved = stage.aside_by(worst.divisions * plan.lathe.step) * (1 if towards else -1)
    sheet.add(
        "cutting.worst_aside",
        moved * side,
        formula="N s",
        inputs=_travel(moved, side),
        source=_SOURCE,
        basis="computed",
        note="towards the leading side; less than nought is away from it",
    )


def _travel(divisions: int, side: float) -> dict[str, Input]:
    return {
        "N": Input(float(divisions), "", "constant", "derived"),
        "s": Input(side, "mm", "machine:compound-slide.division", "read"),
    }
