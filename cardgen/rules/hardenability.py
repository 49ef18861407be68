"""How deep a quench hardens: the ideal diameter from the composition, the real one by the bath.

The ideal diameter is that of the bar which an infinitely quick quench turns into half martensite
at its axis. A real bath does so to a thinner bar: to the one that takes as long to cool half way
at its axis (Grossmann, Asimow and Urban). Diameters in mm; a bath's severity in 1/in, as it is
always published: heat transfer over twice the conductivity.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import fsum, inf

from cardgen.rules.conduction import bar_temperature, bar_time, root

INCH = 25.4
"""[mm]"""
_CLOSE = 1e-8
"""Share of a diameter to which it is found: far finer than it is known."""
_HALF = 0.5
"""Share of the temperature difference at which cooling times are compared."""


class OutsideMethodError(ValueError):
    """A composition for which the method does not hold.

    Attributes
    ----------
    element, share
        What there is too much or too little of [mass %].
    ends
        Between which the method holds [mass %]; ``None`` where it does not know the element.
    """

    def __init__(self, element: str, share: float, ends: tuple[float, float] | None) -> None:
        takes = f"takes {ends[0]:g} to {ends[1]:g} %" if ends else "does not take it"
        super().__init__(f"{share:g} % {element}: the method {takes}")
        self.element, self.share, self.ends = element, share, ends


@dataclass(frozen=True, slots=True)
class Factor:
    """The multiplying factor of an element over a range of its mass per cent: a polynomial.

    Attributes
    ----------
    low, high
        Range [mass %], the low end excluded where another range ends there.
    coefficients
        From the constant upwards.
    """

    element: str
    low: float
    high: float
    coefficients: tuple[float, ...]

    def at(self, share: float) -> float:
        """Return the factor at a mass per cent."""
        return fsum(c * share**power for power, c in enumerate(self.coefficients))


def multiplying_factor(factors: Sequence[Factor], element: str, share: float) -> float:
    """Return the multiplying factor of an element; 1 where there is none of it but carbon.

    Raises
    ------
    OutsideMethodError
        If the element is not in the table, or not in this amount.
    """
    own = [factor for factor in factors if factor.element == element]
    if share == 0 and element != "C":
        return 1.0
    for factor in own:
        if factor.low <= share <= factor.high:
            return factor.at(share)
    raise OutsideMethodError(element, share, (own[0].low, own[-1].high) if own else None)


def ideal_diameter(factors: Sequence[Factor], composition: Mapping[str, float]) -> float:
    """Return the ideal critical diameter of a fine-grained steel without boron [mm].

    Parameters
    ----------
    factors
        Of ASTM A255; the first ranges of an element that hold are taken.
    composition
        Element to mass per cent.

    Raises
    ------
    OutsideMethodError
        If an element is outside the method.

    References
    ----------
    ASTM A255-10, calculation of hardenability, after M. A. Grossmann, Trans. AIME 150 (1942).
    """
    product = INCH
    for element in {"C": 0.0, **composition}:
        product *= multiplying_factor(factors, element, composition.get(element, 0.0))
    return product


def critical_diameter(ideal: float, severity: float) -> float:
    """Return the diameter that a bath turns into half martensite at the axis [mm].

    Parameters
    ----------
    ideal
        Ideal diameter [mm].
    severity
        Of the bath [1/in].

    References
    ----------
    M. A. Grossmann, M. Asimow, S. F. Urban, in Hardenability of Alloy Steels, ASM (1939).

    Examples
    --------
    An ideal diameter of 4 in is one of 1.8 in in still oil:

    >>> round(critical_diameter(101.6, 0.25) / 25.4, 1)
    1.8
    """
    until = bar_time(inf, _HALF)

    def left(diameter: float) -> float:
        """Return what is left over a half when an ideally quenched ideal bar is half cold."""
        return bar_temperature(severity * diameter / INCH, until * (ideal / diameter) ** 2) - _HALF

    thick = ideal
    while left(thick / 2) > 0:
        thick /= 2
    return root(left, thick / 2, thick, _CLOSE)


def martensite_hardness(coefficients: Sequence[float], carbon: float) -> float:
    """Return the hardness of fresh martensite by its carbon [HRC].

    Parameters
    ----------
    coefficients
        Of ASTM A255, from the constant upwards.
    carbon
        [mass %]

    Examples
    --------
    >>> round(martensite_hardness([33.087, 50.723, 33.662, -2.7048, -107.02, 43.523], 0.45), 1)
    58.9
    """
    return fsum(c * carbon**power for power, c in enumerate(coefficients))
