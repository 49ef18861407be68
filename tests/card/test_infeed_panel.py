"""The pass list in narrow and wide columns: every setting there, large, with a box to tick."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest

from cardgen.card import place
from cardgen.card.marks import Page, Picture, Text
from cardgen.card.marks import Path as Line
from cardgen.core.figure import Sheets
from cardgen.pdf import fonts
from cardgen.sheets import every
from cardgen.spec.load import load
from tests.card.synthetic import Shape as Plain

JOBS = sorted((Path(__file__).parents[2] / "specs" / "jobs").glob("*.yaml"))


@dataclass(frozen=True)
class Shape(Plain):
    width: float
    height: float = 148.0
    margin: float = 5.0
    columns: int = 1
    order: tuple[str, ...] = ("infeed",)
    head: float = 11.0
    small: float = 7.5


@cache
def sheets(path: Path) -> tuple[Sheets, bool]:
    job = load(path)
    return every.work_out(job), job.inch


def picture(path: Path, column: float) -> Picture:
    return drawn_of(*sheets(path), column)


def drawn_of(worked: Sheets, inch: bool, column: float) -> Picture:
    """Lay out the panel alone; the engine proves that nothing overlaps or is clipped."""
    quiet = Sheets(tuple(replace(sheet, findings=[]) for sheet in worked))
    return place.lay_out(quiet, {}, Shape(column + 10.0), fonts.metrics(), inch=inch)


def texts(drawn: Picture, page: Page | None = None) -> list[Text]:
    pages = [page] if page else drawn.pages
    return [mark for each in pages for mark in each.marks if isinstance(mark, Text)]


def settings(drawn: Picture) -> list[str]:
    """Return the settings in reading order: what stands on one line, before each box."""
    found = []
    for page in drawn.pages:
        for before, mark in pairwise(page.marks):
            if isinstance(before, Text) and isinstance(mark, Line) and is_box(mark):
                line = [each for each in texts(drawn, page) if each.y == before.y]
                column = [each for each in line if each.x <= before.x]
                start = max(k for k, each in enumerate(column) if each.anchor == "end")
                found.append("".join(each.text for each in column[start + 1 :]))
                numbers = [each for each in column[start + 1 :] if each.text[0].isdigit()]
                assert all(each.size >= 14 and each.weight == "bold" for each in numbers)
    return found


def is_box(mark: Line) -> bool:
    """Whether a mark is a square to tick."""
    if not mark.closed or mark.fill is not None or len(mark.points) != 4:
        return False
    across = mark.points[1][0] - mark.points[0][0]
    return abs(across - (mark.points[2][1] - mark.points[1][1])) < 1e-9


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
@pytest.mark.parametrize("column", [62.5, 65.0, 95.0])
def test_every_setting_stands_in_the_dial_size_with_a_box(path: Path, column: float) -> None:
    passes = sheets(path)[0].passes
    wanted = [line.compound or line.dial for line in passes]
    assert settings(picture(path, column)) == wanted


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
def test_the_head_is_repeated_in_every_column_with_passes(path: Path) -> None:
    drawn = picture(path, 65.0)
    for page in drawn.pages:
        words = [mark.text for mark in texts(drawn, page)]
        if any(isinstance(mark, Line) and is_box(mark) for mark in page.marks):
            assert any("down each column" in word for word in words)


def test_flank_feed_shows_the_compound_and_how_it_is_set() -> None:
    drawn = picture(next(path for path in JOBS if path.stem == "ratchet-stud"), 95.0)
    words = " ".join(mark.text for mark in texts(drawn))
    assert "29.5°" in [mark.text for mark in texts(drawn) if mark.size >= 14]
    assert "shows 60.5°" in words
    assert "Compound" in words


def test_roughing_and_forming_are_told_apart() -> None:
    drawn = picture(next(path for path in JOBS if path.stem == "cider-press-spindle"), 65.0)
    words = " ".join(mark.text for mark in texts(drawn))
    assert "Roughing tool, 0.110 in wide" in words
    assert "Form tool: centre it in the groove" in words
    assert "Spring passes" in words


def test_a_job_without_a_schedule_has_no_panel() -> None:
    worked, _ = sheets(JOBS[0])
    without = Sheets(tuple(sheet for sheet in worked if sheet.topic != "cutting"))
    shape = replace(Shape(75.0), order=("infeed", "thread"))
    drawn = place.lay_out(without, {}, shape, fonts.metrics(), inch=False)
    assert "Infeed" not in [mark.text for mark in texts(drawn)]


@cache
def fed(job: str, infeed: str) -> tuple[Sheets, bool]:
    made = load(next(path for path in JOBS if path.stem == job))
    changed = replace(made, tool=replace(made.tool, infeed=infeed))  # type: ignore[arg-type]
    return every.work_out(changed), made.inch


@pytest.mark.parametrize("column", [62.5, 95.0])
def test_flanks_in_turn_show_both_dials_of_every_pass(column: float) -> None:
    worked, inch = fed("nipping-press-screw", "alternate")
    drawn = drawn_of(worked, inch, column)
    wanted = [
        f"{line.dial}, aside {line.compound.removeprefix('0 turns + ')}" for line in worked.passes
    ]
    assert settings(drawn) == wanted


@pytest.mark.parametrize("column", [62.5, 95.0])
def test_grooves_side_by_side_show_where_the_compound_goes(column: float) -> None:
    worked, inch = fed("cider-press-spindle", "widen")
    drawn = drawn_of(worked, inch, column)
    assert settings(drawn) == [line.dial for line in worked.passes]
    places = {line.compound for line in worked.passes if line.step == "side"}
    assert places
    told = [mark.text for mark in texts(drawn) if mark.weight == "bold" and mark.size >= 14]
    assert places <= set(told)


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
def test_the_chart_has_a_letter_for_each_limit_that_is_listed(path: Path) -> None:
    drawn = picture(path, 65.0)
    words = " ".join(mark.text for mark in texts(drawn))
    assert "Bite on the radius, at most" in words
    listed = re.findall(r"(?:Ruled by: |; )([CFBSTPRL]) ", words)
    shown = {mark.text for mark in texts(drawn) if mark.text in set("CFBSTPRL")}
    assert shown <= set(listed)
    assert listed
