"""Published lists of passes for 60 degree threads; ``pass_table_60deg.csv``.

Dormer Pramet catalogue 2021-22 p. 311: ten pitches, 0.5 to 3 mm, increments on the radius. The
column of 0.80 mm is left out of the data: its increments do not make up the depth.

A published list is one row of bites that somebody thought safe. Under limits that just allow it,
the optimiser must not need more passes than it has.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import accumulate, groupby, pairwise
from math import radians

import pytest

from cardgen.rules.cutting import Groove
from cardgen.rules.infeed import Schedule, schedule
from cardgen.rules.passes import Stage
from tests.rows import rows
from tests.rules.cases import CASE, LATHE

VEE = Groove(radians(30), radians(30))
LISTS = {
    float(pitch): [float(row["increment_mm"]) for row in run]
    for pitch, run in groupby(rows("pass_table_60deg"), key=lambda row: row["pitch_mm"])
}
GRAIN = 0.005
"""Division of the dial [mm], to which the published depths are rounded."""


def divisions(increments: list[float]) -> list[int]:
    ends = [round(depth / GRAIN) for depth in accumulate(increments)]
    return [after - before for before, after in pairwise([0, *ends])]


def stage(pitch: float, total: int, chip: float) -> Stage:
    return Stage("rough", 0, total, 0.125 * pitch, VEE, CASE.blade, chip, CASE.confined)


@pytest.mark.parametrize("pitch", LISTS)
def test_the_depth_is_that_of_the_thread(pitch: float) -> None:
    assert sum(LISTS[pitch]) == pytest.approx(0.57735 * pitch, abs=0.0015)


@pytest.mark.parametrize("pitch", LISTS)
def test_no_more_passes_than_published_within_the_published_chip(pitch: float) -> None:
    bites = divisions(LISTS[pitch])
    lathe = replace(LATHE, step=GRAIN, allowed={})
    found = schedule(lathe, (stage(pitch, sum(bites), max(bites) * GRAIN),), min(bites))
    assert isinstance(found, Schedule)
    assert len(found.bites) <= len(bites)


@pytest.mark.parametrize("pitch", LISTS)
def test_no_more_passes_than_published_within_the_published_force(pitch: float) -> None:
    bites = divisions(LISTS[pitch])
    lathe = replace(LATHE, step=GRAIN, allowed={})
    whole = stage(pitch, sum(bites), 1.0)
    starts = accumulate(bites, initial=0)
    forces = [lathe.cut(whole, at, bite).force for at, bite in zip(starts, bites, strict=False)]
    bound = replace(lathe, allowed={"force": max(forces)})
    found = schedule(bound, (whole,), min(bites))
    assert isinstance(found, Schedule)
    assert len(found.bites) <= len(bites)
