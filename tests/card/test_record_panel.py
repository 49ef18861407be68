"""The record strip has a line for each measuring stop, high enough for a marker."""

from __future__ import annotations

import re
from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest

from cardgen.card import place
from cardgen.card.marks import Path as Line
from cardgen.card.marks import Picture, Text
from cardgen.core.figure import Sheets
from cardgen.pdf import fonts
from cardgen.sheets import every
from cardgen.spec.load import load
from tests.card.synthetic import Shape

JOBS = sorted((Path(__file__).parents[2] / "specs" / "jobs").glob("*.yaml"))


@cache
def sheets(path: Path) -> tuple[Sheets, bool]:
    job = load(path)
    return every.work_out(job), job.inch


def picture(path: Path, width: float, line: float = 8.5) -> Picture:
    worked, inch = sheets(path)
    shape = Shape(width + 10.0, 200.0, 5.0, 1, ("record",), record_line=line)
    return place.lay_out(worked, {}, shape, fonts.metrics(), inch=inch)


def strip(drawn: Picture) -> tuple[list[Line], list[str]]:
    lines: list[Line] = []
    words: list[str] = []
    for page in drawn.pages:
        parts = [box for box in page.boxes if box.kind == "panel" and box.owner == "record"]
        for part in parts:
            for mark in page.marks:
                if isinstance(mark, Text) and part.top <= mark.y <= part.bottom:
                    words.append(mark.text)
                elif isinstance(mark, Line) and part.top <= mark.points[0][1] <= part.bottom + 0.1:
                    lines.append(mark)
    return [line for line in lines if len(line.points) == 2], words


@pytest.mark.parametrize("line", [8.0, 8.5, 12.0])
@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
def test_lines_to_write_on_are_high_enough(path: Path, line: float) -> None:
    lines, words = strip(picture(path, 62.0, line))
    # The first line is the heading's rule.
    levels = [mark.points[0][1] for mark in lines][1:]
    assert len(levels) >= 5
    for one, other in pairwise(levels):
        assert other - one >= line - 1e-6
    said = " ".join(words)
    for word in ("Finished", "Date, by", "Remarks"):
        assert word in said


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
def test_each_stop_that_the_maker_is_told_of_has_its_line(path: Path) -> None:
    told = [step.text for step in sheets(path)[0]["measure"].steps if step.kind == "stages"]
    stops = re.findall(r"([\d.]+) (?:mm|in) after pass (\d+)", " ".join(told))
    words = strip(picture(path, 90.0))[1]
    assert [word for word in words if word.startswith("After pass")] == [
        f"After pass {number}" for _, number in stops
    ]
    for reading, _ in stops:
        assert any(f": {reading}" in word for word in words)
