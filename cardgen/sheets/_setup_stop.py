"""How much run-out there is, whether the hand can stop within it, and how to stop.

The run-out that there is: the run-out groove less the width of the tool at the thread's crest,
for the tool must stand in the groove as a whole before it stops; against a shoulder none; with an
open end the way to the jaws less half the tool's blank. A thread that is cut away from the chuck,
as a left hand is with the spindle forward, runs off the free end, so that nothing limits it there
but the tailstock; it begins in a groove.
"""

from __future__ import annotations

from collections.abc import Mapping

from cardgen.core.figure import Input, Sheet, Step
from cardgen.core.rounding import rounded
from cardgen.core.words import joined, told
from cardgen.rules.speeds import Choice
from cardgen.rules.stopping import speed_for_run_out
from cardgen.sheets._setup_back import judge_backwards
from cardgen.sheets._setup_margin import record_margin
from cardgen.sheets._setup_speed import STOPPING, coast
from cardgen.sheets._setup_words import given, known, length, practice, practised
from cardgen.spec.job import Job

_RUNS_ON = (
    "At {speed} rev/min, the slowest, the carriage runs on {needed} in the {reaction} s of the "
    "hand; to {end} there is {free}."
)
_RUNS_ON_AND_COASTS = (
    "At {speed} rev/min, the slowest, the carriage runs on {needed} in the {reaction} s of the "
    "hand and the {turns} turns that the spindle coasts; to {end} there is {free}."
)


def record_run_out(job: Job, sheet: Sheet) -> None:
    """Record the run-out that there is, for a thread that is cut towards something."""
    work, thread = job.work, job.thread
    if job.outwards or (sheet.internal and work.thread_end == "open"):
        return
    width, inputs, formula = _tool_width(job, sheet)
    if work.thread_end == "groove" and work.groove is not None:
        value = work.groove - width
        groove = {"G0": given(work.groove, "mm", "spec:work.groove")}
        inputs, formula = groove | dict(inputs), f"G0 - {formula}"
        note = "Groove less the tool's width at the crest: the whole tool must be in the groove."
    elif work.thread_end == "shoulder" and work.blind is not None:
        blank = job.tool.blank
        value = work.blind - thread.length - blank / 2
        inputs = {
            "H": given(work.blind, "mm", "spec:work.blind"),
            "l": given(thread.length, "mm", "spec:thread.length"),
            "B": given(blank, "mm", "spec:tool.blank"),
        }
        formula = "H - l - B / 2"
        note = "From the end of the thread to the bottom of the hole, less half the bit."
    elif work.thread_end == "shoulder":
        value, inputs, formula = 0.0, {}, ""
        note = "The thread runs up to the shoulder: there is none."
    else:
        blank = job.tool.blank
        value = work.stickout - thread.length - blank / 2.0
        inputs = {
            "s": given(work.stickout, "mm", "spec:work.stickout"),
            "l": given(thread.length, "mm", "spec:thread.length"),
            "B": given(blank, "mm", "spec:tool.blank"),
        }
        formula = "s - l - B / 2"
        note = "From the end of the thread to the jaws, less half the tool's blank."
    sheet.add(
        "setup.groove_given",
        value,
        formula=formula,
        inputs=inputs,
        source="geometry of tool and groove",
        basis="computed",
        note=note,
    )


def record(job: Job, sheet: Sheet, choice: Choice, half_nut_opens: bool) -> None:
    """Judge whether the carriage stops in time, and record how to stop and to go back."""
    width = _tool_width(job, sheet)[0]
    work, cranked = job.work, False
    if sheet.internal and work.thread_end == "open":
        _judge_through(job, sheet, width)
    elif "setup.groove_given" not in sheet:
        _judge_outwards(job, sheet, width)
    elif STOPPING in choice.broken:
        cranked = job.machine.hand_crank
        _judge_run_out(job, sheet, choice.speed, width)
    judge_backwards(job, sheet)
    by_hand = not (job.machine.stop == "trip" and half_nut_opens)
    record_margin(job, sheet, choice, by_hand=by_hand, tool=_tool_width(job, sheet))
    _record_stop(job, sheet, half_nut_opens, cranked)
    _record_return(job, sheet, half_nut_opens)


def _tool_width(job: Job, sheet: Sheet) -> tuple[float, Mapping[str, Input], str]:
    """Width of the tool at the thread's crest: pitch less crest flat, or the pitch at most."""
    pitch = known(sheet, "thread.pitch", given(job.thread.pitch, "mm", "spec:thread.pitch"))
    if "thread.crest_flat" not in sheet:
        return float(pitch.value), {"P": pitch}, "P"
    crest = sheet.ref("thread.crest_flat")
    return float(pitch.value) - float(crest.value), {"P": pitch, "wc": crest}, "(P - wc)"


def _judge_run_out(job: Job, sheet: Sheet, speed: float, width: float) -> None:
    """Say what to do where even the slowest speed runs on too far, or refuse."""
    machine, thread, work = job.machine, job.thread, job.work
    needed, free = sheet.number("setup.groove_needed"), sheet.number("setup.groove_given")
    end = {"groove": "the end of the groove", "shoulder": "the shoulder", "open": "the jaws"}
    if work.blind is not None:
        end["shoulder"] = "the bottom of the hole"
    numbers = told(
        _RUNS_ON_AND_COASTS if coast(sheet) else _RUNS_ON,
        speed=f"{speed:g}",
        needed=length(job, needed, "up"),
        reaction=f"{machine.reaction:g}",
        turns=f"{coast(sheet):g}",
        end=end[work.thread_end],
        free=length(job, max(0.0, free), "down"),
    )
    slower = speed_for_run_out(free, thread.lead, machine.reaction, coast(sheet))
    helps = [
        told("a run-out groove of {needed} or more", needed=length(job, needed + width, "up"))
        if work.thread_end != "open"
        else told("{more} more stick-out", more=length(job, needed - free, "up")),
        "a hand crank on the spindle",
        "a trip that stops the carriage",
    ]
    if machine.reverse and not job.backwards and not sheet.internal:
        helps.append("cutting away from the chuck, the spindle backwards (cut-towards: tailstock)")
    if slower >= 1:
        lead_allowed = 60.0 * free / (speed * machine.reaction)
        helps += [
            told("a spindle speed of {speed} rev/min", speed=rounded(slower, 0, "down")),
            told("a lead of {lead}", lead=length(job, lead_allowed, "down")),
        ]
    if machine.hand_crank:
        sheet.warn(
            "setup.crank_to_the_end",
            told("{numbers} Stop the spindle short and crank the last turns.", numbers=numbers),
        )
    elif machine.stop in ("fixed", "trip"):
        sheet.warn(
            "setup.stop_is_the_last_resort",
            told(
                "{numbers} Set the carriage stop so that the tool cannot reach it, and be "
                "early: the stop is the last resort.",
                numbers=numbers,
            ),
        )
    elif work.thread_end == "open":
        sheet.warn(
            "setup.jaws_near",
            told("{numbers} What would help: {helps}.", numbers=numbers, helps=joined(helps, ", ")),
        )
    else:
        sheet.refuse(
            "setup.cannot_stop",
            told("{numbers} What would help: {helps}.", numbers=numbers, helps=joined(helps, ", ")),
        )


def _judge_through(job: Job, sheet: Sheet, width: float) -> None:
    """Say what room the tool needs beyond a nut that is threaded right through."""
    room = length(job, sheet.number("setup.groove_needed") + width, "up")
    behind = length(job, width + job.tool.blank, "up")
    if job.thread.hand == "left":
        sheet.warn(
            "setup.through_left",
            told(
                "Left hand, through: the tool starts behind the nut, so hold it {behind} or "
                "more off the chuck's face, and keep {room} free before its front.",
                behind=behind,
                room=room,
            ),
        )
        return
    sheet.warn(
        "setup.through",
        told(
            "The tool runs out behind the nut: hold it {room} or more off the chuck's "
            "face, and see that the jaws stand clear of its bore.",
            room=room,
        ),
    )


def _judge_outwards(job: Job, sheet: Sheet, width: float) -> None:
    groove, needed = job.work.groove, sheet.number("setup.groove_needed")
    why = "Away from the chuck" if job.backwards else "Left hand"
    sheet.warn(
        "setup.outwards_run_off" if job.backwards else "setup.left_hand_run_off",
        told(
            "{why}: the tool runs off the tailstock end of the thread. Keep {room} free "
            "there before anything it could meet.",
            why=why,
            room=length(job, needed + width, "up"),
        ),
    )
    if groove is None:
        sheet.warn(
            "setup.no_groove_to_start",
            told(
                "{why}: the tool is let in at the chuck end of the thread and needs a groove "
                "there, at least {width} wide at full depth.",
                why=why,
                width=length(job, width, "up"),
            ),
        )
    elif groove < width:
        sheet.refuse(
            "setup.groove_too_narrow",
            told(
                "{why}: the tool is let in at the groove of {groove}, but at full depth it is "
                "{width} wide. A wider groove would help.",
                why=why,
                groove=length(job, groove, "down"),
                width=length(job, width, "up"),
            ),
        )


def _record_stop(job: Job, sheet: Sheet, half_nut_opens: bool, cranked: bool) -> None:
    work, machine = job.work, job.machine
    inputs = {
        "end": given(work.thread_end, "", "spec:work.thread-end"),
        "dial": sheet.ref("setup.dial_marks"),
    }
    halt = "open the half-nut" if half_nut_opens else "stop the spindle"
    # A nut's tool is withdrawn into the bore.
    draw = "withdraw the tool inwards" if sheet.internal else "draw the tool out"
    hole = sheet.internal and work.thread_end == "open"
    if job.outwards and sheet.internal:
        text = told("let the tool run out of the free face, then {halt}", halt=halt)
    elif job.outwards:
        text = told("let the tool run off the tailstock end, then {halt}", halt=halt)
    elif hole:
        text = told(
            "let the tool run out behind the nut, then {halt} and {draw}", halt=halt, draw=draw
        )
    elif cranked:
        inputs |= {"g": sheet.ref("setup.groove_needed"), "k": practice("crank-margin")}
        short = practised("crank-margin") * sheet.number("setup.groove_needed")
        text = told(
            "stop the spindle {short} or more short, crank the last turns by hand, {draw}",
            short=length(job, short, "up"),
            draw=draw,
        )
    elif work.thread_end == "groove":
        first, then = (halt, draw) if half_nut_opens else (draw, halt)
        text = told("in the groove, {first} and {then}", first=first, then=then)
    elif work.thread_end == "shoulder":
        wall = "shoulder" if work.blind is None else "bottom"
        text = told("{draw} short of the {wall} and {halt}", draw=draw, wall=wall, halt=halt)
    else:
        text = told("{draw} at the end mark, then {halt}", draw=draw, halt=halt)
    if not job.outwards and machine.stop != "none":
        pattern = "{way}; {stop} set with the tool at the thread's end"
        if work.thread_end == "groove":
            pattern = "{way}; {stop} set with the tool in the groove"
        text = told(pattern, way=text, stop=f"{machine.stop} stop")
    sheet.add(
        "setup.stop",
        text,
        inputs=inputs,
        source="common practice",
        basis="practice",
        evidence="practice",
    )


def _record_return(job: Job, sheet: Sheet, half_nut_opens: bool) -> None:
    out = "tool withdrawn" if sheet.internal else "tool out"
    if half_nut_opens:
        back = "tool out, half-nut open, carriage back by hand; close it again by the thread dial"
    elif job.machine.reverse:
        turned = "spindle forward" if job.backwards else "spindle reversed"
        back = told(
            "{out}, half-nut closed, {turned} until the tool is a turn past the start: "
            "the way in takes up the backlash",
            out=out,
            turned=turned,
        )
    else:
        back = told(
            "{out}, half-nut closed, spindle turned back by hand a turn past the start", out=out
        )
    sheet.steps.append(Step(back, "return", "common practice"))
    if not half_nut_opens:
        sheet.steps.append(
            Step(
                "The carriage runs on as long as the spindle coasts. Try it clear of the work: the "
                "reaction time in the machine file must cover it.",
                "caution",
                "common practice",
            )
        )
