"""The seconds from closing the half-nut to the wall, and how many of them the hand has to spare."""

from __future__ import annotations

from collections.abc import Mapping

from cardgen.core.figure import Input, Sheet
from cardgen.core.rounding import rounded
from cardgen.core.words import joined, told
from cardgen.rules.speeds import Choice
from cardgen.rules.stopping import time_over, time_to_spare
from cardgen.sheets._setup_speed import KINEMATICS, coast
from cardgen.sheets._setup_words import given, known, lead, length, practice, practised
from cardgen.spec.job import Job

Width = tuple[float, Mapping[str, Input], str]
"""The tool's width at the crest [mm], what it rests on, and its formula."""


def record_margin(job: Job, sheet: Sheet, choice: Choice, *, by_hand: bool, tool: Width) -> None:
    """Record the times, the grooves that are wanted, and warn of a margin that is slim.

    Parameters
    ----------
    by_hand
        Whether it is a hand, and not a trip, that stops the carriage.
    """
    if job.outwards:
        if not (sheet.internal and job.work.thread_end == "open"):
            _record_start_groove(sheet, tool)
        return
    _record_approach(job, sheet)
    if "setup.groove_given" not in sheet:
        return
    if job.work.thread_end != "open":
        _record_groove(sheet, tool)
    free = sheet.number("setup.groove_given")
    if free <= 0:
        return
    _record_times(sheet)
    if by_hand:
        _record_spare(job, sheet, choice)


def _record_approach(job: Job, sheet: Sheet) -> None:
    turns = practice("approach-turns")
    away = practised("approach-turns") * job.thread.lead
    sheet.add(
        "setup.approach",
        away,
        formula="N L",
        inputs={"N": turns, "L": lead(job, sheet)},
        source="common practice: the carriage's play is taken up before the tool meets the work",
        basis="practice",
        evidence="practice",
    )
    thread = known(sheet, "thread.length", given(job.thread.length, "mm", "spec:thread.length"))
    sheet.add(
        "setup.time_from_nut",
        time_over(away + float(thread.value), job.thread.lead, sheet.number("setup.speed")),
        formula="(a + l) / vc",
        inputs={
            "a": sheet.ref("setup.approach"),
            "l": thread,
            "vc": sheet.ref("setup.carriage_speed"),
        },
        source=KINEMATICS,
        basis="computed",
        note="The spindle is taken to keep its speed; under the cut it slows, which leaves more "
        "time.",
    )


def _record_start_groove(sheet: Sheet, tool: Width) -> None:
    width, inputs, formula = tool
    room = practice("start-room")
    sheet.add(
        "setup.start_groove",
        width + practised("start-room"),
        formula=f"{formula} + r",
        inputs={**inputs, "r": room},
        source="common practice: the tool is wound in to depth before the half-nut closes",
        basis="practice",
        evidence="practice",
        note="at full depth, at the chuck end of the thread",
    )


def _record_groove(sheet: Sheet, tool: Width) -> None:
    width, inputs, formula = tool
    sheet.add(
        "setup.groove_least",
        sheet.number("setup.groove_needed") + width,
        formula=f"g + {formula}",
        inputs={"g": sheet.ref("setup.groove_needed"), **inputs},
        source="geometry of tool and groove",
        basis="computed",
        note="at this speed and reaction, without a second to spare",
    )


def _record_times(sheet: Sheet) -> None:
    free, speed = sheet.ref("setup.groove_given"), sheet.ref("setup.carriage_speed")
    sheet.add(
        "setup.stop_time",
        float(free.value) / float(speed.value),
        formula="G / vc",
        inputs={"G": free, "vc": speed},
        source=KINEMATICS,
        basis="computed",
        note="from the thread's end to where the tool must stand",
    )


def _record_spare(job: Job, sheet: Sheet, choice: Choice) -> None:
    free, machine, pitch = sheet.number("setup.groove_given"), job.machine, job.thread.lead
    turns = coast(sheet)

    def spare(speed: float) -> float:
        return time_to_spare(free, pitch, speed, machine.reaction, turns)

    inputs = {"ts": sheet.ref("setup.stop_time"), "tr": sheet.ref("setup.reaction")}
    formula = "ts - tr"
    if turns:
        inputs |= {
            "N": sheet.ref("setup.coast"),
            "L": lead(job, sheet),
            "vc": sheet.ref("setup.carriage_speed"),
        }
        formula = "ts - tr - N L / vc"
    sheet.add(
        "setup.stop_margin",
        spare(choice.speed),
        formula=formula,
        inputs=inputs,
        source=KINEMATICS,
        basis="computed",
    )
    least = practised("stop-margin")
    if not 0 <= spare(choice.speed) < least:
        return
    slower = [speed for speed in machine.speeds if speed < choice.speed and spare(speed) >= least]
    helps = (
        [
            told(
                "{speed} rev/min, which leaves {seconds}",
                speed=f"{slower[-1]:g}",
                seconds=_seconds(spare(slower[-1])),
            )
        ]
        if slower
        else []
    )
    if job.work.thread_end != "open":
        wider = (least - spare(choice.speed)) * sheet.number("setup.carriage_speed")
        helps.append(told("a groove {more} wider", more=length(job, wider, "up")))
    if machine.hand_crank:
        helps.append("cranking the last turns by hand")
    if machine.reverse and not sheet.internal:
        helps.append("cutting away from the chuck, the spindle backwards (cut-towards: tailstock)")
    sheet.warn(
        "setup.stop_slim",
        told(
            "At {speed} rev/min only {seconds} are to spare when the hand takes "
            "{reaction} s. What would help: {helps}.",
            speed=f"{choice.speed:g}",
            seconds=_seconds(spare(choice.speed)),
            reaction=f"{machine.reaction:g}",
            helps=joined(helps, "; "),
        ),
    )


_WHOLE_TENTH = 0.1
"""Times below this are written to the hundredth [s]."""


def _seconds(value: float) -> str:
    return f"{rounded(value, 1 if value >= _WHOLE_TENTH else 2, 'down')} s"
