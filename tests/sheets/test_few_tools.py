"""Sizes over one wire and two, over pins and slips, and by caliper: what must always hold."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from math import hypot, radians, tan

import pytest

from cardgen.core.figure import Figure, Sheet
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


def job_of(screw: tuple[object, ...], wires: tuple[float, ...] = ()) -> Job:
    form, diameter, pitch, starts, cls, inch = screw
    asked = Thread(
        form, "external", diameter, pitch, starts, "right", cls, 60.0, inch  # type: ignore[arg-type]
    )  # fmt: skip
    job = demo()
    return replace(job, thread=asked, places={}, tool=replace(job.tool, wires=wires))


def figures(job: Job) -> dict[str, Figure]:
    known: dict[str, Figure] = {}
    for topic, module in (("thread", thread.work_out), ("tool", tool_of),
                          ("measure", measure.work_out)):  # fmt: skip
        sheet = Sheet(topic, known)
        module(job, sheet)
        known = known | sheet.figures
    return known


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
