"""Play and travel of the slides: what the dial shows of them, and a feed that is too long."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Literal

import pytest

from cardgen.core.figure import Sheet
from cardgen.sheets.slides import work_out
from cardgen.spec.job import Job
from tests.setup_job import JOB


def slides(job: Job, method: str, travel: float) -> Sheet:
    cutting = Sheet("cutting", {})
    cutting.add("cutting.method", method, source="test", basis="practice")
    if method == "flank":
        cutting.add("cutting.compound_travel", travel, source="test", basis="computed")
    sheet = Sheet("slides", cutting.figures)
    work_out(job, sheet)
    return sheet


def with_slides(
    reads: Literal["diameter", "radius"], play: float | None, reach: float | None
) -> Job:
    dial = replace(JOB.machine.cross_slide, reads=reads, backlash=play)
    compound = replace(dial, reads="radius", travel=reach)
    return replace(JOB, machine=replace(JOB.machine, cross_slide=dial, compound_slide=compound))


@pytest.mark.parametrize(
    ("reads", "divisions"),
    [
        ("radius", 6),  # 0.12 mm of 0.02 mm of slide travel a line
        ("diameter", 12),  # a line of 0.02 mm on the diameter is 0.01 mm of slide travel
    ],
)
def test_play_is_counted_in_the_dials_own_lines(
    reads: Literal["diameter", "radius"], divisions: float
) -> None:
    sheet = slides(with_slides(reads, 0.12, None), "flank", 3.0)
    assert sheet.number("setup.cross_play") == pytest.approx(divisions)
    assert sheet.number("setup.compound_play") == pytest.approx(6)
    assert "inwards" in sheet["setup.cross_play"].note


def test_an_inch_dial_counts_its_play_in_thousandths() -> None:
    """0.254 mm are ten lines of a thousandth of an inch of slide travel."""
    job = with_slides("radius", 0.254, None)
    dial = replace(
        job.machine.cross_slide,
        division_exact=Fraction(127, 5000),
        per_turn_exact=Fraction(127, 50),
        inch=True,
    )
    job = replace(job, machine=replace(job.machine, cross_slide=dial))
    assert slides(job, "plunge", 0.0).number("setup.cross_play") == pytest.approx(10)


def test_play_that_nobody_measured_is_not_made_up() -> None:
    sheet = slides(with_slides("radius", None, None), "flank", 3.0)
    assert not sheet.figures


@pytest.mark.parametrize(
    ("travel", "found"),
    [
        (10.0, {}),
        (42.0, {"setup.compound_nearly_out": False}),
        (50.1, {"setup.compound_too_short": True}),
    ],
)
def test_a_flank_feed_longer_than_the_compound_is_refused(
    travel: float, found: dict[str, bool]
) -> None:
    sheet = slides(with_slides("radius", None, 50.0), "flank", travel)
    assert {each.id: each.refuses for each in sheet.findings} == found
    if sheet.findings:
        assert "50.0 mm" in sheet.findings[0].text


def test_plunging_asks_nothing_of_the_compound() -> None:
    sheet = slides(with_slides("radius", 0.1, 5.0), "plunge", 0.0)
    assert not sheet.findings
    assert "setup.compound_travel" not in sheet
