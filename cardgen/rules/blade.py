"""Will the tool snap? The blade as a cantilever that tapers between the point and the shank.

Lengths in mm, forces in N, stresses in MPa, angles in rad.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import tan

_SECTIONS = 12
"""Cross-sections that are looked at between the edge in the metal and the root, root included."""


@dataclass(frozen=True, slots=True)
class Load:
    """What presses on the edge in a pass.

    Attributes
    ----------
    point
        Downwards on the flat point [N].
    flanks
        Downwards on both flanks together, spread evenly along them [N].
    reach
        How far up from the point the flanks are in the metal [mm].
    side
        Sideways on the flanks, spread likewise [N].
    """

    point: float
    flanks: float = 0.0
    reach: float = 0.0
    side: float = 0.0

    def moment(self, x: float) -> float:
        """Return the downward moment in a section x behind the point, x >= reach [N mm]."""
        return self.point * x + self.flanks * (x - self.reach / 2)

    def side_moment(self, x: float) -> float:
        """Return the sideways moment in a section x behind the point, x >= reach [N mm]."""
        return self.side * (x - self.reach / 2)


@dataclass(frozen=True, slots=True)
class Blade:
    """The ground part of the tool and the shank behind it.

    Attributes
    ----------
    tip
        Width of the point [mm].
    shank
        Width of the blade where it joins the shank, along the top [mm].
    length
        Of the blade, point to shank [mm].
    height
        Of the blade [mm].
    reliefs
        Side reliefs, leading and trailing, from square to the face [rad]: they narrow the blade
        below the edge. A negative one leans outwards.
    overhang
        Point to holder [mm].
    blank
        Side of the square shank [mm].
    """

    tip: float
    shank: float
    length: float
    height: float
    reliefs: tuple[float, float]
    overhang: float
    blank: float

    def section(self, x: float) -> tuple[float, float, float]:
        """Return top width, bottom width and height of the blade x behind the point [mm].

        Where the reliefs would meet above the bottom, the section ends there in an edge.
        """
        top = self.tip + (self.shank - self.tip) * x / self.length
        narrowing = tan(self.reliefs[0]) + tan(self.reliefs[1])
        bottom = top - self.height * narrowing
        return (top, bottom, self.height) if bottom >= 0 else (top, 0.0, top / narrowing)

    def stress(self, load: Load) -> float:
        """Return the worst bending stress in blade and shank [MPa].

        Downward bending and side bending are added in the corner of the section where both pull.
        The blade is looked at behind the edge that is in the metal: within it there is no beam,
        and the edge itself is spared by the limit of the chip's thickness. The shank is looked at
        where it leaves the holder.
        """
        worst = flat_stress(load.moment(self.overhang), self.blank, self.blank)
        start = min(load.reach, self.length)
        for k in range(_SECTIONS + 1):
            x = start + (self.length - start) * k / _SECTIONS
            top, bottom, height = self.section(x)
            down = section_stress(load.moment(x), top, bottom, height)
            aside = flat_stress(load.side_moment(x), height, (top + bottom) / 2)
            worst = max(worst, down + aside)
        return worst


def flat_stress(moment: float, width: float, height: float) -> float:
    """Return the bending stress of a rectangle, 6 M / (b h^2) [MPa].

    Examples
    --------
    A 10 mm square bit 20 mm out of its holder under 1000 N:

    >>> flat_stress(1000.0 * 20.0, 10.0, 10.0)
    120.0
    """
    return 6 * moment / (width * height**2)


def section_stress(moment: float, top: float, bottom: float, height: float) -> float:
    """Return the bending stress of an upright trapezium, at its narrower edge [MPa].

    ``12 M (2 a + c) / (h^2 (a^2 + 4 a c + c^2))`` with the wider edge a and the narrower c.

    Examples
    --------
    With a = c it is a rectangle:

    >>> round(section_stress(380.0 * 8.0, 3.0, 3.0, 8.0), 6)
    95.0
    """
    wide, narrow = max(top, bottom), min(top, bottom)
    shape = wide**2 + 4 * wide * narrow + narrow**2
    return 12 * moment * (2 * wide + narrow) / (height**2 * shape)
