"""Rounded threads: the groove's width by a pin that stands over the crest, the root over two."""

from __future__ import annotations

from math import cos, radians, sin, tan

from cardgen.core.figure import Sheet, Step
from cardgen.core.words import told
from cardgen.sheets._constants import value
from cardgen.sheets._measure_root import record_root
from cardgen.sheets._measure_words import length, span
from cardgen.spec.job import Job

_TABLE = "measure/caliper"


def record_round(job: Job, sheet: Sheet, arc: float) -> None:
    """Record how far the wire stands over the crest, what the twist adds, and the root over pins.

    Parameters
    ----------
    arc
        Radius of the root, in the axial section [mm].
    """
    most = largest_on_root(sheet, arc)
    if most < value(_TABLE, "pin-least"):
        return
    _groove(job, sheet)
    record_root(job, sheet, most)


def largest_on_root(sheet: Sheet, arc: float) -> float:
    """Return the largest pin or ball that lies on the bottom of a root of a radius [mm]."""
    # Square to the helix an arc is as much sharper.
    steep = sheet.number(f"thread.lead_angle_{'major' if sheet.internal else 'minor'}")
    return value(_TABLE, "pin-share") * 2 * arc * cos(radians(steep)) ** 2


def _groove(job: Job, sheet: Sheet) -> None:
    over, crest = sheet["measure.over_wires"], sheet.ref("thread.blank_diameter")
    if over.low is None or over.high is None:
        return
    proud = [(size - float(crest.value)) / 2 for size in (over.number, over.low, over.high)]
    sheet.add(
        "measure.pin_proud",
        proud[0],
        low=proud[1],
        high=proud[2],
        formula="(M - d) / 2",
        inputs={"M": sheet.ref("measure.over_wires"), "d": crest},
        source="geometry: from the crest beside it to the top of the wire",
        basis="computed",
        note="over a crest of the blank's size; half of what the crest is smaller comes on top",
    )
    flank = radians(sheet.number("thread.leading_flank"))
    wire, width = sheet.number("measure.wire_chosen"), sheet.number("thread.pitch") / 2
    plane = sheet.number("thread.pitch_diameter") + wire * (1 + 1 / sin(flank)) - width / tan(flank)
    sheet.add(
        "measure.pin_short",
        (over.number - plane) * tan(flank),
        formula="(M - d2 - w (1 + 1 / sin(a)) + P / (2 tan(a))) tan(a)",
        inputs={
            "M": sheet.ref("measure.over_wires"),
            "d2": sheet.ref("thread.pitch_diameter"),
            "w": sheet.ref("measure.wire_chosen"),
            "P": sheet.ref("thread.pitch"),
            "a": sheet.ref("thread.leading_flank"),
        },
        source="geometry: the same wire between flanks without lead",
        basis="computed",
        note="the twist lifts the wire; the size over it allows for that",
    )
    pin = length(job, sheet.number("measure.wire_chosen"))
    text = told(
        "Groove width by a pin: {pin} laid in the groove stands {proud} over a crest "
        "of {crest}. The twist lifts it: left out, that would read {short} too "
        "narrow.",
        pin=pin,
        proud=span(job, proud[1], proud[2]),
        crest=length(job, float(crest.value)),
        short=length(job, sheet.number("measure.pin_short")),
    )
    sheet.steps.append(Step(text, "pins", "common practice"))
