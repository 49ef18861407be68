"""The bar in its holding, and under it what the bend leaves on the thread, many times enlarged."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from cardgen.card.drawing import DASHED
from cardgen.card.pen import BLACK, NARROW, SOFT, TINT, WHITE, WIDE, Pen
from cardgen.card.piece import lines_height, put_lines
from cardgen.card.screw import screw
from cardgen.card.table import Kit, Piece
from cardgen.card.view import View
from cardgen.core.words import told

_BAR = 8.0
"""Thickness of the blank as it is drawn [mm]; along the bar the drawing is to scale."""
_JAWS = 6.0
_CENTRE = 7.0
_GRAPH = 8.0
"""Height of the curve of what is left [mm]."""
_REST = 2.2
_JAW = 1.3
"""Half of the width of a rest's jaw [mm]."""
_STAND_OUT = 1.8
"""Clear of the free end of a bar, for its axis to stand out [mm]."""


def bend(kit: Kit, view: View) -> Piece:
    """Return the picture: chuck on the left, tailstock on the right, as one stands."""
    small = kit.small
    words = lines_height(1, small)
    first_cut, springs = view.written("cutting.left_most"), view.written("cutting.size_left")
    lines = kit.pen.wrap(
        told("left on ⌀: {most}, dashed {springs}", most=first_cut, springs=springs),
        small,
        kit.width,
    )
    height = _REST + 0.6 + _BAR + 2.2 + words + 1.0 + _GRAPH + 1.4 + len(lines) * words

    def draw(pen: Pen, x: float, y: float, width: float) -> None:
        held = view.figures["cutting.holding"].inputs
        holding, rest = str(held["holding"].value), str(held["rest"].value)
        bar = view.outlines["cutting.bar"].points
        left = x + (_CENTRE if holding == "between-centres" else _JAWS)
        right = x + width - (_CENTRE if holding != "chuck" else _STAND_OUT)
        along = (right - left) / bar[-1][0]
        across = _BAR / 2 / max(point[1] for point in bar)
        axis = y + _REST + 0.6 + _BAR / 2

        def at(place: float) -> float:
            return left + along * place

        _supports(pen, holding, x, left, right, axis)
        upper = [(at(place), axis - across * radius) for place, radius in bar]
        lower = [(at(place), axis + across * radius) for place, radius in reversed(bar)]
        pen.path([*upper, *lower], closed=True, width=WIDE, fill=WHITE)
        start = at(bar[-2][0])
        screw(pen, start, right, axis - _BAR / 2, axis + _BAR / 2)
        if rest == "steady" and view.has("cutting.rest_place"):
            _jaws(pen, at(view.number("cutting.rest_place")), axis)
        elif rest == "follow":
            _follower(pen, (start + right) / 2, axis, view, along, (left, right))
        under = axis + _BAR / 2 + 2.2
        _span(pen, left, right, under, view.written("cutting.unsupported_length"), small)
        top = under + words + 1.0
        _curve(pen, view, at, top)
        # Under the thread where it fits there, or else from the column's edge.
        widest = max(pen.width(line, small) for line in lines)
        begin = max(x, min(start, right - widest))
        put_lines(pen, lines, begin, top + _GRAPH + 1.4, small)

    return Piece(height, draw, picture=True)


def _supports(pen: Pen, holding: str, x: float, left: float, right: float, axis: float) -> None:
    """Draw the chuck or the centres, shaded."""
    if holding == "between-centres":
        point = [(left, axis), (x, axis - 2.4), (x, axis + 2.4)]
        pen.path(point, closed=True, width=NARROW, fill=TINT)
    else:
        pen.rect(x, axis - _BAR / 2 - 1.6, left, axis + _BAR / 2 + 1.6, width=NARROW, fill=TINT)
    if holding != "chuck":
        end = right + _CENTRE
        point = [(right, axis), (end, axis - 2.4), (end, axis + 2.4)]
        pen.path(point, closed=True, width=NARROW, fill=TINT)


def _jaws(pen: Pen, x: float, axis: float) -> None:
    """Draw two jaws of a rest, from above and from below."""
    for sign in (-1.0, 1.0):
        edge = axis + sign * _BAR / 2
        point = [(x, edge), (x - _JAW, edge + sign * _REST), (x + _JAW, edge + sign * _REST)]
        pen.path(point, closed=True, width=NARROW, fill=BLACK)


def _follower(
    pen: Pen, x: float, axis: float, view: View, along: float, ends: tuple[float, float]
) -> None:
    """Draw the tool below the bar, and the jaws of the follow rest behind it, on the bar."""
    behind = view.number("cutting.rest_behind") if view.has("cutting.rest_behind") else 0.0
    towards_chuck = view.figures["cutting.holding"].inputs["towards"].value == "chuck"
    jaw = x + (1 if towards_chuck else -1) * max(along * behind, 3.0)
    # A short bar is drawn so large that the rest would stand beyond its end.
    jaw = min(max(jaw, ends[0] + _JAW), ends[1] - _JAW)
    edge = axis - _BAR / 2
    point = [(jaw, edge), (jaw - _JAW, edge - _REST), (jaw + _JAW, edge - _REST)]
    pen.path(point, closed=True, width=NARROW, fill=BLACK)
    low = axis + _BAR / 2
    tool = [(x - 0.7, low - 1.0), (x + 0.7, low - 1.0), (x + 1.1, low + 1.4), (x - 1.1, low + 1.4)]
    pen.path(tool, closed=True, width=NARROW, fill=WHITE)


def _span(pen: Pen, left: float, right: float, y: float, text: str, size: float) -> None:
    """Draw the free length as a dimension under the bar."""
    base = y + pen.metrics.ascent(size)
    half, middle = pen.width(text, size) / 2 + 0.8, (left + right) / 2
    level = y + lines_height(1, size) / 2
    for end, inner, sense in ((left, middle - half, 1.0), (right, middle + half, -1.0)):
        pen.line(end, level, inner, level, width=NARROW)
        pen.line(end, level - 1.0, end, level + 1.0, width=NARROW)
        head = [(end, level), (end + sense * 1.8, level - 0.5), (end + sense * 1.8, level + 0.5)]
        pen.path(head, closed=True, stroke=None, fill=BLACK)
    pen.text(middle, base, text, size, anchor="middle")


def _curve(pen: Pen, view: View, at: Callable[[float], float], top: float) -> None:
    """Draw what the last cut leaves on the diameter, and what the spring passes leave of it."""
    floor = top + _GRAPH
    before = view.outlines["cutting.bend"].points
    after = view.outlines["cutting.bend_after"].points
    most = max(max(left for _, left in before), 1e-9)

    def shape(points: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
        return [(at(place), floor - (_GRAPH - 1.0) * left / most) for place, left in points]

    first = shape(before)
    ground = [(first[-1][0], floor), (first[0][0], floor)]
    pen.path([*first, *ground], closed=True, stroke=None, fill=TINT)
    pen.path(first, width=WIDE)
    pen.path(shape(after), width=NARROW, dash=DASHED)
    pen.line(first[0][0], floor, first[-1][0], floor, stroke=SOFT, width=NARROW)
