"""Safety notes under the signal words of ANSI Z535 and ISO 3864-2, the worst first."""

from __future__ import annotations

from itertools import groupby

from cardgen.card.panel import Block, Panel
from cardgen.card.pen import BLACK, NARROW, WHITE, Ink, Pen
from cardgen.card.piece import Piece, first_base, lines_height
from cardgen.card.table import Kit
from cardgen.card.view import UNCHECKED, View

# Ground of the signal word: safety red, orange, yellow and blue of the standards, darkest first
# in grey, so that the order can be told on a card of one ink.
_GROUND = {
    "danger": Ink(0.78, 0.06, 0.18, 0.0),
    "warning": Ink(1.0, 0.53, 0.0, 0.0),
    "caution": Ink(1.0, 0.84, 0.0, 1.0),
    "notice": Ink(0.0, 0.34, 0.62, 1.0),
}
_LETTERS = {
    "danger": WHITE,
    "warning": Ink(0, 0, 0, 1),
    "caution": BLACK,
    "notice": Ink(1, 1, 1, 0),
}


def blocks(view: View, pen: Pen, width: float) -> list[Block]:
    """Return the panel's blocks."""
    kit = Kit(view, pen, width)
    made: list[Block] = []
    for signal, notes in groupby(view.steps.get("safety", ()), key=lambda step: step.kind):
        if signal not in _GROUND:
            made += [kit.paragraph(note.text, weight="bold") for note in notes]
            continue
        made.append(_word(kit, signal))
        for note in notes:
            mark = f" {UNCHECKED}" if "from memory" in note.source else ""
            made.append(kit.item(note.text + mark))
    return made


def _word(kit: Kit, signal: str) -> Piece:
    """Return the signal word on its ground, with the triangle that belongs to a hazard."""
    text = signal.upper()
    size = kit.body
    height = lines_height(1, size) + 0.6
    ground, letters = _GROUND[signal], _LETTERS[signal]
    sign = "" if signal == "notice" else "⚠ "

    def draw(pen: Pen, x: float, y: float, width: float) -> None:
        wide = pen.width(sign + text, size, "bold") + 3.0
        pen.rect(x, y, x + wide, y + height, width=NARROW, fill=ground)
        base = y + 0.3 + first_base(pen, size)
        pen.text(x + 1.5, base, sign + text, size, weight="bold", ink=letters)

    return Piece(height + 0.5, draw, keep=True)


PANEL = Panel("safety", "Safety", (), blocks)
