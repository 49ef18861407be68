"""Carbon lost, scale grown and the drift of temper colours against figures worked apart.

Textbook diffusion of carbon in austenite and Paidassi's law of scale, worked by hand for round
heats; Rapatz, Die Edelstaehle, by way of a knife forum, for colours in a long hold.
"""

from __future__ import annotations

import pytest

from cardgen.rules.diffusion import quick_temperature, reaction_depth
from cardgen.sheets._constants import value
from cardgen.sheets._heat_films import film, held_temperature

TABLE = "heat/constants"
K = 273.15


@pytest.mark.parametrize(
    ("heat", "minutes", "microns"), [(850, 10, 42), (850, 60, 104), (900, 60, 146), (1100, 5, 127)]
)
def test_carbon_lost(heat: float, minutes: float, microns: float) -> None:
    found = reaction_depth(
        value(TABLE, "decarb-prefactor"), value(TABLE, "decarb-activation"), heat + K, 60 * minutes
    )
    assert 1000 * found == pytest.approx(microns, abs=0.6)


@pytest.mark.parametrize(("heat", "microns"), [(600, 13), (700, 42), (800, 110), (900, 250)])
def test_scale_in_an_hour(heat: float, microns: float) -> None:
    """Worked to two digits."""
    found = reaction_depth(
        value(TABLE, "scale-prefactor"), value(TABLE, "scale-activation"), heat + K, 3600
    )
    assert 1000 * found == pytest.approx(microns, rel=0.04)


def test_colours_run_ahead_in_an_hour() -> None:
    """Light blue after an hour at 230 degC; purple or brown where only light straw, 204 degC, was
    reached (a strip maker's page, a very long hold)."""
    assert film(held_temperature(230, 3600)) == "light blue"
    assert film(held_temperature(204, 3600)) in ("brown", "purple", "violet")
    assert held_temperature(230, 36000) == held_temperature(230, 3600)


def test_the_way_back() -> None:
    for heat in (180, 230, 300):
        there = quick_temperature(heat, 3600, 180, 87000, K)
        assert quick_temperature(there, 180, 3600, 87000, K) == pytest.approx(heat)
