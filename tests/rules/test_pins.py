"""Pins in square grooves against a cloud of points of both walls; wires opposite each other."""

from __future__ import annotations

from math import cos, hypot, pi, sin

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize_scalar

from cardgen.rules.helix import lead_angle
from cardgen.rules.pins import SquareGroove, largest_pin, over_two, shift_half_a_turn

GROOVES = [
    SquareGroove(6.35, 3.175, 12.7, 15.875),
    SquareGroove(2.54, 1.27, 5.08, 6.35),
    SquareGroove(25.0, 6.0, 19.0, 25.0),
    SquareGroove(12.0, 3.0, 10.0, 13.0),
]


def room(groove: SquareGroove, pin: float, slant: float) -> float:
    """Least distance of either wall's points from the pin's axis, less the pin's radius."""
    r, phi = np.meshgrid(
        np.linspace(groove.root, groove.crest, 61), np.linspace(-0.9, 0.9, 901), indexing="ij"
    )
    p = groove.lead / (2 * pi)
    along = np.array([0.0, cos(slant), sin(slant)])
    least = np.inf
    for side in (-1.0, 1.0):
        wall = np.stack(
            [
                r * np.cos(phi) - (groove.root + pin / 2),
                r * np.sin(phi),
                p * phi + side * groove.width / 2,
            ],
            axis=-1,
        )
        across = wall - (wall @ along)[..., None] * along
        least = min(least, float(np.sqrt((across**2).sum(axis=-1)).min()))
    return least - pin / 2


def best_room(groove: SquareGroove, pin: float) -> float:
    middle = lead_angle(groove.lead, groove.root + groove.crest)
    found = minimize_scalar(
        lambda slant: -room(groove, pin, slant),
        bounds=(0.6 * middle, 1.4 * middle),
        method="bounded",
        options={"xatol": 1e-7},
    )
    return -float(found.fun)


@pytest.mark.parametrize("groove", GROOVES)
def test_the_largest_pin_just_goes_in(groove: SquareGroove) -> None:
    pin = largest_pin(groove)
    assert best_room(groove, pin) == pytest.approx(0.0, abs=1e-4)
    assert best_room(groove, 1.002 * pin) < 0


@pytest.mark.parametrize("groove", GROOVES)
def test_it_reads_a_groove_too_small(groove: SquareGroove) -> None:
    """Square to the helix at the root the groove is narrower, and the pin thinner than that."""
    squared = groove.width * cos(lead_angle(groove.lead, 2 * groove.root))
    assert 0.985 * squared < largest_pin(groove) < squared


@settings(max_examples=25, deadline=None)
@given(lead=st.floats(0.5, 20), radius=st.floats(6, 40), share=st.floats(0.1, 0.45))
def test_pins_scale_and_grow_with_the_groove(lead: float, radius: float, share: float) -> None:
    width = share * min(lead, radius)
    groove = SquareGroove(lead, width, radius - width, radius)
    pin = largest_pin(groove)
    assert 0 < pin < width
    twice = SquareGroove(2 * lead, 2 * width, 2 * (radius - width), 2 * radius)
    assert largest_pin(twice) == pytest.approx(2 * pin, abs=1e-5)
    wider = SquareGroove(lead, 1.01 * width, radius - width, radius)
    assert largest_pin(wider) > pin


@pytest.mark.parametrize("starts", range(1, 9))
def test_the_groove_opposite(starts: int) -> None:
    """Half a turn on, the helix has climbed by half the lead; the nearest groove is what counts."""
    pitch = 3.0
    climbed = starts * pitch / 2
    nearest = min(abs(climbed - pitch * number) for number in range(starts + 1))
    assert shift_half_a_turn(pitch, starts) == pytest.approx(nearest)


def test_over_two_wires_in_line() -> None:
    # Centres 8 apart across and 6 along are 10 apart; the wire's own diameter comes on top.
    assert over_two(8.0, 2.0, 6.0) == 12.0
    assert over_two(8.0, 2.0, 0.0) == 8.0 + 2.0
    assert over_two(8.0, 2.0, 1.0) == pytest.approx(hypot(8, 1) + 2)
