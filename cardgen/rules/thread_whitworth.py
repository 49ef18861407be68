"""Tolerances of Whitworth threads by the formulae of BS 84. All lengths in inches."""

from __future__ import annotations

from math import cbrt, sqrt


def whitworth_tolerance(
    diameter: float, engagement: float, pitch: float, factors: tuple[float, float, float]
) -> float:
    """Return the effective-diameter tolerance of the medium class [in].

    ``T = a D^(1/3) + b L^(1/2) + c p^(1/2)``.

    Parameters
    ----------
    diameter, engagement, pitch
        D, L and p [in].
    factors
        a, b and c.

    Examples
    --------
    1/4-20 BSW, engaged over its diameter:

    >>> round(whitworth_tolerance(0.25, 0.25, 0.05, (0.002, 0.003, 0.005)), 4)
    0.0039
    """
    a, b, c = factors
    return a * cbrt(diameter) + b * sqrt(engagement) + c * sqrt(pitch)
