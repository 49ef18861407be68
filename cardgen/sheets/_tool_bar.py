"""The boring bar for a nut: which one passes the bore, how far it stands out, how it is drawn."""

from __future__ import annotations

from math import ceil, cos, floor, pi, radians, sin, sqrt, tan

from cardgen.core.figure import Input, Outline, Sheet
from cardgen.core.rounding import MM_PER_INCH, with_unit
from cardgen.core.words import told
from cardgen.rules import boring
from cardgen.sheets._constants import constant, source, value
from cardgen.sheets._tool_grind import Grind
from cardgen.sheets._tool_tables import PRACTICE
from cardgen.spec.job import Job

_GEOMETRY = "geometry of a bar that travels in a bore"
_ROUND = 72
"""Corners of a circle."""
_BIT_STEP, _BIT_LEAST = 0.5, 1.0
"""Steps in which smaller bits are tried, and the smallest [mm]."""
_REACH_STEP = 5.0
"""Step in which a bar's overhang is set [mm]."""


def room(bore: float) -> float:
    """Return the room for chips between a bar and a bore [mm]."""
    return max(value(PRACTICE, "bore-room") * bore, value(PRACTICE, "bore-room-least"))


def largest_bar(bore: float, depth: float, bit: float) -> float:
    """Return the largest bar that passes a bore with a bit of this side [mm]."""
    return boring.largest_bar(bore, room(bore), depth + value(PRACTICE, "withdraw-clear"), bit)


def largest_inputs(bore: Input, depth: Input, bit: Input) -> dict[str, Input]:
    """Return what :data:`LARGEST` needs."""
    return {
        "D1": bore,
        "q": constant(PRACTICE, "bore-room"),
        "gm": constant(PRACTICE, "bore-room-least"),
        "h": depth,
        "x": constant(PRACTICE, "withdraw-clear"),
        "B": bit,
    }


LARGEST = "D1 - 2 max(q D1, gm) - sqrt((h + x)^2 + B^2)"
"""The largest bar, in the grammar of figures."""


def bar(job: Job, sheet: Sheet, grind: Grind) -> None:
    """Record the bar, the travel to withdraw, the bit's reach and the bar's overhang."""
    bore, depth = sheet.ref("thread.blank_diameter"), sheet.ref("thread.depth")
    largest = largest_bar(float(bore.value), float(depth.value), job.tool.blank)
    if largest <= 0:
        sheet.refuse(
            "tool.no_bar",
            told(
                "No boring bar passes a bore of {bore} with a bit of {bit}. What helps: {help}.",
                bore=_length(job, float(bore.value)),
                bit=_length(job, job.tool.blank),
                help=smaller_bit(job, sheet, grind),
            ),
        )
        return
    sheet.add(
        "tool.bar_largest",
        largest,
        formula=LARGEST,
        inputs=largest_inputs(bore, depth, sheet.ref("tool.blank")),
        source=_GEOMETRY,
        basis="computed",
        note="clears the bore at full depth and withdrawn, with room for chips",
    )
    sheet.add(
        "tool.withdraw",
        float(depth.value) + value(PRACTICE, "withdraw-clear"),
        formula="h + x",
        inputs={"h": depth, "x": constant(PRACTICE, "withdraw-clear")},
        source=source(PRACTICE, "withdraw-clear"),
        basis="practice",
        note="inwards, away from you: the point stands clear of the bore",
    )
    chosen = _chosen(job, sheet, grind, largest)
    if chosen is None:
        return
    sheet.add(
        "tool.bar_below",
        job.tool.blank / 2,
        formula="B / 2",
        inputs={"B": sheet.ref("tool.blank")},
        source=_GEOMETRY,
        basis="computed",
        note="the bit goes through the bar's middle, and its face is level with the axis",
    )
    reach = boring.bit_reach(
        float(bore.value),
        float(bore.value) + 2 * float(depth.value),
        room(float(bore.value)),
        chosen,
        job.tool.blank,
    )
    sheet.add(
        "tool.overhang",
        reach,
        formula="D1 / 2 + h - Db / 2"
        " - sqrt(max((D1 / 2 - max(q D1, gm) - Db / 2)^2 - (B / 2)^2, 0))",
        inputs={
            **largest_inputs(bore, depth, sheet.ref("tool.blank")),
            "Db": sheet.ref("tool.bar"),
        },
        source=_GEOMETRY,
        basis="computed",
        note="from the bar's front to the point: the bar just clears the bore at full depth",
    )
    _stands_out(job, sheet, chosen)
    _section(job, sheet, chosen, reach)


def _chosen(job: Job, sheet: Sheet, grind: Grind, largest: float) -> float | None:
    """Record the bar asked for, or the next whole size that passes; ``None`` if none will do."""
    asked = job.tool.bar
    size = _whole(job, largest) if asked is None else asked
    least = value(PRACTICE, "bar-least") * job.tool.blank
    if size > largest + 1e-9:
        sheet.refuse(
            "tool.bar_too_large",
            told(
                "A bar of {bar} does not pass: in a bore of {bore} it must be withdrawn by "
                "{withdraw} with room for chips, and {largest} is the largest. What helps: that "
                "bar.",
                bar=_length(job, size),
                bore=_length(job, sheet.number("thread.blank_diameter")),
                withdraw=_length(job, sheet.number("tool.withdraw")),
                largest=_length(job, largest),
            ),
        )
        return None
    if size < least - 1e-9:
        sheet.refuse(
            "tool.bar_too_thin",
            told(
                "A bar of {bar} is too thin for a bit of {bit}, which asks for {least}; "
                "{largest} is the largest that passes. What helps: {help}.",
                bar=_length(job, size),
                bit=_length(job, job.tool.blank),
                least=_length(job, least),
                largest=_length(job, largest),
                help=smaller_bit(job, sheet, grind),
            ),
        )
        return None
    sheet.add(
        "tool.bar",
        size,
        formula="Db" if asked is not None else "method: largest whole size that passes",
        inputs={"Db": Input(size, "mm", "spec:tool.bar", "read")}
        if asked is not None
        else {"D": sheet.ref("tool.bar_largest")},
        source="the job" if asked is not None else source(PRACTICE, "bar-step.mm"),
        basis="data" if asked is not None else "practice",
        evidence="read" if asked is not None else "practice",
    )
    return size


def _whole(job: Job, largest: float) -> float:
    """Return the largest bar of a whole size."""
    step = value(PRACTICE, "bar-step.in" if job.inch else "bar-step.mm")
    return step * floor(largest / step + 1e-9)


def bit_fits(job: Job, sheet: Sheet, grind: Grind, bit: float) -> bool:
    """Whether a bit can be ground for this nut, and a bar that bears it passes the bore."""
    bore, depth = sheet.number("thread.blank_diameter"), sheet.number("thread.depth")
    thickest = _whole(job, largest_bar(bore, depth, bit))
    return thickest >= value(PRACTICE, "bar-least") * bit and grind.can_be_ground(bit)


def smaller_bit(job: Job, sheet: Sheet, grind: Grind) -> str:
    """Say which bit is low enough for the bore and its bar, and wide enough for the blade."""
    bit = _BIT_STEP * floor(job.tool.blank / _BIT_STEP)
    while bit > _BIT_LEAST:
        bit -= _BIT_STEP
        if bit_fits(job, sheet, grind, bit):
            return told("a bit of {size}", size=_length(job, bit))
    return "a tap: this bore is too small for a bar and a ground bit"


def _stands_out(job: Job, sheet: Sheet, size: float) -> None:
    """Record how far the bar stands out, and warn if it is slender."""
    thread, work = job.thread, job.work
    turns = value(PRACTICE, "bar-turns")
    groove = work.groove or 0.0
    shortest = thread.length + groove + turns * thread.pitch + job.tool.blank
    least = _REACH_STEP * ceil(shortest / _REACH_STEP - 1e-9)
    asked = job.tool.overhang
    if asked is not None and asked < thread.length + groove:
        sheet.refuse(
            "tool.bar_too_short",
            told(
                "A bar that stands out {overhang} does not reach the end of {length} of thread "
                "and groove. What helps: an overhang of {least}.",
                overhang=_length(job, asked),
                length=_length(job, thread.length + groove),
                least=_length(job, least),
            ),
        )
    length = least if asked is None else asked
    sheet.add(
        "tool.bar_overhang",
        length,
        formula="Lb" if asked is not None else "method: l + G + n P + B, to the next whole step",
        inputs={"Lb": Input(length, "mm", "spec:tool.overhang", "read")}
        if asked is not None
        else {
            "l": sheet.ref("thread.length"),
            "G": Input(groove, "mm", "spec:work.groove", "read"),
            "n": constant(PRACTICE, "bar-turns"),
            "P": sheet.ref("thread.pitch"),
            "B": sheet.ref("tool.blank"),
        },
        source="the job" if asked is not None else source(PRACTICE, "bar-turns"),
        basis="data" if asked is not None else "practice",
        note="thread, groove, run-in and run-out, and the bit itself" if asked is None else "",
    )
    slender = value(PRACTICE, "bar-slender")
    if length > slender * size:
        sheet.warn(
            "tool.slender_bar",
            told(
                "The boring bar stands out {overhang}, {ratio} of its diameters; a steel one "
                "chatters over {slender}. A shorter nut, or a larger bore.",
                overhang=_length(job, length),
                ratio=f"{length / size:.1f}",
                slender=f"{slender:g}",
            ),
        )


def _section(job: Job, sheet: Sheet, size: float, reach: float) -> None:
    """Give the section through the bore at full depth, seen from the tailstock, point at left.

    ``tool.bore`` is the bore, ``tool.bore.root`` the bottom of the groove, ``tool.bore.bar`` and
    ``tool.bore.bit`` the bar and the bit in it, ``tool.bore.back`` the bar withdrawn [mm].
    """
    bore = sheet.number("thread.blank_diameter") / 2
    root = bore + sheet.number("thread.depth")
    bit, middle = job.tool.blank, root - reach - size / 2
    withdraw = sheet.number("tool.withdraw")
    behind = sqrt(max((size / 2) ** 2 - (bit / 2) ** 2, 0.0))
    rings = {
        "tool.bore": (0.0, 0.0, bore),
        "tool.bore.root": (0.0, 0.0, root),
        "tool.bore.bar": (-middle, -bit / 2, size / 2),
        "tool.bore.back": (-(middle - withdraw), -bit / 2, size / 2),
    }
    for name, (x, y, radius) in rings.items():
        sheet.outlines[name] = Outline(_circle(x, y, radius), closed=True)
    foot = bit * tan(radians(sheet.number("tool.end_relief")))
    sheet.outlines["tool.bore.bit"] = Outline(
        ((-root, 0.0), (-middle + behind, 0.0), (-middle + behind, -bit), (foot - root, -bit)),
        closed=True,
    )


def _circle(x: float, y: float, radius: float) -> tuple[tuple[float, float], ...]:
    return tuple(
        (x + radius * cos(2 * pi * k / _ROUND), y + radius * sin(2 * pi * k / _ROUND))
        for k in range(_ROUND)
    )


def _length(job: Job, length: float) -> str:
    if job.inch:
        return with_unit(length / MM_PER_INCH, "in", 3)
    return with_unit(length, "mm", 2)
