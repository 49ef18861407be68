"""The rack's figures over forms, hands, starts and axes: what must always hold; and its card."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from math import cos, radians, tan
from pathlib import Path

import pytest
from shapely.affinity import translate
from shapely.geometry import LineString, Point, Polygon

from cardgen.card.pen import Text
from cardgen.card.place import lay_out
from cardgen.core.figure import Figure, Sheets
from cardgen.core.problems import SpecError
from cardgen.pdf.fonts import metrics
from cardgen.sheets import every
from cardgen.spec.job import Axis, Hand, Job, Mate, Thread
from cardgen.spec.load import load
from tests.card.test_thread_panels import Shape
from tests.ledger import evaluate
from tests.sheets.test_thread_sheets import INCH, demo, worked
from tests.spec.shop_floor import JOB
from tests.spec.shop_floor import lay_out as floor

SCREWS = [
    ("trapezoidal", 24.0, Fraction(5), 1, "7e", False),
    ("trapezoidal", 32.0, Fraction(6), 2, "7e", False),
    ("acme", 25.4, INCH / 5, 1, "2G", True),
    ("square", 31.75, INCH / 4, 1, "", True),
    ("metric", 20.0, Fraction(5, 2), 1, "6g", False),
    ("knuckle", 40.0, INCH / 6, 1, "7h", True),
]


def rack_job(screw: tuple[object, ...], hand: Hand, axis: Axis, width: float | None) -> Job:
    form, diameter, pitch, starts, cls, inch = screw
    thread = Thread(
        form, "external", diameter, pitch, starts, hand, cls, 60.0, inch  # type: ignore[arg-type]
    )  # fmt: skip
    mate = Mate("rack", None, None, "", teeth=14, width=width, axis=axis)
    return replace(demo(), thread=thread, mate=mate, places={})


def figures(job: Job) -> dict[str, Figure]:
    return Sheets(tuple(worked(job).values())).figures  # type: ignore[return-value]


@pytest.mark.parametrize("width", [None, 12.0])
@pytest.mark.parametrize("axis", ["parallel", "set-over"])
@pytest.mark.parametrize("hand", ["right", "left"])
@pytest.mark.parametrize("screw", SCREWS, ids=lambda screw: f"{screw[0]}-{screw[3]}")
def test_rack(screw: tuple[object, ...], hand: Hand, axis: Axis, width: float | None) -> None:
    job = rack_job(screw, hand, axis, width)
    found = figures(job)
    value = {id: figure.value for id, figure in found.items()}
    lead_angle = radians(found["thread.lead_angle_pitch"].number)
    over = lead_angle if axis == "set-over" else 0.0
    pitch = found["mate.tooth_pitch"]
    assert pitch.number == pytest.approx(job.thread.pitch * cos(over))
    assert value["mate.travel_per_turn"] == pytest.approx(job.thread.lead * cos(over))
    assert value["mate.rack_length"] == pytest.approx(14 * pitch.number)
    assert (value["mate.tooth_angle"] == 0) == (axis == "set-over")
    lean = str(value["mate.tooth_lean"])
    assert ("anticlockwise" in lean or "to the right" in lean) == (hand == "right")
    tooth, space = found["mate.tooth_thickness"], found["mate.tooth_space"]
    assert tooth.low is not None and tooth.high is not None  # noqa: PT018
    assert space.high is not None and space.low is not None  # noqa: PT018
    assert tooth.low + space.high == pytest.approx(pitch.number)
    assert tooth.high + space.low == pytest.approx(pitch.number)
    play = found["mate.backlash"]
    assert play.low is not None and play.low > 0  # noqa: PT018
    # The cutter leaves the space: its tip at the root's depth, its flanks square to the tooth.
    cutter, clear = found["mate.cutter_tip"], found["mate.end_clearance"].number
    below = (job.thread.diameter - found["thread.pitch_diameter"].number) / 2 + clear
    flank = radians(found["mate.cutter_angle"].number / 2)
    across = cutter.number + 2 * below * tan(flank)
    along = across / (cos(lead_angle) if axis == "parallel" else 1.0)
    assert along == pytest.approx(space.number, rel=1e-4)
    for figure in found.values():
        if figure.id.startswith("mate.") and figure.formula and "method" not in figure.formula:
            inputs = {symbol: part.value for symbol, part in figure.inputs.items()}
            assert evaluate(figure.formula, inputs) == pytest.approx(figure.value), figure.id  # type: ignore[arg-type]


@pytest.mark.parametrize("screw", SCREWS, ids=lambda screw: f"{screw[0]}-{screw[3]}")
def test_screw_and_rack_do_not_overlap_in_the_section(screw: tuple[object, ...]) -> None:
    sheet = worked(rack_job(screw, "right", "parallel", None))["mate"]
    bar = sheet.outlines["mate.pair.above"].points
    rack = sheet.outlines["mate.pair.below"].points
    end = bar[-1][0]
    upper = Polygon([*bar, (end, 0.0), (0.0, 0.0)])
    lower = Polygon([*rack, (end, -200.0), (0.0, -200.0)])
    assert upper.is_valid
    assert lower.is_valid
    assert upper.intersection(lower).area == pytest.approx(0.0, abs=1e-9)
    # It lies against one flank; on the other side the play is open, end to end.
    assert LineString(bar).distance(LineString(rack)) == pytest.approx(0.0, abs=1e-9)
    (left, level), (right, _) = sheet.outlines["mate.pair.play"].points
    assert right - left == pytest.approx(sheet.number("mate.backlash"))
    middle = Point((left + right) / 2, level)
    assert not upper.contains(middle)
    assert not lower.contains(middle)


@pytest.mark.parametrize("screw", SCREWS, ids=lambda screw: f"{screw[0]}-{screw[3]}")
def test_the_rack_stays_off_the_roundings_of_the_screw(screw: tuple[object, ...]) -> None:
    """The screw as it is cut, of the narrowest groove, the tooth in the middle of it."""
    sheets = worked(rack_job(screw, "right", "parallel", None))
    mate = sheets["mate"]
    rack = mate.outlines["mate.pair.below"].points
    end = rack[-1][0]
    lower = Polygon([*rack, (end, -200.0), (0.0, -200.0)])
    cut = [(x, -y) for x, y in sheets["thread"].outlines["thread.profile"].points if x <= end]
    bar = translate(
        Polygon([*cut, (cut[-1][0], 0.0), (cut[0][0], 0.0)]),
        xoff=mate.number("mate.backlash") / 2,
    )
    assert bar.is_valid
    assert bar.intersection(lower).area == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("axis", ["parallel", "set-over"])
@pytest.mark.parametrize("hand", ["right", "left"])
@pytest.mark.parametrize("screw", SCREWS, ids=lambda screw: f"{screw[0]}-{screw[3]}")
@pytest.mark.parametrize("width", [60.0, 100.0])
def test_the_panel_is_whole_and_prints_what_is_set(
    screw: tuple[object, ...], hand: Hand, axis: Axis, width: float
) -> None:
    sheets = Sheets(tuple(worked(rack_job(screw, hand, axis, None)).values()))
    picture = lay_out(sheets, {"job": "x", "title": "x"}, Shape(width, 230.0), metrics())
    words = " ".join(m.text for page in picture.pages for m in page.marks if isinstance(m, Text))
    assert f"{sheets.figures['mate.cutter_step'].number:.4f}" in words
    assert f"{sheets.figures['mate.tooth_depth'].number:.3f}" in words


def test_the_door_takes_a_rack(tmp_path: Path) -> None:
    text = JOB.replace("kind: nut", "kind: rack\n  teeth: 14\n  width: 12 mm\n  axis: set-over")
    text = text.replace("  class: 7H\n", "")
    job = load(floor(tmp_path, text))
    assert job.mate is not None
    assert (job.mate.kind, job.mate.teeth, job.mate.width, job.mate.axis) == (
        "rack", 14, 12.0, "set-over",
    )  # fmt: skip


def test_a_thin_tooth_is_refused() -> None:
    screw = ("trapezoidal", 20.0, Fraction(4), 8, "7e", False)
    sheet = worked(rack_job(screw, "right", "parallel", None))["mate"]
    found = sheet.figures
    thin = found["mate.tooth_tip"].number < 0.1 * 4
    assert any(finding.refuses for finding in sheet.findings) == thin


def test_a_rack_is_not_loaded_as_a_nut(tmp_path: Path) -> None:
    """The engagement of a rack is a line a tooth: a nut's pressure would be far too low."""
    text = JOB.replace("kind: nut", "kind: rack\n  teeth: 14").replace("  class: 7H\n", "")
    job = load(floor(tmp_path, text))
    assert job.duty is not None
    sheets = every.work_out(job)
    assert "load.bearing_pressure" not in sheets.figures
    assert "load.nut_shear" not in sheets.figures
    assert any(finding.id == "load.rack" for finding in sheets.findings)


@pytest.mark.parametrize(
    ("old", "new", "key"),
    [
        ("  class: 7H\n", "  class: 7H\n", "mate.class"),
        ("surface: external", "surface: internal", "mate.kind"),
        ("  length: 35 mm\n", "  teeth: 0\n", "mate.teeth"),
        ("  length: 35 mm\n", "  axis: skew\n", "mate.axis"),
    ],
)
def test_what_has_no_meaning_for_a_rack(tmp_path: Path, old: str, new: str, key: str) -> None:
    text = JOB.replace("kind: nut", "kind: rack").replace(old, new)
    if key != "mate.class":
        text = text.replace("  class: 7H\n", "")
    with pytest.raises(SpecError) as caught:
        load(floor(tmp_path, text))
    assert key in {problem.key for problem in caught.value.problems}
