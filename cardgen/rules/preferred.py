"""Preferred numbers: the series on which thread tolerances are rounded.

A series is given as the numbers of one decade, from 1 up to but not including 10, rising.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from math import floor, log10


def nearest_preferred(value: float, decade: Sequence[float]) -> float:
    """Return the preferred number nearest to a value; of two equally near, the smaller.

    Parameters
    ----------
    value
        Positive, in any unit.
    decade
        The series from 1 up to but not including 10.

    Examples
    --------
    >>> nearest_preferred(242.1, (1, 2.36, 2.5, 5))
    236.0
    """
    scale, index = _place(value, decade)
    below, above = _member(scale, index - 1, decade), _member(scale, index, decade)
    return above if above - value < value - below else below


def stepped_preferred(value: float, steps: int, decade: Sequence[float]) -> float:
    """Return the preferred number so many steps up (or down) the series from another one.

    Parameters
    ----------
    value
        A number of the series.
    steps
        Signed count of steps.
    decade
        The series from 1 up to but not including 10.

    Examples
    --------
    >>> stepped_preferred(236.0, -1, (1, 2.36, 2.5, 5))
    100.0
    """
    scale, index = _place(value * (1 - 1e-9), decade)
    return _member(scale, index + steps, decade)


def _place(value: float, decade: Sequence[float]) -> tuple[int, int]:
    """Return the decade of a value, and the place of the first member not below it."""
    scale = floor(log10(value))
    return scale, bisect_left(decade, value / 10.0**scale)


def _member(scale: int, index: int, decade: Sequence[float]) -> float:
    carry, place = divmod(index, len(decade))
    # Two decimals in the decade: round away what the power of ten leaves in the last bit.
    return round(decade[place] * 10.0 ** (scale + carry), 9)
