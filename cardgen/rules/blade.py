"""Will the tool snap? The blade as a cantilever that tapers between the point and the shank.

Lengths in mm, forces in N, stresses in MPa, angles in rad.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from math import fsum, inf, tan
from typing import NamedTuple

from cardgen.rules.fillet import Fillet

_SECTIONS = 12
"""Cross-sections that are looked at between the edge in the metal and the root, root included."""


class Load(NamedTuple):
    """What presses on the edge in a pass; a tuple, because a search makes thousands.

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
    fillet
        The inner corners where blade and shank meet; ``None`` to leave them out.
    side_least
        Force from the side that is always reckoned with, as a share of the force downwards: no
        blade is ground and set quite square.
    """

    tip: float
    shank: float
    length: float
    height: float
    reliefs: tuple[float, float]
    overhang: float
    blank: float
    fillet: Fillet | None = None
    side_least: float = 0.0

    def section(self, x: float) -> tuple[float, float, float]:
        """Return top width, bottom width and height of the blade x behind the point [mm].

        Where the reliefs would meet above the bottom, the section ends there in an edge.
        """
        top = self.tip + (self.shank - self.tip) * x / self.length
        narrowing = tan(self.reliefs[0]) + tan(self.reliefs[1])
        bottom = top - self.height * narrowing
        return (top, bottom, self.height) if bottom >= 0 else (top, 0.0, top / narrowing)

    def notch(self) -> tuple[float, float]:
        """Return how much the inner corners raise the stress of bending down and of bending aside.

        Bent down, the top of the blade is pulled along like a flat bar that narrows from shank to
        blade; bent aside, it is such a bar bent in its own plane.
        """
        return _notch(self.fillet, self.blank, self.shank)

    def stress(self, load: Load, enough: float = inf) -> float:
        """Return the worst bending stress in blade and shank [MPa].

        Sections are looked at from the root to the edge, and no more of them once one is strained
        by more than ``enough``: a search that asks whether a limit is broken saves a third.

        Downward bending and side bending are added in the corner of the section where both pull.
        The blade is looked at behind the edge that is in the metal: within it there is no beam,
        and the edge itself is spared by the limit of the chip's thickness. At its root the inner
        corners raise both. The shank is looked at where it leaves the holder.
        """
        aside = max(load.side, self.side_least * (load.point + load.flanks))
        out, middle = self.overhang, load.reach / 2
        worst = flat_stress(load.moment(out) + aside * (out - middle), self.blank, self.blank)
        start = min(load.reach, self.length)
        notches = self.notch()
        # A search asks hundreds of times, so that the loop holds :meth:`section` and the moments
        # written out: measured, half the time of calling them in each section.
        point, flanks = load.point, load.flanks
        tip, wider, length, tall = self.tip, self.shank - self.tip, self.length, self.height
        narrowing = tan(self.reliefs[0]) + tan(self.reliefs[1])
        for k in range(_SECTIONS, -1, -1):
            if worst > enough:
                break
            x = start + (length - start) * k / _SECTIONS
            top = tip + wider * x / length
            bottom, height = top - tall * narrowing, tall
            if bottom < 0:
                bottom, height = 0.0, top / narrowing
            down = section_stress(point * x + flanks * (x - middle), top, bottom, height)
            across = flat_stress(aside * (x - middle), height, (top + bottom) / 2)
            if k == _SECTIONS:
                down, across = down * notches[0], across * notches[1]
            if down + across > worst:
                worst = down + across
        return worst

    def dip(self, force: float, modulus: float) -> float:
        """Return how far a force on the point bends the tool down, blade and shank [mm].

        ``F x^2 / E I`` summed from the point to the holder: over the blade's sections by Simpson's
        rule, over the square shank exactly.

        Parameters
        ----------
        force
            Downwards on the point [N].
        modulus
            Young's modulus of the tool [MPa].

        Examples
        --------
        A bit of 10 mm as a plain cantilever of 20 mm, 1000 N: ``F L^3 / (3 E I)``.

        >>> plain = Blade(10.0, 10.0, 5.0, 10.0, (0.0, 0.0), overhang=20.0, blank=10.0)
        >>> round(plain.dip(1000.0, 210_000.0), 5)
        0.01524
        """

        def bent(x: float) -> float:
            return x**2 / trapezium_moment(*self.section(x))

        end = min(self.length, self.overhang)
        blade = _simpson(bent, 0.0, end)
        shank = 4 * (self.overhang**3 - end**3) / self.blank**4
        return force / modulus * (blade + shank)


@lru_cache(maxsize=64)
def _notch(fillet: Fillet | None, blank: float, shank: float) -> tuple[float, float]:
    if fillet is None:
        return 1.0, 1.0
    radius = fillet.radius(blank, shank)
    return (
        fillet.pulled.factor(blank, shank, radius),
        fillet.bent.factor(blank, shank, radius),
    )


def _simpson(value: Callable[[float], float], start: float, end: float) -> float:
    """Return the integral of a smooth function by Simpson's rule."""
    step = (end - start) / (2 * _SECTIONS)
    inner = fsum((4 if k % 2 else 2) * value(start + k * step) for k in range(1, 2 * _SECTIONS))
    return step / 3 * (value(start) + inner + value(end))


def trapezium_moment(top: float, bottom: float, height: float) -> float:
    """Return the second moment of area of an upright trapezium about its middle [mm^4].

    ``h^3 (a^2 + 4 a b + b^2) / (36 (a + b))``.

    Examples
    --------
    >>> trapezium_moment(3.0, 3.0, 2.0)
    2.0
    """
    wide, narrow = top, bottom
    return height**3 * (wide**2 + 4 * wide * narrow + narrow**2) / (36 * (wide + narrow))


def flat_stress(moment: float, width: float, height: float) -> float:
    """Return the bending stress of a rectangle, 6 M / (b h^2) [MPa].

    Examples
    --------
    A 10 mm square bit 20 mm out of its holder under 1000 N:

    >>> flat_stress(1000.0 * 20.0, 10.0, 10.0)
    120.0
    """
    return 6 * moment / (width * (height * height))


def section_stress(moment: float, top: float, bottom: float, height: float) -> float:
    """Return the bending stress of an upright trapezium, at its narrower edge [MPa].

    ``12 M (2 a + c) / (h^2 (a^2 + 4 a c + c^2))`` with the wider edge a and the narrower c.

    Examples
    --------
    With a = c it is a rectangle:

    >>> round(section_stress(380.0 * 8.0, 3.0, 3.0, 8.0), 6)
    95.0
    """
    wide, narrow = (top, bottom) if top > bottom else (bottom, top)
    shape = wide * wide + 4 * wide * narrow + narrow * narrow
    return 12 * moment * (2 * wide + narrow) / (height * height * shape)
