"""The edge of a card: where it is cut out, and where it is punched."""

from __future__ import annotations

from cardgen.card.pen import HAIR, SOFT, XY, Pen
from cardgen.card.shape import Edged

_LEG = 4.0
"""Length of a trim mark on each side of its corner [mm]."""
_CROSS = 1.0
"""How far the cross of a hole reaches beyond it [mm]."""


def draw_edge(pen: Pen, shape: Edged) -> None:
    """Draw a card's trim marks and the holes to punch, outside its live area.

    The marks lie on the line of the cut, just within the page, so that they are gone or half gone
    when the card is cut out.
    """
    for hole in shape.holes:
        radius = hole.diameter / 2
        pen.disc(hole.x, hole.y, radius, stroke=SOFT, width=HAIR)
        for across, up in ((radius + _CROSS, 0.0), (0.0, radius + _CROSS)):
            start, end = (hole.x - across, hole.y - up), (hole.x + across, hole.y + up)
            pen.line(*start, *end, stroke=SOFT, width=HAIR)
    if shape.trim == "none":
        return
    for x, turn in ((0.0, 1.0), (shape.width, -1.0)):
        for y, down in ((0.0, 1.0), (shape.height, -1.0)):
            _corner(pen, (x + turn * HAIR / 2, y + down * HAIR / 2), turn, down, shape)


def _corner(pen: Pen, corner: XY, turn: float, down: float, shape: Edged) -> None:
    """Draw one corner and what leads to it: a short leg, or half of each side."""
    (x, y), radius = corner, shape.corners
    across, along = shape.width / 2 - HAIR / 2, shape.height / 2 - HAIR / 2
    if shape.trim == "corners":
        across, along = min(radius + _LEG, across), min(radius + _LEG, along)
    pen.line(x + turn * radius, y, x + turn * across, y, stroke=SOFT, width=HAIR)
    pen.line(x, y + down * radius, x, y + down * along, stroke=SOFT, width=HAIR)
    if radius:
        # The quarter of a circle between the two, anticlockwise.
        start = {(1.0, 1.0): 90.0, (-1.0, 1.0): 0.0, (1.0, -1.0): 180.0, (-1.0, -1.0): 270.0}[
            turn, down
        ]
        centre = (x + turn * radius, y + down * radius)
        pen.arc(*centre, radius, start, 90.0, stroke=SOFT, width=HAIR)
