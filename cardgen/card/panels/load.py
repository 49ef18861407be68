"""The screw under load: what the hand must turn, what holds, how far the metal is from giving."""

from __future__ import annotations

from cardgen.card.panel import Block, Panel
from cardgen.card.panels._load_limits import limits_diagram
from cardgen.card.pen import Pen
from cardgen.card.span import span
from cardgen.card.table import Kit
from cardgen.card.view import View
from cardgen.core.words import joined, told

_ORDER = (
    "load.load",
    "load.friction",
    "load.collar_friction",
    "load.torque_raise",
    "load.torque_lower",
    "load.collar_torque",
    "load.handle_force",
    "load.efficiency",
    "load.self_locking",
    "load.core_stress",
    "load.thread_shear",
    "load.thread_bending",
    "load.root_stress",
    "load.nut_shear",
    "load.nut_bending",
    "load.tooth_bending",
    "load.tooth_shear",
    "load.bearing_pressure",
    "load.bearing_allowed",
    "load.rubbing_speed",
    "load.wear_backlash",
    "load.buckling_load",
)


def blocks(view: View, pen: Pen, width: float) -> list[Block]:
    """Return the panel's blocks."""
    kit = Kit(view, pen, width)
    made: list[Block] = [span(kit, id) for id in _ORDER if view.has(id)]
    if view.has("load.limit"):
        first = joined([view.label("load.limit"), view.written("load.limit_rules")], ": ")
        made.append(kit.big(first, view.written("load.limit"), _times(view)))
    made += limits_diagram(kit)
    made.append(kit.space(0.6))
    for step in view.steps.get("load", ()):
        bold = step.kind == "warning"
        made.append(kit.paragraph(step.text, weight="bold") if bold else kit.note(step.text))
    return made


def _times(view: View) -> str:
    return told(
        "{factor} times the load{mark}",
        factor=view.written("load.factor"),
        mark=view.mark("load.limit"),
    )


PANEL = Panel("load", "Load", ("load.load",), blocks)
