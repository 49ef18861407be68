"""The cutter's panel: whole in narrow and wide columns, true to scale, its numbers large."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

import pytest

from cardgen.card import place
from cardgen.card.marks import Path, Picture, Text
from cardgen.core.figure import Sheets
from cardgen.core.rounding import limits_written, written
from cardgen.pdf import fonts
from cardgen.spec.job import Hand, Job
from tests.card.synthetic import Shape as Plain
from tests.tool_job import job, worked


@dataclass(frozen=True)
class Shape(Plain):
    width: float
    height: float = 210.0
    margin: float = 5.0
    columns: int = 1
    order: tuple[str, ...] = ("tool",)
    head: float = 11.0
    small: float = 7.0


def picture(job: Job, column: float, height: float = 210.0) -> Picture:
    """Lay out the panel alone; the engine proves that nothing overlaps or is clipped."""
    shape = Shape(column + 10.0, height)
    return place.lay_out(Sheets(worked(job)), {}, shape, fonts.metrics(), inch=job.inch)


def texts(drawn: Picture) -> list[Text]:
    return [mark for page in drawn.pages for mark in page.marks if isinstance(mark, Text)]


JOBS = {
    "trapezoidal": job(),
    "left two-start": job("trapezoidal", 20.0, Fraction(4), starts=2, hand="left", blank=8.0),
    "square inch": job("square", 31.75, Fraction(127, 20), blank=9.525, inch=True),
    "metric": job("metric", 16.0, Fraction(2), blank=8.0),
    "fine metric": job("metric", 6.0, Fraction(1), blank=6.0),
    "tipped": job("acme", 25.4, Fraction(127, 25), starts=3, setting="tipped", blank=12.7),
    "large": job("trapezoidal", 80.0, Fraction(10), blank=16.0),
    "larger": job("trapezoidal", 120.0, Fraction(20), blank=25.0),
    "raked": job(rake=8.0),
}


@pytest.mark.parametrize("column", [60.0, 62.6, 65.5, 95.0])
@pytest.mark.parametrize("name", JOBS)
def test_it_fits_and_says_what_figures_say(name: str, column: float) -> None:
    asked = JOBS[name]
    _, sheet = worked(asked)
    shown = " ".join(mark.text for mark in texts(picture(asked, column)))
    for id in ("tool.relief_leading", "tool.relief_trailing", "tool.end_relief", "tool.rake"):
        assert written(sheet[id], inch=asked.inch) in shown
    low_and_high = limits_written(sheet["tool.tip_width"], inch=asked.inch).split(" / ")
    assert low_and_high[0].split()[0] in shown
    assert low_and_high[1] in shown
    assert "third angle" in shown
    assert "Scale " in shown
    assert "1:1." in shown


@pytest.mark.parametrize("name", JOBS)
def test_it_fits_the_lowest_card(name: str) -> None:
    drawn = picture(JOBS[name], 66.5, 105.0)
    assert "third angle" in " ".join(mark.text for mark in texts(drawn))


@pytest.mark.parametrize("hand", ["right", "left"])
def test_reliefs_are_the_largest_numbers_and_stand_on_their_sides(hand: Hand) -> None:
    asked = job("trapezoidal", 20.0, Fraction(4), starts=2, hand=hand, blank=8.0)
    large = [mark for mark in texts(picture(asked, 65.0)) if mark.size >= 14.0]
    leading = next(mark for mark in large if mark.text == "12.3°")
    trailing = next(mark for mark in large if mark.text == "−4.3°")
    # As in the views above them: chuck side on the right.
    assert (leading.x > trailing.x) == (hand == "right")
    words = texts(picture(asked, 65.0))
    named = {mark.text: mark for mark in words if mark.text in ("tailstock side", "chuck side")}
    assert named["chuck side"].x > named["tailstock side"].x
    leads = "chuck side" if hand == "right" else "tailstock side"
    assert [text for text, mark in named.items() if mark.weight == "bold"] == [leads]


def test_true_size_shapes_are_true_to_size() -> None:
    asked = job()
    _, sheet = worked(asked)
    filled = [
        mark
        for page in picture(asked, 65.0).pages
        for mark in page.marks
        if isinstance(mark, Path) and mark.fill is not None and mark.fill.grey == 0.0
        if len(mark.points) == 8
    ]
    (face,) = filled
    across = [x for x, _ in face.points]
    assert max(across) - min(across) == pytest.approx(10.0)
    tip = sorted(face.points, key=lambda point: -point[1])[:2]
    assert abs(tip[0][0] - tip[1][0]) == pytest.approx(sheet.number("tool.tip_width"))


def test_a_refused_tool_still_shows_its_numbers() -> None:
    asked = job("trapezoidal", 60.0, Fraction(12), blank=6.0)
    shown = " ".join(mark.text for mark in texts(picture(asked, 65.0)))
    assert "What helps" in shown
    assert "third angle" not in shown
