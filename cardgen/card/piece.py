"""A block that a function draws, and how lines of type stand in it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from cardgen.card.panel import Block
from cardgen.card.pen import BLACK, POINT, Anchor, Ink, Pen, Weight

Draw = Callable[[Pen, float, float, float], None]
"""``draw(pen, x, y, width)``: draws downwards and to the right of the top left corner (x, y)."""

LEADING = 1.18
"""Distance of base lines in running text, as a multiple of the type size."""
AIR = 0.35
"""Clear space above and below the text of a row [mm]."""
GAP = 2.0
"""Clear space between columns of a table, and between a label and its value [mm]."""
PAD = 1.0
"""Clear space inside a frame [mm]."""


@dataclass(frozen=True, slots=True)
class Piece:
    """A block that is drawn by a function; the attributes are those of ``panel.Block``.

    Attributes
    ----------
    at
        Makes the same row for another width, if it is one that may stand beside its like.
    """

    height: float
    drawn: Draw
    keep: bool = False
    under: Block | None = None
    at: Callable[[float], Piece] | None = None

    def draw(self, pen: Pen, x: float, y: float, width: float) -> None:
        """Draw with the top left corner at (x, y)."""
        self.drawn(pen, x, y, width)

    def cut(self, room: float) -> None:
        """Return nothing: a piece is never cut."""
        del room


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
