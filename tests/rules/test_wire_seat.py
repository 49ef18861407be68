"""The seat of a wire against brute force, and what must hold for any groove."""

from __future__ import annotations

from math import cos, pi, radians, sin, tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq, minimize

from cardgen.rules.wires import (
    Groove,
    NoSeatError,
    best_wire,
    over_wires,
    over_wires_short,
    seat,
    wire_flush,
    wire_on_root,
    wire_touching,
)


def distance(groove: Groove, centre: float, shift: float, side: int) -> float:
    """Distance from a point to a flank, by a general minimiser on the surface's own equation."""
    t = tan(groove.far if side > 0 else groove.near)

    def square(point: tuple[float, float]) -> float:
        radius, turn = point
        half = groove.width / 2 + (radius - groove.pitch_diameter / 2) * t
        z = groove.lead * turn / (2 * pi) + side * half
        x, y = radius * cos(turn), radius * sin(turn)
        return (x - centre) ** 2 + y**2 + (z - shift) ** 2

    options = {"xatol": 1e-11, "fatol": 1e-16, "maxiter": 4000}
    found = minimize(square, (centre, 0.0), method="Nelder-Mead", options=options)
    return float(found.fun) ** 0.5


GROOVES = [
    (5.0, 25.5, 2.5, 15, 15, 2.6),
    (8.0, 18.0, 2.0, 15, 15, 2.1),
    (24.0, 36.0, 3.0, 14.5, 14.5, 3.2),
    (1.5, 9.026, 0.75, 30, 30, 0.9),
]


@pytest.mark.parametrize("case", GROOVES)
def test_seat_against_brute_force(case: tuple[float, ...]) -> None:
    lead, diameter, width, near, far, wire = case
    groove = Groove(lead, diameter, width, radians(near), radians(far))
    low, high = diameter / 2, diameter / 2 + 2 * wire
    centre = brentq(lambda r: distance(groove, r, 0.0, 1) - wire / 2, low, high, xtol=1e-10)
    assert over_wires(groove, wire) == pytest.approx(2 * centre + wire, abs=2e-6)


def test_unequal_flanks_touch_both() -> None:
    groove = Groove(6.0, 30.0, 3.0, radians(7), radians(30))
    wire = best_wire(groove)
    found = seat(groove, wire)
    # Neither flank is nearer than the other: the shift along the axis is found by bisection.
    shift = brentq(
        lambda z: distance(groove, found.centre, z, 1) - distance(groove, found.centre, z, -1),
        -1.0,
        1.0,
        xtol=1e-9,
    )
    assert distance(groove, found.centre, shift, 1) == pytest.approx(wire / 2, abs=1e-6)
    assert (found.near + found.far) / 2 == pytest.approx(15.0, abs=1e-8)


grooves = st.builds(
    lambda pitch, starts, ratio, half: Groove(
        pitch * starts, pitch * ratio, pitch / 2, radians(half), radians(half)
    ),
    st.floats(0.5, 12),
    st.integers(1, 4),
    st.floats(4, 20),
    st.floats(10, 32),
)


@settings(max_examples=60)
@given(grooves)
def test_best_wire_touches_at_the_pitch_line(groove: Groove) -> None:
    found = seat(groove, best_wire(groove))
    assert found.near == pytest.approx(groove.pitch_diameter / 2, abs=1e-8)
    assert found.far == pytest.approx(found.near, abs=1e-8)


@settings(max_examples=60)
@given(grooves, st.floats(0.9, 1.2))
def test_a_thicker_wire_or_a_larger_screw_reads_more(groove: Groove, factor: float) -> None:
    wire = factor * best_wire(groove)
    larger = Groove(
        groove.lead, groove.pitch_diameter * 1.001, groove.width, groove.near, groove.far
    )
    over = over_wires(groove, wire)
    assert over_wires(groove, wire * 1.001) > over
    grown = over_wires(larger, wire) - over
    # Less than the pitch diameter grew, for the lead angle gets smaller; never much less.
    assert grown == pytest.approx(0.001 * groove.pitch_diameter, rel=0.1)


@settings(max_examples=60)
@given(grooves)
def test_usable_wires_do_what_they_are_named_for(groove: Groove) -> None:
    pitch_line = groove.pitch_diameter
    crest, root = pitch_line + 0.9 * groove.width, pitch_line - groove.width
    assert over_wires(groove, wire_flush(groove, crest)) == pytest.approx(crest, abs=1e-8)
    touching = seat(groove, wire_touching(groove, crest))
    assert max(touching.near, touching.far) == pytest.approx(crest / 2, abs=1e-8)
    assert seat(groove, wire_on_root(groove, root)).under == pytest.approx(root / 2, abs=1e-8)


@settings(max_examples=60)
@given(grooves)
def test_without_lead_the_seat_is_plane_geometry(groove: Groove) -> None:
    flat = Groove(1e-9, groove.pitch_diameter, groove.width, groove.near, groove.far)
    wire = best_wire(flat)
    assert wire == pytest.approx(groove.width / cos(groove.near), rel=1e-9)
    assert over_wires(flat, wire) == pytest.approx(over_wires_short(flat, wire), rel=1e-9)


@settings(max_examples=30)
@given(grooves)
def test_scaling(groove: Groove) -> None:
    inch = Groove(
        groove.lead / 25.4,
        groove.pitch_diameter / 25.4,
        groove.width / 25.4,
        groove.near,
        groove.far,
    )
    assert 25.4 * best_wire(inch) == pytest.approx(best_wire(groove), rel=1e-7)


def test_square_flanks_seat_no_wire() -> None:
    with pytest.raises(NoSeatError, match="does not wedge"):
        seat(Groove(6, 30, 3, 0, 0), 3.2)
