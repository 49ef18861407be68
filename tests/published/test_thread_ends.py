"""Undercuts and tap drills as printed, and what they must have to do with the thread.

Sources in the data files: undercuts DIN 76 as a control's manual lists them; drills from a
trainees' handbook (Thread Cutting by Dies and Taps, Institut fuer Berufliche Entwicklung,
Appendix 1), percentages from a tool supplier's catalogue (Tooling Solutions Vol. 1, 2024, metric
cut taps).
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from cardgen import library
from cardgen.core.figure import Figure, Sheet
from cardgen.sheets import mate, thread
from cardgen.spec.job import Job, Mate, Thread
from cardgen.spec.size import read_size
from tests.rows import rows
from tests.sheets.test_thread_sheets import demo


def metric(diameter: float, pitch: Fraction, groove: float | None = None) -> Job:
    job = demo()
    asked = Thread("metric", "external", diameter, pitch, 1, "right", "6g", 30.0, False)
    end = "open" if groove is None else "groove"
    work = replace(job.work, stock=diameter + 5, groove=groove, thread_end=end)
    nut = Mate("nut", None, None, "6H")
    return replace(job, thread=asked, work=work, mate=nut, places={})


def sheet_of(job: Job) -> Sheet:
    made = Sheet("thread", {})
    thread.work_out(job, made)
    return made


@pytest.mark.parametrize("row", rows("tap_drills_ibe"), ids=lambda row: f"{row['d']}x{row['p']}")
def test_tap_drills(row: dict[str, str]) -> None:
    """Charts round 6.75 to a drill that is sold, one to 6.75 and another to 6.8."""
    job = metric(float(row["d"]), Fraction(row["p"]))
    known = sheet_of(job).figures
    made = Sheet("mate", known)
    mate.work_out(job, made)
    drill = made.figures["mate.tap_drill"]
    bore = made.figures["mate.minor_diameter"]
    assert bore.low is not None and bore.high is not None  # noqa: PT018
    assert drill.number == pytest.approx(float(row["drill"]), abs=0.051)
    assert bore.low <= drill.number <= bore.high
    assert 0.6 < made.figures["mate.tap_engagement"].number <= 1.0


def drilled(form: str, size: str, cls: str) -> tuple[Figure, Figure, Figure]:
    """Return tap drill, engagement and bore of a nut, by the thread's designation."""
    read = read_size(size)
    assert read.pitch is not None
    asked = Thread(
        form, "external", float(read.diameter), read.pitch, 1, "right", cls, 30.0, read.inch,
        series=read.series,
    )  # fmt: skip
    job = replace(demo(), thread=asked, mate=Mate("nut", None, None, ""), places={})
    made = Sheet("mate", sheet_of(job).figures)
    mate.work_out(job, made)
    found = made.figures
    return found["mate.tap_drill"], found["mate.tap_engagement"], found["mate.minor_diameter"]


OVER = {"9/16-18 UNF", "5/8-18 UNF"}
"""Sizes whose usual drill is up to 0.016 mm over the bore of class 2B; the next tenth is taken."""


@pytest.mark.parametrize("row", rows("tap_drills_inch"), ids=lambda row: row["designation"])
def test_inch_tap_drills(row: dict[str, str]) -> None:
    drill, engagement, bore = drilled("unified", row["designation"], "2A")
    assert bore.low is not None
    assert bore.high is not None
    printed = float(row["drill_in"])
    if row["designation"] in OVER:
        assert 25.4 * printed == pytest.approx(bore.high, abs=0.02)
        assert bore.high - 0.1 < drill.number < bore.high
    else:
        # A printed fraction is rounded to four places; some charts by thousandths of an inch.
        assert drill.number / 25.4 == pytest.approx(printed, abs=0.0004)
        assert drill.basis == "handbook"
    assert bore.low <= drill.number <= bore.high
    assert 0.6 < engagement.number <= 1.0


@pytest.mark.parametrize(
    ("form", "size", "cls", "drill"),
    [
        ("pipe-parallel", "G 1/4", "A", 11.8),
        ("pipe-parallel", "G 1/2", "A", 19.0),
        ("pipe-parallel", "G 1", "A", 30.75),
        # The list's 45.5 mm is 0.015 mm over the bore.
        ("pipe-parallel", "G 1 1/2", "A", 45.4),
        ("ba", "2 BA", "normal", 4.0),
        ("ba", "6 BA", "normal", 2.3),
        ("whitworth", "1/4 BSW", "medium", 5.1),
        ("whitworth", "1/2 BSW", "medium", 10.5),
    ],
)
def test_british_tap_drills(form: str, size: str, cls: str, drill: float) -> None:
    """Pipe: a published list. BA: tables of dealers and model engineers. BSW: within the bore."""
    found, engagement, bore = drilled(form, size, cls)
    assert found.number == pytest.approx(drill, abs=1e-6)
    assert bore.low is not None
    assert bore.high is not None
    assert bore.low <= found.number <= bore.high
    assert 0.6 < engagement.number <= 1.0


@pytest.mark.parametrize(
    ("diameter", "pitch", "percent", "drill"),
    [(3.0, "1/2", 80, 2.48), (3.0, "1/2", 65, 2.58),
     (4.0, "7/10", 75, 3.32), (4.0, "7/10", 65, 3.41)],
)  # fmt: skip
def test_the_engagement_that_a_drill_leaves(
    diameter: float, pitch: str, percent: float, drill: float
) -> None:
    """A tool catalogue's drills by percentage, which it counts on 1.299 P: 0.83 of ours."""
    sheet = sheet_of(metric(diameter, Fraction(pitch)))
    ours = (diameter - drill) / (2 * sheet.figures["thread.engagement"].number)
    # Half of the drill's last printed digit.
    half = 0.005 / (1.299 * float(Fraction(pitch)))
    assert 0.8333 * ours == pytest.approx(percent / 100, abs=half + 1e-3)


def test_undercuts_clear_the_root_and_hold_the_tool() -> None:
    """Every listed undercut lies below the deepest root, and is two to four pitches wide."""
    for row in library.table("threads/din_76_undercuts"):
        pitch, step, width = (float(row[key]) for key in ("p_mm", "step_mm", "width_mm"))
        if row["surface"] == "external":
            assert step > 1.2268 * pitch, row
            assert 3.3 * pitch < width < 3.7 * pitch, row
        else:
            assert 4.6 * pitch < width < 6.1 * pitch, row
        if row["least_mm"]:
            assert float(row["least_mm"]) < width


@pytest.mark.parametrize(
    ("diameter", "pitch", "undercut", "width"),
    [(10.0, "3/2", 7.7, 5.2), (16.0, "2", 13.0, 7.0), (8.0, "5/4", 6.0, 4.4),
     (24.0, "3", 19.6, 10.5)],
)  # fmt: skip
def test_undercut_of_a_size(diameter: float, pitch: str, undercut: float, width: float) -> None:
    found = sheet_of(metric(diameter, Fraction(pitch))).figures
    assert found["thread.undercut_diameter"].number == pytest.approx(undercut)
    assert found["thread.undercut_width"].number == width
    root = found["thread.minor_diameter"].low
    assert root is not None
    assert found["thread.undercut_diameter"].number < root
    assert found["thread.chamfer_diameter"].number < root


@pytest.mark.parametrize(("groove", "warned"), [(4.4, True), (4.5, False), (7.0, False)])
def test_a_narrow_groove_is_warned_of(groove: float, warned: bool) -> None:
    sheet = sheet_of(metric(16.0, Fraction(2), groove))
    assert any(f.id == "thread.groove_narrow" for f in sheet.findings) == warned


def test_power_screws_by_common_practice() -> None:
    sheet = sheet_of(replace(demo(), places={}))
    width = sheet.figures["thread.undercut_width"]
    assert width.evidence == "practice"
    assert width.number == 2 * demo().thread.pitch
    root = sheet.figures["thread.minor_diameter"].low
    assert root is not None
    # 0.015 in below the root, as the designer's guide has it.
    assert sheet.figures["thread.undercut_diameter"].number == pytest.approx(root - 0.381)
