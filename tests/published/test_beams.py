"""A 16 mm bar, 200 mm long, 200 N: the cases that beam tables print; ``cutting_examples.csv``."""

from __future__ import annotations

import csv
from math import pi
from pathlib import Path

import pytest

from cardgen.rules.beam import Beam, Pin, Section

E = 205_000.0
ROWS = {
    row["id"]: row
    for row in csv.DictReader(
        (Path(__file__).parent.parent / "data" / "cutting_examples.csv").read_text().splitlines()
    )
}


def bar(*, clamped: bool, pins: tuple[Pin, ...] = ()) -> Beam:
    return Beam((Section(200, 16),), E, clamped, pins)


@pytest.mark.parametrize(
    ("id", "beam", "at"),
    [
        ("DF-centres", bar(clamped=False), 100),
        ("DF-cantilever", bar(clamped=True), 200),
        ("DF-propped", bar(clamped=True, pins=(Pin(200),)), 100),
    ],
)
def test_deflection(id: str, beam: Beam, at: float) -> None:
    row = ROWS[id]
    half = float(row["half_digit"])
    assert 200 * beam.deflection(at) == pytest.approx(float(row["expected"]), abs=half)


def test_moments_of_the_three_holdings() -> None:
    """F L at the chuck; F L / 4 in the middle; 3 F L / 16 at the chuck of a propped bar."""
    section = pi * 16**3 / 32
    for beam, at, moment in (
        (bar(clamped=True), 200, 200.0),
        (bar(clamped=False), 100, 200 / 4),
        (bar(clamped=True, pins=(Pin(200),)), 100, 200 * 3 / 16),
    ):
        assert beam.stress(at, sideways=1, torque=0) == pytest.approx(moment / section)


def test_largest_deflection_of_a_propped_bar() -> None:
    """Greatest where the load stands at (2 - sqrt 2) L from the chuck: F L^3 / (102 E I)."""
    beam = bar(clamped=True, pins=(Pin(200),))
    stiffness = E * pi * 16**4 / 64
    there = beam.deflection((2 - 2**0.5) * 200) * stiffness / 200**3
    assert there == pytest.approx(1 / 102, rel=2e-3)
    assert all(beam.deflection(x) * stiffness / 200**3 <= there + 1e-12 for x in range(201))
