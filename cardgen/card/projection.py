"""The sign that says how the views of a drawing are arranged."""

from __future__ import annotations

from typing import Literal

from cardgen.card.drawing import LONG_DOT
from cardgen.card.pen import HAIR, NARROW, Pen

Projection = Literal["first", "third"]


def sign_width(height: float) -> float:
    """Return the width of the sign for a height [mm]."""
    return 2.5 * height


def projection_sign(pen: Pen, x: float, y: float, height: float, projection: Projection) -> None:
    """Draw a cone's side and end view as first- or third-angle projection places them.

    The small end is on the left of the side view. Third angle puts the view from the left on the
    left, first angle on the right (ISO 5456-2). The top left corner is at (x, y).
    """
    middle = y + height / 2
    side, end = (x, x + 2 * height) if projection == "first" else (x + 1.5 * height, x + height / 2)
    cone = (
        (side, middle - height / 4),
        (side + height, middle - height / 2),
        (side + height, middle + height / 2),
        (side, middle + height / 4),
    )
    pen.path(cone, closed=True, width=NARROW)
    pen.disc(end, middle, height / 2, width=NARROW)
    pen.disc(end, middle, height / 4, width=NARROW)
    dash = tuple(part / 4 for part in LONG_DOT)
    pen.line(x - 0.4, middle, x + sign_width(height) + 0.4, middle, width=HAIR, dash=dash)
    pen.line(end, y - 0.4, end, y + height + 0.4, width=HAIR, dash=dash)
