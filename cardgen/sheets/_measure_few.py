"""Fewer tools than three wires: one wire, two, and the caliper alone."""

from __future__ import annotations

from math import fsum, radians, tan

from cardgen.core.figure import Sheet, Step
from cardgen.core.words import joined, told
from cardgen.rules.pins import over_two, shift_half_a_turn
from cardgen.sheets._constants import constant, source, value
from cardgen.sheets._measure_words import length, span
from cardgen.spec.job import Job

_TABLE = "measure/caliper"
_GEOMETRY = "geometry of the helix"


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
    shift, wire = record_shift(job, sheet), sheet.number("measure.wire_chosen")
    two = [over_two(size - wire, wire, shift) for size in (over.number, over.low, over.high)]
    sheet.add(
        "measure.over_two_wires",
        two[0],
        low=two[1],
        high=two[2],
        formula="sqrt((M - w)^2 + s^2) + w",
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


def record_shift(job: Job, sheet: Sheet) -> float:
    """Record how far the groove on the other side is shifted, and return it [mm]."""
    if "measure.two_wire_shift" in sheet:
        return sheet.number("measure.two_wire_shift")
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


def record_caliper(job: Job, sheet: Sheet) -> None:
    """Record what a caliper alone can tell, and how well."""
    root, doubt = sheet["thread.minor_diameter"], value(_TABLE, "doubt")
    if root.low is None or root.high is None:
        return
    _record_doubt(sheet, "doubt", "either way")
    # Knife edges stand on the sides of a round root, however wide it is.
    if "thread.root_shape" in sheet or sheet.number("thread.root_flat") < value(_TABLE, "jaw-edge"):
        _say_crest(job, sheet)
        return
    shift = record_shift(job, sheet)
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
    _pitch_doubt(doubt, sheet)
    _say(job, sheet)


def _pitch_doubt(doubt: float, sheet: Sheet) -> None:
    """Record how far the pitch diameter follows from the root: the tool's tip may be off."""
    flanks = {"a1": sheet.ref("thread.leading_flank"), "a2": sheet.ref("thread.trailing_flank")}
    spread = fsum(tan(radians(float(flank.value))) for flank in flanks.values())
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


def record_caliper_in_nut(job: Job, sheet: Sheet) -> None:
    """Record what a caliper alone can tell of a nut: its bore."""
    if sheet.number("thread.blank_diameter") < value(_TABLE, "jaws-least"):
        return
    _record_doubt(sheet, "doubt-inside", "either way, by the inside jaws")
    _say_crest(job, sheet)


def _record_doubt(sheet: Sheet, row: str, note: str) -> None:
    sheet.add(
        "measure.caliper_doubt",
        value(_TABLE, row),
        formula="q",
        inputs={"q": constant(_TABLE, row)},
        source=source(_TABLE, row),
        basis="practice",
        evidence="practice",
        note=note,
    )


def _say_crest(job: Job, sheet: Sheet) -> None:
    """Say that a caliper reaches the turned or bored surface only."""
    crest = sheet["thread.blank_diameter"]
    if crest.low is None or crest.high is None:
        return
    doubt = length(job, sheet.number("measure.caliper_doubt"), "up", 2)
    reading = span(job, crest.low, crest.high, 2)
    text = (
        told(
            "A caliper alone tells the bore only: {reading} (doubt {doubt}). The flanks stay "
            "unknown: try the screw.",
            reading=reading,
            doubt=doubt,
        )
        if sheet.internal
        else told(
            "A caliper alone tells the crest only: {reading} (doubt {doubt}). The flanks stay "
            "unknown: try the nut.",
            reading=reading,
            doubt=doubt,
        )
    )
    sheet.steps.append(Step(text, "caliper", "common practice"))


def _say(job: Job, sheet: Sheet) -> None:
    root = sheet["measure.caliper_root"]
    if root.low is None or root.high is None:
        return
    doubt = length(job, sheet.number("measure.caliper_doubt"), "up", 2)
    text = told(
        "With a caliper alone: root by its knife edges, in line, {reading} (doubt {doubt}).",
        reading=span(job, root.low, root.high, 2),
        doubt=doubt,
    )
    if "measure.caliper_pitch_doubt" in sheet:
        unsure = length(job, sheet.number("measure.caliper_pitch_doubt"), "up", 2)
        known = told(
            "The pitch diameter is then known to {unsure} either way: try the nut.", unsure=unsure
        )
        text = joined([text, known])
    sheet.steps.append(Step(text, "caliper", "common practice"))
