"""Where the words of a drawing go: each tries its places until it stands clear of the rest."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import chain, pairwise
from math import cos, dist, radians, sin

from cardgen.card.hatch import Segment
from cardgen.card.pen import BLACK, NARROW, WHITE, XY, Anchor, Box, Ink, Pen, Weight
from cardgen.card.piece import lines_height
from cardgen.core.words import Said

_GRID = 1.5
"""Step of the search for a place where none of a text's own is clear [mm]."""


class DrawingError(Exception):
    """A drawing cannot be made within its box: a fault of the panel, not of the maker."""


@dataclass(frozen=True, slots=True)
class Place:
    """One place where a text may stand.

    Attributes
    ----------
    x, y
        On the base line of the first line of text, at the anchor [mm on the card].
    angle
        Anticlockwise [deg]; text of several lines is never turned.
    lines
        What must be drawn if this place is taken: a leader, the dimension line drawn on.
    heads
        Arrowheads that go with these lines, each as the corners of a triangle.
    """

    x: float
    y: float
    anchor: Anchor = "middle"
    angle: float = 0.0
    lines: tuple[Segment, ...] = ()
    heads: tuple[tuple[XY, ...], ...] = ()


@dataclass(frozen=True, slots=True)
class _Wanted:
    """A text, its places, and what it covers around its anchor when it is not turned [mm]."""

    lines: Sequence[Said]
    places: Iterable[Place]
    rank: int
    size: float
    weight: Weight
    ink: Ink
    width: float
    up: float
    down: float

    @property
    def text(self) -> str:
        """All lines."""
        return "\n".join(self.lines)

    def ground(self, place: Place) -> _Ground:
        """Return what the text covers at a place."""
        left = {"start": 0.0, "middle": -self.width / 2, "end": -self.width}[place.anchor]
        c, s = cos(radians(place.angle)), sin(radians(place.angle))
        corners = tuple(
            (place.x + u * c + v * s, place.y - u * s + v * c)
            for u, v in (
                (left, -self.up),
                (left + self.width, -self.up),
                (left + self.width, self.down),
                (left, self.down),
            )
        )
        across, along = [x for x, _ in corners], [y for _, y in corners]
        box = Box(min(across), min(along), max(across), max(along), "text", self.text)
        return _Ground(corners, box)


@dataclass(frozen=True, slots=True)
class _Ground:
    """What a text covers: its four corners, and the upright box around them."""

    corners: tuple[XY, ...]
    box: Box

    def met_by(self, line: Segment) -> bool:
        """Whether a line enters the ground."""
        (x1, y1), (x2, y2) = line
        box = self.box
        if (
            (x1 < box.left and x2 < box.left)
            or (x1 > box.right and x2 > box.right)
            or (y1 < box.top and y2 < box.top)
            or (y1 > box.bottom and y2 > box.bottom)
        ):
            return False
        return _enters(line, self.corners)


@dataclass(slots=True)
class Labels:
    """The texts of one drawing, put down when all its lines are known.

    Parameters
    ----------
    frame
        The drawing's box, which no text may leave.
    """

    pen: Pen
    frame: Box
    _wanted: list[_Wanted] = field(default_factory=list)
    _lines: list[Segment] = field(default_factory=list)
    _soft: list[Segment] = field(default_factory=list)
    _taken: list[_Ground] = field(default_factory=list)

    def avoid(self, points: Sequence[XY], closed: bool = False, *, soft: bool = False) -> None:
        """Make texts keep clear of a run of lines.

        A soft line, as of hatching, is broken for a text that has no other place.
        """
        run = [*points, points[0]] if closed else list(points)
        (self._soft if soft else self._lines).extend(pairwise(run))

    def want(
        self,
        text: str,
        places: Iterable[Place],
        size: float,
        weight: Weight = "regular",
        ink: Ink = BLACK,
        *,
        rank: int = 0,
    ) -> None:
        """Ask for a text at the first of its places that is clear.

        Texts of a lower rank are put first; those that can go anywhere make way for the others.
        """
        lines = [Said(line) for line in self.pen.words.say(text).split("\n")]
        width = max(self.pen.width(line, size, weight) for line in lines)
        up = self.pen.metrics.ascent(size)
        down = self.pen.metrics.descent(size) + lines_height(len(lines) - 1, size)
        self._wanted.append(_Wanted(lines, places, rank, size, weight, ink, width, up, down))

    def put(self) -> None:
        """Write all texts, in the order of their ranks.

        Raises
        ------
        DrawingError
            If a text has no place within the frame and clear of the other texts and of all lines
            but hatching.
        """
        for wanted in sorted(self._wanted, key=lambda each: each.rank):
            place, crossed = self._best(wanted)
            ground = wanted.ground(place)
            for start, end in place.lines:
                self.pen.line(*start, *end, width=NARROW)
                self._lines.append((start, end))
            for corners in place.heads:
                self.pen.path(corners, closed=True, stroke=None, fill=BLACK)
            if crossed:
                # The hatching is broken for the text.
                self.pen.path(ground.corners, closed=True, stroke=None, fill=WHITE)
            y = place.y
            for line in wanted.lines:
                self.pen.text(
                    place.x,
                    y,
                    line,
                    wanted.size,
                    weight=wanted.weight,
                    anchor=place.anchor,
                    ink=wanted.ink,
                    angle=place.angle,
                )
                y += lines_height(1, wanted.size)
            self._taken.append(ground)
        self._wanted.clear()

    def _best(self, wanted: _Wanted) -> tuple[Place, int]:
        # Most texts take the first place: the others are worked out only where they are needed.
        places = iter(wanted.places)
        first = next(places)
        found = self._first_clear(wanted, chain((first,), places))
        if found is None:
            found = self._first_clear(wanted, self._anywhere(wanted, first))
        if found is None:
            msg = f"{self.pen.owner}: no clear place for {wanted.text!r}"
            raise DrawingError(msg)
        return found

    def _anywhere(self, wanted: _Wanted, first: Place) -> list[Place]:
        """Return places all over the frame, nearest first, each with a leader to the text's own."""
        target = first.lines[0][0] if first.lines else (first.x, first.y)
        width, up = wanted.width, wanted.up
        places: list[Place] = []
        for row in range(int((self.frame.bottom - self.frame.top) / _GRID)):
            for column in range(int((self.frame.right - self.frame.left) / _GRID)):
                x = self.frame.left + width / 2 + column * _GRID
                y = self.frame.top + up + row * _GRID
                side = x - width / 2 - 0.4 if x > target[0] else x + width / 2 + 0.4
                places.append(Place(x, y, lines=((target, (side, y - up / 2)),)))
        return sorted(places, key=lambda place: dist((place.x, place.y), target))

    def _first_clear(self, wanted: _Wanted, places: Iterable[Place]) -> tuple[Place, int] | None:
        """Return the first place clear of all lines, or the one that crosses least hatching."""
        best: tuple[Place, int] | None = None
        for place in places:
            ground = wanted.ground(place)
            if not ground.box.inside(self.frame) or any(
                ground.box.overlaps(other.box, 0.0) for other in self._taken
            ):
                continue
            if any(other.met_by(line) for line in place.lines for other in (ground, *self._taken)):
                continue
            if any(ground.met_by(line) for line in self._lines):
                continue
            crossed = sum(ground.met_by(line) for line in self._soft)
            if not crossed:
                return place, 0
            if best is None or crossed < best[1]:
                best = place, crossed
        return best


def _enters(line: Segment, corners: Sequence[XY], slack: float = 0.15) -> bool:
    """Whether a line enters a convex area, shrunk by a slack; Cyrus and Beck's clipping.

    The corners run clockwise as seen on the card, whose y points down.
    """
    (x1, y1), (x2, y2) = line
    enter, leave = 0.0, 1.0
    for (px, py), (qx, qy) in zip(corners, [*corners[1:], corners[0]], strict=True):
        u, v = unit((px, py), (qx, qy))
        # How far the line's ends lie within this edge.
        start = (y1 - py) * u - (x1 - px) * v - slack
        end = (y2 - py) * u - (x2 - px) * v - slack
        if start < 0 and end < 0:
            return False
        if start < 0:
            enter = max(enter, start / (start - end))
        elif end < 0:
            leave = min(leave, start / (start - end))
    return enter <= leave


def unit(p: XY, q: XY) -> XY:
    """Return the unit vector from one point to another."""
    length = dist(p, q)
    return (q[0] - p[0]) / length, (q[1] - p[1]) / length
