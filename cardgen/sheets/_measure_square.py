"""Square threads: a wire does not wedge between their flanks, so the groove itself is gauged."""

from __future__ import annotations

from math import ceil

from cardgen.core.figure import Sheet, Step
from cardgen.core.words import told
from cardgen.rules.pins import SquareGroove, largest_pin
from cardgen.sheets._constants import constant, source, value
from cardgen.sheets._measure_common import groove_gauges
from cardgen.sheets._measure_few import record_caliper
from cardgen.sheets._measure_picture import record_over
from cardgen.sheets._measure_root import record_root
from cardgen.sheets._measure_words import length
from cardgen.spec.job import Job

_TABLE = "measure/caliper"
_GEOMETRY = "geometry of the helix"
_PIN = "largest straight pin between the walls of a square groove, solved numerically"


def record_square(job: Job, sheet: Sheet) -> None:
    """Record gauges for the groove's width, and the root over pins and over slips."""
    groove, root = sheet["thread.groove_width"], sheet["thread.minor_diameter"]
    if groove.low is None or groove.high is None or root.low is None or root.high is None:
        return
    groove_gauges(sheet, "root")
    _pins(job, sheet)
    height = length(job, sheet.number("measure.blade"))
    texts = (
        (
            "gauge",
            told(
                "Try the groove with a stub ground parallel and no longer along the groove "
                "than it is wide: {go} goes to the root, {not_go} does not. A longer slip "
                "binds in the twist of the groove and reads too small.",
                go=length(job, sheet.number("measure.groove_go"), "down"),
                not_go=length(job, sheet.number("measure.groove_not_go"), "up"),
            ),
        ),
        (
            "root",
            told(
                "Root over three slips {height} high, of any thickness that goes in: two "
                "side by side and one opposite, standing on the bottom of the groove.",
                height=height,
            ),
        ),
        (
            "pins",
            told(
                "By drill shanks: {go} goes, {not_go} does not. A round pin binds in the "
                "twist: it reads {short} less than the groove.",
                go=length(job, sheet.number("measure.pin_go"), "down"),
                not_go=length(job, sheet.number("measure.pin_not_go"), "up"),
                short=length(job, sheet.number("measure.pin_short")),
            ),
        ),
        (
            "caution",
            "Over wires this thread cannot be measured: a wire does not wedge between flanks that"
            " stand square to the axis.",
        ),
    )
    sheet.steps.extend(Step(text, kind, "common practice") for kind, text in texts)
    record_root(job, sheet, sheet.number("measure.pin_go"))
    # A slip of any thickness that goes in: one that is drawn apart from the walls.
    half, foot = 0.4 * groove.number, root.number / 2
    top = foot + sheet.number("measure.blade")
    record_over(job, sheet, "slip", [(-half, foot), (half, foot), (half, top), (-half, top)])
    record_caliper(job, sheet)


def _pins(job: Job, sheet: Sheet) -> None:
    """Record pins that gauge a square groove's width, and the root over pins and over slips."""
    groove, root = sheet["thread.groove_width"], sheet["thread.minor_diameter"]
    if groove.low is None or groove.high is None or root.low is None or root.high is None:
        return
    crest, lead = sheet.number("thread.blank_diameter"), sheet.number("thread.lead")

    def pin(width: float) -> float:
        return largest_pin(SquareGroove(lead, width, root.number / 2, crest / 2))

    shared = {
        "L": sheet.ref("thread.lead"),
        "d3": sheet.ref("thread.minor_diameter"),
        "d": sheet.ref("thread.blank_diameter"),
    }
    for id, width, part in (
        ("go", groove.low, sheet.low("thread.groove_width")),
        ("not_go", groove.high, sheet.high("thread.groove_width")),
    ):
        sheet.add(
            f"measure.pin_{id}",
            pin(width),
            formula=f"method: {_PIN}",
            inputs={"S": part, **shared},
            source=_PIN,
            basis="computed",
            note="lying on the root, free to turn to the slant at which it goes",
        )
    sheet.add(
        "measure.pin_short",
        groove.low - sheet.number("measure.pin_go"),
        formula="S - w",
        inputs={
            "S": sheet.low("thread.groove_width"),
            "w": sheet.ref("measure.pin_go"),
        },
        source=_GEOMETRY,
        basis="computed",
        note="add it to the pin that just goes in to have the groove's axial width",
    )
    _root_over_slips(job, root.number, root.low, root.high, sheet)


def _root_over_slips(job: Job, root: float, low: float, high: float, sheet: Sheet) -> None:
    step = constant(_TABLE, "blade-step-inch" if job.inch else "blade-step")
    least = sheet.number("thread.depth") + value(_TABLE, "blade-proud")
    height = float(step.value) * ceil(least / float(step.value) - 1e-9)
    sheet.add(
        "measure.blade",
        height,
        formula="method: the next whole step that stands x over the crest",
        inputs={
            "h3": sheet.ref("thread.depth"),
            "x": constant(_TABLE, "blade-proud"),
            "t": step,
        },
        source=source(_TABLE, "blade-proud"),
        basis="practice",
        evidence="practice",
        note="of any thickness that goes into the groove; use its measured height",
    )
    sheet.add(
        "measure.over_root_blades",
        root + 2 * height,
        low=low + 2 * height,
        high=high + 2 * height,
        formula="d3 + 2 h",
        inputs={"d3": sheet.ref("thread.minor_diameter"), "h": sheet.ref("measure.blade")},
        source="geometry",
        basis="computed",
        note="two side by side and one opposite, each standing on the bottom of its groove",
    )
