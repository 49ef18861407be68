"""How deep a slow reaction eats into hot steel: carbon that leaves it, scale that grows on it."""

from __future__ import annotations

from math import exp, log, sqrt

GAS = 8.314462618
"""Molar gas constant [J/(mol K)], exact in the SI of 2019."""


def reaction_depth(prefactor: float, activation: float, kelvin: float, time: float) -> float:
    """Return the depth of a reaction that slows as it goes deeper, sqrt(D t) [mm].

    Parameters
    ----------
    prefactor
        Rate at infinite heat [m2/s].
    activation
        Activation energy [J/mol].
    kelvin
        Absolute temperature [K].
    time
        [s]

    Examples
    --------
    Carbon out of austenite at 850 degC in one hour:

    >>> round(reaction_depth(2.3e-5, 148000, 850 + 273.15, 3600), 3)
    0.104
    """
    return 1000 * sqrt(prefactor * exp(-activation / (GAS * kelvin)) * time)


def quick_temperature(
    temperature: float, time: float, quick: float, activation: float, zero: float
) -> float:
    """Return the temperature that grows as thick a film in another time [degC].

    Parameters
    ----------
    temperature, time
        The heat that is known [degC], [s].
    quick
        The other time, as a rule that of a quick heat [s].
    activation
        Of the film's growth at one thickness [J/mol].
    zero
        0 degC [K].

    Examples
    --------
    Light blue after an hour at 230 degC is light blue after three minutes at 315 (Rapatz):

    >>> round(quick_temperature(230, 3600, 180, 87000, 273.15))
    315
    >>> round(quick_temperature(315, 180, 3600, 87000, 273.15))
    230
    """
    known = temperature + zero
    return 1 / (1 / known - GAS / activation * log(time / quick)) - zero
