"""The set-up panel in narrow and wide columns: complete, to scale, and nothing in the way."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from math import hypot

import pytest

from cardgen.card import place
from cardgen.card.marks import Disc, Picture, Text
from cardgen.core.figure import Sheets
from cardgen.pdf import fonts
from cardgen.spec.job import Hand, Job, ThreadEnd
from tests.card.synthetic import Shape as Plain
from tests.setup_job import changed, setup


@dataclass(frozen=True)
class Shape(Plain):
    width: float
    height: float = 210.0
    margin: float = 5.0
    columns: int = 1
    order: tuple[str, ...] = ("setup",)
    head: float = 11.0
    small: float = 7.5


def picture(job: Job, column: float) -> Picture:
    """Lay out the panel alone; the engine proves that nothing overlaps or is clipped."""
    sheets = Sheets((setup(job),))
    return place.lay_out(sheets, {}, Shape(column + 10.0), fonts.metrics(), inch=job.inch)


def words(drawn: Picture) -> str:
    return " ".join(
        mark.text for page in drawn.pages for mark in page.marks if isinstance(mark, Text)
    )


@pytest.mark.parametrize("column", [65.0, 95.0])
@pytest.mark.parametrize("hand", ["right", "left"])
@pytest.mark.parametrize("end", ["groove", "shoulder", "open"])
@pytest.mark.parametrize("pitch", [Fraction(5), Fraction(3), Fraction(127, 50), Fraction(1)])
def test_it_fits_and_shows_what_is_set(
    column: float, hand: Hand, end: ThreadEnd, pitch: Fraction
) -> None:
    job = changed(pitch=pitch, hand=hand, end=end, hand_crank=True)
    sheet = setup(job)
    shown = words(picture(job, column))
    train = str(sheet["setup.train"].value)
    assert train.replace("/", " / ").replace(" x ", " × ") in shown
    assert f"{sheet.number('setup.speed'):.0f} rev/min" in shown
    assert re.search(r"\d+\.\d s ", shown)
    assert "Thread dial" in shown
    assert str(sheet["setup.leadscrew_turns"].value).split()[0] in shown


def test_what_is_dialled_in_is_large() -> None:
    job = changed()
    large = [
        mark.text
        for page in picture(job, 65.0).pages
        for mark in page.marks
        if isinstance(mark, Text) and mark.size >= 14.0
    ]
    assert "75 / 45" in large
    assert "60 rev/min" in large
    assert "24.0 s" in large
    assert "half-nut stays closed" in large


@pytest.mark.parametrize("column", [65.0, 95.0])
def test_pitch_circles_touch_and_keep_their_proportion(column: float) -> None:
    """Compound 75/50 x 80/120: first and second touch, third and fourth; radii as the teeth."""
    job = changed(pitch=Fraction(3))
    assert setup(job)["setup.train"].value == "75/50 x 80/120"
    discs = {
        round(mark.radius, 6): (mark.x, mark.y)
        for page in picture(job, column).pages
        for mark in page.marks
        if isinstance(mark, Disc)
    }
    radii = sorted(discs)
    assert len(radii) == 4
    small, first, stud, last = radii  # 50, 75, 80, 120 teeth
    assert [radius / small for radius in radii] == pytest.approx([1.0, 1.5, 1.6, 2.4], rel=1e-4)
    assert discs[small] == pytest.approx(discs[stud])
    for one, other in ((first, small), (stud, last)):
        (x1, y1), (x2, y2) = discs[one], discs[other]
        assert hypot(x1 - x2, y1 - y2) == pytest.approx(one + other, rel=1e-4)


def test_inexact_wheels_show_their_error() -> None:
    job = changed(pitch=Fraction(127, 40), gears=(20, 30, 40, 50, 60, 63, 80, 100), groove=40.0)
    shown = words(picture(job, 95.0))
    assert "Lead error" in shown
    assert "ppm" in shown
    assert "exact" not in shown.replace("exactly", "")


def test_two_starts_say_how_the_next_is_found() -> None:
    shown = words(picture(changed(pitch=Fraction(4), starts=2, groove=20.0), 65.0))
    assert "marks 1, 5" in shown
    assert "marks 3, 7" in shown


@pytest.mark.parametrize("column", [52.0, 65.0, 95.0])
@pytest.mark.parametrize("marks", [1, 4, 8, 12, 16, 48])
@pytest.mark.parametrize("starts", [1, 2, 3])
def test_any_thread_dial_is_drawn_without_its_words_in_the_way(
    column: float, marks: int, starts: int
) -> None:
    """The layout engine proves that no text lies on another; line 1 is always numbered."""
    for pitch, gear in ((Fraction(4), 16), (Fraction(5, 2), 15), (Fraction(9, 2), 18)):
        job = changed(pitch=pitch, starts=starts, groove=60.0, thread_dial=(gear, marks))
        sheet = setup(job)
        drawn = picture(job, column)
        dial = [name for name in sheet.outlines if name.startswith("setup.dial.")]
        assert len(dial) in {0, marks}
        if dial:
            assert "Line 1 is where" in words(drawn)
