"""The grinding diagram: top, front and side of the cutter in third-angle projection, to scale.

The tool is held face up with its point towards the reader. The top view stands above the front,
its point down; the view from the right stands to the right of the front, its point left. That is
the chuck's side of a screw's tool and the tailstock's of a nut's, which points the other way.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import atan2, cos, degrees, fsum, hypot, radians, sin

from cardgen.card.dimension import angular
from cardgen.card.drawing import Drawing, scale_written
from cardgen.card.panel import Block
from cardgen.card.pen import BLACK, HAIR, SOFT, XY, Pen
from cardgen.card.piece import lines_height, put_lines
from cardgen.card.projection import projection_sign, sign_width
from cardgen.card.table import Kit
from cardgen.card.view import View
from cardgen.core.words import told

SCALES = (Fraction(5), Fraction(2), Fraction(1), Fraction(1, 2))
"""Preferred scales that suit a tool in the hand (ISO 5455)."""
TALLEST = 80.0
"""Greatest height of the views together [mm]."""
TOGETHER = 54.0
"""Up to this height the views are never parted: the lowest column holds as much [mm]."""
_BETWEEN = 2.0
"""Between front and side view [mm]."""
_BESIDE = 3.0
"""Left and right of front and top view [mm]."""
_BEFORE = 8.0
"""Left of the side view, for the end relief, at least [mm]."""
_CLEAR_WORD = 2.5
"""Around the word at the curve of the bore [mm]."""
_BELOW_TIP = 5.5
"""Below the top view, for the width of the tip [mm]."""
_ABOVE = 1.5
"""Above a break line [mm]."""
_DASHED = (12 * HAIR, 3 * HAIR)
"""Hidden edges, in hair line width (ISO 128-2 type 02)."""
_ARC = 2.2
"""From the bottom of the front view to the arcs of the reliefs [mm]."""

_DETAILED = 4.5
"""Least length on the card that is dimensioned on the top view; the rows give the rest [mm]."""
_BESIDE_TOP = 26.0
"""Room that the legend needs beside the top view [mm]."""
_SIGN = 3.2
"""Height of the sign of projection [mm]."""
_OVER = 8.0
"""Most that is added beside front and top view where the column has room [mm]."""

Extent = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class Plan:
    """How large the views are drawn and where.

    Attributes
    ----------
    front, top, side
        Left, bottom, right and top of each view [mm of the part].
    words, below
        Room above and below the front view [mm].
    text_width
        Of the words over the front view [mm].
    before
        Room left of the side view [mm].
    over
        Room that the column has left, given to the notes beside the top view [mm].
    """

    scale: Fraction
    front: Extent
    top: Extent
    side: Extent
    words: float
    below: float
    text_width: float
    before: float
    over: float = 0.0

    @property
    def k(self) -> float:
        """Card to part."""
        return float(self.scale)

    @property
    def front_width(self) -> float:
        """Width that front and top view take on the card [mm]."""
        across = self.k * (self.front[2] - self.front[0]) + 2 * _BESIDE
        return max(across, self.text_width) + self.over

    @property
    def side_width(self) -> float:
        """Width that the side view takes on the card [mm]."""
        return self.before + self.k * (self.side[2] - self.side[0]) + _ABOVE

    @property
    def width(self) -> float:
        """Width of all views [mm]."""
        return self.front_width + _BETWEEN + self.side_width

    @property
    def top_height(self) -> float:
        """Height of the top view with its dimensions [mm]."""
        return _ABOVE + self.k * (self.top[3] - self.top[1]) + _BELOW_TIP

    @property
    def front_height(self) -> float:
        """Height of the front view with its words and dimensions [mm]."""
        return self.words + self.k * (self.front[3] - self.front[1]) + self.below


def plan(view: View, pen: Pen, width: float) -> Plan:
    """Return the views at the largest scale at which they fit a column together."""
    small = view.style.small
    words = lines_height(1, small) + 0.8
    below = 2 * _ARC + 0.6 + lines_height(1, small)
    text = fsum(pen.width(word, small, "bold") for word in _WORDS) + 3.0
    bore = pen.width(_BORE, small) + _CLEAR_WORD if "tool.side.bore" in view.outlines else 0.0
    front = _extent(view, "tool.front")
    top = _extent(view, "tool.top")
    # Both share their middle, so that the one stands straight above the other.
    across = (min(front[0], top[0]), max(front[2], top[2]))
    plans = [
        Plan(
            scale,
            (across[0], front[1], across[1], front[3]),
            (across[0], top[1], across[1], top[3]),
            _extent(view, "tool.side"),
            words,
            below,
            text,
            max(_BEFORE, bore),
        )
        for scale in SCALES
    ]
    chosen = next(
        (
            each
            for each in plans
            if each.width <= width and each.top_height + each.front_height <= TALLEST
        ),
        plans[-1],
    )
    return replace(
        chosen,
        over=max(0.0, min(_OVER, width - max(chosen.width, chosen.front_width + _BESIDE_TOP))),
    )


_WORDS = ("tailstock side", "chuck side")
_BORE = "bore"


def views(kit: Kit) -> list[Block]:
    """Return the top view, and under it the front and the side view; they stay together."""
    made = plan(kit.view, kit.pen, kit.width)
    view, small = kit.view, kit.small

    beside = made.front_width + _BETWEEN
    words = kit.pen.wrap("Held face up, the point towards you.", small, kit.width - beside)
    legend = _Legend([*words, told("Scale {scale}", scale=scale_written(made.scale))], small)
    if max(made.width, beside + legend.width(kit.pen)) > kit.width:
        return [kit.no_room()]
    top_height = max(made.top_height, legend.height)

    def above(pen: Pen, x: float, y: float, width: float) -> None:
        del width
        box = (x, y + top_height - made.top_height, made.front_width, made.top_height)
        clear = (0.0, _ABOVE, 0.0, _BELOW_TIP)
        with Drawing(pen, box, made.top, size=small, clear=clear, scale=made.scale) as d:
            _top(d, view)
        legend.draw(pen, x + beside, y)

    def under(pen: Pen, x: float, y: float, width: float) -> None:
        # The end relief may be written in what the column has left beside the side view.
        spare = max(0.0, width - made.width)
        _words(pen, view, x, y, made)
        clear = (0.0, made.words, 0.0, made.below)
        box = (x, y, made.front_width, made.front_height)
        with Drawing(pen, box, made.front, size=small, clear=clear, scale=made.scale) as d:
            _front(d, view)
        box = (
            x + made.front_width + _BETWEEN,
            y,
            made.side_width + spare,
            made.front_height,
        )
        clear = (made.before, made.words, _ABOVE + spare, made.below)
        with Drawing(pen, box, made.side, size=small, clear=clear, scale=made.scale) as d:
            _side(d, view)

    together = top_height + made.front_height <= TOGETHER
    return [
        kit.sketch(top_height, above, keep=together),
        kit.sketch(made.front_height, under),
    ]


@dataclass(frozen=True, slots=True)
class _Legend:
    """How to look at the views: in words, with the sign of third-angle projection."""

    lines: Sequence[str]
    small: float

    @property
    def height(self) -> float:
        return lines_height(len(self.lines), self.small) + _SIGN + 2.0

    def width(self, pen: Pen) -> float:
        """Return the width that the sign and its words need [mm]."""
        return sign_width(_SIGN) + 2.2 + pen.width("third angle", self.small)

    def draw(self, pen: Pen, x: float, y: float) -> None:
        put_lines(pen, self.lines, x, y, self.small)
        top = y + lines_height(len(self.lines), self.small) + 1.0
        projection_sign(pen, x + 0.6, top, _SIGN, "third")
        base = top + _SIGN / 2 + pen.metrics.ascent(self.small) / 2
        pen.text(x + sign_width(_SIGN) + 2.2, base, "third angle", self.small)


def _words(pen: Pen, view: View, x: float, y: float, made: Plan) -> None:
    """Write which side is which over the front view, the leading one in bold."""
    small = view.style.small
    leads = view.figures["tool.leading_side"].value
    left, right = reversed(_WORDS) if view.internal else _WORDS
    for word, at, anchor in (
        (left, x, "start"),
        (right, x + made.front_width, "end"),
    ):
        bold = word.startswith(str(leads))
        put_lines(
            pen,
            [word],
            at,
            y,
            small,
            weight="bold" if bold else "regular",
            anchor="start" if anchor == "start" else "end",
            ink=BLACK if bold else SOFT,
        )


def _top(d: Drawing, view: View) -> None:
    outline = view.outlines["tool.top"].points
    d.shade(outline)
    d.outline(outline)
    _edges(d, view, "tool.top")
    d.break_line(outline[0], outline[-1])
    face = view.outlines["tool.face"].points
    shank, left, right, other = face
    d.horizontal(left, right, view.bare("tool.tip_width"), offset=-4.0)
    k = float(d.scale)
    if k * (other[1] - right[1]) >= _DETAILED:
        d.vertical(right, other, view.bare("tool.blade_length"), offset=3.0)
    if k * (outline[0][1] - outline[1][1]) >= _DETAILED:
        for id in ("tool.included_angle", "tool.included_angle_normal"):
            if view.has(id) and view.number(id) > 0:
                _included(d, face, view.written(id))
    if view.has("tool.corner_radius"):
        at_most = "" if view.has("thread.root_shape") else " max"
        text = f"R {view.bare('tool.corner_radius')}{at_most}"
        d.leader(left, text, toward=205, reach=3.0)
    # On a raked or tipped face the helicoid's section adds to the taper: the table tells each side.
    if view.has("tool.blade_taper") and view.number("tool.rake") == 0 and not view.has("tool.tilt"):
        middle = ((shank[0] + left[0]) / 2, (shank[1] + left[1]) / 2)
        d.leader(
            middle,
            told("{blade_taper} each", blade_taper=view.written("tool.blade_taper")),
            toward=160,
            reach=3.0,
        )


def _included(d: Drawing, flanks: Sequence[XY], text: str) -> None:
    """Dimension the angle between the flanks, on the shank beyond them."""
    (ax, ay), (bx, by), (cx, cy), (ex, ey) = flanks
    left, right = (ax - bx) / (ay - by), (ex - cx) / (ey - cy)
    apex_y = by - (cx - bx) / (right - left)
    apex = (bx + left * (apex_y - by), apex_y)
    d.angle(
        apex,
        90 - degrees(atan2(right, 1.0)),
        90 - degrees(atan2(left, 1.0)),
        text,
        radius=0.6,
        legs_from=max(hypot(ax - apex[0], ay - apex_y), hypot(ex - apex[0], ey - apex_y)),
    )


def _front(d: Drawing, view: View) -> None:
    d.outline(view.outlines["tool.front.blank"].points, closed=True)
    face = view.outlines["tool.front"].points
    d.shade(face)
    d.outline(face, closed=True)
    _edges(d, view, "tool.front")
    for edge, id, outward in zip(_true_sides(view), relief_ids(view), (-1, 1), strict=True):
        # The leading side's arc stands nearer, so that the two keep clear of one another.
        gap = _ARC if id == "tool.relief_leading" else 2 * _ARC
        _lean(d, *edge, view.written(id), gap, outward)


def _lean(d: Drawing, top: XY, foot: XY, text: str, gap: float, outward: int) -> None:
    """Dimension how far a line leans from upright, below its foot.

    Parameters
    ----------
    gap
        From the foot to the arc [mm on the card].
    outward
        On which side of the arc the text stands: -1 left, 1 right.
    """
    k = float(d.scale)
    lean = degrees(atan2(foot[0] - top[0], top[1] - foot[1]))
    long = hypot(foot[0] - top[0], foot[1] - top[1])
    start, end = sorted((-90.0, -90.0 + lean))
    dimension, arc = angular(d.at(top), start, end, k * long + gap, k * long, 0.0, 0.0)
    d.unworded(dimension, top, arc)
    radius, first, extent = arc
    tail = radians(first if outward < 0 else first + extent)
    at = (top[0] + radius / k * cos(tail), top[1] + radius / k * sin(tail))
    d.label(at, text, sides=(180.0 if outward < 0 else 0.0, -90.0))


def _true_sides(view: View) -> tuple[tuple[XY, XY], tuple[XY, XY]]:
    """Return the lines, left and right, on which the reliefs are seen true: in a cross-section."""
    a, b, c, e = view.outlines["tool.front"].points
    sides = [(a, e), (b, c)]
    for outline in _named(view, "tool.front.visible"):
        top, foot = outline
        if abs(foot[1] - e[1]) < 1e-6:
            sides[0 if top[0] < 0 else 1] = (top, foot)
    return sides[0], sides[1]


def relief_ids(view: View) -> tuple[str, str]:
    """Return the reliefs of the left and the right side.

    The chuck side of a screw's tool is on the right, of a nut's, which points the other way, on
    the left.
    """
    if (view.figures["tool.leading_side"].value == "chuck") != view.internal:
        return "tool.relief_trailing", "tool.relief_leading"
    return "tool.relief_leading", "tool.relief_trailing"


def _side(d: Drawing, view: View) -> None:
    outline = view.outlines["tool.side"].points
    d.outline(outline)
    _edges(d, view, "tool.side")
    if "tool.side.bore" in view.outlines:
        curve = view.outlines["tool.side.bore"].points
        d.thin(curve)
        d.label(curve[len(curve) // 2], _BORE, sides=(180.0,))
    d.break_line(outline[0], outline[-1])
    tip, foot = outline[-3], outline[-2]
    d.label(
        (outline[0][0] / 2, 0.0), told("rake {rake}", rake=view.written("tool.rake")), sides=(90.0,)
    )
    # The lower arc: the words on the nearer one would touch the view's own edge.
    _lean(d, tip, foot, view.written("tool.end_relief"), 2 * _ARC, 1)


def _edges(d: Drawing, view: View, name: str) -> None:
    for points in _named(view, f"{name}.visible"):
        d.outline(points)
    for points in _named(view, f"{name}.hidden"):
        # The hair line's own dashes: those of a narrow line are longer than these edges.
        d.pen.path([d.at(point) for point in points], width=HAIR, dash=_DASHED)


def _named(view: View, beginning: str) -> Iterator[tuple[XY, ...]]:
    for name, outline in view.outlines.items():
        if name.startswith(f"{beginning}."):
            yield outline.points


def _extent(view: View, name: str) -> Extent:
    shapes: list[Sequence[XY]] = [
        outline.points
        for known, outline in view.outlines.items()
        if known == name or known.startswith(f"{name}.")
    ]
    across = [x for points in shapes for x, _ in points]
    up = [y for points in shapes for _, y in points]
    return min(across), min(up), max(across), max(up)
