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
from math import ceil, cos, exp, isinf, pi, sin

_SMALL = 1e-12
"""A term of the series from which on it is left off."""
_MOST_TERMS = 400


def bessel(order: int, x: float) -> float:
    """Return the Bessel function J of order 0 or 1, by its integral over half a turn.

    Examples
    --------
    >>> round(bessel(0, 1.0), 12), round(bessel(1, 1.0), 12)
    (0.765197686558, 0.440050585745)
    """
    # The rule of the trapezium converges at once for a periodic function that is sampled finely
    # enough, here a little finer than its argument.
    steps = 24 + ceil(0.55 * abs(x))
    angles = [pi * k / steps for k in range(steps + 1)]
    values = [cos(order * angle - x * sin(angle)) for angle in angles]
    return (sum(values) - (values[0] + values[-1]) / 2) / steps


def root(of: Callable[[float], float], low: float, high: float) -> float:
    """Return where a function changes its sign, to the last digits (Illinois' false position).

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
        if value == 0 or abs(middle - before) <= 1e-11 * max(abs(middle), 1e-3):
            break
        if (value > 0) == (at_high > 0):
            high, at_high, at_low = middle, value, at_low / 2
        else:
            low, at_low, at_high = middle, value, at_high / 2
    return middle


@lru_cache(maxsize=4096)
def _term(biot: float, number: int) -> tuple[float, float]:
    """Return the root and the amplitude of a term of the series, counted from 1."""

    def left(x: float) -> float:
        return -bessel(0, x) if isinf(biot) else x * bessel(1, x) - biot * bessel(0, x)

    # Each root lies between a zero of J1 and the next of J0; these bounds enclose no other.
    at = root(left, (number - 1) * pi, (number - 0.25) * pi + 0.06)
    first, zeroth = bessel(1, at), bessel(0, at)
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
    return sum(share * bessel(0, at * radius) for at, share in _terms(biot, fourier))


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
