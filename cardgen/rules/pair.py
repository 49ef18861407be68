"""Screw and nut in one axial section at any sizes within their limits, play and all.

x runs along the axis from the middle of a screw's crest, y is the radius. Widths of both grooves
are taken at the same radius, the screw's basic pitch line. Lengths in mm, angles in rad.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, tan

from cardgen.rules.profile import XY, clipped, one_arc, rounded


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
    arcs
        Rounding of the screw's crest and root, and of the nut's bottom and bore, each as far as
        the flat has room for it [mm].
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
    arcs: tuple[float, float, float, float] = (0.0, 0.0, 0.0, 0.0)

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

    @property
    def stands(self) -> bool:
        """Whether the nut goes on, and all ridges and grooves have a flat."""
        return self.play >= 0 and all(
            flat > 0
            for width, top, bottom in (self._screw, self._nut)
            for flat in self._flats(width, top, bottom)
        )

    def screw(self, length: float) -> tuple[XY, ...]:
        """Return the screw's section from the middle of a crest on."""
        return self._line(length, *self._screw, 0.0, self.arcs[:2])

    def nut(self, length: float) -> tuple[XY, ...]:
        """Return the nut's section, its ridges against the far walls of the screw's grooves."""
        return self._line(length, *self._nut, self.play / 2, self.arcs[2:])

    def gap(self) -> tuple[XY, XY]:
        """Return the ends of the play at the pitch line, in the first groove."""
        wall = self.pitch / 2 - self.screw_groove / 2 - self._start
        return (wall, self.line), (wall + self.play, self.line)

    def over_crest(self) -> tuple[XY, XY]:
        """Return the ends of what is clear over the screw's first crest."""
        return (0.0, self.crest), (0.0, self.bottom)

    def under_bore(self) -> tuple[XY, XY]:
        """Return the ends of what is clear under the nut's ridge in the first groove."""
        middle = self.pitch / 2 + self._aside(self.root) - self._start
        return (middle, self.root), (middle, self.bore)

    @property
    def _screw(self) -> tuple[float, float, float]:
        """Width at the line, top and bottom of the screw's groove."""
        return self.screw_groove, self.crest, self.root

    @property
    def _nut(self) -> tuple[float, float, float]:
        """The same of the groove that the nut's ridge would fill."""
        return self.pitch - self.nut_groove, self.bottom, self.bore

    def _flats(self, width: float, top: float, bottom: float) -> tuple[float, float]:
        spread = tan(self.near) + tan(self.far)
        return (
            self.pitch - width - (top - self.line) * spread,
            width + (bottom - self.line) * spread,
        )

    @property
    def _start(self) -> float:
        return self._aside(self.crest)

    def _aside(self, radius: float) -> float:
        """Return how far unlike flanks carry the middle of a flat aside at a radius."""
        return (radius - self.line) * (tan(self.far) - tan(self.near)) / 2

    def _line(
        self,
        length: float,
        width: float,
        top: float,
        bottom: float,
        shift: float,
        arcs: tuple[float, ...],
    ) -> tuple[XY, ...]:
        over, under = (
            min(arc, one_arc(flat, self.near, self.far))
            for arc, flat in zip(arcs, self._flats(width, top, bottom), strict=True)
        )
        corners: list[tuple[XY, float]] = []
        for number in range(-2, ceil(length / self.pitch) + 2):
            middle = (number + 0.5) * self.pitch + shift - self._start

            def near(radius: float, middle: float = middle) -> XY:
                return middle - width / 2 - (radius - self.line) * tan(self.near), radius

            def far(radius: float, middle: float = middle) -> XY:
                return middle + width / 2 + (radius - self.line) * tan(self.far), radius

            corners += [(near(top), over), (near(bottom), under)]
            corners += [(far(bottom), under), (far(top), over)]
        return clipped(rounded(corners), length)
