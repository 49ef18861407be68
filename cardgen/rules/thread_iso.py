"""Tolerances of ISO metric and metric trapezoidal threads, as the standards' formulae give them.

All results in micrometres, before the rounding on preferred numbers that the standards
prescribe; pitches and diameters in mm. Grade 6 is the base from which the other grades step.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from math import pow, sqrt


def linear_deviation(pitch: float, a: float, b: float) -> float:
    """Return ``a + b P``, a fundamental deviation [um].

    ISO 965-1:1998 clause 13: position e has a = 50, g has a = 15, both b = 11.

    Examples
    --------
    >>> linear_deviation(1.5, 15, 11)
    31.5
    """
    return a + b * pitch


def root_deviation(pitch: float, a: float, b: float) -> float:
    """Return ``a sqrt(P)``, a fundamental deviation of coarse trapezoidal threads [um].

    Parameters
    ----------
    pitch
        [mm].
    a
        Coefficient [um].
    b
        Not used: the table of positions has two coefficients for every rule.
    """
    del b
    return a * sqrt(pitch)


DEVIATIONS: Mapping[str, Callable[[float, float, float], float]] = {
    "linear": linear_deviation,
    "root": root_deviation,
}
"""The word in a table of positions to its rule."""


def major_tolerance(pitch: float) -> float:
    """Return Td of grade 6, ``180 P^(2/3) - 3.15/sqrt(P)`` (ISO 965-1:1998 clause 13) [um].

    Examples
    --------
    >>> round(major_tolerance(1.5))
    233
    """
    return 180 * pow(pitch, 2 / 3) - 3.15 / sqrt(pitch)


def nut_minor_tolerance(pitch: float) -> float:
    """Return TD1 of grade 6 (ISO 965-1:1998 clause 13) [um].

    ``433 P - 190 P^1.22`` below a pitch of 1 mm, ``230 P^0.7`` from there on.

    Examples
    --------
    >>> round(nut_minor_tolerance(1.5))
    305
    """
    return 433 * pitch - 190 * pow(pitch, 1.22) if pitch < 1 else 230 * pow(pitch, 0.7)


def pitch_tolerance(pitch: float, mean_diameter: float) -> float:
    """Return Td2 of grade 6, ``90 P^0.4 d^0.1`` (ISO 965-1:1998 clause 13) [um].

    Parameters
    ----------
    pitch
        [mm].
    mean_diameter
        Geometric mean of the diameter range in which the thread lies [mm].

    Examples
    --------
    >>> round(pitch_tolerance(1.5, (5.6 * 11.2) ** 0.5))
    130
    """
    return 90 * pow(pitch, 0.4) * pow(mean_diameter, 0.1)


def trapezoidal_minor_tolerance(pitch_diameter_tolerance: float, deviation: float) -> float:
    """Return Td3, ``1.25 Td2 + |es|``, the product a whole number (ISO 2903) [um].

    Half a micrometre goes to the even number, which reproduces all published limits.

    Examples
    --------
    >>> trapezoidal_minor_tolerance(170, 67)
    279.0
    """
    return float(round(1.25 * pitch_diameter_tolerance)) + deviation
