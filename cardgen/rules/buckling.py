"""When a screw in compression gives way sideways: Euler's and Johnson's columns.

Lengths in mm, forces in N, stresses in MPa.
"""

from __future__ import annotations

from math import pi, sqrt


def slenderness(length: float, core: float) -> float:
    """Return length over radius of gyration of a round bar."""
    return length / (core / 4)


def limit_slenderness(ends: float, modulus: float, yield_stress: float) -> float:
    """Return the slenderness at which Johnson's column passes into Euler's.

    Parameters
    ----------
    ends
        Constant of the end conditions: 0.25 one end free, 1 both ends pivoted.
    """
    return sqrt(2 * pi**2 * ends * modulus / yield_stress)


def euler_load(core: float, length: float, ends: float, modulus: float) -> float:
    """Return the buckling load of a slender column [N].

    Examples
    --------
    >>> round(euler_load(10, 500, 1.0, 200000))
    3876
    """
    area = pi * core**2 / 4
    return ends * pi**2 * modulus * area / slenderness(length, core) ** 2


def johnson_load(
    core: float, length: float, ends: float, modulus: float, yield_stress: float
) -> float:
    """Return the buckling load of a stocky column [N]."""
    area = pi * core**2 / 4
    ratio = yield_stress * slenderness(length, core) / (2 * pi)
    return area * (yield_stress - ratio**2 / (ends * modulus))


def buckling_load(
    core: float, length: float, ends: float, modulus: float, yield_stress: float
) -> float:
    """Return the buckling load by whichever column the slenderness asks for [N].

    References
    ----------
    Shigley's Mechanical Engineering Design 9th ed., ch. 4 (Euler, J. B. Johnson).
    """
    if slenderness(length, core) > limit_slenderness(ends, modulus, yield_stress):
        return euler_load(core, length, ends, modulus)
    return johnson_load(core, length, ends, modulus, yield_stress)
