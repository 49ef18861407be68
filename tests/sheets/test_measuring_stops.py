"""The readings at the stops, against what follows from the finished thread's own.

The groove at a stop is the finished one with its flanks standing back, on the radius, by the depth
that is left. In a plane the reading is larger by twice that; on the thicker groove the lead angle
is smaller, and so is what the usual short formula adds for it.
"""

from __future__ import annotations

from dataclasses import replace
from math import cos, hypot, pi, radians, tan
from pathlib import Path

import pytest

from cardgen.core.figure import Sheets
from cardgen.sheets import every
from cardgen.spec.load import load

JOBS = sorted((Path(__file__).parents[2] / "specs" / "jobs").glob("*.yaml"))


def stops(sheets: Sheets) -> list[tuple[int, float, float]]:
    """Return pass, depth left and reading of each stop."""
    figures = sheets.figures
    return [
        (
            round(figures[f"cutting.stop_{count}_pass"].number),
            figures[f"cutting.stop_{count}_left"].number,
            figures[f"measure.stop_{count}"].number,
        )
        for count in (1, 2, 3)
        if f"measure.stop_{count}" in figures
    ]


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
def test_readings_fall_to_the_finished_size(path: Path) -> None:
    sheets = every.work_out(load(path))
    found = stops(sheets)
    passes = {line.number: line for line in sheets.passes}
    full = sheets.passes[-1].depth
    for number, left, _ in found:
        assert left == pytest.approx(full - passes[number].depth)
        assert passes[number].step in {"rough", "widen", "finish"}
    lefts = [left for _, left, _ in found]
    assert lefts == sorted(lefts, reverse=True)


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
def test_readings_are_larger_by_what_is_left(path: Path) -> None:
    figures = every.work_out(load(path)).figures
    ids = ("measure.over_wires", "measure.between_balls", "measure.caliper_root")
    of = next((figures[id] for id in ids if id in figures), None)
    if of is None or of.low is None or of.high is None:
        pytest.skip("nothing to read")
    way = -1 if of.id == "measure.between_balls" else 1
    for _, left, reading in stops(every.work_out(load(path))):
        flat = (of.low + of.high) / 2 + way * 2 * left
        lead = 0.0
        if of.id == "measure.over_wires":
            # w / 2 tan(L)^2 cos(a) / tan(a): Machinery's Handbook 31st ed. p. 2135
            a = radians(figures["thread.leading_flank"].number or 45)
            d2 = figures["thread.pitch_diameter"].number
            wire, turn = figures["measure.wire_chosen"].number, figures["thread.lead"].number / pi
            steep = (turn / (d2 + 2 * left)) ** 2 - (turn / d2) ** 2
            lead = wire / 2 * steep * cos(a) / tan(a)
        elif of.id == "measure.caliper_root":
            # Knife edges in grooves that are half a pitch apart: the way between them is slanted.
            root = figures["thread.minor_diameter"]
            assert root.low is not None
            assert root.high is not None
            shift = figures["measure.two_wire_shift"].number
            flat = hypot((root.low + root.high) / 2 + 2 * left, shift)
        assert reading == pytest.approx(flat + lead, abs=0.004)


def test_a_flank_that_is_cut_aside_is_not_measured() -> None:
    job = load(next(path for path in JOBS if path.stem == "nipping-press-screw"))
    sheets = every.work_out(replace(job, tool=replace(job.tool, infeed="alternate")))
    passes = {line.number: line for line in sheets.passes}
    found = stops(sheets)
    assert found
    assert all(passes[number].compound == "0 turns + 0" for number, _, _ in found)
