"""Fewer tools than three wires: one wire, two, pins in a square groove, and the caliper alone."""

from __future__ import annotations

from math import ceil, floor, radians, tan

from cardgen.core.figure import Input, Sheet, Step
from cardgen.core.names import Side
from cardgen.core.rounding import MM_PER_INCH, rounded, with_unit
from cardgen.rules.pins import SquareGroove, largest_pin, over_two, shift_half_a_turn
from cardgen.sheets._constants import constant, source, value
from cardgen.spec.job import Job

_TABLE = "measure/caliper"
_IN_LINE = "sqrt(({}) ^ 2 + s^2) + w"
_GEOMETRY = "geometry of the helix"
_PIN = "largest straight pin between the walls of a square groove, solved numerically"


def record_few_wires(job: Job, sheet: Sheet) -> None:
    """Record the sizes over one wire and over two, where there is one over three."""
    over, crest = sheet["measure.over_wires"], sheet.ref("thread.blank_diameter")
    if over.low is None or over.high is None:
        return
    one = [(size + float(crest.value)) / 2 for size in (over.number, over.low, over.high)]
    sheet.add(
        "measure.over_one_wire",
        one[0],
        low=one[1],
        high=one[2],
        formula="(M + d) / 2",
        inputs={"M": sheet.ref("measure.over_wires"), "d": crest},
        source="geometry: the other face lies on the crest",
        basis="computed",
        note="on a crest of the blank's size: half of what the crest is smaller comes off",
    )
    shift, wire = _shift(job, sheet), sheet.number("measure.wire_chosen")
    two = [over_two(size - wire, wire, shift) for size in (over.number, over.low, over.high)]
    sheet.add(
        "measure.over_two_wires",
        two[0],
        low=two[1],
        high=two[2],
        formula=_IN_LINE.format("M - w"),
        inputs={
            "M": sheet.ref("measure.over_wires"),
            "w": sheet.ref("measure.wire_chosen"),
            "s": sheet.ref("measure.two_wire_shift"),
        },
        source=_GEOMETRY,
        basis="computed",
        note="straight opposite one another: the starts are even"
        if shift == 0
        else "narrow jaws or ball points in line with both, rocked for the largest reading",
    )


def _shift(job: Job, sheet: Sheet) -> float:
    """Record how far the groove on the other side is shifted."""
    shift = shift_half_a_turn(sheet.number("thread.pitch"), job.thread.starts)
    sheet.add(
        "measure.two_wire_shift",
        shift,
        formula="P / 2" if shift else "",
        inputs={"P": sheet.ref("thread.pitch")} if shift else {},
        source="geometry: half a turn on, a groove has moved by half the lead",
        basis="computed",
    )
    return shift


def record_pins(job: Job, sheet: Sheet) -> None:
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
    _root_over_pins(job, root.number, root.low, root.high, sheet)
    _root_over_slips(job, root.number, root.low, root.high, sheet)


def _root_over_pins(job: Job, root: float, low: float, high: float, sheet: Sheet) -> None:
    goes, step = sheet.number("measure.pin_go"), value(_TABLE, "pin-step")
    owned = [wire for wire in job.tool.wires if wire <= goes]
    pin = owned[-1] if owned else step * floor(goes / step)
    if pin <= 0:
        return
    sheet.add(
        "measure.pin_chosen",
        pin,
        formula="w",
        inputs={
            "w": Input(pin, "mm", "spec:tool.wires", "read")
            if owned
            else Input(pin, "mm", "table:measure/caliper pin-step", "practice")
        },
        source="common practice",
        basis="practice",
        evidence="practice",
        note="the largest owned that goes in" if owned else "the largest drill shank that goes in",
    )
    shift = _shift(job, sheet)
    two = [over_two(size + pin, pin, shift) for size in (root, low, high)]
    sheet.add(
        "measure.over_root_wires",
        two[0],
        low=two[1],
        high=two[2],
        formula=_IN_LINE.format("d3 + w"),
        inputs={
            "d3": sheet.ref("thread.minor_diameter"),
            "w": sheet.ref("measure.pin_chosen"),
            "s": sheet.ref("measure.two_wire_shift"),
        },
        source=_GEOMETRY,
        basis="computed",
        note="a pin that goes in lies below the crest: take it with jaws narrower than the groove",
    )


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


def record_caliper(job: Job, sheet: Sheet) -> None:
    """Record what a caliper alone can tell, and how well."""
    root, doubt = sheet["thread.minor_diameter"], value(_TABLE, "doubt")
    if root.low is None or root.high is None:
        return
    if sheet.number("thread.root_flat") < value(_TABLE, "jaw-edge"):
        return
    if "measure.two_wire_shift" not in sheet:
        _shift(job, sheet)
    shift = sheet.number("measure.two_wire_shift")
    read = [over_two(size, 0.0, shift) for size in (root.number, root.low, root.high)]
    sheet.add(
        "measure.caliper_root",
        read[0],
        low=read[1],
        high=read[2],
        formula="sqrt(d3^2 + s^2)",
        inputs={
            "d3": sheet.ref("thread.minor_diameter"),
            "s": sheet.ref("measure.two_wire_shift"),
        },
        source=_GEOMETRY,
        basis="computed",
        note="the knife edges in opposite grooves, the caliper in line with both",
    )
    sheet.add(
        "measure.caliper_doubt",
        doubt,
        formula="q",
        inputs={"q": constant(_TABLE, "doubt")},
        source=source(_TABLE, "doubt"),
        basis="practice",
        evidence="practice",
        note="either way",
    )
    _pitch_doubt(doubt, sheet)
    _say(job, sheet)


def _pitch_doubt(doubt: float, sheet: Sheet) -> None:
    """Record how far the pitch diameter follows from the root: the tool's tip may be off."""
    flanks = {"a1": sheet.ref("thread.leading_flank"), "a2": sheet.ref("thread.trailing_flank")}
    spread = sum(tan(radians(float(flank.value))) for flank in flanks.values())
    tip = sheet["tool.tip_width"] if "tool.tip_width" in sheet else None  # noqa: SIM401
    if spread == 0 or tip is None or tip.low is None or tip.high is None:
        return
    sheet.add(
        "measure.caliper_pitch_doubt",
        doubt + (tip.high - tip.low) / spread,
        formula="q + (wh - wl) / (tan(a1) + tan(a2))",
        inputs={
            "q": sheet.ref("measure.caliper_doubt"),
            "wh": sheet.high("tool.tip_width"),
            "wl": sheet.low("tool.tip_width"),
            **flanks,
        },
        source="geometry of the straight-flank profile",
        basis="computed",
        note="either way: the root's diameter, and a tip ground anywhere within its limits",
    )


def _say(job: Job, sheet: Sheet) -> None:
    root = sheet["measure.caliper_root"]
    if root.low is None or root.high is None:
        return
    doubt = _length(job, sheet.number("measure.caliper_doubt"), "up")
    text = (
        "With a caliper alone: root by its knife edges, in line,"
        f" {_range(job, root.low, root.high)} (doubt {doubt})."
    )
    if "measure.caliper_pitch_doubt" in sheet:
        unsure = _length(job, sheet.number("measure.caliper_pitch_doubt"), "up")
        text += f" The pitch diameter is then known to {unsure} either way: try the nut."
    sheet.steps.append(Step(text, "caliper", "common practice"))


def _length(job: Job, number: float, side: Side = "nearest") -> str:
    if job.inch:
        return with_unit(number / MM_PER_INCH, "in", 3, side)
    return with_unit(number, "mm", 2, side)


def _range(job: Job, low: float, high: float) -> str:
    """Write limits, neither rounded outwards unless nothing would be left between them."""
    scale, decimals = (MM_PER_INCH, 3) if job.inch else (1.0, 2)
    return f"{rounded(low / scale, decimals, 'up')} to {_length(job, high, 'down')}"
