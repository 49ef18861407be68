"""The conventional sign of a screw thread on a bar, by ISO 6410-1:1993."""

from __future__ import annotations

from cardgen.card.drawing import LONG_DOT
from cardgen.card.pen import HAIR, NARROW, WIDE, Pen

DEEP = max(2 * WIDE, 0.7)
"""Between the lines of crest and root: two wide lines, and 0.7 mm, at least [mm]."""
_AXIS = 1.5
"""How far the axis stands out beyond the thread [mm]."""


def screw(pen: Pen, left: float, right: float, top: float, bottom: float) -> None:
    """Draw what makes a bar a screw: its roots, where the full thread ends, and its axis.

    The roots are narrow lines inside the bar's edges, which are the crests and are drawn wide by
    whoever draws the bar. The limits of the full thread are wide lines across it.

    Parameters
    ----------
    left, right
        Limits of the full thread.
    top, bottom
        Crests.
    """
    for root in (top + DEEP, bottom - DEEP):
        pen.line(left, root, right, root, width=NARROW)
    for limit in (left, right):
        pen.line(limit, top, limit, bottom, width=WIDE)
    axis = (top + bottom) / 2
    # In the pattern of a hair line, which suits so small a bar.
    dash = tuple(part * HAIR / NARROW for part in LONG_DOT)
    pen.line(left - _AXIS, axis, right + _AXIS, axis, width=HAIR, dash=dash)
