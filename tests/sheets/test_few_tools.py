"""Sizes over one wire and two, over pins and slips, and by caliper: what must always hold."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from math import ceil, cos, floor, hypot, radians, tan

import pytest

from cardgen.core.figure import Figure, Sheet
from cardgen.forms.form import read
from cardgen.sheets import measure, thread
from cardgen.sheets.tool import work_out as tool_of
from cardgen.spec.job import Job, Thread
from tests.ledger import evaluate
from tests.sheets.test_thread_sheets import INCH, demo

SCREWS = [
    ("trapezoidal", 28.0, Fraction(5), 1, "7e", False),
    ("trapezoidal", 32.0, Fraction(6), 2, "8e", False),
    ("acme", 25.4, INCH / 5, 3, "2G", True),
    ("metric", 16.0, Fraction(2), 1, "6g", False),
    ("square", 31.75, INCH / 4, 1, "", True),
    ("square", 50.8, INCH / 2, 2, "", True),
]


def job_of(
    screw: tuple[object, ...], wires: tuple[float, ...] = (), surface: str = "external"
) -> Job:
    form, diameter, pitch, starts, cls, inch = screw
    if surface == "internal":
        cls = read(str(form)).usual_mate.get(str(cls), "")
    asked = Thread(
        form, surface, diameter, pitch, starts, "right", cls, 60.0, inch  # type: ignore[arg-type]
    )  # fmt: skip
    job = demo()
    return replace(job, thread=asked, places={}, tool=replace(job.tool, wires=wires))


def worked(job: Job) -> dict[str, Sheet]:
    known: dict[str, Figure] = {}
    sheets: dict[str, Sheet] = {}
    for topic, module in (("thread", thread.work_out), ("tool", tool_of),
                          ("measure", measure.work_out)):  # fmt: skip
        sheet = Sheet(topic, known, internal=job.thread.surface == "internal")
        module(job, sheet)
        known = known | sheet.figures
        sheets[topic] = sheet
    return sheets


def figures(job: Job) -> dict[str, Figure]:
    sheets = worked(job).values()
    return {id: figure for sheet in sheets for id, figure in sheet.figures.items()}


@pytest.mark.parametrize("screw", SCREWS, ids=lambda screw: f"{screw[0]}-{screw[3]}")
def test_formulas(screw: tuple[object, ...]) -> None:
    for figure in figures(job_of(screw)).values():
        if figure.id.startswith("measure.") and figure.formula and "method" not in figure.formula:
            inputs = {symbol: part.value for symbol, part in figure.inputs.items()}
            assert evaluate(figure.formula, inputs) == pytest.approx(figure.value), figure.id  # type: ignore[arg-type]


@pytest.mark.parametrize("screw", SCREWS[:4], ids=lambda screw: f"{screw[0]}-{screw[3]}")
def test_fewer_wires(screw: tuple[object, ...]) -> None:
    """Three wires, two and one measure one and the same groove."""
    found = figures(job_of(screw))
    three, two, one = (found[f"measure.over_{name}"] for name in ("wires", "two_wires", "one_wire"))
    wire, crest = found["measure.wire_chosen"].number, found["thread.blank_diameter"].number
    centre = (three.number - wire) / 2
    # One wire: from the crest opposite to the wire's top.
    assert one.number == pytest.approx(crest / 2 + centre + wire / 2)
    # Two: the straight line between the wires' centres in space.
    climbed = int(str(screw[3])) * float(screw[2]) / 2 % float(screw[2])  # type: ignore[arg-type]
    assert two.number == pytest.approx(hypot(2 * centre, climbed) + wire)
    for figure in (three, two, one):
        assert figure.low is not None and figure.high is not None  # noqa: PT018
        assert figure.low < figure.high
    # The wire's error counts half as much over one.
    assert three.low is not None and one.low is not None  # noqa: PT018
    assert one.number - one.low == pytest.approx((three.number - three.low) / 2)


@pytest.mark.parametrize("screw", SCREWS[:4], ids=lambda screw: f"{screw[0]}-{screw[3]}")
def test_two_wires_say_how_they_lie(screw: tuple[object, ...]) -> None:
    sheet = worked(job_of(screw))["measure"]
    two = sheet["measure.over_two_wires"]
    (text,) = (step.text for step in sheet.steps if step.kind == "two-wires")
    if screw[3] == 2:
        assert "straight opposite" in text
        return
    assert two.low is not None and two.high is not None  # noqa: PT018
    assert "half a pitch along" in text
    assert f"{ceil(two.low * 1000) / 1000:.3f} to {floor(two.high * 1000) / 1000:.3f} mm" in text


SENSITIVE = [
    *SCREWS[:4],
    ("buttress-metric", 40.0, Fraction(7), 1, "7e", False),
    ("buttress-inch", 38.1, INCH / 6, 1, "2A", True),
]


@pytest.mark.parametrize("surface", ["external", "internal"])
@pytest.mark.parametrize("screw", SENSITIVE, ids=lambda screw: f"{screw[0]}-{screw[3]}")
def test_what_a_wires_own_error_does(screw: tuple[object, ...], surface: str) -> None:
    """Measured once more with a wire, or a ball, that is a little larger."""
    what, over, sign = ("wire", "over_wires", 1) if surface == "external" else (
        "ball", "between_balls", -1
    )  # fmt: skip
    first = figures(job_of(screw, surface=surface))
    low, high = (first[f"measure.{what}_{side}"].number for side in ("smallest", "largest"))
    sizes = [low + (high - low) * share for share in (0.4, 0.6)]
    readings = []
    for size in sizes:
        found = figures(job_of(screw, wires=(size,), surface=surface))
        assert found[f"measure.{what}_chosen"].number == size
        readings.append(found[f"measure.{over}"].number)
    slope = sign * (readings[1] - readings[0]) / (sizes[1] - sizes[0])
    assert first[f"measure.{what}_sensitivity"].number == pytest.approx(slope, rel=5e-3)
    near, far = (radians(first[f"thread.{side}_flank"].number) for side in ("leading", "trailing"))
    # Without lead: a circle between two lines.
    plane = 1 + (1 / cos(near) + 1 / cos(far)) / (tan(near) + tan(far))
    assert slope == pytest.approx(plane, rel=0.05)


@pytest.mark.parametrize(("starts", "shift"), [(1, 3.175), (2, 0.0)])
def test_balls_on_the_root_of_a_square_nut(starts: int, shift: float) -> None:
    """Two balls on opposite walls of the root: from centre to centre in space, less a ball."""
    screw = ("square", 31.75, INCH / 4, starts, "", True)
    found = figures(job_of(screw, surface="internal"))
    ball, root = found["measure.pin_chosen"].number, found["thread.major_diameter"]
    assert ball < found["measure.groove_go"].number
    assert found["measure.over_root_wires"].number == pytest.approx(
        hypot(root.number - ball, shift) - ball
    )


def test_a_nut_that_is_too_fine_for_balls_goes_by_its_screw() -> None:
    sheet = worked(job_of(("metric", 3.0, Fraction(1, 2), 1, "6g", False), surface="internal"))[
        "measure"
    ]
    assert sheet.number("measure.ball_best") < 0.5
    assert "measure.between_balls" not in sheet
    assert any("by the screw" in step.text for step in sheet.steps)
    # Nor do the jaws of a caliper enter a bore of 2.5 mm.
    assert not any(step.kind == "caliper" for step in sheet.steps)


def test_a_caliper_reaches_the_crest_of_a_fine_thread_only() -> None:
    sheet = worked(job_of(("metric", 10.0, Fraction(1), 1, "6g", False)))["measure"]
    assert "measure.caliper_root" not in sheet
    assert sheet.number("measure.caliper_doubt") == 0.03
    assert any("crest only" in step.text for step in sheet.steps if step.kind == "caliper")


@pytest.mark.parametrize("screw", SCREWS[4:], ids=lambda screw: f"{screw[0]}-{screw[3]}")
def test_square_grooves(screw: tuple[object, ...]) -> None:
    found = figures(job_of(screw, wires=(1.0, 2.0, 2.5, 30.0)))
    groove = found["thread.groove_width"]
    go, not_go = found["measure.pin_go"].number, found["measure.pin_not_go"].number
    assert groove.low is not None and groove.high is not None  # noqa: PT018
    assert go < not_go
    # Thinner than a stub that is as short as it is wide, by the twist.
    assert 0.96 * groove.low < go < found["measure.groove_go"].number < groove.low
    assert found["measure.pin_short"].number == pytest.approx(groove.low - go)
    assert found["measure.pin_chosen"].number == 2.5
    root, pins = found["thread.minor_diameter"], found["measure.over_root_wires"]
    shift = 0.0 if screw[3] == 2 else float(screw[2]) / 2  # type: ignore[arg-type]
    assert pins.number == pytest.approx(hypot(root.number + 2.5, shift) + 2.5)
    # Slips stand proud of the crest, or a micrometer would not reach them.
    blades, height = found["measure.over_root_blades"], found["measure.blade"].number
    assert blades.number == pytest.approx(root.number + 2 * height)
    assert blades.low is not None
    assert blades.low > found["thread.blank_diameter"].number


@pytest.mark.parametrize("screw", SCREWS, ids=lambda screw: f"{screw[0]}-{screw[3]}")
def test_a_caliper_alone(screw: tuple[object, ...]) -> None:
    found = figures(job_of(screw))
    flat = found["thread.root_flat"].number
    assert ("measure.caliper_root" in found) == (flat >= 0.8)
    if "measure.caliper_root" not in found:
        return
    assert found["measure.caliper_root"].number >= found["thread.minor_diameter"].number
    if screw[0] == "square":
        assert "measure.caliper_pitch_doubt" not in found
        return
    tip, doubt = found["tool.tip_width"], found["measure.caliper_pitch_doubt"]
    assert tip.low is not None and tip.high is not None  # noqa: PT018
    # A tip wider by x cuts the same root and takes the pitch diameter down by x / tan(a).
    flank = radians(found["thread.leading_flank"].number)
    assert doubt.number == pytest.approx(0.03 + (tip.high - tip.low) / (2 * tan(flank)))
    tolerance = found["thread.pitch_tolerance"].number
    assert doubt.number > tolerance / 2
