"""Safety notes under the signal words of ANSI Z535 and ISO 3864-2, the worst first."""

from __future__ import annotations

from itertools import groupby

from cardgen.card.panel import Block, Panel
from cardgen.card.pen import BLACK, NARROW, WHITE, Ink, Pen
from cardgen.card.piece import Piece, first_base, lines_height
from cardgen.card.table import Kit
from cardgen.card.view import UNCHECKED, View
from cardgen.core.words import joined

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
            unchecked = "from memory" in note.source
            made.append(kit.item(joined([note.text, UNCHECKED]) if unchecked else note.text))
    return made


def _word(kit: Kit, signal: str) -> Piece:
    """Return the signal word on its ground, with the triangle that belongs to a hazard."""
    size = kit.body
    height = lines_height(1, size) + 0.6
    ground, letters = _GROUND[signal], _LETTERS[signal]
    word = signal.upper()
    text = word if signal == "notice" else joined(["⚠", word])

    def draw(pen: Pen, x: float, y: float, width: float) -> None:
        wide = pen.width(text, size, "bold") + 3.0
        pen.rect(x, y, x + wide, y + height, width=NARROW, fill=ground)
        base = y + 0.3 + first_base(pen, size)
        pen.text(x + 1.5, base, text, size, weight="bold", ink=letters)

    return Piece(height + 0.5, draw, keep=True)


PANEL = Panel("safety", "Safety", (), blocks)
