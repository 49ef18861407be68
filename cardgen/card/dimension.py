"""The geometry of dimensions by ISO 129-1: lines, arrowheads, and the places of their text.

Points are on the card (y down) throughout; nothing here draws.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import atan2, cos, degrees, radians, sin

from cardgen.card.hatch import Segment
from cardgen.card.labels import Place, unit
from cardgen.card.pen import XY, Box

ARROW = 2.0
"""Length of an arrowhead [mm]; its point is 18 degrees wide."""
_HALF_POINT = radians(9)
_FOOT = 0.6
"""Clear space between the part and an extension line [mm]."""
_PAST = 1.0
"""How far an extension line runs past the dimension line [mm]."""
_SHELF = 1.2
"""Length of the level end of a leader [mm]."""
_LIFT = 0.9
"""Clear space between a dimension line and its text [mm]."""


@dataclass(frozen=True, slots=True)
class Head:
    """An arrowhead: its tip, and the direction in which it points (unit vector)."""

    tip: XY
    toward: XY

    @property
    def corners(self) -> tuple[XY, XY, XY]:
        """The tip and the two corners of the back."""
        (x, y), (u, v) = self.tip, self.toward
        back, side = ARROW, ARROW * sin(_HALF_POINT) / cos(_HALF_POINT)
        return (
            self.tip,
            (x - back * u - side * v, y - back * v + side * u),
            (x - back * u + side * v, y - back * v - side * u),
        )


@dataclass(frozen=True, slots=True)
class Dimension:
    """What is drawn for one dimension, and where its text may stand, best place first."""

    lines: tuple[Segment, ...]
    heads: tuple[Head, ...]
    places: Iterable[Place]


def arrows_outside(length: float) -> bool:
    """Whether a gap is too small to hold two arrowheads point to point [mm]."""
    return length < 2 * ARROW + 1.0


def linear(
    p: XY, q: XY, along: XY, normal: XY, offset: float, text_width: float, ascent: float
) -> Dimension:
    """Return a dimension between two points, measured along a direction.

    Parameters
    ----------
    p, q
        What is measured.
    along
        Unit vector of the dimension line.
    normal
        Unit vector across it, on whose side the line lies.
    offset
        Distance of the line from the nearer of the two points, on that side [mm].
    text_width, ascent
        Of the text [mm].
    """
    level = max(_dot(p, normal), _dot(q, normal)) + offset
    a, b = _raised(p, normal, level), _raised(q, normal, level)
    if _dot(b, along) < _dot(a, along):
        a, b, p, q = b, a, q, p
    length = _dot(b, along) - _dot(a, along)
    lines = [
        (_moved(point, normal, _FOOT), _moved(end, normal, _PAST))
        for point, end in ((p, a), (q, b))
        if level - _dot(point, normal) > _FOOT
    ]
    outside = arrows_outside(length)
    if outside:
        heads = (Head(a, along), Head(b, _back(along)))
        lines.append((_moved(a, along, -1.8 * ARROW), _moved(b, along, 1.8 * ARROW)))
    else:
        heads = (Head(a, _back(along)), Head(b, along))
        lines.append((a, b))
    places = _linear_places(a, b, along, length, outside, text_width, ascent)
    return Dimension(tuple(lines), heads, places)


def _linear_places(
    a: XY, b: XY, along: XY, length: float, outside: bool, text_width: float, ascent: float
) -> Iterator[Place]:
    """Yield where the text may stand: over the line, beyond its ends, or on a leader."""
    # A text is read from the bottom of the card or from its right.
    angle = degrees(atan2(-along[1], along[0]))
    if angle > 90.01 or angle <= -89.99:
        angle += 180 if angle < 0 else -180
    up = (-sin(radians(angle)), -cos(radians(angle)))
    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    lifts = (_LIFT, -_LIFT - ascent)
    if text_width + 0.8 <= length:
        slides = (0.0, -0.25, 0.25) if length > 2.5 * text_width else (0.0,)
        for lift in lifts:
            for slide in slides:
                x, y = _moved(_moved(middle, along, slide * length), up, lift)
                yield Place(x, y, "middle", angle)
    clear = 1.8 * ARROW if outside else 0.0
    for further in (0.0, 3.0, 6.0, 10.0):
        for end, sense in ((b, 1.0), (a, -1.0)):
            far = sense * (clear + 0.8 + further + text_width)
            x, y = _moved(_moved(end, along, far - sense * text_width / 2), up, _LIFT)
            drawn_on = ((_moved(end, along, sense * clear), _moved(end, along, far)),)
            yield Place(x, y, "middle", angle, drawn_on)
    # Last, on a leader away from the line.
    for away in (4.0, 7.0, 10.0, -4.0, -7.0, -10.0):
        for slide in (0.0, 4.0, -4.0, 8.0, -8.0):
            foot = _moved(_moved(middle, up, away), along, slide)
            lift = _LIFT if away > 0 else -_LIFT - ascent
            x, y = _moved(foot, up, lift)
            shelf = (_moved(foot, along, -text_width / 2), _moved(foot, along, text_width / 2))
            yield Place(x, y, "middle", angle, ((middle, foot), shelf))


def angular(
    vertex: XY,
    start: float,
    end: float,
    radius: float,
    legs_from: float,
    text_width: float,
    ascent: float,
) -> tuple[Dimension, tuple[float, float, float]]:
    """Return an angle's dimension and its arc as ``(radius, start, extent)``.

    Parameters
    ----------
    start, end
        Directions of the legs as seen on the card, anticlockwise from the right [deg]; the arc
        runs anticlockwise from ``start`` to ``end``.
    radius
        Of the arc [mm].
    legs_from
        Distance from the vertex at which the extension lines begin [mm].
    """
    extent = (end - start) % 360.0
    swept = radians(extent) * radius
    outside = arrows_outside(swept)
    heads: list[Head] = []
    # A head of finite length must lean a little to lie along the arc.
    lean = degrees(ARROW / 2 / radius)
    for at, sense in ((start, -1.0), (start + extent, 1.0)):
        tip = _polar(vertex, radius, at)
        if outside:
            heads.append(Head(tip, _tangent(at + sense * lean, -sense)))
        else:
            heads.append(Head(tip, _tangent(at - sense * lean, sense)))
    over = degrees(1.8 * ARROW / radius) if outside else 0.0
    arc = (radius, start - over, extent + 2 * over)
    legs = tuple(
        (_polar(vertex, legs_from + _FOOT, at), _polar(vertex, radius + _PAST, at))
        for at in (start, start + extent)
        if radius > legs_from + _FOOT
    )
    places: list[Place] = []
    fractions = (0.5, 0.35, 0.65) if not outside else (0.5,)
    for reach in (1.0, 2.5, 4.0, 6.0, 8.0):
        for fraction in fractions:
            places.append(_beyond(vertex, radius + reach, start + fraction * extent, ascent))
        for side in (start - over - 4.0, start + extent + over + 4.0):
            places.append(_beyond(vertex, radius + reach, side, ascent))
    inner = _polar(vertex, radius - 1.0 - ascent, start + extent / 2)
    if text_width + 2 < 2 * (radius - 1.5) * sin(radians(min(extent, 180) / 2)):
        places.append(Place(inner[0], inner[1] + ascent / 2))
    return Dimension(legs, tuple(heads), tuple(places)), arc


def leader(
    tip: XY,
    directions: Sequence[float],
    reaches: Sequence[float],
    ascent: float,
    depth: float,
    pointed: bool,
) -> Iterator[Place]:
    """Yield the places of a note on a leader: every direction [deg] at every reach [mm].

    Parameters
    ----------
    ascent, depth
        What the text covers above its first base line, and below it if it has several lines [mm].
    pointed
        Whether the leader ends in an arrowhead.
    """
    for reach in reaches:
        for direction in directions:
            knee = _polar(tip, reach, direction)
            sense = 1.0 if knee[0] >= tip[0] - 1e-9 else -1.0
            end = (knee[0] + sense * _SHELF, knee[1])
            head = (Head(tip, unit(knee, tip)).corners,) if pointed else ()
            yield Place(
                end[0] + sense * _LIFT,
                end[1] + (ascent - depth) / 2,
                "start" if sense > 0 else "end",
                0.0,
                ((tip, knee), (knee, end)),
                head,
            )


def around(point: XY, ascent: float, depth: float, first: Sequence[float]) -> Iterator[Place]:
    """Yield places around a point, those in the directions ``first`` [deg] before the rest."""
    every = [*first, *(turn for turn in range(0, 360, 45) if turn not in first)]
    for gap in (0.8, 2.0, 3.5):
        for direction in every:
            yield _beyond(point, gap, direction, ascent, depth)


def in_corners(frame: Box, ascent: float, descent: float) -> Iterator[Place]:
    """Yield places of a word in the corners of a frame, the lower left one first."""
    air = 0.3
    for y in (frame.bottom - descent - air, frame.top + ascent + air):
        yield Place(frame.left + air, y, "start")
        yield Place(frame.right - air, y, "end")


def arc_points(centre: XY, radius: float, start: float, extent: float) -> list[XY]:
    """Return points along an arc, anticlockwise from ``start`` [deg]."""
    return [_polar(centre, radius, start + extent * step / 24) for step in range(25)]


def _beyond(
    centre: XY, radius: float, direction: float, ascent: float, depth: float = 0.0
) -> Place:
    """Return the place of a text that lies outside a circle, touching it in a direction."""
    x, y = _polar(centre, radius, direction)
    c, s = cos(radians(direction)), sin(radians(direction))
    if abs(c) < 0.35:
        return Place(x, y - depth if s > 0 else y + ascent)
    return Place(x, y + ascent - (1 + s) * (ascent + depth) / 2, "start" if c > 0 else "end")


def _polar(centre: XY, radius: float, direction: float) -> XY:
    turn = radians(direction)
    return centre[0] + radius * cos(turn), centre[1] - radius * sin(turn)


def _tangent(direction: float, sense: float) -> XY:
    """Return the unit vector along a circle, anticlockwise for a sense of +1."""
    turn = radians(direction)
    return -sense * sin(turn), -sense * cos(turn)


def _dot(p: XY, q: XY) -> float:
    return p[0] * q[0] + p[1] * q[1]


def _moved(point: XY, along: XY, distance: float) -> XY:
    return point[0] + distance * along[0], point[1] + distance * along[1]


def _raised(point: XY, normal: XY, level: float) -> XY:
    """Return a point moved along the normal to a level on it."""
    return _moved(point, normal, level - _dot(point, normal))


def _back(along: XY) -> XY:
    return -along[0], -along[1]
