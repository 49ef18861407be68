"""Section hatching: parallel lines clipped to the inside of an area."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, cos, floor, radians, sin

from cardgen.card.pen import XY

Segment = tuple[XY, XY]


def hatching(rings: Sequence[Sequence[XY]], spacing: float, angle: float) -> list[Segment]:
    """Return the hatch lines inside an area.

    The lines lie on a grid that is the same for all areas of a drawing, so that parts of one body
    hatch alike. A point is inside by the even-odd rule; rings within rings are holes.

    Parameters
    ----------
    rings
        Closed outlines, any direction of travel, without the first point repeated.
    spacing
        Distance of neighbouring lines, in the units of the points.
    angle
        Of the lines, anticlockwise from the x axis if y points up [deg].

    Returns
    -------
    list of segments
        Each from left to right along the lines.
    """
    c, s = cos(radians(angle)), sin(radians(angle))
    # Turn the area so that the lines run along u, and count them along v.
    turned = [[(x * c + y * s, y * c - x * s) for x, y in ring] for ring in rings]
    heights = [v for ring in turned for _, v in ring]
    if not heights:
        return []
    segments: list[Segment] = []
    for number in range(ceil(min(heights) / spacing), floor(max(heights) / spacing) + 1):
        v = number * spacing
        crossings = sorted(
            u1 + (v - v1) / (v2 - v1) * (u2 - u1)
            for ring in turned
            for (u1, v1), (u2, v2) in zip(ring, [*ring[1:], ring[0]], strict=True)
            # Half open, so that a corner on the line is met once, not twice.
            if (v1 <= v) != (v2 <= v)
        )
        for left, right in zip(crossings[::2], crossings[1::2], strict=True):
            if right - left > 1e-9:
                segments.append(
                    ((left * c - v * s, left * s + v * c), (right * c - v * s, right * s + v * c))
                )
    return segments
