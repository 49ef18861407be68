"""Heat treatment: the order of heats with the numbers big, what comes of them, the colours."""

from __future__ import annotations

from dataclasses import replace

from cardgen.card.panel import Block, Panel
from cardgen.card.panels._heat_curve import CURVE, tempering_curve
from cardgen.card.pen import BLACK, WHITE, Pen
from cardgen.card.piece import Piece, first_base, lines_height, put_lines
from cardgen.card.span import span
from cardgen.card.swatches import chart
from cardgen.card.table import Kit
from cardgen.card.view import View
from cardgen.core.figure import Step
from cardgen.core.swatch import Swatch
from cardgen.core.words import Said, joined, sentence, told

_ASIDE = ("swatch", "glow", "remark")
"""Kinds of steps that are no heats."""


def blocks(view: View, pen: Pen, width: float) -> list[Block]:
    """Return the panel's blocks."""
    kit = Kit(view, pen, width)
    steps = view.steps.get("heat", ())
    heats = [s for s in steps if s.kind not in _ASIDE and not s.kind.startswith(CURVE)]
    made: list[Block] = [_step(kit, number, step) for number, step in enumerate(heats, 1)]
    made += [span(kit, id) for id in _ANSWERS if view.has(id)]
    remarks = [kit.item(step.text) for step in steps if step.kind == "remark"]
    made += [kit.space(0.6), *remarks] if remarks else []
    # The limits of these are a range to know of; what counts is the one value.
    made += [kit.figure(id, limits=False) for id in _CHANGES if view.has(id)]
    made += _remarks(kit)
    made += _charts(kit, steps)
    made += tempering_curve(kit, steps)
    return made


def _step(kit: Kit, number: int, step: Step) -> Piece:
    """Return one heat: its number in a disc, its first sentence big, the rest to read."""
    big, _, rest = map(Said, kit.view.words.say(step.text).partition(". "))
    radius = 2.6
    indent = 2 * radius + 1.4
    heads = kit.pen.wrap(big, kit.dial, kit.width - indent, "bold")
    lines = kit.pen.wrap(rest, kit.body, kit.width - indent)
    head_height = lines_height(len(heads), kit.dial)
    height = head_height + lines_height(len(lines), kit.body) + 1.2

    def draw(pen: Pen, x: float, y: float, width: float) -> None:
        base = y + first_base(pen, kit.dial)
        centre = base - pen.metrics.ascent(kit.dial) / 2
        pen.disc(x + radius, centre, radius, stroke=None, fill=BLACK)
        sink = pen.metrics.ascent(kit.body) / 2
        pen.text(
            x + radius,
            centre + sink,
            str(number),
            kit.body,
            weight="bold",
            anchor="middle",
            ink=WHITE,
        )
        put_lines(pen, heads, x + indent, y, kit.dial, weight="bold")
        put_lines(pen, lines, x + indent, y + head_height, kit.body)

    return Piece(height, draw)


_ANSWERS = ("heat.hardness_quenched", "heat.hardness_final", "heat.torch_temperature")
_CHANGES = (
    "heat.order",
    "heat.section_limit",
    "heat.leave_on",
    "heat.growth_lead",
    "heat.growth_diameter",
    "heat.growth_backlash",
    "heat.finish",
    "heat.finish_thickness",
    "heat.finish_backlash",
    "heat.temper_colour_held",
)
_KNOWN = (
    "heat.a1",
    "heat.ac3",
    "heat.ms",
    "heat.retained_austenite",
    "heat.critical_diameter",
    "heat.decarb_depth",
    "heat.tempers",
)


def _remarks(kit: Kit) -> list[Block]:
    """Return what the numbers rest on, in the small size, and the temper by torch."""
    view = kit.view
    known = [
        joined([joined([view.label(id), view.mark(id)], ""), view.written(id)])
        for id in _KNOWN
        if view.has(id)
    ]
    said = [sentence(joined(known, "; "))] if known else []
    if view.has("heat.torch_temperature"):
        said.append(told("By torch {note}.", note=view.figures["heat.torch_temperature"].note))
    return [kit.space(0.6), kit.note(joined(said))] if said else []


def _charts(kit: Kit, steps: tuple[Step, ...]) -> list[Block]:
    made: list[Block] = []
    for kind, title, remark in (
        (
            "glow",
            "Glow in shade, °C",
            "Books differ by 100 °C in these names. How bright and how white a patch is, is a "
            "drawing's choice.",
        ),
        (
            "swatch",
            "Temper colours, °C, in a heat of minutes",
            "In brackets from the least to the most of the published tables. Held for an hour the "
            "colours run ahead; print and light shift them too: go by the thermometer.",
        ),
    ):
        swatches = [Swatch.read(step.text) for step in steps if step.kind == kind]
        if swatches:
            made.append(kit.heading(title))
            rows = chart(
                kit.pen, kit.width, kit.body, swatches, kit.view.style.mono, spread=kind == "swatch"
            )
            # The few glows tell by their neighbours, so that they stand together.
            made += [replace(row, keep=kind == "glow") for row in rows[:-1]] + rows[-1:]
            if kind == "swatch" and not kit.view.has("heat.temper_colour"):
                remark = told("Marked is the heat of the blackening. {remark}", remark=remark)
            made.append(kit.note(remark))
    return made


PANEL = Panel("heat", "Heat treatment", ("heat.section",), blocks)
