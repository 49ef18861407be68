"""Does the ground tool clear the thread it cuts? The solid is swept along its own helix.

The groove is the surface that the tool's edges themselves leave behind as they run along the
helix. Every point of the sides and of the end is carried along that helix into the axial section
and compared with it there. Nothing is assumed small, and no formula of ``rules.tool`` is used.

Axes: x along the shank (radial at the middle of the point), y down from the axis, z along the
axis towards the trailing side. Lengths in mm, angles in rad.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import atan, atan2, cos, hypot, inf, pi, sin, sqrt, tan

from cardgen.rules.tool import Nose, Side

_ALONG = (0.0, 0.25, 0.5, 0.75, 0.9, 0.95, 0.97, 0.98, 0.99, 0.993, 0.996, 0.998, 0.999, 1.0)
"""Places looked at along an edge, from root to crest. Close together at the crest: below a raked
face the least clearance lies a hair inside it."""
_DOWN = (1e-4, 0.05, 0.25, 0.6, 1.0)
"""Depths looked at below an edge point, as fractions of the way out of the work."""


@dataclass(frozen=True, slots=True)
class Clearances:
    """The least clearance of each ground surface, in the plane square to its edge [rad]."""

    leading: float
    trailing: float
    end: float

    @property
    def sides(self) -> float:
        """The lesser of both sides."""
        return min(self.leading, self.trailing)


def least_clearances(nose: Nose, root: float, crest: float, lead: float) -> Clearances:
    """Return the least clearance between the tool and the groove it cuts.

    Parameters
    ----------
    nose
        The ground tool.
    root, crest
        Radii to which the point and the surface of the work reach [mm].
    lead
        Axial travel in one turn [mm].

    Returns
    -------
    Clearances
        From each edge, the smallest angle between the ground surface and the wall that the edge
        leaves; negative where the tool would rub or dig in.
    """
    return Clearances(
        leading=_Flank(nose, nose.leading, -1.0, root, lead).least(crest),
        trailing=_Flank(nose, nose.trailing, 1.0, root, lead).least(crest),
        end=_end(nose, root, crest, lead),
    )


@dataclass(frozen=True, slots=True)
class _Flank:
    """One side of the blade and the wall that its edge leaves."""

    nose: Nose
    side: Side
    sign: float  # of the edge's place across the face
    root: float
    lead: float

    def least(self, crest: float) -> float:
        """Return the least clearance over all points of the side that are in the work."""
        slope, relief, fall = tan(self.side.angle), tan(self.side.relief), tan(self.nose.rake)
        stretch = sqrt(1 + slope**2)
        least = inf
        end = self._edge_at(crest)
        for place in _ALONG:
            x = self.root + (end - self.root) * place
            across = self._edge(x, slope)
            down = (x - self.root) * fall
            for part in _DOWN:
                deep = part * self._way_out(x, across, down, crest)
                on_side = deep * relief * stretch / (1 + slope**2 + slope * fall * relief)

                def off(inwards: float, x: float = x, s: float = across) -> tuple[float, float]:
                    """Return the place so far in from the edge, square to it."""
                    return x + inwards * slope / stretch, s - self.sign * inwards / stretch

                def room(inwards: float, down: float = down + deep) -> float:
                    return self._room(*off(inwards), down)

                if self._polar(x, across, down + deep)[0] > crest * (1 + 1e-9):
                    continue
                on_wall = _zero(room, 0.0, on_side + deep / 100)
                least = min(least, atan(on_side / deep) - atan(on_wall / deep))
        return least

    def _edge(self, x: float, slope: float) -> float:
        return self.sign * (self.nose.tip_width / 2 + slope * (x - self.root))

    def _way_out(self, x: float, across: float, down: float, crest: float) -> float:
        """Return how far below an edge point the work ends; a mere trace at the crest itself."""
        sine, cosine = sin(self.nose.tilt), cos(self.nose.tilt)
        below_axis = down * cosine - across * sine
        out = sqrt(max(crest**2 - x**2, 0.0))
        return max((out - below_axis) / cosine, 1e-3 * crest)

    def _polar(self, x: float, across: float, down: float) -> tuple[float, float]:
        """Return radius and axial place, once turned back along the helix to the axial section."""
        return _unwound(x, across, down, self.nose.tilt, self.lead)

    def _room(self, x: float, across: float, down: float) -> float:
        """Return the axial room between a point and the wall; negative inside the work."""
        radius, z = self._polar(x, across, down)
        return -self.sign * (z - self._wall(radius))

    def _wall(self, radius: float) -> float:
        """Return the axial place of the wall that the edge leaves at a radius."""
        x = self._edge_at(radius)
        down = (x - self.root) * tan(self.nose.rake)
        return self._polar(x, self._edge(x, self._cutting_slope), down)[1]

    @property
    def _cutting_slope(self) -> float:
        # A blade that narrows behind its point cuts with the corner alone, all the way down.
        return max(tan(self.side.angle), 0.0)

    def _edge_at(self, radius: float) -> float:
        """Return where along the shank the cutting edge is at a distance from the axis."""
        slope, sine, cosine = self._cutting_slope, sin(self.nose.tilt), cos(self.nose.tilt)
        # On the edge y = a + b x, so that x^2 + y^2 = radius^2 is a quadratic.
        fall = tan(self.nose.rake) * cosine
        b = fall - self.sign * slope * sine
        a = -self.sign * (self.nose.tip_width / 2 - slope * self.root) * sine - fall * self.root
        return (sqrt(radius**2 * (1 + b * b) - a * a) - a * b) / (1 + b * b)


def _zero(function: Callable[[float], float], a: float, b: float) -> float:
    """Return the zero of a function that is all but linear, by the secant rule."""
    at_a, at_b = function(a), function(b)
    for _ in range(2):
        if at_a == at_b:
            break
        a, b = b, b - at_b * (b - a) / (at_b - at_a)
        at_a, at_b = at_b, function(b)
    return b


def _end(nose: Nose, root: float, crest: float, lead: float) -> float:
    """Return the least clearance of the end, in the plane square to the point's edge."""
    sine, cosine, p = sin(nose.tilt), cos(nose.tilt), lead / (2 * pi)
    turn = cosine + p * sine / root
    least = inf
    for part in _DOWN:
        deep = part * min(nose.height, sqrt(crest**2 - root**2))
        back = deep * tan(nose.end_relief)
        left = nose.tip_width / 2 + back * tan(nose.leading.angle) - deep * tan(nose.leading.relief)
        right = (
            nose.tip_width / 2 + back * tan(nose.trailing.angle) - deep * tan(nose.trailing.relief)
        )
        for across in (-left, 0.0, right):
            _, z = _unwound(root + back, across, deep, nose.tilt, lead)
            # The point of the tip that passed here: linear in z but for the arc tangent.
            tip = z / turn
            tip -= (tip * cosine + p * atan(tip * sine / root) - z) / turn
            cut = hypot(root, tip * sine)
            y = deep * cosine - across * sine
            if abs(y) >= cut:
                continue
            below = sqrt(cut * cut - y * y) - root
            least = min(least, atan(back / deep) - atan(below / deep))
    return least


def _unwound(x: float, across: float, down: float, tilt: float, lead: float) -> tuple[float, float]:
    """Return radius and axial place of a tool point carried along the helix to the axial plane."""
    y = down * cos(tilt) - across * sin(tilt)
    z = across * cos(tilt) + down * sin(tilt)
    return hypot(x, y), z - lead / (2 * pi) * atan2(y, x)
