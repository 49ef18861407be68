"""The panels of the colour chart, which belongs to no job: temper colours, glow, cutters, taps.

A row that stands alone lets a chart be parted between the smallest cards.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from itertools import pairwise

from cardgen.card.panel import Block, Panel
from cardgen.card.pen import Pen
from cardgen.card.piece import AIR, GAP, Piece, first_base, lines_height, put_lines
from cardgen.card.swatches import PATCH, patch
from cardgen.card.table import Kit
from cardgen.card.view import View
from cardgen.core.figure import Step
from cardgen.core.swatch import Swatch
from cardgen.core.words import joined

_LEAST = 3.5
"""Height of a patch [mm]."""
_AIR = 2 * AIR
"""Between rows [mm]."""


def _row(kit: Kit, swatch: Swatch, beside: str) -> Piece:
    """Return a patch with its temperature and name in bold, and what is told beside it."""
    pen, size, room = kit.pen, kit.body, kit.width - PATCH - GAP
    name = joined([f"{swatch.temperature:.0f}", swatch.name])
    taken = pen.width(name, size, "bold") + GAP
    one = taken + pen.width(beside, size) <= room
    heads = pen.wrap(name, size, room, "bold")
    lines = [] if one or not beside else pen.wrap(beside, size, room)
    line = lines_height(1, size)
    height = max(line * (len(heads) + len(lines)), _LEAST)

    def draw(pen: Pen, x: float, y: float, width: float) -> None:
        patch(pen, (x, y, x + PATCH, y + max(line, _LEAST)), swatch, kit.view.style.mono)
        left = x + PATCH + GAP
        put_lines(pen, heads, left, y, size, weight="bold")
        if one and beside:
            pen.text(left + taken, y + first_base(pen, size), beside, size)
        put_lines(pen, lines, left, y + line * len(heads), size)

    return Piece(height + _AIR, draw)


def _rows(kit: Kit, colours: Sequence[tuple[Swatch, str]]) -> list[Piece]:
    """Return the rows of a chart; they may stand two by two where all of them can."""

    def beside(number: int) -> Callable[[float], Piece]:
        def at(width: float) -> Piece:
            rows = [_row(kit.narrow(width), *colour) for colour in colours]
            return replace(rows[number], height=max(row.height for row in rows))

        return at

    return [replace(_row(kit, *colour), at=beside(number)) for number, colour in enumerate(colours)]


def _chart(topic: str) -> Callable[[View, Pen, float], Sequence[Block]]:
    def blocks(view: View, pen: Pen, width: float) -> list[Block]:
        kit = Kit(view, pen, width)
        steps = view.steps.get(topic, ())
        colours = [
            (Swatch.read(step.text), beside.text)
            for step, beside in pairwise(steps)
            if step.kind == "swatch"
        ]
        notes = [kit.note(step.text) for step in steps if step.kind == "note"]
        return [*_rows(kit, colours), *notes]

    return blocks


def _words(topic: str) -> Callable[[View, Pen, float], Sequence[Block]]:
    def blocks(view: View, pen: Pen, width: float) -> list[Block]:
        kit = Kit(view, pen, width)
        made: list[Block] = []
        number = 0
        for step in view.steps.get(topic, ()):
            number = 0 if step.kind == "heading" else number + 1
            made.append(_said(kit, step, number))
        return made

    return blocks


def _said(kit: Kit, step: Step, number: int) -> Piece:
    if step.kind == "heading":
        return kit.heading(step.text)
    return kit.item(step.text, f"{number}") if step.kind == "step" else kit.item(step.text)


PANELS = (
    Panel("films", "Temper colours", (), _chart("films")),
    Panel("glow", "Glow", (), _chart("glow")),
    Panel("tools", "Heat at the grinder", (), _words("tools")),
    Panel("taps", "Hardening a shop-made tap or chaser", (), _words("taps")),
)
