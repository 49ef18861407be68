"""How the thread is measured: over wires, or by a gauge where a wire does not wedge."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from cardgen.card.panel import Block, Panel
from cardgen.card.panels._measure_ball import ball
from cardgen.card.panels._measure_wires import wires
from cardgen.card.pen import Pen
from cardgen.card.table import Kit
from cardgen.card.view import View
from cardgen.core.words import joined, told


def blocks(view: View, pen: Pen, width: float) -> Sequence[Block]:
    """Return the panel's blocks for a column of a width [mm]."""
    kit = Kit(view, pen, width)
    stack: list[Block] = []
    if view.has("measure.over_wires"):
        stack = kit.illustrated(lambda half: [wires(half, view)], lambda half: _over(view, half))
    elif view.has("measure.between_balls"):
        stack = kit.illustrated(lambda half: [ball(half, view)], lambda half: _balls(view, half))
    elif view.has("measure.groove_go"):
        stack = [_gauges(view, kit)]
        if view.has("measure.over_root_blades"):
            stack += kit.illustrated(
                lambda half: [wires(half, view)], lambda half: _slips(view, half)
            )
    return [
        *stack,
        kit.space(1.0),
        *(kit.item(step.text) for step in view.steps.get("measure", ())),
    ]


def _gauges(view: View, kit: Kit) -> Block:
    return kit.bigs(
        [
            (view.label(f"measure.groove_{id}"), view.written(f"measure.groove_{id}"), "")
            for id in ("go", "not_go")
        ]
    )


def _slips(view: View, kit: Kit) -> list[Block]:
    id = "measure.over_root_blades"
    return [
        kit.big(joined([view.label(id), " M", view.mark(id)], ""), view.limits(id)),
        *kit.figures("measure.blade"),
    ]


def _over(view: View, kit: Kit) -> list[Block]:
    return [
        kit.big(view.label("measure.wire_chosen"), view.written("measure.wire_chosen")),
        kit.big(
            view.marked("measure.over_wires"),
            view.limits("measure.over_wires"),
        ),
        *kit.figures("measure.wire_best"),
        kit.pair("Usable wires", _usable(view, "wire")),
    ]


def _balls(view: View, kit: Kit) -> list[Block]:
    id = "measure.between_balls"
    return [
        kit.big(view.label("measure.ball_chosen"), view.written("measure.ball_chosen")),
        kit.big(view.marked(id), view.limits(id)),
        *kit.figures("measure.ball_best"),
        kit.pair("Usable balls", _usable(view, "ball")),
    ]


def _usable(view: View, what: Literal["wire", "ball"]) -> str:
    return told(
        "{least} to {most}",
        least=view.bare(f"measure.{what}_smallest"),
        most=view.written(f"measure.{what}_largest"),
    )


PANEL = Panel(
    name="measure",
    title="Measuring",
    needs=("thread.groove_width",),
    blocks=blocks,
)
