"""Screw and nut in one axial section at any sizes within their limits, play and all.

x runs along the axis, y is the radius. Widths of both grooves are taken at the same radius, the
screw's basic pitch line. Lengths in mm, angles in rad.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, tan

from cardgen.rules.profile import XY, clipped


@dataclass(frozen=True, slots=True)
class Pair:
    """A screw in its nut.

    Attributes
    ----------
    pitch
        [mm].
    near, far
        Flank angles of the screw's groove at smaller and at larger x [rad].
    line
        Radius at which the grooves' widths are taken [mm].
    screw_groove, nut_groove
        Axial widths of the grooves there [mm].
    crest, root
        Radii of the screw [mm].
    bore, bottom
        Radii of the nut [mm].
    """

    pitch: float
    near: float
    far: float
    line: float
    screw_groove: float
    nut_groove: float
    crest: float
    root: float
    bore: float
    bottom: float

    @property
    def play(self) -> float:
        """How far the nut can move along the screw [mm].

        Examples
        --------
        >>> pair = Pair(5, 0.26, 0.26, 12.75, 2.6, 2.5, 14, 11.2, 11.5, 14.3)
        >>> round(pair.play, 6)
        0.1
        """
        return self.screw_groove + self.nut_groove - self.pitch

    def screw(self, length: float) -> tuple[XY, ...]:
        """Return the screw's section from the middle of a ridge on."""
        return self._line(length, self.screw_groove, 0.0, self.crest, self.root)

    def nut(self, length: float) -> tuple[XY, ...]:
        """Return the nut's section, its ridges against the near walls of the screw's grooves."""
        return self._line(
            length, self.pitch - self.nut_groove, -self.play / 2, self.bottom, self.bore
        )

    def gap(self) -> tuple[XY, XY]:
        """Return the ends of the play at the pitch line, in the first groove."""
        middle = self.pitch / 2
        wall = middle + self.screw_groove / 2
        return (wall - self.play, self.line), (wall, self.line)

    def _line(
        self, length: float, width: float, shift: float, top: float, bottom: float
    ) -> tuple[XY, ...]:
        points: list[XY] = []
        for number in range(-1, ceil(length / self.pitch) + 1):
            middle = (number + 0.5) * self.pitch + shift

            def near(radius: float, middle: float = middle) -> XY:
                return middle - width / 2 - (radius - self.line) * tan(self.near), radius

            def far(radius: float, middle: float = middle) -> XY:
                return middle + width / 2 + (radius - self.line) * tan(self.far), radius

            points += [near(top), near(bottom), far(bottom), far(top)]
        return clipped(points, length)
