"""How much a rounded inner corner raises the stress where a flat bar steps to a narrower one.

Lengths in mm.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import fsum, sqrt

Row = tuple[float, float, float]
"""One coefficient of the fit: ``c = a + b sqrt(t / r) + d t / r``."""

LEAST, MIDDLE, MOST = 0.1, 2.0, 20.0
"""Depth of the step over the radius: where the fit begins, where its rows change, where it ends."""


@dataclass(frozen=True, slots=True)
class Fit:
    """Peterson's fit for one kind of load, four coefficients on either side of ``MIDDLE``.

    Attributes
    ----------
    shallow, deep
        For steps up to twice the radius, and for deeper ones.
    """

    shallow: tuple[Row, ...]
    deep: tuple[Row, ...]

    def factor(self, wide: float, narrow: float, radius: float) -> float:
        """Return the greatest stress over that of the narrow bar without a step.

        Parameters
        ----------
        wide, narrow
            Widths of the bar on either side of a step that is alike on both edges [mm].
        radius
            In the inner corners [mm].

        Raises
        ------
        ValueError
            If the step is deeper than 20 radii: nobody has measured there.

        Notes
        -----
        For steps shallower than a tenth of the radius the factor at a tenth is returned: it falls
        from there to 1, so that this is the safe side.

        References
        ----------
        W. D. Pilkey, Peterson's Stress Concentration Factors, shoulder fillets in flat bars.
        """
        step = (wide - narrow) / 2
        if step <= 0:
            return 1.0
        ratio = step / radius
        if ratio > MOST:
            msg = f"a step of {step:g} mm is over {MOST:g} times its radius of {radius:g} mm"
            raise ValueError(msg)
        ratio = max(ratio, LEAST)
        rows = self.shallow if ratio <= MIDDLE else self.deep
        c = [a + b * sqrt(ratio) + d * ratio for a, b, d in rows]
        part = 2 * step / wide
        return max(fsum(each * part**power for power, each in enumerate(c)), 1.0)


@dataclass(frozen=True, slots=True)
class Fillet:
    """The inner corners where a blade joins its shank.

    Attributes
    ----------
    least
        Radius that is left at least [mm].
    pulled, bent
        Fits for a bar pulled along, as the top of a blade is that is bent down, and for a bar bent
        in its own plane, as the blade is by a force from the side.
    part
        Radius as a part of the step from shank to blade, where the step is so deep that this is
        more.
    """

    least: float
    pulled: Fit
    bent: Fit
    part: float = 0.0

    def radius(self, wide: float, narrow: float) -> float:
        """Return the radius in the corners between a shank and a blade of given widths [mm].

        Examples
        --------
        >>> flat = Fit(((1.0, 0.0, 0.0),), ((1.0, 0.0, 0.0),))
        >>> Fillet(0.5, flat, flat, 0.055).radius(26.0, 2.0)
        0.66
        """
        return max(self.least, self.part * (wide - narrow) / 2)
