"""The second sweep, made in another way: a dense cloud of points and rotation matrices.

It knows no wall, edge or arc formula of the rules. It turns points of the tool by a matrix, screws
every one back into the axial plane, makes the groove there from the points of the edges, and finds
by bisection the relief at which the first point of a side or of the end touches.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import pi, sqrt, tan
from typing import Any

import numpy as np
from numpy.typing import NDArray

from cardgen.rules.helicoid import Groove
from cardgen.rules.tool import Nose

Array = NDArray[np.float64]
_TOUCH = 1e-10


def unscrewed(tool: Array, groove: Groove, tilt: float) -> tuple[Array, Array]:
    """Return radius and axial place of tool points (along, across, down), screwed to y = 0."""
    along, across, down = tool
    turn = np.array([[1, 0, 0], [0, np.cos(tilt), np.sin(tilt)], [0, -np.sin(tilt), np.cos(tilt)]])
    x, z, y = turn @ np.array([groove.root + groove.outwards * along, across, down])
    angle = np.arctan2(y, x)
    back = np.cos(angle) * x + np.sin(angle) * y
    return back, z - groove.lead * angle / (2 * pi)


@dataclass(frozen=True)
class Cloud:
    """A nose, its groove, and the radius of its corners."""

    nose: Nose
    groove: Groove
    corner: float = 0.0

    def line(self, sign: float, down: Any, relief: float) -> tuple[Any, float]:
        """Return where a side crosses the point's line at a depth, and its slope there."""
        side = self.nose.leading if sign < 0 else self.nose.trailing
        # The face falls, and the edge with it: the plane through the edge, cut level.
        slope = tan(side.angle) + tan(self.nose.rake) * tan(relief)
        return self.nose.tip_width / 2 - down * tan(relief), slope

    def centre(self, sign: float, down: float, relief: float) -> Array:
        """Return the centre of a corner at a depth: as far from the end as from the side."""
        start, slope = self.line(sign, down, relief)
        back = down * tan(self.nose.end_relief)
        # along = back + r; across = start + slope along - r sqrt(1 + slope^2).
        lines = np.array([[1.0, 0.0], [-slope, 1.0]])
        return np.linalg.solve(
            lines, [back + self.corner, start - self.corner * sqrt(1 + slope**2)]
        )

    def edge(self, sign: float, relief: float) -> Array:
        """Return points of half the edge, from the middle of the point to beyond the crest."""
        nose, fall = self.nose, tan(self.nose.rake)
        side = nose.leading if sign < 0 else nose.trailing
        depth = abs(self.groove.crest - self.groove.root)
        straight = np.concatenate([[0.0], np.geomspace(1e-6, 1.3, 6001)]) * depth
        across = nose.tip_width / 2 + straight * tan(side.angle)
        tip = np.linspace(0, nose.tip_width / 2, 2001)
        if not self.corner:
            level = np.zeros_like(tip)
            return np.array(
                [
                    np.concatenate([level, straight]),
                    sign * np.concatenate([tip, across]),
                    np.concatenate([level, straight * fall]),
                ]
            )
        arc = self.arc(sign, relief, 0.0, 4001, on_face=True)
        straight = straight + arc[0][-1]
        across = nose.tip_width / 2 + straight * tan(side.angle)
        tip = tip * (abs(arc[1][0]) / tip[-1])
        return np.array(
            [
                np.concatenate([0 * tip, arc[0], straight]),
                np.concatenate([sign * tip, arc[1], sign * across]),
                np.concatenate([0 * tip, arc[2], straight * fall]),
            ]
        )

    def arc(
        self, sign: float, relief: float, below: float, count: int, *, on_face: bool = False
    ) -> Array:
        """Return points of a corner at a depth, or where its surface meets the face."""
        slope = self.line(sign, 0.0, relief)[1]
        turn = np.linspace(0, pi / 2 - np.arctan(slope), count)
        down = np.full(count, below)
        for _ in range(60 if on_face else 1):
            middle = np.array([self.centre(sign, deep, relief) for deep in (0.0, 1.0)])
            centres = middle[0] + np.outer(down, middle[1] - middle[0])
            along = centres[:, 0] - self.corner * np.cos(turn)
            across = centres[:, 1] + self.corner * np.sin(turn)
            if on_face:
                down = along * tan(self.nose.rake)
        return np.array([along, sign * across, down])

    def walls(self, sign: float, relief: float) -> tuple[Array, Array]:
        """Return radius and axial place of one wall, from the middle of the point outwards.

        The corner passes every radius on its way in: behind it the wall is nowhere nearer.
        """
        radius, place = unscrewed(self.edge(sign, relief), self.groove, self.nose.tilt)
        return radius, sign * np.maximum.accumulate(sign * place)

    def side(self, sign: float, relief: float) -> Array:
        """Return points of one relieved side below its edge, as far as the end relief leaves it."""
        nose, groove = self.nose, self.groove
        side = nose.leading if sign < 0 else nose.trailing
        fall, back = tan(nose.rake), tan(nose.end_relief)
        depth = abs(groove.crest - groove.root)
        part = np.concatenate(
            [np.linspace(0, 1, 61), 1 - np.geomspace(1e-6, 0.03, 30), np.geomspace(1e-6, 0.01, 8)]
        )
        below = np.concatenate([np.geomspace(1e-4, 0.02, 24), np.linspace(0.03, 1, 60)])
        below = below * nose.height
        slope = self.line(sign, 0.0, relief)[1]
        rounded = self.corner * (1 - slope / sqrt(1 + slope**2))
        start = (below * back + rounded) / (1 - fall * back)

        def at(along: Array) -> Array:
            across = nose.tip_width / 2 + along * tan(side.angle) - below * tan(relief)
            return np.array([along, sign * across, below + along * fall])

        # As far as the crest's cylinder, found on the side itself, along all rows at once.
        low, high = start.copy(), start + 1.6 * depth + below
        for _ in range(40):
            middle = (low + high) / 2
            radius, _ = unscrewed(at(middle), groove, nose.tilt)
            within = groove.outwards * (radius - groove.crest) <= 0
            low, high = np.where(within, middle, low), np.where(within, high, middle)
        return np.concatenate([at(start + (low - start) * each) for each in part], axis=1)

    def side_inside(self, sign: float, relief: float, walls: tuple[Array, Array]) -> float:
        """Return how far the worst point of a side is inside the work [mm]; negative if clear."""
        radius, place = unscrewed(self.side(sign, relief), self.groove, self.nose.tilt)
        wall_radius, wall = walls
        out = self.groove.outwards
        there = np.interp(out * radius, out * wall_radius, wall)
        in_work = (out * (radius - self.groove.crest) <= 1e-9) & (
            out * (radius - wall_radius[0]) >= 0
        )
        return float(np.max((sign * (place - there))[in_work], initial=-np.inf))

    def touching(self, sign: float) -> float:
        """Return the least relief at which the side does not enter the work [rad]."""
        low, high = -1.0, 1.0
        for k in range(28):
            middle = (low + high) / 2
            # The edge of a rounded corner on a raked face moves a little with the relief.
            if k == 0 or (k < 14 and self.corner and self.nose.rake):
                walls = self.walls(sign, middle)
            if self.side_inside(sign, middle, walls) > _TOUCH:
                low = middle
            else:
                high = middle
        return high

    def end_touching(self) -> float:
        """Return the end relief at which the end touches; in a bore, at the first touch."""
        nose, groove = self.nose, self.groove
        root = groove.root if groove.outwards > 0 else groove.crest
        here = Groove(groove.lead, root, groove.crest, 0.0, 0.0)
        if groove.outwards < 0:
            here = Groove(groove.lead, root, root * (1 - 1e-12), 0.0, 0.0)
        wide = np.linspace(-1, 1, 4001) * nose.tip_width / 2
        edge_radius, edge_place = unscrewed(np.array([0 * wide, wide, 0 * wide]), here, nose.tilt)
        deep = nose.height
        if groove.outwards > 0:
            deep = min(deep, 1.2 * sqrt(groove.crest**2 - groove.root**2))
        else:
            deep = min(deep, root)
        rows = np.concatenate([np.geomspace(1e-4, 0.02, 40), np.linspace(0.03, 1, 200)]) * deep
        # The first touch may lie where the track of the edge ends, between two of the points
        # across: with 61 of them the end was found to clear 0.02 degrees more than with 4001.
        along, across = np.meshgrid(rows, np.linspace(0, 1, 301))
        down = along.ravel()
        left, right = (
            sign * (each[0] + each[1] * down * tan(nose.end_relief))
            for sign, relief in ((-1.0, nose.leading.relief), (1.0, nose.trailing.relief))
            for each in [self.line(sign, down, relief)]
        )
        beside = left + (right - left) * across.ravel()
        low, high = -1.4, 1.4
        for _ in range(28):
            middle = (low + high) / 2
            radius, place = unscrewed(np.array([down * tan(middle), beside, down]), here, nose.tilt)
            floor = np.interp(place, edge_place, edge_radius)
            within = (place >= edge_place[0]) & (place <= edge_place[-1])
            if groove.outwards > 0:
                within &= radius <= groove.crest
            if np.max((groove.outwards * (floor - radius))[within], initial=-np.inf) > _TOUCH:
                low = middle
            else:
                high = middle
        return high

    def corner_clearance(self, sign: float) -> float:
        """Return the least clearance round a corner: how far each of its points could move out."""
        side = self.nose.leading if sign < 0 else self.nose.trailing
        radius, place = self.walls(sign, side.relief)
        order = np.argsort(sign * place, kind="stable")
        places, depths = sign * place[order], self.groove.outwards * radius[order]
        edge = self.arc(sign, side.relief, 0.0, 41, on_face=True)
        slope = self.line(sign, 0.0, side.relief)[1]
        turn = np.linspace(0, pi / 2 - np.arctan(slope), 41)
        normal = np.array([-np.cos(turn), sign * np.sin(turn), 0 * turn])
        least = np.inf
        for part in [1e-3, 0.02, *np.linspace(0.1, 1, 8)]:
            below = part * self.deepest()
            points = np.array(
                [self.arc(sign, side.relief, edge[2][k] + below, 41)[:, k] for k in range(41)]
            ).T
            here, _ = unscrewed(points, self.groove, self.nose.tilt)
            real = (points[2] <= self.nose.height) & (
                self.groove.outwards * (here - self.groove.crest) <= 0
            )
            low, high = np.full(41, -0.2 * below), np.full(41, 1.5 * below)
            for _ in range(40):
                out = (low + high) / 2
                r, z = unscrewed(points + out * normal, self.groove, self.nose.tilt)
                clear = self.groove.outwards * r > np.interp(sign * z, places, depths)
                low, high = np.where(clear, out, low), np.where(clear, high, out)
            # Measured square to the arc from upright below its edge.
            ground = -np.sum(normal * (points - edge), axis=0) / below
            clearances = np.arctan(ground) - np.arctan(ground - low / below)
            least = min(least, np.min(clearances[1:][real[1:]], initial=np.inf))
        return float(least)

    def deepest(self) -> float:
        """Return a depth below which nothing of a screw's tool is in the work."""
        if self.groove.outwards < 0:
            return self.nose.height
        return min(self.nose.height, sqrt(self.groove.crest**2 - self.groove.root**2))
