"""Travel of the compound slide for a radial depth: 1 / cos of its angle; ``compound_travel.csv``.

Angles: F. D. Jones, Turning and Boring (1919); a machine-shop training text; a Navy training
manual. Depth of Unified threads, 0.61343 P: 17/24 H.
"""

from __future__ import annotations

import csv
from dataclasses import replace
from math import cos, radians
from pathlib import Path

import pytest

from cardgen.rules.cutting import Groove
from cardgen.rules.dialling import reading
from cardgen.rules.methods import Plan, feed_angle_deg, plan
from tests.rules.cases import case

ROWS = list(
    csv.DictReader(
        (Path(__file__).parent.parent / "data" / "compound_travel.csv").read_text().splitlines()
    )
)
VEE = Groove(radians(30), radians(30))


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["id"])
def test_travel_of_the_compound(row: dict[str, str]) -> None:
    """The plan's own step of depth for a division of the compound gives the printed factor."""
    relief = 30 - float(row["angle_deg"])
    made = case(groove=VEE)
    made = replace(made, practice=replace(made.practice, flank_relief=relief))
    found = plan(made, "flank")
    assert isinstance(found, Plan)
    assert found.feed_deg == pytest.approx(float(row["angle_deg"]))
    assert made.compound_step is not None
    assert made.compound_step / found.lathe.step == pytest.approx(
        float(row["factor"]), abs=float(row["half_digit"])
    )


@pytest.mark.parametrize(
    ("threads", "radial", "travel"), [(10, 0.0613, 0.0705), (13, 0.0472, 0.0542)]
)
def test_unified_threads_at_29_and_a_half(threads: int, radial: float, travel: float) -> None:
    """10 and 13 threads per inch, depths and travels in inches as worked from 0.61343 P."""
    depth = 0.61343 / threads
    assert depth == pytest.approx(radial, abs=0.00005)
    assert depth / cos(radians(29.5)) == pytest.approx(travel, abs=0.00005)


def test_a_sixty_degree_thread_is_fed_at_29_and_a_half() -> None:
    """Navy training manual, tpub 14345, Fig. 6-91."""
    assert feed_angle_deg(case(groove=VEE)) == pytest.approx(29.5)


def test_dial_counts_turns() -> None:
    assert reading(0, 100) == "0 turns + 0"
    assert reading(15, 100) == "0 turns + 15"
    assert reading(100, 100) == "1 turn + 0"
    assert reading(275, 100) == "2 turns + 75"
