"""Force, deflection and power as others worked them; sources in ``cutting_published.csv``."""

from __future__ import annotations

import csv
from math import log
from pathlib import Path

import numpy as np
import pytest

from cardgen.rules.beam import Beam, Pin, Section, second_moment
from cardgen.rules.boring import Bar
from cardgen.rules.cutting import Edge, Law, spindle_power
from cardgen.rules.speeds import cutting_speed, speed_for_cutting_speed

DATA = Path(__file__).parent.parent / "data"
INCH, LBF, PSI = 25.4, 4.4482216, 4.4482216 / 25.4**2


def rows(name: str) -> list[dict[str, str]]:
    return list(csv.DictReader((DATA / name).read_text().splitlines()))


ROWS = {row["id"]: row for row in rows("cutting_published.csv")}


def expected(id: str) -> object:
    row = ROWS[id]
    return pytest.approx(float(row["expected"]), abs=float(row["half_digit"]))


def flat(kc: float) -> Law:
    """A material whose specific force does not depend on the chip."""
    return Law(kc, 0.0)


def test_motor_power_of_a_turning_cut() -> None:
    force = flat(3100).force(Edge(3.0, 0.2))
    speed = speed_for_cutting_speed(120.0, 60.0)
    assert spindle_power(force, 60.0, speed) / 0.8 / 1000 == expected("power-turning")


def test_speeds() -> None:
    assert speed_for_cutting_speed(80.0, 250.0) == expected("speed-milling")
    assert cutting_speed(150.0, 250.0) == expected("speed-turning")


def test_parting_off() -> None:
    force = flat(800).force(Edge(2.0, 0.2))
    assert force == expected("force-parting")
    speed = speed_for_cutting_speed(60.0, 100.0)
    assert spindle_power(force, 100.0, speed) == expected("power-parting")


def test_specific_energy() -> None:
    # 1e9 J/m3 is 1000 MPa.
    assert flat(1000).force(Edge(4.0, 0.25)) == expected("force-turning")


def test_boring_bar() -> None:
    assert second_moment(25.4) == expected("inertia-bar")
    bar = Bar(blank=50.0, bar=25.4, overhang=101.6, reach=5.0, modulus=206_000.0)
    assert 911.1 * bar.give(0.0) == expected("boring-bar")
    inch = Bar(blank=50.0, bar=25.4, overhang=101.6, reach=5.0, modulus=30e6 * PSI)
    for force in (197.7, 207.8):
        assert force * LBF * inch.give(0.0) / INCH == expected("boring-bar-inch")


def test_stepped_shaft_under_a_spread_load() -> None:
    sections = tuple(Section(a * INCH, d * INCH) for a, d in ((4, 1.5), (12, 2), (4, 1.5)))
    shaft = Beam(sections, 30e6 * PSI, clamped=False)
    nodes, weights = np.polynomial.legendre.leggauss(12)
    places = (10 + 6 * nodes) * INCH
    loads = 200 * LBF * 6 * weights
    moved = sum(
        load * shaft.movement(10 * INCH, place) for load, place in zip(loads, places, strict=True)
    )
    assert moved / INCH == expected("stepped-shaft")


def test_largest_deflection_at_the_load_of_a_propped_bar() -> None:
    bar = Beam((Section(200.0, 16.0),), 205_000.0, clamped=True, pins=(Pin(200.0),))
    stiffness = 205_000.0 * second_moment(16.0) / 200.0**3
    assert bar.deflection(0.586 * 200.0) * stiffness == expected("propped-largest")


def test_specific_forces_follow_kienzles_law() -> None:
    """A maker's table over feeds of 0.1 to 0.6 mm is the law's straight line to 7 %."""
    feeds = (0.1, 0.2, 0.3, 0.4, 0.6)
    for row in rows("specific_forces.csv"):
        kc = [float(row[f"kc_{feed:g}"]) for feed in feeds]
        slope, height = np.polyfit([log(feed) for feed in feeds], np.log(kc), 1)
        law = Law(float(np.exp(height)), float(-slope))
        assert 0.1 < law.mc < 0.35
        for feed, told in zip(feeds, kc, strict=True):
            assert law.force(Edge(1.0, feed)) / feed == pytest.approx(told, rel=0.07), row
