"""A block that a function draws, and how lines of type stand in it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from cardgen.card.panel import Block
from cardgen.card.pen import BLACK, POINT, Anchor, Ink, Pen, Role, Weight

Draw = Callable[[Pen, float, float, float], None]
"""``draw(pen, x, y, width)``: draws downwards and to the right of the top left corner (x, y)."""

LEADING = 1.18
"""Distance of base lines in running text, as a multiple of the type size."""
AIR = 0.35
"""Clear space above and below the text of a row [mm]."""
GAP = 2.0
"""Clear space between columns of a table, and between a label and its value [mm]."""
_LEAST_LINES = 2
"""Lines of a paragraph that stand together where it is parted."""
PAD = 1.0
"""Clear space inside a frame [mm]."""


@dataclass(frozen=True, slots=True)
class Piece:
    """A block that is drawn by a function; the attributes are those of ``panel.Block``.

    Attributes
    ----------
    at
        Makes the same row for another width, if it is one that may stand beside its like.
    parts
        Makes two of it at a height, if it is text that is long enough.
    picture
        Whether it is a drawing, which may be left out where a card is too small for it.
    role
        What it is to somebody who hears the card; a drawing is a figure.
    """

    height: float
    drawn: Draw
    keep: bool = False
    under: Block | None = None
    at: Callable[[float], Piece] | None = None
    parts: Callable[[float], tuple[Piece, Piece] | None] | None = None
    picture: bool = False
    role: Role = "P"

    @property
    def name(self) -> str:
        """The function that draws it."""
        return f"{self.drawn.__module__}.{self.drawn.__qualname__}"

    def draw(self, pen: Pen, x: float, y: float, width: float) -> None:
        """Draw with the top left corner at (x, y)."""
        with pen.tag("Figure" if self.picture else self.role):
            self.drawn(pen, x, y, width)

    def cut(self, room: float) -> tuple[Block, Block] | None:
        """Return what fits a height and the rest; nothing unless it is long text."""
        return None if self.parts is None else self.parts(room)


def running(
    lines: Sequence[str], size: float, air: float, put: Callable[[Sequence[str]], Draw], keep: bool
) -> Piece:
    """Return lines of running text that may be parted, two lines at least on either side.

    Parameters
    ----------
    air
        Clear space for the whole piece [mm].
    put
        Makes what draws some of the lines.
    """

    def parts(room: float) -> tuple[Piece, Piece] | None:
        fit = min(int((room - air) / lines_height(1, size) + 1e-6), len(lines) - _LEAST_LINES)
        if fit < _LEAST_LINES:
            return None
        first, rest = lines[:fit], lines[fit:]
        return running(first, size, air, put, False), running(rest, size, air, put, keep)

    return Piece(lines_height(len(lines), size) + air, put(lines), keep, parts=parts)


def lines_height(count: int, size: float) -> float:
    """Return the height of some lines of type of a size [pt], leading included [mm]."""
    return count * size * LEADING * POINT


def first_base(pen: Pen, size: float) -> float:
    """Return the depth of the first base line below the top of a run of lines [mm].

    What the leading leaves free is shared between above the capitals and below the descenders.
    """
    up, down = pen.metrics.ascent(size), pen.metrics.descent(size)
    return up + (lines_height(1, size) - up - down) / 2


def put_lines(
    pen: Pen,
    lines: Sequence[str],
    x: float,
    y: float,
    size: float,
    *,
    weight: Weight = "regular",
    anchor: Anchor = "start",
    ink: Ink = BLACK,
) -> None:
    """Write lines under one another, the top of the first at ``y``."""
    base = y + first_base(pen, size)
    for line in lines:
        pen.text(x, base, line, size, weight=weight, anchor=anchor, ink=ink)
        base += lines_height(1, size)
