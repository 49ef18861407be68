"""Thread, measuring and mate sheets over all forms, classes and hands: what must always hold."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from functools import cache
from math import radians, sin, tan
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon

from cardgen import library
from cardgen.core.figure import Sheet
from cardgen.forms.form import names, read
from cardgen.rules.wires import Groove, seat
from cardgen.sheets import mate, measure, thread
from cardgen.spec.job import Job, Thread
from cardgen.spec.load import load
from tests.ledger import evaluate

SPECS = Path(__file__).parent.parent.parent / "specs" / "jobs"
INCH = Fraction(254, 10)


@cache
def demo() -> Job:
    return load(SPECS / "nipping-press-screw.yaml")


def job_of(asked: Thread) -> Job:
    given = demo()
    assert given.mate is not None
    return replace(given, thread=asked, mate=replace(given.mate, class_=""), places={})


def worked(job: Job) -> dict[str, Sheet]:
    known: dict[str, Sheet] = {}
    figures = {}
    for topic, module in (("thread", thread), ("measure", measure), ("mate", mate)):
        known[topic] = Sheet(topic, dict(figures))
        module.work_out(job, known[topic])
        figures |= known[topic].figures
    return known


def sizes_of(form: str) -> list[tuple[float, Fraction, bool]]:
    if not read(form).sizes:
        return [(25.4 * d, INCH / tpi, True) for d, tpi in ((1, 4), (1.25, 3), (2, 2))]
    found = []
    for table in read(form).sizes:
        for row in library.table(table):
            inch = "tpi" in row
            diameter = 25.4 * float(row["d_in"]) if "d_in" in row else float(row["d_mm"])
            pitch = INCH / Fraction(row["tpi"]) if inch else Fraction(row["p_mm"])
            found.append((diameter, pitch, inch))
    return found


@st.composite
def threads(draw: st.DrawFn) -> Thread:
    # A custom thread has no sizes but its own.
    form = draw(st.sampled_from([name for name in names() if name != "custom"]))
    diameter, pitch, inch = draw(st.sampled_from(sizes_of(form)))
    return Thread(
        form=form,
        surface="external",
        diameter=diameter,
        pitch_exact=pitch,
        starts=draw(st.integers(1, 4)),
        hand=draw(st.sampled_from(("right", "left"))),
        class_=draw(st.sampled_from(read(form).classes or ("",))),
        length=60.0,
        inch=inch,
    )


@settings(max_examples=150, deadline=None)
@given(threads())
def test_sheets_of_any_listed_thread(asked: Thread) -> None:
    sheets = worked(job_of(asked))
    figures = {id: figure for sheet in sheets.values() for id, figure in sheet.figures.items()}

    # Each formula gives its value again, each pair of limits stands the right way round.
    for figure in figures.values():
        if isinstance(figure.value, str):
            continue
        if figure.low is not None and figure.high is not None:
            assert figure.low < figure.high, figure.id
        if figure.formula and not figure.formula.startswith("method:"):
            inputs = {symbol: part.value for symbol, part in figure.inputs.items()}
            again = evaluate(figure.formula, inputs)  # type: ignore[arg-type]
            assert again == pytest.approx(figure.value, rel=1e-9, abs=1e-9), figure.id

    if any(finding.id == "thread.impossible" for finding in sheets["thread"].findings):
        return
    major, pitch, minor = (
        figures[f"thread.{which}_diameter"] for which in ("major", "pitch", "minor")
    )
    assert minor.number < pitch.number < major.number
    assert major.high is not None
    assert minor.high is not None
    assert major.high <= major.number + 1e-9
    # A limit in inches is rounded to four places; the root of a Unified thread in two steps.
    assert minor.high <= minor.number + 0.0001 * 25.4 + 1e-9
    if pitch.low is not None and pitch.high is not None:
        assert pitch.high <= pitch.number + 0.00005 * 25.4 + 1e-9
        assert pitch.high - pitch.low == pytest.approx(
            figures["thread.pitch_tolerance"].number, abs=0.0001 * 25.4
        )
        # A smaller pitch diameter is a wider groove.
        groove = figures["thread.groove_width"]
        spread = tan(radians(figures["thread.leading_flank"].number)) + tan(
            radians(figures["thread.trailing_flank"].number)
        )
        assert groove.high is not None
        wider = (pitch.number - pitch.low) * spread / 2
        assert groove.high - groove.number == pytest.approx(wider, abs=1e-9)

    # The profile closes within a pitch and is as deep as it says.
    total = (
        figures["thread.crest_flat"].number
        + figures["thread.root_flat"].number
        + figures["thread.depth"].number
        * sum(tan(radians(figures[f"thread.{s}_flank"].number)) for s in ("leading", "trailing"))
    )
    assert total == pytest.approx(asked.pitch, rel=3e-6)
    outline = sheets["thread"].outlines["thread.groove"].points
    assert max(y for _, y in outline) == pytest.approx(figures["thread.blank_diameter"].number / 2)
    drop = max(y for _, y in outline) - min(y for _, y in outline)
    assert drop == pytest.approx(figures["thread.depth"].number)
    screw = sheets["thread"].outlines["thread.profile"].points
    assert Polygon([*screw, (screw[-1][0], 0), (0, 0)]).is_valid

    angles = [figures[f"thread.lead_angle_{at}"].number for at in ("major", "pitch", "minor")]
    assert angles == sorted(angles)

    if "measure.over_wires" in figures:
        wire = figures["measure.wire_chosen"].number
        assert figures["measure.wire_smallest"].number <= wire + 1e-9
        assert wire <= figures["measure.wire_largest"].number + 1e-9
        over = figures["measure.over_wires"]
        crest = figures["thread.blank_diameter"].high
        assert over.low is not None
        assert crest is not None
        # The wires stand proud of the crest even in the widest groove.
        assert over.low >= crest - 0.001
        # The largest touches straight flank even in the tightest groove under the lowest crest.
        least = figures["thread.blank_diameter"].low
        assert least is not None
        assert pitch.high is not None
        flanks = [radians(figures[f"thread.{s}_flank"].number) for s in ("leading", "trailing")]
        tight = Groove(
            figures["thread.lead"].number, pitch.high, float(asked.pitch) / 2, flanks[0], flanks[1]
        )
        touching = seat(tight, figures["measure.wire_largest"].number)
        rounding = figures["thread.crest_radius"].number if "thread.crest_radius" in figures else 0
        if "thread.crest_shape" in figures:
            # An arc of radius R leaves a flank of angle a at R (1 - sin a) below its top.
            rounding *= 1 - sin(min(flanks))
        assert max(touching.near, touching.far) == pytest.approx(least / 2 - rounding, abs=1e-6)

    play = figures["mate.backlash"]
    assert play.low is not None
    assert play.low > -1e-9
    assert figures["mate.minor_diameter"].number > minor.number - 1e-9


def test_a_square_thread_is_not_measured_over_wires() -> None:
    diameter, pitch, inch = sizes_of("square")[0]
    sheets = worked(
        job_of(Thread("square", "external", diameter, pitch, 1, "left", "", 60.0, inch))
    )
    assert "measure.over_wires" not in sheets["measure"].figures
    assert "measure.wire_chosen" not in sheets["measure"].figures
    go, not_go = (sheets["measure"].number(f"measure.groove_{id}") for id in ("go", "not_go"))
    assert go < not_go
    assert "thread.class" not in sheets["thread"].figures


@pytest.mark.parametrize(
    ("asked", "written"),
    [
        (("trapezoidal", 28.0, Fraction(5), 1, "right", "7e", False), "Tr 28x5-7e"),
        (("trapezoidal", 32.0, Fraction(6), 2, "left", "7e", False), "Tr 32x12 (P6) LH-7e"),
        (("acme", 25.4, INCH / 5, 1, "right", "2G", True), "1-5 ACME-2G"),
        (("acme", 38.1, INCH / 4, 1, "left", "3G", True), "1 1/2-4 ACME-3G-LH"),
        (("metric", 10.0, Fraction(3, 2), 1, "left", "6g", False), "M10x1.5-6g LH"),
        (("metric", 16.0, Fraction(3, 2), 2, "right", "6g", False), "M16xPh3P1.5-6g"),
        (("square", 25.4, INCH / 4, 1, "right", "", True), "Square 1 in x 4 tpi"),
        (("square", 25.0, Fraction(6), 1, "left", "", False), "Square 25x6 LH"),
    ],
)
def test_designations(asked: tuple[object, ...], written: str) -> None:
    form, diameter, pitch, starts, hand, cls, inch = asked
    job = job_of(
        Thread(form, "external", diameter, pitch, starts, hand, cls, 60.0, inch)  # type: ignore[arg-type]
    )
    assert worked(job)["thread"]["thread.designation"].value == written


def test_a_size_outside_the_standard_is_computed_and_marked() -> None:
    asked = Thread("trapezoidal", "external", 28.0, Fraction(4), 1, "right", "7e", 60.0, False)
    sheet = worked(job_of(asked))["thread"]
    assert [finding.id for finding in sheet.findings] == ["thread.unlisted"]
    assert sheet["thread.pitch_diameter"].basis == "computed"
    assert not any(finding.refuses for finding in sheet.findings)


def test_an_impossible_thread_is_refused_with_numbers() -> None:
    asked = Thread("trapezoidal", "external", 10.0, Fraction(10), 1, "right", "7e", 60.0, False)
    sheets = worked(job_of(asked))
    assert [finding.refuses for finding in sheets["thread"].findings] == [True]
    assert "-1.000 mm" in sheets["thread"].findings[0].text
    assert not sheets["measure"].figures
    assert not sheets["mate"].figures


def test_owned_wires_are_preferred_when_they_are_usable() -> None:
    job = demo()
    asked = job_of(job.thread)
    owned = replace(asked, tool=replace(asked.tool, wires=(1.0, 2.6, 3.0)))
    assert worked(owned)["measure"].number("measure.wire_chosen") == 2.6
    none = replace(asked, tool=replace(asked.tool, wires=(1.0, 5.0)))
    sheet = worked(none)["measure"]
    assert sheet.number("measure.wire_chosen") == pytest.approx(2.6)
    assert any(step.kind == "caution" for step in sheet.steps)
