"""Worked numbers for cutting force, torque, power and blade; sources in ``cutting_examples.csv``.

Kienzle values: ISCAR turning catalogue 2017 p. 558 (DIN/ISO 513 and VDI 3323 groups).
"""

from __future__ import annotations

import csv
from math import radians
from pathlib import Path

import pytest

from cardgen.rules.blade import Blade, Load, flat_stress
from cardgen.rules.cutting import Edge, Groove, Law, rake_factor, spindle_power, spindle_torque

ROWS = {
    row["id"]: row
    for row in csv.DictReader(
        (Path(__file__).parent.parent / "data" / "cutting_examples.csv").read_text().splitlines()
    )
}


def expected(id: str) -> object:
    row = ROWS[id]
    return pytest.approx(float(row["expected"]), abs=float(row["half_digit"]))


def test_kienzle_force() -> None:
    law = Law(kc11=1775, mc=0.24)
    assert law.force(Edge(width=1.0, thickness=0.1)) == expected("KZ01")
    assert law.force(Edge(width=10.0, thickness=0.1)) / (10.0 * 0.1) == expected("KZ01k")


def test_torque_and_power() -> None:
    assert spindle_torque(380, 30) == expected("KZ03t")
    assert spindle_power(380, 30, 60) == expected("KZ03p")


def test_bit_out_of_its_holder() -> None:
    assert flat_stress(1000 * 20, 10, 10) == expected("TB01")


def test_neck_of_a_square_thread_tool() -> None:
    """The whole blade, not only the formula: parallel and without relief it is the rectangle."""
    blade = Blade(3, 3, 8, 8, (0.0, 0.0), overhang=8, blank=8)
    assert blade.stress(Load(point=380)) == expected("TB02")


def test_rake_lowers_the_force_from_the_tables_zero() -> None:
    """Sandvik Coromant, Specific cutting force: kc1 is for 0 deg and falls with positive rake."""
    assert rake_factor(0, 0.01) == 1
    assert rake_factor(10, 0.01) < 1 < rake_factor(-5, 0.01)


def test_acme_groove_area() -> None:
    """Area of an Acme groove at a depth t: w t + t^2 tan 14.5 deg."""
    a = radians(14.5)
    assert Groove(a, a).area(2.0, 1.5) == pytest.approx(1.5 * 2 + 4 * 0.258618, abs=1e-5)
