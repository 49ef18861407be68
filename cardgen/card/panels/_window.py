"""How much of a thread's section is shown: as many pitches as the largest scale leaves room for."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from cardgen.card.pen import XY
from cardgen.card.scale import Clear, fitting_scale
from cardgen.card.table import Kit
from cardgen.card.view import View

Corners = tuple[XY, XY, XY, XY]
"""Of a groove: from crest to crest."""

_SHARES = (1.0, 0.6)
"""The whole outline, or as much of it as holds one ridge and one groove."""


def shown_length(
    kit: Kit, length: float, bottom: float, top: float, tallest: float, clear: Clear
) -> float:
    """Return the length that is shown: the longest of those that are drawn largest.

    Parameters
    ----------
    length
        Of the outline [mm].
    bottom, top
        Of the part shown [mm].
    tallest, clear
        As for the drawing.
    """
    return max(
        (share * length for share in _SHARES),
        key=lambda end: fitting_scale((0.0, bottom, end, top), kit.width, tallest, clear),
    )


def cropped(points: Sequence[XY], end: float) -> list[XY]:
    """Return an outline as far as x = ``end``."""
    kept = [point for point in points if point[0] <= end]
    for (x1, y1), (x2, y2) in pairwise(points):
        if x1 <= end < x2:
            kept.append((end, y1 + (y2 - y1) * (end - x1) / (x2 - x1)))
            break
    return kept


def first_groove(view: View) -> Corners:
    """Return the corners of the first groove where it stands in the profile."""
    a, b, c, d = view.outlines["thread.groove"].points
    shift = view.outlines["thread.profile"].points[1][0] - a[0]

    def moved(point: XY) -> XY:
        return point[0] + shift, point[1]

    return moved(a), moved(b), moved(c), moved(d)
