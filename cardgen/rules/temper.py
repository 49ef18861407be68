"""What tempering leaves of a quenched steel's hardness, from its own published rows.

Temperatures in degC, hardness in HRC, times in s.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import log10

Row = tuple[float, float]
"""Tempering temperature [degC] and the hardness after it [HRC]."""


class OutsideRowsError(ValueError):
    """Nobody has published a row for what was asked."""


def bracket(rows: Sequence[Row], temperature: float) -> tuple[Row, Row]:
    """Return the two neighbouring rows between which a temperature lies.

    Parameters
    ----------
    rows
        By rising temperature.

    Raises
    ------
    OutsideRowsError
        If the temperature is below the first row or above the last.
    """
    for lower, upper in pairwise(rows):
        if lower[0] <= temperature <= upper[0]:
            return lower, upper
    msg = f"{temperature:.0f} degC is outside the rows"
    raise OutsideRowsError(msg)


def bracket_hardness(rows: Sequence[Row], hardness: float) -> tuple[Row, Row]:
    """Return the hottest pair of neighbouring rows between which a hardness lies.

    The hottest, because of two temperatures that give one hardness the hotter leaves the
    tougher steel.

    Raises
    ------
    OutsideRowsError
        If no pair of rows has the hardness between them.
    """
    for lower, upper in reversed(tuple(pairwise(rows))):
        if upper[1] <= hardness <= lower[1] and upper[1] < lower[1]:
            return lower, upper
    msg = f"{hardness:g} HRC is outside the rows"
    raise OutsideRowsError(msg)


def hardness_between(lower: Row, upper: Row, temperature: float) -> float:
    """Return the hardness at a temperature by a straight line between two rows [HRC].

    Examples
    --------
    >>> hardness_between((300, 52), (400, 43), 320)
    50.2
    """
    return lower[1] + (upper[1] - lower[1]) * (temperature - lower[0]) / (upper[0] - lower[0])


def temperature_between(lower: Row, upper: Row, hardness: float) -> float:
    """Return the temperature that gives a hardness by a straight line between two rows [degC].

    Examples
    --------
    >>> round(temperature_between((300, 52), (400, 43), 50.2))
    320
    """
    return lower[0] + (hardness - lower[1]) * (upper[0] - lower[0]) / (upper[1] - lower[1])


def hollomon_jaffe(temperature: float, time: float, constant: float, kelvin: float) -> float:
    """Return the tempering parameter, in thousands.

    Parameters
    ----------
    temperature
        [degC]
    time
        At temperature [s]; the constant belongs to hours.
    constant
        Usually 20 with the time in hours.
    kelvin
        0 degC in kelvin.

    References
    ----------
    J. H. Hollomon, L. D. Jaffe, Trans. AIME 162 (1945).

    Examples
    --------
    >>> round(hollomon_jaffe(200, 7200, 20, 273.15), 3)
    9.605
    """
    return (temperature + kelvin) * (constant + log10(time / 3600)) / 1000


def equivalent_temperature(
    temperature: float, time: float, other_time: float, constant: float, kelvin: float
) -> float:
    """Return the temperature that tempers as much in another time [degC].

    Parameters
    ----------
    temperature, time
        The heat that is known [degC], [s].
    other_time
        [s]
    constant, kelvin
        As for :func:`hollomon_jaffe`.

    Examples
    --------
    >>> round(equivalent_temperature(200, 7200, 3600, 20, 273.15))
    207
    >>> round(equivalent_temperature(650, 10, 3600, 20, 273.15))
    532
    """
    parameter = hollomon_jaffe(temperature, time, constant, kelvin)
    return parameter_temperature(parameter, other_time, constant, kelvin)


def parameter_temperature(parameter: float, time: float, constant: float, kelvin: float) -> float:
    """Return the temperature that gives a tempering parameter in a time [degC].

    Parameters
    ----------
    parameter
        In thousands, as :func:`hollomon_jaffe` gives it.
    time
        [s]
    constant, kelvin
        As for :func:`hollomon_jaffe`.

    Examples
    --------
    >>> round(parameter_temperature(9.605, 7200, 20, 273.15))
    200
    """
    return parameter * 1000 / (constant + log10(time / 3600)) - kelvin
