"""The series of the cylinder against scipy's Bessel functions and against finite differences."""

from __future__ import annotations

from math import inf, log

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import special

from cardgen.core.figure import Sheet
from cardgen.rules.conduction import bar_temperature, bar_time, bessel, root
from cardgen.rules.hardenability import critical_diameter
from cardgen.rules.heat import core_heating_time, equal_film, heating_time, time_constant
from cardgen.sheets import _heat_soak
from cardgen.sheets._heat_treatment import Treatment
from tests.parts import job, step

STEEL = {"conductivity": 30.0, "specific_heat": 650.0, "density": 7850.0}


@given(st.floats(0, 400))
def test_bessel(x: float) -> None:
    assert bessel(0, x) == pytest.approx(special.j0(x), abs=1e-12)
    assert bessel(1, x) == pytest.approx(special.j1(x), abs=1e-12)


@pytest.mark.parametrize(
    ("fourier", "printed"), [(0.1, 0.8484), (0.2, 0.5015), (0.4, 0.1585), (0.8, 0.0157)]
)
def test_axis_of_a_cylinder_whose_surface_is_cold_at_once(fourier: float, printed: float) -> None:
    """Sums of the series with scipy's zeros, which the textbooks tabulate."""
    zeros = special.jn_zeros(0, 40)
    oracle = float(np.sum(2 / (zeros * special.j1(zeros)) * np.exp(-(zeros**2) * fourier)))
    assert oracle == pytest.approx(printed, abs=5e-5)
    assert bar_temperature(inf, fourier) == pytest.approx(oracle, abs=1e-10)


def differences(biot: float, fourier: float, cells: int = 60) -> np.ndarray:
    """Explicit finite differences over the radius: share left at the middle of each ring."""
    h = 1 / cells
    r = (np.arange(cells) + 0.5) * h
    faces = np.arange(1, cells) * h
    step = 0.2 * h * h
    theta = np.ones(cells)
    conductance = 1 / (1 / biot + h / 2)
    for _ in range(round(fourier / step)):
        flow = np.zeros(cells + 1)
        flow[1:cells] = faces * np.diff(theta) / h
        flow[cells] = -conductance * theta[-1]
        theta = theta + step * np.diff(flow) / (r * h)
    return theta


@pytest.mark.parametrize("biot", [0.05, 0.3, 1.0, 5.0, 40.0])
def test_against_finite_differences(biot: float) -> None:
    """At one time, at the axis, half way and near the surface."""
    fourier = 0.3
    theta = differences(biot, fourier)
    for ring in (0, 30, 57):
        radius = (ring + 0.5) / 60
        assert bar_temperature(biot, fourier, radius) == pytest.approx(theta[ring], abs=1e-3)


@settings(max_examples=60, deadline=None)
@given(biot=st.floats(0.01, 100), left=st.floats(0.02, 0.95))
def test_time_leads_back(biot: float, left: float) -> None:
    assert bar_temperature(biot, bar_time(biot, left)) == pytest.approx(left, rel=1e-7)


@settings(max_examples=60, deadline=None)
@given(
    biot=st.floats(0.01, 100),
    fourier=st.floats(0.02, 3),
    inner=st.floats(0, 1),
    more=st.floats(0, 1),
)
def test_the_core_lags_and_all_of_it_cools(
    biot: float, fourier: float, inner: float, more: float
) -> None:
    outer = inner + (1 - inner) * more
    here = bar_temperature(biot, fourier, inner)
    assert -1e-9 <= bar_temperature(biot, fourier, outer) <= here + 1e-9 <= 1 + 2e-9
    assert bar_temperature(biot, 1.1 * fourier, inner) <= here + 1e-9


def test_small_biot_numbers_are_lumped() -> None:
    """Worked: 25 mm, film 100, 20 to 810 in 820 degC: 23.3 min lumped, 23.6 by the series."""
    lumped = heating_time(time_constant(7850, 650, 6.25, 100), 820, 20, 810)
    assert lumped / 60 == pytest.approx(23.3, abs=0.05)
    series = core_heating_time(25, 100, 10 / 800, STEEL)
    assert series / 60 == pytest.approx(23.6, abs=0.05)
    thin = core_heating_time(1, 100, 10 / 800, STEEL)
    assert thin == pytest.approx(
        heating_time(time_constant(7850, 650, 0.25, 100), 820, 20, 810), rel=1e-3
    )


def radiant(diameter: float, heat: float, margin: float) -> float:
    """Finite differences with a true radiant surface: time until the axis is at heat [s]."""
    cells = 30
    radius = diameter / 2000
    h = radius / cells
    r, faces = (np.arange(cells) + 0.5) * h, np.arange(1, cells) * h
    k, store = STEEL["conductivity"], STEEL["density"] * STEEL["specific_heat"]
    furnace = heat + margin + 273.15
    step = 0.4 * h * h * store / k
    part, time = np.full(cells, 293.15), 0.0
    while part[0] < heat + 273.15:
        skin = part[-1]
        for _ in range(4):
            film = 10 + 0.8 * 5.670374419e-8 * (furnace**2 + skin**2) * (furnace + skin)
            skin = (2 * k / h * part[-1] + film * furnace) / (2 * k / h + film)
        flow = np.zeros(cells + 1)
        flow[1:cells] = faces * k * np.diff(part) / h
        flow[cells] = radius * film * (furnace - skin)
        part = part + step * np.diff(flow) / (r * h * store)
        time += step
    return time


@pytest.mark.parametrize("diameter", [40, 60, 120, 200])
def test_heating_in_a_furnace(diameter: float) -> None:
    """The sheet's way, an equal constant film in the series, against the true radiant surface.

    Both stay within a twentieth: the series is late, the lumped bar early, which is what textbooks
    say of a Biot number of 0.1.
    """
    t = Treatment(job(stock=diameter, heats=(step("harden"),)), Sheet("heat", {}), section=diameter)
    found = _heat_soak.warming(t, "muffle", 850, 10)
    truth = radiant(diameter, 840, 10)
    assert found.even == (found.biot < 0.1)
    assert found.seconds == pytest.approx(truth, rel=0.05)
    assert (found.seconds < truth) == found.even


@pytest.mark.parametrize(
    ("diameter", "minutes"), [(10, 18), (20, 37), (25, 46), (40, 73), (50, 91)]
)
def test_oven_with_a_fan(diameter: float, minutes: float) -> None:
    """Worked apart: minutes to 5 degC below a 200 degC oven that moves its air."""
    t = Treatment(job(stock=diameter), Sheet("heat", {}), section=diameter)
    found = _heat_soak.warming(t, "fan-oven", 200, 5)
    assert found.seconds / 60 == pytest.approx(minutes, abs=0.6)


@pytest.mark.parametrize(
    ("diameter", "minutes"), [(10, 22), (20, 44), (25, 54), (40, 87), (50, 109)]
)
def test_oven_without_a_fan(diameter: float, minutes: float) -> None:
    t = Treatment(job(stock=diameter), Sheet("heat", {}), section=diameter)
    found = _heat_soak.warming(t, "oven", 200, 5)
    assert found.seconds / 60 == pytest.approx(minutes, abs=0.6)


def test_equal_film_is_equal() -> None:
    film = equal_film(7850 * 650 * 6.25e-3, 10 / 800, 1398)
    constant = time_constant(7850, 650, 6.25, film)
    assert constant * log(80) == pytest.approx(1398)


def test_root_needs_a_change_of_sign() -> None:
    with pytest.raises(ValueError, match="no change of sign"):
        root(lambda x: x * x + 1, -1, 1)
    assert root(lambda x: x**3 - 2, 0, 2) == pytest.approx(2 ** (1 / 3))


@settings(max_examples=8, deadline=None)
@given(ideal=st.floats(8, 200), severity=st.floats(0.02, 10), more=st.floats(1.05, 2))
def test_quicker_baths_and_better_steels_harden_deeper(
    ideal: float, severity: float, more: float
) -> None:
    found = critical_diameter(ideal, severity)
    assert 0 < found < ideal
    assert critical_diameter(ideal, severity * more) > found
    assert critical_diameter(ideal * more, severity) > found


def test_half_temperature_by_finite_differences() -> None:
    """The oracle finds the half-time of the real bar and of the ideal one; they must be equal."""
    ideal, severity = 100.0, 0.35
    found = critical_diameter(ideal, severity)
    ratio = (ideal / found) ** 2
    theta = differences(severity * found / 25.4, bar_time(inf, 0.5) * ratio, cells=60)
    assert theta[0] == pytest.approx(0.5, abs=2e-3)
