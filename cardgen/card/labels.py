"""Where the words of a drawing go: each tries its places until it stands clear of the rest."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from math import cos, dist, radians, sin

from cardgen.card.hatch import Segment
from cardgen.card.pen import BLACK, NARROW, WHITE, XY, Anchor, Box, Ink, Pen, Weight
from cardgen.card.piece import lines_height

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
    text: str
    places: Sequence[Place]
    size: float
    weight: Weight
    ink: Ink


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
    _taken: list[Box] = field(default_factory=list)

    def avoid(self, points: Sequence[XY], closed: bool = False) -> None:
        """Make texts keep clear of a run of lines."""
        run = [*points, points[0]] if closed else list(points)
        self._lines += pairwise(run)

    def reserve(self, box: Box) -> None:
        """Make texts keep out of a box, as if a text stood there."""
        self._taken.append(box)

    def want(
        self,
        text: str,
        places: Sequence[Place],
        size: float,
        weight: Weight = "regular",
        ink: Ink = BLACK,
    ) -> None:
        """Ask for a text at the first of its places that is clear."""
        self._wanted.append(_Wanted(text, places, size, weight, ink))

    def put(self) -> None:
        """Write all texts; those that have the least choice come first.

        Raises
        ------
        DrawingError
            If a text has no place within the frame and clear of the other texts.
        """
        for wanted in sorted(self._wanted, key=lambda each: len(each.places)):
            place, box, crossed = self._best(wanted)
            for start, end in place.lines:
                self.pen.line(*start, *end, width=NARROW)
                self._lines.append((start, end))
            for corners in place.heads:
                self.pen.path(corners, closed=True, stroke=None, fill=BLACK)
            if crossed:
                # The line is broken for the text, as hatching is.
                self.pen.rect(box.left, box.top, box.right, box.bottom, stroke=None, fill=WHITE)
            y = place.y
            for line in wanted.text.split("\n"):
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
            self._taken.append(box)
        self._wanted.clear()

    def _best(self, wanted: _Wanted) -> tuple[Place, Box, int]:
        found = self._first_clear(wanted, wanted.places)
        if found is None:
            found = self._first_clear(wanted, self._anywhere(wanted))
        if found is None:
            msg = f"{self.pen.owner}: no clear place for {wanted.text!r}"
            raise DrawingError(msg)
        return found

    def _anywhere(self, wanted: _Wanted) -> list[Place]:
        """Return places all over the frame, nearest first, each with a leader to the text's own."""
        first = wanted.places[0]
        target = first.lines[0][0] if first.lines else (first.x, first.y)
        width = max(
            self.pen.width(line, wanted.size, wanted.weight) for line in wanted.text.split("\n")
        )
        up = self.pen.metrics.ascent(wanted.size)
        places: list[Place] = []
        for row in range(int((self.frame.bottom - self.frame.top) / _GRID)):
            for column in range(int((self.frame.right - self.frame.left) / _GRID)):
                x = self.frame.left + width / 2 + column * _GRID
                y = self.frame.top + up + row * _GRID
                side = x - width / 2 - 0.4 if x > target[0] else x + width / 2 + 0.4
                places.append(Place(x, y, lines=((target, (side, y - up / 2)),)))
        return sorted(places, key=lambda place: dist((place.x, place.y), target))

    def _first_clear(
        self, wanted: _Wanted, places: Iterable[Place]
    ) -> tuple[Place, Box, int] | None:
        """Return the first place without a line through it, or else the one with the fewest."""
        best: tuple[int, Place, Box] | None = None
        for place in places:
            box = self._box(wanted, place)
            if not box.inside(self.frame) or any(box.overlaps(other, 0.0) for other in self._taken):
                continue
            if any(_meets(line, other) for line in place.lines for other in self._taken):
                continue
            crossed = sum(_meets(line, box) for line in self._lines)
            if not crossed:
                return place, box, 0
            if best is None or crossed < best[0]:
                best = crossed, place, box
        return None if best is None else (best[1], best[2], best[0])

    def _box(self, wanted: _Wanted, place: Place) -> Box:
        """Return what a text covers at a place."""
        lines = wanted.text.split("\n")
        width = max(self.pen.width(line, wanted.size, wanted.weight) for line in lines)
        up = self.pen.metrics.ascent(wanted.size)
        down = self.pen.metrics.descent(wanted.size) + lines_height(len(lines) - 1, wanted.size)
        left = {"start": 0.0, "middle": -width / 2, "end": -width}[place.anchor]
        c, s = cos(radians(place.angle)), sin(radians(place.angle))
        corners = [
            (place.x + u * c + v * s, place.y - u * s + v * c)
            for u in (left, left + width)
            for v in (-up, down)
        ]
        across, along = [c[0] for c in corners], [c[1] for c in corners]
        return Box(min(across), min(along), max(across), max(along), "text", wanted.text)


def _meets(line: Segment, box: Box, slack: float = 0.15) -> bool:
    """Whether a line enters a box, shrunk by a slack; Liang and Barsky's clipping."""
    (x1, y1), (x2, y2) = line
    dx, dy = x2 - x1, y2 - y1
    enter, leave = 0.0, 1.0
    for step, room in (
        (-dx, x1 - box.left - slack),
        (dx, box.right - slack - x1),
        (-dy, y1 - box.top - slack),
        (dy, box.bottom - slack - y1),
    ):
        if step == 0:
            if room < 0:
                return False
        elif step < 0:
            enter = max(enter, room / step)
        else:
            leave = min(leave, room / step)
    return enter <= leave
