"""Tolerances and allowances of Unified threads (ASME B1.1), rounded as the standard rounds them.

All lengths in inches. The standard works with a pitch of eight places and intermediate values of
six, and its tables are built from tolerances and pitch diameters of four.
"""

from __future__ import annotations

from decimal import ROUND_HALF_EVEN, ROUND_HALF_UP, Decimal
from math import fsum, sqrt

_GUARD = 10
"""Places at which what floating point leaves of a half is cut off before it is rounded."""


def half_up(value: float, places: int) -> float:
    """Return a value rounded to so many places, a half upwards.

    Examples
    --------
    >>> half_up(0.23305, 4)
    0.2331
    """
    return _rounded(value, places, ROUND_HALF_UP)


def half_even(value: float, places: int) -> float:
    """Return a value rounded to so many places, a half to the even digit.

    Examples
    --------
    >>> half_even(0.00165, 4)
    0.0016
    """
    return _rounded(value, places, ROUND_HALF_EVEN)


def _rounded(value: float, places: int, mode: str) -> float:
    exact = Decimal(repr(round(value, _GUARD)))
    return float(exact.quantize(Decimal(1).scaleb(-places), rounding=mode))


def two_thirds_power(pitch: float) -> float:
    """Return the cube root of the pitch squared, both steps to six places [in].

    Examples
    --------
    >>> two_thirds_power(0.03571429)
    0.108463
    """
    return half_up(half_up(pitch * pitch, 6) ** (1 / 3), 6)


def pitch_tolerance(
    diameter: float,
    engagement: float,
    pitch: float,
    *,
    by_diameter: float,
    by_engagement: float,
    by_pitch: float,
) -> float:
    """Return the pitch-diameter tolerance of class 2A [in], to six places.

    ``a cbrt(D) + b sqrt(LE) + c cbrt(P^2)``

    Parameters
    ----------
    diameter, engagement, pitch
        Nominal diameter, length of engagement and pitch [in].
    by_diameter, by_engagement, by_pitch
        a, b and c of the standard.

    Examples
    --------
    Machinery's Handbook 31st ed. (2020), worked example of 1/2-28 UNEF-2A:

    >>> round(
    ...     pitch_tolerance(0.5, 9 / 28, 0.03571429,
    ...                     by_diameter=0.0015, by_engagement=0.0015, by_pitch=0.015), 6)
    0.003668
    """
    parts = (
        by_diameter * half_up(diameter ** (1 / 3), 6),
        by_engagement * half_up(sqrt(engagement), 6),
        by_pitch * two_thirds_power(pitch),
    )
    return fsum(half_up(part, 6) for part in parts)


def nut_minor_tolerance_by_pitch(pitch: float, linear: float, square: float) -> float:
    """Return the bore's tolerance ``linear P - square P^2`` [in].

    Examples
    --------
    >>> round(nut_minor_tolerance_by_pitch(1 / 36, 0.25, 0.40), 6)
    0.006636
    """
    return linear * pitch - square * pitch * pitch


def nut_minor_tolerance_by_size(
    diameter: float, pitch: float, *, by_power: float, by_ratio: float, less: float
) -> float:
    """Return the bore's tolerance ``a cbrt(P^2) + b P / D - c`` [in]."""
    return by_power * two_thirds_power(pitch) + by_ratio * pitch / diameter - less
