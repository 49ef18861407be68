"""Does the ground tool clear the thread it cuts? The solid is swept along its own helix.

The groove is what the tool's edges leave behind as they run along the helix. Every point of the
sides, of the end and of the rounded corners is carried along that helix into the axial section and
compared with the groove there. Nothing is assumed small, and no formula of ``rules.tool`` is used.

Axes, signs and units as in ``rules.helicoid``.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import cache
from math import atan, cos, inf, pi, sin, sqrt, tan

from cardgen.rules.helicoid import Groove
from cardgen.rules.solid import Solid
from cardgen.rules.tool import Nose, Side

_BELOW = (1e-6, 0.02, 0.06, 0.15, 0.3, 0.5, 0.75, 1.0)
"""Depths looked at below an edge, as parts of the deepest that is still in the work."""
_ALONG = (0.0, 0.15, 0.4, 0.65, 0.85, 0.95, 0.99, 0.998, 1.0)
"""Places looked at along a side, from the point to the crest. Close together at the crest: below a
raked face the least clearance lies a hair inside it."""
_ACROSS = (0.0, 0.25, 0.5, 0.75, 1.0)
_ROUND = (0.0, 0.3, 0.6, 0.8, 1.0)
"""Places looked at round a corner, as parts of its arc."""
_SETTLED = 4
"""Rounds after which what depends on itself has settled."""
_NO_MORE = 1e-7
"""Change that is none [mm]."""
_FINER = 10
"""Times that the worst place is looked at more closely, each time at half the step."""


@dataclass(frozen=True, slots=True)
class Touch:
    """Where a surface would touch first.

    Attributes
    ----------
    relief
        The relief at which it just touches there [rad].
    radius
        Of the place, from the lathe's axis [mm].
    along, below
        Of the place, from the point along the shank, and down from the edge above it [mm].
    """

    relief: float
    radius: float
    along: float
    below: float


@dataclass(frozen=True, slots=True)
class Clearances:
    """The least clearance of each ground surface, in the upright plane square to its edge [rad].

    Attributes
    ----------
    leading, trailing, end, corners
        Of both sides, the end and the rounded corners, infinite for sharp ones.
    places
        Where each of them is least, by the same names.
    """

    leading: float
    trailing: float
    end: float
    corners: float
    places: dict[str, Touch]

    @property
    def sides(self) -> float:
        """The lesser of both sides."""
        return min(self.leading, self.trailing)

    @property
    def face(self) -> str:
        """The name of the surface that clears by least."""
        return min(self.places, key=lambda name: float(getattr(self, name)))

    @property
    def least(self) -> float:
        """The least over all surfaces."""
        return float(getattr(self, self.face))


def solid(nose: Nose, groove: Groove, corner: float = 0.0) -> Solid:
    """Return a nose before the groove that it is to cut."""
    return Solid(nose, groove.root, groove.outwards, groove.lead, corner)


def least_clearances(nose: Nose, groove: Groove, corner: float = 0.0) -> Clearances:
    """Return the least clearance between the tool and the groove it cuts.

    Parameters
    ----------
    nose
        The ground tool.
    groove
        Its helix and the radii of its root and crest; the walls compared with are those that the
        tool's own edges leave.
    corner
        Largest radius to which the corners may be rounded; the sides must clear with sharp ones
        too [mm].

    Returns
    -------
    Clearances
        From each edge, the smallest angle between the ground surface and the wall that the edge
        leaves; negative where the tool would rub or dig in.
    """
    sharp, rounded = solid(nose, groove), solid(nose, groove, corner)
    # Only in a nut, where what lies below an edge lies farther out, does a side reach a corner.
    both = (sharp, rounded) if corner and groove.internal else (sharp,)
    places = {
        name: max(
            (side_touch(tool, sign, groove.crest) for tool in both), key=lambda touch: touch.relief
        )
        for name, sign in _SIGNS
    }
    found = {name: _square(sharp, sign, places[name]) for name, sign in _SIGNS}
    places["end"] = end_touch(sharp, groove.crest)
    corners = inf
    if corner:
        corners, places["corners"] = min(
            (_corner(rounded, sign, groove.crest) for _, sign in _SIGNS), key=lambda pair: pair[0]
        )
    return Clearances(
        found["leading"],
        found["trailing"],
        nose.end_relief - places["end"].relief,
        corners,
        places,
    )


_SIGNS = (("leading", -1.0), ("trailing", 1.0))


def side_touch(tool: Solid, sign: float, crest: float) -> Touch:
    """Return where a side would touch first, and the relief at which it does.

    The relief is measured in the section square to the shank, as ``Side.relief`` is.
    """
    found = _side_touch(tool, sign, crest)
    if tool.corner and tool.nose.rake:
        # Where the face falls, the relief has a part in the place of the rounded corner.
        for _ in range(_SETTLED):
            found = _side_touch(_relieved(tool, sign, found.relief), sign, crest)
    return found


def _side_touch(tool: Solid, sign: float, crest: float) -> Touch:
    deepest = _deepest(tool, crest)

    def at(part: float, depth: float) -> Touch | None:
        return _on_side(tool, sign, crest, part, depth * deepest)

    return _worst(at, _ALONG)


def _relieved(tool: Solid, sign: float, relief: float) -> Solid:
    side = replace(tool.side(sign), relief=relief)
    if sign < 0:
        return replace(tool, nose=replace(tool.nose, leading=side))
    return replace(tool, nose=replace(tool.nose, trailing=side))


def end_touch(tool: Solid, crest: float) -> Touch:
    """Return where the end would touch first, and the end relief at which it does.

    In a bore the curve is closest at the first cut, when the point is still at the crest.
    """
    deepest = _deepest(tool, crest)
    if tool.outwards < 0:
        tool, crest = replace(tool, root=crest), tool.root
        deepest = min(tool.nose.height, tool.root)

    @cache  # the same for every place across: a fifth of the time
    def ends(below: float) -> tuple[float, float] | None:
        return _ends(tool, below)

    def at(part: float, depth: float) -> Touch | None:
        below = depth * deepest
        found = ends(below)
        return None if found is None else _on_end(tool, crest, found, part, below)

    return _worst(at, _ACROSS)


def _deepest(tool: Solid, crest: float) -> float:
    """Return the depth below the edge at which the last of the tool leaves the work."""
    nose = tool.nose
    if tool.outwards < 0:
        return nose.height
    way_out = sqrt(crest**2 - tool.root**2) + nose.tip_width / 2 * sin(abs(nose.tilt))
    return min(nose.height, way_out / cos(nose.tilt))


def _worst(at: Callable[[float, float], Touch | None], parts: tuple[float, ...]) -> Touch:
    """Return the touch with the largest relief over a place along (0 to 1) and a depth (0 to 1)."""
    best, where = None, (0.0, 0.0)
    for part in parts:
        for depth in _BELOW:
            found = at(part, depth)
            if found is not None and (best is None or found.relief > best.relief):
                best, where = found, (part, depth)
    if best is None:
        msg = "no point of the tool is in the work"
        raise ValueError(msg)
    step = 0.1
    for _ in range(_FINER):
        for part, depth in _around(*where, step):
            found = at(part, depth)
            if found is not None and found.relief > best.relief:
                best, where = found, (part, depth)
        step /= 2
    return best


def _around(part: float, depth: float, step: float) -> Iterator[tuple[float, float]]:
    for more in (-step, step):
        yield min(max(part + more, 0.0), 1.0), depth
        yield part, min(max(depth * (1 + more * 5), _BELOW[0]), 1.0)


def _on_side(tool: Solid, sign: float, crest: float, part: float, below: float) -> Touch | None:
    """Return the relief at which a side touches at one place; ``None`` where it is not in work."""
    start = tool.side_begins(sign, below)
    inwards = 0.0
    # A tipped side stands the higher the farther it is in, so that it ends a little elsewhere.
    for _ in range(_SETTLED if tool.nose.tilt else 1):
        begins, end = start, tool.along_at(sign, crest, below, inwards)
        if tool.outwards < 0:
            begins = max(start, tool.along_at(sign, tool.root, below, inwards))
            # Below the bore's own radius there is no way out of the work but the shank.
            end = tool.nose.length if end == inf else end
        if not begins <= end:
            return None
        along, before = begins + (end - begins) * part, inwards
        inwards = _to_wall(tool, sign, along, below)
        if abs(inwards - before) < _NO_MORE:
            break
    radius, _ = tool.place(*_beside(tool, sign, along, below, inwards))
    return Touch(atan(inwards / below), radius, along, below)


def _beside(
    tool: Solid, sign: float, along: float, below: float, inwards: float
) -> tuple[float, float, float]:
    """Return a point so far below an edge and so far in from it."""
    _, edge, level = tool.on_edge(sign, along)
    return along, edge - sign * inwards, level + below


def _to_wall(tool: Solid, sign: float, along: float, below: float) -> float:
    """Return how far in from upright below the edge the wall is."""

    def room(inwards: float) -> float:
        radius, z = tool.place(*_beside(tool, sign, along, below, inwards))
        return sign * (tool.wall(sign, radius) - z)

    return _zero(room, 0.0, below / 100)


def _ends(tool: Solid, below: float) -> tuple[float, float] | None:
    """Return from where to where across the end touches first at a depth; ``None`` if nowhere."""
    ends = []
    half, run = tool.nose.tip_width / 2, below * tan(tool.nose.end_relief)
    for sign in (-1.0, 1.0):
        side = sign * (half + run * tool.slope(sign) - below * tan(tool.side(sign).relief))
        # Beyond the track of the point's corner a wall is nearer, and the side's own matter.
        track = _on_track(tool, tool.place(0.0, sign * half, 0.0)[1], below)
        if track is None:
            return None
        ends.append(sign * min(sign * side, sign * track))
    return None if ends[0] > ends[1] else (ends[0], ends[1])


def _on_end(
    tool: Solid, crest: float, ends: tuple[float, float], part: float, below: float
) -> Touch | None:
    """Return the end relief at which the end touches at one place across; ``None`` if clear."""
    across = ends[0] + (ends[1] - ends[0]) * part
    back = 0.0
    for _ in range(_SETTLED):
        cut = tool.floor(tool.place(back, across, below)[1])
        found = _back(tool, across, below, cut)
        if found is None:
            return None
        if found == back:
            break
        back = found
    if tool.outwards > 0 and tool.root + back > crest:
        return None
    return Touch(atan(back / below), cut, back, below)


def _on_track(tool: Solid, z: float, below: float) -> float | None:
    """Return where across, at a depth, a point of the root's surface has an axial place."""
    tilt, across = tool.nose.tilt, 0.0
    for _ in range(4 * _SETTLED):
        back = _back(tool, across, below, tool.root)
        if back is None:
            return None
        before = across
        across += (z - tool.place(back, across, below)[1]) / cos(tilt)
        if across == before:
            break
    return across


def _back(tool: Solid, across: float, below: float, cut: float) -> float | None:
    """Return how far behind the point a point so far across and below is at a radius."""
    y = below * cos(tool.nose.tilt) - across * sin(tool.nose.tilt)
    if abs(y) >= cut:
        return None
    return tool.outwards * (sqrt(cut**2 - y**2) - tool.root)


def _corner(tool: Solid, sign: float, crest: float) -> tuple[float, Touch]:
    """Return the least clearance of a rounded corner and where it is."""
    deepest = _deepest(tool, crest)
    last = tool.last(sign)

    def at(part: float, depth: float) -> Touch | None:
        turn, below = last * part, depth * deepest
        along, across, down = tool.on_corner(sign, turn, below)
        if down > tool.nose.height:
            return None
        radius, _ = tool.place(along, across, down)
        if tool.outwards * (radius - crest) > 0:
            return None

        def room(outwards: float) -> float:
            radius, z = tool.place(
                along - outwards * cos(turn), across + sign * outwards * sin(turn), down
            )
            if turn > pi / 4:
                return sign * (tool.wall(sign, radius) - z)
            return tool.outwards * (radius - tool.floor(z))

        ground = tool.corner_relief(sign, turn)
        gap = _zero(room, 0.0, below / 100)
        touching = atan(ground - gap / below)
        # Largest where the clearance is least.
        return Touch(touching - atan(ground), radius, along, below)

    worst = _worst(at, _ROUND)
    return -worst.relief, worst


def _square(tool: Solid, sign: float, touch: Touch) -> float:
    """Return a side's clearance in the upright plane square to its edge."""
    side = tool.side(sign)
    ground, touching = (
        square_to_edge(Side(side.angle, relief), tool.nose.rake)
        for relief in (side.relief, touch.relief)
    )
    return ground - touching


def square_to_edge(side: Side, rake: float) -> float:
    """Return a side's relief in the upright plane square to its edge in plan [rad].

    Examples
    --------
    >>> from math import degrees, radians
    >>> round(degrees(square_to_edge(Side(radians(30), radians(8)), 0.0)), 2)
    6.94
    """
    slope, relief = tan(side.angle), tan(side.relief)
    stretch = sqrt(1 + slope**2)
    return atan(relief * stretch / (1 + slope**2 + slope * tan(rake) * relief))


def _zero(function: Callable[[float], float], a: float, b: float) -> float:
    """Return the zero of a function that is all but linear, by the secant rule."""
    at_a, at_b = function(a), function(b)
    for _ in range(4):
        if at_a == at_b or abs(at_b) < 1e-14:
            break
        a, b = b, b - at_b * (b - a) / (at_b - at_a)
        at_a, at_b = at_b, function(b)
    return b
