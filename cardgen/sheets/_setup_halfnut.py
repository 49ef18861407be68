"""When the half-nut may be closed again.

Hands over for drawing the lines of the dial, ``setup.dial.LINE.START``: the line's number, the
start of the thread that it finds (0 for none), and its direction as a point on a circle of radius
1 about (0, 0), line 1 on top, the others after it clockwise.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from math import cos, pi, sin

from cardgen.core.figure import Outline, Sheet
from cardgen.core.words import told
from cardgen.rules.thread_dial import (
    closes_anywhere,
    dial_gear_divisor,
    repeat_distance,
    start_marks,
)
from cardgen.rules.train import Train
from cardgen.sheets._setup_words import given, lead
from cardgen.spec.job import Job

RULE = (
    "least common multiple of the leadscrew's lead and the lead that is cut, in exact fractions "
    "(reproduces the charts of the Clarke CL300M and South Bend manuals)"
)
CLOSED = "half-nut stays closed"
_LOST = told("{closed}: no mark finds the groove again", closed=CLOSED)
_NONE = told("{closed}: there is no dial", closed=CLOSED)
_ANY = "any mark; the half-nut may close anywhere"
_ANY_START = "any mark (the same start); the half-nut may close anywhere"
_NO_DIAL = "no dial needed: the half-nut may close anywhere"
_LIKELY_DIAL = range(10, 37)
"""Teeth of dial wheels that are worth suggesting."""


def record(job: Job, sheet: Sheet, train: Train | None) -> bool:
    """Record the marks; return whether the half-nut may be opened."""
    machine, thread = job.machine, job.thread
    screw = machine.leadscrew_exact
    cut = lead_cut(job, train)
    gear, found = dial_starts(job, train)
    marks = machine.thread_dial[1] if machine.thread_dial else 0
    usable = found.get(1, ())
    anywhere = closes_anywhere(screw, cut)
    text, note = _told(job, usable, anywhere, marks)
    if not usable and not anywhere:
        note = _why_closed(cut, thread.lead_exact, screw)
    inputs = {
        "Ls": given(machine.leadscrew, "mm", "machine:leadscrew.pitch"),
        "L": sheet.ref("setup.lead_cut") if train else lead(job, sheet),
    }
    if marks:
        own = machine.thread_dial is not None and gear == machine.thread_dial[0]
        origin = "machine:thread-dial.gear" if own else "machine:thread-dial.other-gears"
        inputs["teeth"] = given(float(gear), "", origin)
        inputs["marks"] = given(float(marks), "", "machine:thread-dial.marks")
    sheet.add(
        "setup.dial_marks",
        text,
        formula="method: marks whose distance is a multiple of lcm(Ls, L); a whole turn of the "
        "dial is teeth Ls",
        inputs=inputs,
        source=RULE,
        basis="computed",
        note=note,
    )
    if usable and machine.dial_gears:
        sheet.add(
            "setup.dial_gear",
            float(gear),
            inputs={"marks": sheet.ref("setup.dial_marks")},
            source=RULE,
            basis="computed",
            note="Of the gears that fit the dial, the one with which most marks serve.",
        )
    if usable and not anywhere:
        _draw(sheet, marks, found)
    return anywhere or bool(usable)


def _told(job: Job, usable: Sequence[int], anywhere: bool, marks: int) -> tuple[str, str]:
    """Return which marks serve, and a note on them."""
    several, note = job.thread.starts > 1, ""
    if anywhere and marks:
        return (_ANY_START if several else _ANY), ""
    if anywhere:
        text = _NO_DIAL
    elif len(usable) == marks and usable:
        text = "any mark"
    elif usable:
        pattern = "marks {marks}" if len(usable) > 1 else "mark {marks}"
        text = told(pattern, marks=", ".join(map(str, usable)))
        note = "Every line counted, from the one at which the half-nut was first closed."
    else:
        return (_LOST if marks else _NONE), ""
    return (told("{marks} (the same start)", marks=text) if several else text), note


def lead_cut(job: Job, train: Train | None) -> Fraction:
    """Return the lead that is *cut* [mm]: with wheels that are not exact a dial loses its place."""
    return job.machine.leadscrew_exact * train.ratio if train else job.thread.lead_exact


def dial_starts(job: Job, train: Train | None) -> tuple[int, Mapping[int, tuple[int, ...]]]:
    """Return the teeth of the dial's best gear, and the marks at which it finds each start.

    Best is the gear that finds most starts, then the one with most marks for the first, then the
    one that is named first.
    """
    machine = job.machine
    if machine.thread_dial is None:
        return 0, {}
    own, marks = machine.thread_dial
    cut = lead_cut(job, train)

    def worth(gear: int) -> tuple[int, int]:
        found = start_marks(machine.leadscrew_exact, cut, job.thread.starts, gear, marks)
        return sum(map(bool, found.values())), len(found[1])

    gear = max((own, *machine.dial_gears), key=worth)
    return gear, start_marks(machine.leadscrew_exact, cut, job.thread.starts, gear, marks)


def _why_closed(cut: Fraction, wanted: Fraction, screw: Fraction) -> str:
    if cut != wanted:
        return "The wheels do not cut the lead exactly, so that a dial would lose its place."
    divisor = dial_gear_divisor(screw, cut)
    fitting = [teeth for teeth in _LIKELY_DIAL if teeth % divisor == 0]
    if not fitting:
        after = f"{float(repeat_distance(screw, cut)):g} mm"
        return told("The groove comes back only after {distance}.", distance=after)
    teeth = ", ".join(map(str, fitting[:3]))
    return told("Dial wheels that would serve, in teeth: {teeth}.", teeth=teeth)


def _draw(sheet: Sheet, marks: int, found: Mapping[int, tuple[int, ...]]) -> None:
    finds = {mark: start for start, some in found.items() for mark in some}
    for mark in range(1, marks + 1):
        turn = 2 * pi * (mark - 1) / marks
        place = ((sin(turn), cos(turn)),)
        sheet.outlines[f"setup.dial.{mark}.{finds.get(mark, 0)}"] = Outline(place)
