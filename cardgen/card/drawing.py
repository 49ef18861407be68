"""Technical drawings on a card, to a preferred scale, with lines and dimensions by the standards.

A panel gives the part's own millimetres (y up) and draws in a :class:`Drawing`::

    def draw(d: Drawing) -> None:
        d.section(groove)                                   # hatched, wide outline
        d.centre_line((-5, 0), (15, 0))
        d.horizontal((0, 2), (5, 2), "5.00", offset=6)      # above; a negative offset is below
        d.vertical((5, 0), (5, 2.5), "2.75", offset=5)      # right; a negative offset is left
        d.angle((0, 0), 75, 105, "30°", radius=9)
        d.leader((1, 0), "R0.25", toward=225)

    kit.drawing((0, 0, 10, 5), draw, tallest=45, clear=(6, 10, 12, 4))

Line widths and types follow ISO 128-2, scales ISO 5455, dimensions ISO 129-1. Texts are put down
last, each where it is clear of the lines and the other texts.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import cos, radians, sin

from cardgen.card.dimension import (
    ARROW,
    Dimension,
    Head,
    angular,
    arc_points,
    around,
    in_corners,
    leader,
    linear,
)
from cardgen.card.hatch import hatching
from cardgen.card.labels import DrawingError, Labels, unit
from cardgen.card.pen import BLACK, HAIR, NARROW, TINT, WIDE, XY, Box, Ink, Pen, Text, Weight, reach
from cardgen.card.piece import lines_height
from cardgen.card.scale import Clear, Extent, fitting_scale, scale_written

DASHED = (3.0, 0.75)
"""Hidden edges: dash 12 d, gap 3 d of a narrow line (ISO 128-2 type 02)."""
LONG_DOT = (6.0, 0.75, 0.125, 0.75)
"""Axes: long dash 24 d, gap 3 d, dot 0.5 d (ISO 128-2 type 04)."""

__all__ = ["Drawing", "DrawingError", "fitting_scale", "scale_written"]


class Drawing:
    """A part drawn to scale within a box of the card.

    Parameters
    ----------
    pen
        Draws.
    box
        Left, top, width and height on the card [mm].
    extent
        Left, bottom, right and top of the part [mm]; it is centred in the box, less ``clear``.
    size
        Of dimension text [pt].
    clear
        Room on the left, top, right and bottom for dimensions [mm on the card].
    scale
        Card to part; the largest preferred one that fits if not given.
    grow
        How many times its usual size the text has; dimensions stand as much farther out.

    Raises
    ------
    DrawingError
        If the part does not fit at the scale asked for.
    """

    def __init__(
        self,
        pen: Pen,
        box: tuple[float, float, float, float],
        extent: Extent,
        *,
        size: float,
        clear: Clear = (0.0, 0.0, 0.0, 0.0),
        scale: Fraction | None = None,
        grow: float = 1.0,
    ) -> None:
        left, top, width, height = box
        self.pen, self.size, self._grow = pen, size, grow
        try:
            self.scale = scale or fitting_scale(extent, width, height, clear)
        except ValueError as fault:
            msg = f"{pen.owner}: {fault}"
            raise DrawingError(msg) from fault
        self._k = float(self.scale)
        self._x = left + (clear[0] + width - clear[2]) / 2 - self._k * (extent[0] + extent[2]) / 2
        self._y = top + (clear[1] + height - clear[3]) / 2 + self._k * (extent[1] + extent[3]) / 2
        across, up = self._k * (extent[2] - extent[0]), self._k * (extent[3] - extent[1])
        if across > width - clear[0] - clear[2] + 1e-6 or up > height - clear[1] - clear[3] + 1e-6:
            msg = (
                f"{pen.owner}: {across:.1f} x {up:.1f} mm do not fit {width:.1f} x {height:.1f} mm"
            )
            raise DrawingError(msg)
        frame = Box(left, top, left + width, top + height, "part", pen.owner)
        self._labels = Labels(pen, frame)
        self._first = len(pen.marks)

    def __enter__(self) -> Drawing:
        """Return the drawing."""
        return self

    def __exit__(self, kind: object, fault: object, trace: object) -> None:
        """Write the texts, now that all lines are known, and check that all is in the box.

        Raises
        ------
        DrawingError
            If a text has no clear place, or a line leaves the box.
        """
        if fault is not None:
            return
        self._labels.put()
        for mark in self.pen.marks[self._first :]:
            if not isinstance(mark, Text):
                box = Box(*reach(mark), "part", "")
                if not box.inside(self._labels.frame, NARROW):
                    msg = f"{self.pen.owner}: a line leaves the drawing's box, at {box}"
                    raise DrawingError(msg)

    @property
    def scale_text(self) -> str:
        """The scale as it is written: ``5:1``."""
        return scale_written(self.scale)

    def at(self, point: XY) -> XY:
        """Return where a point of the part lies on the card."""
        return self._x + self._k * point[0], self._y - self._k * point[1]

    # --- lines ----------------------------------------------------------------------------------

    def outline(
        self, points: Sequence[XY], *, closed: bool = False, fill: Ink | None = None
    ) -> None:
        """Draw visible edges: a wide line."""
        self._run(points, closed, WIDE, (), fill)

    def thin(self, points: Sequence[XY], *, closed: bool = False, fill: Ink | None = None) -> None:
        """Draw a narrow continuous line: thread roots, projections, construction."""
        self._run(points, closed, NARROW, (), fill)

    def hidden(self, points: Sequence[XY], *, closed: bool = False) -> None:
        """Draw hidden edges: a narrow dashed line."""
        self._run(points, closed, NARROW, DASHED, None)

    def centre_line(self, p: XY, q: XY) -> None:
        """Draw an axis: a narrow long-dashed dotted line."""
        self._run((p, q), False, NARROW, LONG_DOT, None)

    def circle(self, centre: XY, radius: float, *, fill: Ink | None = None) -> None:
        """Draw a visible circle [mm of the part]."""
        x, y = self.at(centre)
        self.pen.disc(x, y, radius * self._k, width=WIDE, fill=fill)
        self._labels.avoid(arc_points((x, y), radius * self._k, 0.0, 360.0))

    def section(
        self,
        points: Sequence[XY],
        *,
        holes: Sequence[Sequence[XY]] = (),
        angle: float = 45.0,
        spacing: float = 1.2,
        edges: bool = True,
    ) -> None:
        """Draw a cut face: hatched, with wide edges unless ``edges`` is false.

        Parameters
        ----------
        spacing
            Of the hatch lines [mm on the card].
        """
        self.hatch([points, *holes], angle=angle, spacing=spacing)
        if edges:
            for ring in (points, *holes):
                self.outline(ring, closed=True)

    def hatch(
        self, rings: Sequence[Sequence[XY]], *, angle: float = 45.0, spacing: float = 1.2
    ) -> None:
        """Hatch the area inside closed rings (even-odd) without drawing its edges."""
        for p, q in hatching(rings, spacing / self._k, angle):
            self._run((p, q), False, HAIR, (), None)

    def shade(self, points: Sequence[XY], ink: Ink = TINT) -> None:
        """Fill an area without an edge."""
        self.pen.path([self.at(p) for p in points], closed=True, stroke=None, fill=ink)

    def break_line(self, p: XY, q: XY) -> None:
        """Draw the end of a part that goes on: a narrow line with a zigzag in its middle."""
        a, b = self.at(p), self.at(q)
        u = unit(a, b)
        middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        steps = ((-1.2, 0.0), (-0.5, 1.3), (0.5, -1.3), (1.2, 0.0))
        zigzag = [
            (middle[0] + s * u[0] - t * u[1], middle[1] + s * u[1] + t * u[0]) for s, t in steps
        ]
        run = [a, *zigzag, b]
        self.pen.path(run, width=NARROW)
        self._labels.avoid(run)

    def arrow(self, tail: XY, tip: XY, *, width: float = WIDE) -> None:
        """Draw an arrow that shows a movement."""
        a, b = self.at(tail), self.at(tip)
        u = unit(a, b)
        # The line ends within the head, or its square end would show at the tip.
        self.pen.line(*a, b[0] - u[0] * ARROW / 2, b[1] - u[1] * ARROW / 2, width=width)
        self.pen.path(Head(b, u).corners, closed=True, stroke=BLACK, width=width / 2, fill=BLACK)
        self._labels.avoid((a, b))

    # --- dimensions -----------------------------------------------------------------------------

    def horizontal(self, p: XY, q: XY, text: str, offset: float) -> None:
        """Dimension the horizontal distance of two points.

        Parameters
        ----------
        offset
            Of the dimension line from the outer point, above it if positive [mm on the card].
        """
        side = (0.0, -1.0) if offset >= 0 else (0.0, 1.0)
        self._linear(p, q, text, (1.0, 0.0), side, abs(offset))

    def vertical(self, p: XY, q: XY, text: str, offset: float) -> None:
        """Dimension the vertical distance of two points; right of them if offset is positive."""
        side = (1.0, 0.0) if offset >= 0 else (-1.0, 0.0)
        self._linear(p, q, text, (0.0, -1.0), side, abs(offset))

    def aligned(self, p: XY, q: XY, text: str, offset: float) -> None:
        """Dimension the true distance; on the left on the way from p to q if positive."""
        u = unit(self.at(p), self.at(q))
        side = (u[1], -u[0]) if offset >= 0 else (-u[1], u[0])
        self._linear(p, q, text, u, side, abs(offset))

    def angle(
        self,
        vertex: XY,
        start: float,
        end: float,
        text: str,
        radius: float,
        legs_from: float = 0.0,
    ) -> None:
        """Dimension an angle, anticlockwise from one direction to another [deg].

        Parameters
        ----------
        radius
            Of the dimension arc, or how far it lies beyond ``legs_from`` [mm on the card].
        legs_from
            Distance from the vertex to where the part's own edges end and the extension lines
            begin [mm of the part].
        """
        dimension, arc = angular(
            self.at(vertex),
            start,
            end,
            legs_from * self._k + radius,
            legs_from * self._k,
            self.pen.width(text, self.size),
            self._block(text, self.size)[0],
        )
        self.unworded(dimension, vertex, arc)
        self._labels.want(text, dimension.places, self.size)

    def unworded(
        self, dimension: Dimension, vertex: XY, arc: tuple[float, float, float] | None = None
    ) -> None:
        """Draw a dimension's lines without its text.

        Parameters
        ----------
        arc
            About the vertex: radius on the card, start and extent.
        """
        for start, end in dimension.lines:
            self.pen.line(*start, *end, width=NARROW)
            self._labels.avoid((start, end))
        for head in dimension.heads:
            self.pen.path(head.corners, closed=True, stroke=None, fill=BLACK)
            self._labels.avoid(head.corners, closed=True)
        if arc is not None:
            centre = self.at(vertex)
            self.pen.arc(*centre, *arc, width=NARROW)
            self._labels.avoid(arc_points(centre, *arc))

    def leader(
        self,
        tip: XY,
        text: str,
        *,
        toward: float = 45.0,
        reach: float = 5.0,
        end: str = "arrow",
        weight: Weight = "regular",
    ) -> None:
        """Point at something and say what it is.

        Parameters
        ----------
        text
            A line feed begins a new line.
        toward
            Direction from the tip to the text as it is wished, anticlockwise from the right [deg].
        reach
            Least length of the slanting part [mm on the card].
        end
            ``arrow`` for an edge, ``dot`` within an area, ``none``.
        """
        point = self.at(tip)
        ascent, depth = self._block(text, self.size)
        directions = [toward + turn for turn in (0, 15, -15, 30, -30, 45, -45, 65, -65, 90, -90)]
        reaches = [reach * self._grow * factor for factor in (1.0, 1.3, 1.7, 2.2, 3.0)]
        places = leader(point, directions, reaches, ascent, depth, end == "arrow")
        if end == "dot":
            self.pen.disc(*point, 0.45, stroke=None, fill=BLACK)
        self._labels.want(text, places, self.size, weight, rank=2)

    def radius(self, centre: XY, radius: float, direction: float, text: str) -> None:
        """Point at a rounding from outside, along one of its radii [deg]."""
        turn = radians(direction)
        tip = (centre[0] + radius * cos(turn), centre[1] + radius * sin(turn))
        self.leader(tip, text, toward=direction)

    def label(
        self,
        point: XY,
        text: str,
        *,
        sides: Sequence[float] = (90.0, 0.0),
        size: float | None = None,
        weight: Weight = "regular",
        ink: Ink = BLACK,
    ) -> None:
        """Write a text beside a point, in the first of some directions that is clear [deg]."""
        points = self.size if size is None else size
        ascent, depth = self._block(text, points)
        places = around(self.at(point), ascent, depth, sides)
        self._labels.want(text, places, points, weight, ink, rank=1)

    def state_scale(self) -> None:
        """Write the scale into a corner that is clear, in the drawing's own text size."""
        up, down = self.pen.metrics.ascent(self.size), self.pen.metrics.descent(self.size)
        places = in_corners(self._labels.frame, up, down)
        self._labels.want(self.scale_text, places, self.size, rank=3)

    # --- what these have in common --------------------------------------------------------------

    def _run(
        self,
        points: Sequence[XY],
        closed: bool,
        width: float,
        dash: tuple[float, ...],
        fill: Ink | None,
    ) -> None:
        run = [self.at(p) for p in points]
        self.pen.path(run, closed=closed, width=width, dash=dash, fill=fill)
        self._labels.avoid(run, closed, soft=width == HAIR)

    def _block(self, text: str, size: float) -> tuple[float, float]:
        """Return how far a text reaches above its first base line and below it [mm]."""
        return self.pen.metrics.ascent(size), lines_height(text.count("\n"), size)

    def _linear(self, p: XY, q: XY, text: str, along: XY, normal: XY, offset: float) -> None:
        width = self.pen.width(text, self.size)
        ascent, _ = self._block(text, self.size)
        out = offset * self._grow
        dimension = linear(self.at(p), self.at(q), along, normal, out, width, ascent)
        self.unworded(dimension, p)
        self._labels.want(text, dimension.places, self.size)
