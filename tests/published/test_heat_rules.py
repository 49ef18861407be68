"""Critical temperatures, retained austenite and heating times against printed and worked figures.

Sources: K. W. Andrews, JISI 203 (1965) 721-727 as given in Gorni, Steel Forming and Heat Treating
Handbook (2012), worked by hand for mid-range compositions; technical cards of the Lucefin Group
(42CrMo4, Cf53); a public article on the Koistinen-Marburger equation; a heat-transfer problem on
the lumped model. The radiant times are held to an independent solution of the same balance.
"""

from __future__ import annotations

from collections.abc import Mapping

import pytest
from scipy import constants, integrate

from cardgen import library
from cardgen.rules import heat
from cardgen.sheets._constants import value

STEELS: Mapping[str, Mapping[str, float]] = {
    "1018": {"C": 0.18, "Mn": 0.75, "Si": 0.20},
    "1045": {"C": 0.46, "Mn": 0.75, "Si": 0.25},
    "42CrMo4": {"C": 0.415, "Mn": 0.75, "Si": 0.25, "Cr": 1.05, "Mo": 0.225},
    "Cf53": {"C": 0.535, "Mn": 0.55, "Si": 0.25},
    "5160": {"C": 0.60, "Mn": 0.87, "Si": 0.22, "Cr": 0.80},
    "S7": {"C": 0.50, "Mn": 0.55, "Si": 0.60, "Cr": 3.25, "Mo": 1.4, "V": 0.25},
}


def terms(figure: str) -> dict[str, float]:
    rows = library.table("heat/critical_temperatures")
    return {row["term"]: float(row["coefficient"]) for row in rows if row["figure"] == figure}


@pytest.mark.parametrize(
    ("steel", "a1", "ac3", "ms"),
    [
        ("1018", 721, 810, 440),
        ("1045", 722, 761, 322),
        ("42CrMo4", 740, 763, 326),
        ("Cf53", 724, 756, 296),
        ("5160", 734, 728, 249),
    ],
)
def test_andrews_worked(steel: str, a1: int, ac3: int, ms: int) -> None:
    """Worked by hand to whole degrees. 5160 shows why the sheet stops short of 0.6 % C: its Ae3
    comes out below its Ae1."""
    composition = STEELS[steel]
    assert heat.regression(terms("a1"), composition) == pytest.approx(a1, abs=0.51)
    assert heat.regression(terms("ac3"), composition) == pytest.approx(ac3, abs=0.51)
    assert heat.regression(terms("ms"), composition) == pytest.approx(ms, abs=0.51)


@pytest.mark.parametrize(
    ("steel", "a1", "ac3", "ms", "short"),
    [("42CrMo4", 745, 790, 335, 27), ("Cf53", 730, 765, 320, 24)],
)
def test_regressions_against_data_sheets(
    steel: str, a1: int, ac3: int, ms: int, short: int
) -> None:
    """Lucefin cards. Ae3 is the equilibrium line and Ac3 is met on heating, so that the formula
    is low by up to 27 degC; the formulas themselves claim no better than 15 to 30 degC."""
    composition = STEELS[steel]
    assert heat.regression(terms("a1"), composition) == pytest.approx(a1, abs=7)
    for figure, printed in (("ac3", ac3), ("ms", ms)):
        found = heat.regression(terms(figure), composition)
        assert found < printed
        assert found == pytest.approx(printed, abs=short + 0.5)


def test_koistinen_marburger() -> None:
    """The article prints "about 15 %" for Ms 200, quenched to 25 degC."""
    rate = value("heat/constants", "koistinen-marburger")
    assert heat.retained_austenite(200, 25, rate) == pytest.approx(0.15, abs=0.005)
    assert heat.retained_austenite(322, 20, rate) == pytest.approx(0.036, abs=0.0005)
    assert heat.retained_austenite(210, 20, rate) == pytest.approx(0.124, abs=0.0005)
    with pytest.raises(ValueError, match="no martensite"):
        heat.retained_austenite(20, 100, rate)


def test_lumped_bar() -> None:
    """25 mm bar, h 100, k 30, c 650: Bi 0.021, 319 s, 23.3 min from 20 to 810 in 820 degC."""
    length = heat.round_bar_length(25)
    assert heat.biot(100, length, 30) == pytest.approx(0.021, abs=0.0005)
    constant = heat.time_constant(7850, 650, length, 100)
    assert constant == pytest.approx(319, abs=0.5)
    assert heat.heating_time(constant, 820, 20, 810) / 60 == pytest.approx(23.3, abs=0.05)


@pytest.mark.parametrize(
    ("diameter", "minutes"), [(10, 4.9), (20, 9.9), (25, 12.4), (40, 20), (50, 25)]
)
def test_radiant_furnace(diameter: float, minutes: float) -> None:
    """Minutes for a round bar to come within 10 degC of an 820 degC furnace, eps 0.8, h 10.

    The time is proportional to the diameter, so that the 4.9 was cut from 4.96, not rounded.
    """
    ours = _radiant(diameter, steps=200)
    assert ours / 60 == pytest.approx(minutes, abs=0.5 if minutes >= 20 else 0.06)


def test_radiant_time_by_an_independent_solver() -> None:
    """The balance as a differential equation in time, solved by scipy."""
    kelvin, furnace, length = 273.15, 820.0, 25 / 4000

    def rate(_: float, state: list[float]) -> list[float]:
        part = state[0]
        flux = 10 * (furnace - part) + 0.8 * constants.Stefan_Boltzmann * (
            (furnace + kelvin) ** 4 - (part + kelvin) ** 4
        )
        return [flux / (7850 * 650 * length)]

    def arrived(_: float, state: list[float]) -> float:
        return state[0] - 810

    arrived.terminal = True  # type: ignore[attr-defined]
    found = integrate.solve_ivp(rate, (0, 5000), [20.0], events=arrived, rtol=1e-8, atol=1e-8)
    assert _radiant(25, steps=200) == pytest.approx(found.t_events[0][0], rel=0.0002)


def _radiant(diameter: float, steps: int) -> float:
    at = [20 + 790 * k / steps for k in range(steps + 1)]
    sigma = value("heat/constants", "stefan-boltzmann")
    film = [heat.radiant_film(10, 0.8, sigma, 1093.15, part + 273.15) for part in at]
    return heat.radiant_heating_time(7850 * 650 * diameter / 4000, film, at, 820)


def test_physical_constants() -> None:
    assert value("heat/constants", "stefan-boltzmann") == pytest.approx(
        constants.Stefan_Boltzmann, rel=1e-9
    )
    assert value("heat/constants", "kelvin") == constants.zero_Celsius


@pytest.mark.parametrize(
    ("steel", "a1", "ac3", "ms"), [("42CrMo4", 745, 790, 335), ("Cf53", 730, 765, 320)]
)
def test_the_stated_accuracy_holds_on_the_cards(steel: str, a1: int, ac3: int, ms: int) -> None:
    """The span that a figure carries takes in what the makers' cards print."""
    near = value("heat/constants", "regression-accuracy")
    for figure, printed in (("a1", a1), ("ac3", ac3), ("ms", ms)):
        assert abs(heat.regression(terms(figure), STEELS[steel]) - printed) <= near
