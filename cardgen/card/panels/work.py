"""What the cut does to bar and blade, and how far that is from harm."""

from __future__ import annotations

from collections.abc import Sequence

from cardgen.card.panel import Block, Panel
from cardgen.card.panels._work_bend import bend
from cardgen.card.pen import Pen
from cardgen.card.table import Kit
from cardgen.card.view import View
from cardgen.core.words import sentence, told


def blocks(view: View, pen: Pen, width: float) -> Sequence[Block]:
    """Return the panel's blocks for a column of a width [mm]."""
    kit = Kit(view, pen, width)
    if view.internal:
        return [*_length(view, kit), *_size(view, kit), *_blade(view, kit), *_dig_in(view, kit)]
    return [
        *kit.illustrated(lambda kit: _picture(view, kit), lambda kit: _length(view, kit)),
        *_size(view, kit),
        *_blade(view, kit),
        *_dig_in(view, kit),
    ]


def _picture(view: View, kit: Kit) -> list[Block]:
    if not view.has("cutting.holding", "cutting.left_most", "cutting.size_left"):
        return []
    return [
        kit.space(1.0),
        bend(kit, view),
        kit.note("Length to scale, thickness not; the bend is drawn many times too large."),
    ]


def _length(view: View, kit: Kit) -> list[Block]:
    stack: list[Block] = []
    if view.has("cutting.holding"):
        held = told(
            "{held} {how}.",
            held=view.label("cutting.holding"),
            how=view.written("cutting.holding"),
        )
        stack.append(kit.paragraph(held, weight="bold", keep=True))
    for id in ("cutting.rest_place", "cutting.rest_behind"):
        if view.has(id):
            stack.append(kit.figure(id, keep=True))
            stack.append(kit.note(sentence(view.figures[id].note)))
    for id in (
        "cutting.stickout_safe",
        "cutting.core_least",
        "cutting.bend_steady",
        "cutting.bend_follow",
    ):
        if view.has(id):
            note = view.figures[id].note
            stack.append(kit.figure(id, keep=bool(note)))
            stack += [kit.note(sentence(note))] if note else []
    return stack


def _size(view: View, kit: Kit) -> list[Block]:
    return [
        kit.space(1.0),
        *kit.figures(
            "cutting.taper",
            "cutting.barrel",
            "cutting.size_allowed",
            "cutting.spring_needed",
            "cutting.size_left",
        ),
        kit.note(
            "Taper: thicker at the far end if positive. Barrel: thicker between the ends if "
            "positive."
        )
        if view.has("cutting.taper")
        else kit.space(0.0),
    ]


def _blade(view: View, kit: Kit) -> list[Block]:
    return [
        kit.space(1.0),
        *kit.figures(
            "cutting.bite_safe",
            "cutting.blade_fillet",
            "cutting.overhang_safe",
            "cutting.tool_dip",
        ),
    ]


def _dig_in(view: View, kit: Kit) -> list[Block]:
    stack: list[Block] = []
    if view.has("cutting.dig_in_force", "cutting.dig_in_radial", "cutting.dig_in_factor"):
        stack.append(
            kit.note(
                told(
                    "If the tool digs in, {times} times the force is reckoned with: {down} down, "
                    "{inwards} inwards.",
                    times=view.written("cutting.dig_in_factor"),
                    down=view.written("cutting.dig_in_force"),
                    inwards=view.written("cutting.dig_in_radial"),
                )
            )
        )
    if view.has("cutting.thrust", "cutting.buckling_load"):
        stack.append(
            kit.note(
                told(
                    "Thrust along the bar {thrust}; it would buckle at {load}. The bar grows as it "
                    "warms: ease the centre after roughing.",
                    thrust=view.written("cutting.thrust"),
                    load=view.written("cutting.buckling_load"),
                )
            )
        )
    return stack


PANEL = Panel("work", "Bend and strength", ("cutting.dig_in_force",), blocks)
