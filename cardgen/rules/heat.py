"""How steel answers to heat: critical temperatures, heating time, what the quench leaves soft.

Temperatures in degC, times in s, lengths in mm; the films and conductivities of heat transfer in
their SI units, named where they stand.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import exp, fsum, log, prod, sqrt

from cardgen.rules.conduction import bar_time


def regression(terms: Mapping[str, float], composition: Mapping[str, float]) -> float:
    """Return a temperature worked out from a steel's composition by a published regression.

    Parameters
    ----------
    terms
        Term to coefficient [degC]: ``"1"`` is the constant, ``"Mn"`` an element's mass per cent,
        ``"sqrt(C)"`` its root, ``"C*Mn"`` a product.
    composition
        Element to mass per cent; an element that is not there counts as none of it.

    References
    ----------
    K. W. Andrews, JISI 203 (1965) 721-727.

    Examples
    --------
    >>> round(regression({"1": 910, "sqrt(C)": -203, "Mn": -30}, {"C": 0.46, "Mn": 0.75}))
    750
    """
    return fsum(factor * _term(term, composition) for term, factor in terms.items())


def _term(term: str, composition: Mapping[str, float]) -> float:
    if term == "1":
        return 1.0
    if term.startswith("sqrt("):
        return sqrt(composition.get(term[5:-1], 0.0))
    return prod(composition.get(element, 0.0) for element in term.split("*"))


def retained_austenite(ms: float, quench: float, rate: float) -> float:
    """Return the share of austenite that a quench leaves, 0 to 1.

    Parameters
    ----------
    ms
        Where martensite starts to form [degC]; not below ``quench``.
    quench
        What the part is cooled to [degC].
    rate
        Koistinen and Marburger's coefficient [1/degC].

    References
    ----------
    D. P. Koistinen, R. E. Marburger, Acta Metallurgica 7 (1959).

    Examples
    --------
    >>> round(retained_austenite(200, 25, 0.011), 3)
    0.146
    """
    if quench > ms:
        msg = f"no martensite forms above Ms: quenched to {quench:g} degC, Ms is {ms:g} degC"
        raise ValueError(msg)
    return exp(-rate * (ms - quench))


def round_bar_length(diameter: float) -> float:
    """Return the characteristic length of a long round bar, volume over surface [mm]."""
    return diameter / 4


def biot(film: float, length: float, conductivity: float) -> float:
    """Return the Biot number: the resistance within a part against that at its surface.

    Parameters
    ----------
    film
        Heat transfer at the surface [W/(m2 K)].
    length
        Characteristic length [mm].
    conductivity
        Of the part [W/(m K)].

    Examples
    --------
    >>> round(biot(100, round_bar_length(25), 30), 3)
    0.021
    """
    return film * length / 1000 / conductivity


def time_constant(density: float, specific_heat: float, length: float, film: float) -> float:
    """Return the time constant of a part that is at one temperature throughout [s].

    Parameters
    ----------
    density
        [kg/m3]
    specific_heat
        [J/(kg K)]
    length
        Characteristic length [mm].
    film
        Heat transfer at the surface [W/(m2 K)].

    Examples
    --------
    >>> round(time_constant(7850, 650, 6.25, 100))
    319
    """
    return density * specific_heat * length / 1000 / film


def heating_time(constant: float, furnace: float, start: float, end: float) -> float:
    """Return the time to warm from ``start`` to ``end`` in a furnace at a constant film [s].

    Examples
    --------
    >>> round(heating_time(319, 820, 20, 810))
    1398
    """
    if not start <= end < furnace:
        msg = f"{end:g} degC is not between {start:g} degC and the furnace's {furnace:g} degC"
        raise ValueError(msg)
    return constant * log((furnace - start) / (furnace - end))


def radiant_film(
    convection: float, emissivity: float, sigma: float, furnace: float, surface: float
) -> float:
    """Return the heat transfer at a surface by convection and radiation [W/(m2 K)].

    Parameters
    ----------
    convection
        [W/(m2 K)]
    emissivity
        Of the surface, 0 to 1.
    sigma
        Stefan-Boltzmann constant [W/(m2 K4)].
    furnace, surface
        Absolute temperatures [K].
    """
    return convection + emissivity * sigma * (furnace**2 + surface**2) * (furnace + surface)


def radiant_heating_time(
    heat_per_area: float,
    film: Sequence[float],
    temperatures: Sequence[float],
    furnace: float,
) -> float:
    """Return the time to warm through a run of temperatures with a film that changes [s].

    The integral of ``heat_per_area / (film (furnace - T))`` over T, by Simpson's rule.

    Parameters
    ----------
    heat_per_area
        Heat that warms the part by one degree, by area of its surface [J/(m2 K)].
    film
        Heat transfer at each temperature [W/(m2 K)].
    temperatures
        Rising in an even number of equal steps, all below ``furnace`` [degC].
    furnace
        [degC]
    """
    rates = [
        heat_per_area / (transfer * (furnace - at))
        for transfer, at in zip(film, temperatures, strict=True)
    ]
    ends, odd, even = rates[0] + rates[-1], fsum(rates[1:-1:2]), fsum(rates[2:-1:2])
    return (temperatures[1] - temperatures[0]) / 3 * (ends + 4 * odd + 2 * even)


def equal_film(heat_per_area: float, left: float, time: float) -> float:
    """Return the constant film that warms a thin part as far in the same time [W/(m2 K)].

    Parameters
    ----------
    heat_per_area
        Heat that warms the part by one degree, by area of its surface [J/(m2 K)].
    left
        Share of the temperature difference that is left.
    time
        [s]

    Examples
    --------
    >>> round(equal_film(7850 * 650 * 6.25e-3, 10 / 800, 1398))
    100
    """
    return heat_per_area * log(1 / left) / time


def core_heating_time(
    diameter: float, film: float, left: float, steel: Mapping[str, float]
) -> float:
    """Return the time for the axis of a long round bar to come to heat, by conduction [s].

    Parameters
    ----------
    diameter
        [mm]
    film
        Heat transfer at the surface, constant [W/(m2 K)].
    left
        Share of the temperature difference that is left at the axis.
    steel
        ``conductivity`` [W/(m K)], ``specific_heat`` [J/(kg K)] and ``density`` [kg/m3].

    Examples
    --------
    The worked bar of the lumped model, 23.3 min there, by the exact series:

    >>> steel = {"conductivity": 30, "specific_heat": 650, "density": 7850}
    >>> round(core_heating_time(25, 100, 10 / 800, steel) / 60, 1)
    23.6
    """
    radius = diameter / 2000
    fourier = bar_time(film * radius / steel["conductivity"], left)
    return fourier * radius**2 * steel["density"] * steel["specific_heat"] / steel["conductivity"]
