"""How heat works its way into or out of a long round bar: the exact series for its temperature.

The bar begins at one temperature and is put into surroundings of another. Its temperature is
written as the share of the difference that is still left, 1 at the beginning, 0 in the end.
Times are Fourier numbers, time x diffusivity / radius^2; the surface is told by its Biot number,
film x radius / conductivity, ``inf`` for a surface that takes the surroundings' temperature at
once. Radii are shares of the bar's, 0 at the axis and 1 at the surface.

References
----------
H. S. Carslaw, J. C. Jaeger, Conduction of Heat in Solids, 2nd ed. (1959), section 7.7; tabulated
in the textbooks of heat transfer as the series of the infinite cylinder.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import lru_cache
from itertools import count
from math import ceil, cos, exp, fsum, isinf, pi, sin

_SMALL = 1e-12
"""A term of the series from which on it is left off."""
_MOST_TERMS = 400
_MOST_STEPS = 80
_CLOSE = 1e-13
"""Difference between two steps at which a root of the series counts as found."""


def bessel(order: int, x: float) -> float:
    """Return the Bessel function J of order 0 or 1, by its integral over half a turn.

    Examples
    --------
    >>> round(bessel(0, 1.0), 12), round(bessel(1, 1.0), 12)
    (0.765197686558, 0.440050585745)
    """
    return _bessels(x)[order]


def _bessels(x: float) -> tuple[float, float]:
    """Return J0 and J1 at once: they share their sines."""
    # The rule of the trapezium converges at once for a periodic function that is sampled finely
    # enough, here finer than its argument. The ends of J0 are 1 and 1, those of J1 cancel.
    steps = 12 + ceil(0.75 * abs(x))
    zeroth, first = 1.0, 0.0
    for k in range(1, steps):
        angle = pi * k / steps
        turned = x * sin(angle)
        zeroth += cos(turned)
        first += cos(angle - turned)
    return zeroth / steps, first / steps


def root(of: Callable[[float], float], low: float, high: float, share: float = 1e-11) -> float:
    """Return where a function changes its sign (Illinois' variant of the false position).

    Parameters
    ----------
    share
        Of the root itself, to which it is found.

    Raises
    ------
    ValueError
        If it has the same sign at both ends.
    """
    at_low, at_high = of(low), of(high)
    if at_low == 0:
        return low
    if at_high == 0:
        return high
    if (at_low > 0) == (at_high > 0):
        msg = f"no change of sign from {low:g} to {high:g}"
        raise ValueError(msg)
    middle = low
    for _ in range(200):
        before = middle
        middle = (low * at_high - high * at_low) / (at_high - at_low)
        value = of(middle)
        if value == 0 or abs(middle - before) <= share * max(abs(middle), 1e-3):
            break
        if (value > 0) == (at_high > 0):
            high, at_high, at_low = middle, value, at_low / 2
        else:
            low, at_low, at_high = middle, value, at_high / 2
    return middle


@lru_cache(maxsize=4096)
def _term(biot: float, number: int) -> tuple[float, float]:
    """Return the root and the amplitude of a term of the series, counted from 1."""
    # Each root lies between a zero of J1 and the next of J0; these bounds enclose no other.
    low, high = (number - 1) * pi, (number - 0.25) * pi + 0.06
    sign = -1.0 if number % 2 else 1.0
    at = (low + high) / 2
    for _ in range(_MOST_STEPS):
        zeroth, first = _bessels(at)
        if isinf(biot):
            off, slope = -zeroth, first
        else:
            off, slope = at * first - biot * zeroth, at * zeroth + biot * first
        # Newton's step, or a bisection where it would leave the bounds.
        if off * sign > 0:
            low = at
        else:
            high = at
        before, at = at, at - off / slope if slope else low
        if not low < at < high:
            at = (low + high) / 2
        if abs(at - before) <= _CLOSE:
            break
    zeroth, first = _bessels(at)
    return at, 2 * first / (at * (zeroth**2 + first**2))


def _terms(biot: float, fourier: float) -> Iterator[tuple[float, float]]:
    """Yield root and amplitude, decay included, until nothing more comes of it."""
    for number in count(1):
        at, amplitude = _term(biot, number)
        decay = exp(-(at**2) * fourier)
        yield at, amplitude * decay
        if decay < _SMALL:
            return
        if number == _MOST_TERMS:
            msg = f"the series needs too many terms for a Fourier number of {fourier:g}"
            raise ValueError(msg)


def bar_temperature(biot: float, fourier: float, radius: float = 0.0) -> float:
    """Return the share of the temperature difference that is left at a radius of a round bar.

    Parameters
    ----------
    biot
        Film x radius / conductivity; ``inf`` for an ideal quench.
    fourier
        Time x diffusivity / radius^2, above 0.
    radius
        0 at the axis, 1 at the surface.

    Examples
    --------
    One half is left at the axis of an ideally quenched bar at a Fourier number of 0.2:

    >>> round(bar_temperature(float("inf"), 0.2), 3)
    0.501
    """
    if fourier <= 0:
        return 1.0
    return fsum(share * bessel(0, at * radius) for at, share in _terms(biot, fourier))


def bar_time(biot: float, left: float, radius: float = 0.0) -> float:
    """Return the Fourier number at which a share of the difference is left at a radius.

    Raises
    ------
    ValueError
        If ``left`` is not between 0 and 1.
    """
    if not 0 < left < 1:
        msg = f"a share of {left:g} is not between 0 and 1"
        raise ValueError(msg)
    high = 1.0
    while bar_temperature(biot, high, radius) > left:
        high *= 2
    low = high / 2
    while bar_temperature(biot, low, radius) < left:
        low /= 2
    return root(lambda fourier: bar_temperature(biot, fourier, radius) - left, low, high)
