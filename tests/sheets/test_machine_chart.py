"""The chart of a machine: complete against the standards' own lists, and true to its wheels."""

from __future__ import annotations

import csv
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from cardgen.core.chart import Line
from cardgen.sheets.chart import work_out
from tests.setup_job import MACHINE

CHART = work_out(MACHINE)
INCH = Fraction(127, 5)
PREFERRED = [
    # ISO 262 coarse and fine pitches, and the coarse ones of ISO 2902 (trapezoidal).
    *(0.2, 0.25, 0.3, 0.35, 0.4, 0.45, 0.5, 0.6, 0.7, 0.75, 0.8, 1, 1.25, 1.5, 1.75),
    *(2, 2.5, 3, 3.5, 4, 4.5, 5, 5.5, 6, 7, 8, 9, 10, 12, 14),
]
COMMON = [4, 4.5, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 16, 18, 19, 20, 24, 26, 28, 32, 36, 40, 48, 56]


def cut(line: Line, leadscrew: Fraction) -> Fraction:
    lead = leadscrew
    for pair in line.wheels.split(" x "):
        driver, driven = map(int, pair.split("/"))
        lead *= Fraction(driver, driven)
    return lead


def test_every_usual_pitch_is_there_once() -> None:
    metric = [float(line.pitch) for line in CHART.metric]
    inch = [float(line.pitch) for line in CHART.inch]
    assert set(PREFERRED) <= set(metric)
    assert set(COMMON) <= set(inch)
    assert len(set(metric)) == len(metric)
    assert len(set(inch)) == len(inch)
    # The coarsest first, in either.
    assert metric == sorted(metric, reverse=True)
    assert inch == sorted(inch)


@pytest.mark.parametrize("line", [*CHART.metric, *CHART.inch], ids=lambda line: line.pitch)
def test_the_printed_wheels_cut_the_pitch_within_the_printed_error(line: Line) -> None:
    wanted = Fraction(line.pitch) if line in CHART.metric else INCH / Fraction(line.pitch)
    if line.error_ppm is None:
        assert line.wheels == ""
        return
    lead = cut(line, Fraction(3))
    assert float((lead / wanted - 1) * 10**6) == pytest.approx(line.error_ppm, abs=1e-9)
    # Over a nut of eight pitches a hundredth and a twentieth of a pitch, in millionths.
    off = abs(line.error_ppm)
    drift = "none" if off <= 1250 else "some" if off <= 6250 else "too-much"
    assert line.drift == drift


def test_a_wheel_of_127_makes_the_inches_exact() -> None:
    assert all(line.error_ppm == 0 for line in CHART.inch if line.pitch in {"8", "10", "16", "20"})
    without = work_out(replace(MACHINE, gears=tuple(z for z in MACHINE.gears if z != 127)))
    assert all(line.error_ppm != 0 for line in without.inch)


def test_a_dial_wheel_that_serves_is_named() -> None:
    """1.25 mm on a 3 mm leadscrew comes back after 15 mm: a dial wheel of 15, not of 16."""
    several = work_out(replace(MACHINE, dial_gears=(15,)))
    line = next(line for line in several.metric if line.pitch == "1.25")
    assert line.marks == "1 (15)"
    alone = next(line for line in CHART.metric if line.pitch == "1.25")
    assert alone.marks == "closed"


def rows(name: str) -> list[dict[str, str]]:
    path = Path(__file__).parents[1] / "data" / name
    return list(csv.DictReader(path.read_text("utf-8").splitlines()))


def test_the_chart_of_a_sixteen_thread_leadscrew_is_the_makers() -> None:
    """Clarke CL300M p.21, gear chart and indicator table: all rows exact, all marks as printed."""
    machine = replace(
        MACHINE,
        leadscrew_exact=INCH / 16,
        leadscrew_inch=True,
        gears=(20, 30, 35, 40, 40, 45, 50, 55, 57, 60, 65),
        module=None,
        thread_dial=(16, 8),
    )
    lines = {line.pitch: line for line in work_out(machine).inch}
    geared = [row["tpi"] for row in rows("gear_chart_16tpi.csv") if row["tpi"] in lines]
    assert len(geared) >= 14
    assert all(lines[tpi].error_ppm == 0 for tpi in geared)
    printed = {
        row["tpi_cut"]: row["published"]
        for row in rows("thread_dial_charts.csv")
        if row["leadscrew_tpi"] == "16" and row["tpi_cut"] in lines
    }
    assert len(printed) >= 14
    assert {tpi: lines[tpi].marks.replace(" ", "") for tpi in printed} == printed
