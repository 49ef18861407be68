"""The ground tool as a solid, and the groove that its edges leave behind as they run.

Below its face the tool is bounded by two sides and an end, each a plane, and where its corners
are rounded by a surface that keeps their radius down to the foot. A point is told by ``along``
(from the point towards the shank), ``across`` (towards the trailing side) and ``down`` (from the
blank's top). Axes, ``sign`` and units as in ``rules.helicoid``.

A sweep asks for ten thousands of places on one solid: what depends on the solid alone is worked
out once and kept with it, which halves the time of a sweep.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from math import asin, atan2, cos, hypot, inf, pi, sin, sqrt, tan

from cardgen.rules.helicoid import turned
from cardgen.rules.tool import Nose, Side

_NEWTON = 6
_HAIR = 1e-7


@dataclass(frozen=True, slots=True)
class _Flank:
    """A side's tangents, and what its corner takes off.

    Attributes
    ----------
    leans, relief
        Tangents of the side's angle and of its relief.
    slope
        How it widens along the shank in a section square to the blank's height.
    stretch
        Corner radius, measured along the end's own direction to the side [mm].
    """

    leans: float
    relief: float
    slope: float
    stretch: float


@dataclass(frozen=True)
class Solid:
    """A nose in its place before the work.

    Attributes
    ----------
    nose
        The ground end.
    root
        Radius to which the point reaches [mm].
    outwards
        1 for a screw's tool, whose shank lies away from the axis; -1 for a nut's.
    lead
        Of the helix along which it runs [mm].
    corner
        Radius of both corners, in a section square to the blank's height [mm].
    """

    nose: Nose
    root: float
    outwards: float
    lead: float
    corner: float = 0.0

    def side(self, sign: float) -> Side:
        """Return the side of a sign."""
        return self.nose.leading if sign < 0 else self.nose.trailing

    @cached_property
    def _turn(self) -> tuple[float, float, float]:
        """Sine and cosine of the tilt, and lead for each radian [mm]."""
        return sin(self.nose.tilt), cos(self.nose.tilt), self.lead / (2 * pi)

    @cached_property
    def _face(self) -> tuple[float, float]:
        """Tangents of rake and end relief."""
        return tan(self.nose.rake), tan(self.nose.end_relief)

    @cached_property
    def _flanks(self) -> dict[float, _Flank]:
        """What is asked of each side again and again, by its sign."""
        fall = tan(self.nose.rake)

        def flank(side: Side) -> _Flank:
            slope = tan(side.angle) + fall * tan(side.relief)
            stretch = self.corner * sqrt(1 + slope**2)
            return _Flank(tan(side.angle), tan(side.relief), slope, stretch)

        return {-1.0: flank(self.nose.leading), 1.0: flank(self.nose.trailing)}

    @cached_property
    def _arc_ends(self) -> dict[float, tuple[tuple[float, float], tuple[float, float]]]:
        """Radius and axial place of both ends of each corner's arc, by the side's sign."""
        return {
            sign: (
                self.place(*self.on_corner(sign, 0.0, 0.0)),
                self.place(*self.on_corner(sign, min(self.last(sign), pi / 2), 0.0)),
            )
            for sign in (-1.0, 1.0)
        }

    def slope(self, sign: float) -> float:
        """Return how a side widens along the shank in a section square to the blank's height."""
        return self._flanks[sign].slope

    def place(self, along: float, across: float, down: float) -> tuple[float, float]:
        """Return radius and axial place of a point carried along the helix to the axial plane."""
        return turned(self.root + self.outwards * along, across, down, *self._turn)

    def side_begins(self, sign: float, below: float) -> float:
        """Return how far from the point a side begins at a depth below its edge."""
        fall, back = self._face
        rounded = self.corner * (1 - cos(self.last(sign)))
        return (below * back + rounded) / (1 - fall * back)

    def last(self, sign: float) -> float:
        """Return the angle at which a corner's arc meets the side, from the end's direction."""
        return atan2(1.0, self.slope(sign))

    def on_edge(self, sign: float, along: float) -> tuple[float, float, float]:
        """Return a point of a side's straight edge."""
        across = sign * (self.nose.tip_width / 2 + along * self._flanks[sign].leans)
        return along, across, along * self._face[0]

    def on_corner(self, sign: float, turn: float, below: float) -> tuple[float, float, float]:
        """Return a point of a rounded corner, so far round its arc, so far below its edge."""
        fall, back = self._face
        flank = self._flanks[sign]
        inset = self.corner * (1 - cos(turn))
        down = below + fall * inset / (1 - fall * back)
        centre = down * back + self.corner
        beside = self.nose.tip_width / 2 - down * flank.relief + centre * flank.slope
        middle = beside - flank.stretch
        return (
            centre - self.corner * cos(turn),
            sign * (middle + self.corner * sin(turn)),
            down,
        )

    def corner_relief(self, sign: float, turn: float) -> float:
        """Return the relief of a corner as a tangent, in the upright plane square to its arc."""
        back, flank = self._face[1], self._flanks[sign]
        return cos(turn) * back + sin(turn) * (flank.relief - flank.slope * back)

    def along_at(
        self, sign: float, radius: float, below: float = 0.0, inwards: float = 0.0
    ) -> float:
        """Return where along the shank a line beside the edge is at a radius.

        The line lies so far below the edge, and so far in from it. Infinite where it is nowhere so
        near the axis.
        """
        sine, cosine, _ = self._turn
        # There y = a + b along, so that x^2 + y^2 = radius^2 is a quadratic.
        b = self._face[0] * cosine - sign * self._flanks[sign].leans * sine
        a = below * cosine - sign * (self.nose.tip_width / 2 - inwards) * sine
        half, rest = self.outwards * self.root + a * b, self.root**2 + a * a - radius**2
        under = half * half - (1 + b * b) * rest
        if under < 0:
            return -inf if self.outwards > 0 else inf
        return (self.outwards * sqrt(under) - half) / (1 + b * b)

    def wall(self, sign: float, radius: float) -> float:
        """Return the axial place of the wall that the edges leave at a radius.

        The corner has been at every radius on its way in, so that a blade that narrows behind it
        cuts with the corner alone.
        """
        if self.corner:
            near, corner = self._arc_ends[sign][1]
            if self.outwards * (radius - near) <= 0:
                return self._arc(sign, radius, 0)[1]
        else:
            corner = self.place(*self.on_edge(sign, 0.0))[1]
        edge = self.place(*self.on_edge(sign, self.along_at(sign, radius)))[1]
        return sign * max(sign * edge, sign * corner)

    def floor(self, z: float) -> float:
        """Return the radius that the point leaves at an axial place; beyond it, that of its end."""
        sign = 1.0 if z >= 0 else -1.0
        if self.corner:
            edge = self._arc_ends[sign][0][1]
            if sign * (z - edge) >= 0:
                return self._arc(sign, z, 1)[0]
        sine, cosine, p = self._turn
        steep = cosine + p * sine / self.root
        across = z / steep
        for _ in range(2):
            # All but linear: only the arc tangent is not.
            across -= (self.place(0.0, across, 0.0)[1] - z) / steep
        return hypot(self.root, across * sine)

    def _arc(self, sign: float, aim: float, which: int) -> tuple[float, float]:
        """Return the point of a corner's edge at a radius (0) or at an axial place (1)."""
        last = min(self.last(sign), pi / 2)
        ends = [end[which] for end in self._arc_ends[sign]]
        part = min(max((aim - ends[0]) / (ends[1] - ends[0]), 0.0), 1.0)
        # As on a circle: the radius grows with the versine, the axial place with the sine.
        turn = asin(part * sin(last)) if which else 2 * asin(sqrt(part) * sin(last / 2))
        for _ in range(_NEWTON):
            at = self.place(*self.on_corner(sign, turn, 0.0))[which]
            further = self.place(*self.on_corner(sign, turn + _HAIR, 0.0))[which]
            if further == at:
                break
            step = (aim - at) * _HAIR / (further - at)
            turn = min(max(turn + step, 0.0), last)
            if abs(step) < 1e-14:
                break
        return self.place(*self.on_corner(sign, turn, 0.0))
