"""When the half-nut may be closed again, and how the next start of a thread is found."""

from __future__ import annotations

from fractions import Fraction

from cardgen.core.figure import Sheet
from cardgen.core.rounding import rounded
from cardgen.rules.dialling import reading
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
_LIKELY_DIAL = range(10, 37)
"""Teeth of dial wheels that are worth suggesting."""


def record(job: Job, sheet: Sheet, train: Train | None) -> bool:
    """Record the marks and the indexing; return whether the half-nut may be opened."""
    machine, thread = job.machine, job.thread
    screw = machine.leadscrew_exact
    # The lead that is *cut*: with wheels that are not exact the dial loses its place.
    cut = screw * train.ratio if train else thread.lead_exact
    gear, marks = machine.thread_dial or (0, 0)
    found = start_marks(screw, cut, thread.starts, gear, marks) if marks else {}
    usable = found.get(1, ())
    anywhere = closes_anywhere(screw, cut)
    keeps = " (the same start)" if thread.starts > 1 else ""
    note = ""
    if anywhere and marks:
        text = f"any mark{keeps}; the half-nut may close anywhere"
    elif anywhere:
        text = f"no dial needed: the half-nut may close anywhere{keeps}"
    elif len(usable) == marks and usable:
        text = f"any mark{keeps}"
    elif usable:
        text = f"{'marks' if len(usable) > 1 else 'mark'} {', '.join(map(str, usable))}{keeps}"
        note = "Every line counted, from the one at which the half-nut was first closed."
    else:
        text = f"{CLOSED}: {'no mark finds the groove again' if marks else 'there is no dial'}"
        note = _why_closed(cut, thread.lead_exact, screw)
    inputs = {
        "Ls": given(machine.leadscrew, "mm", "machine:leadscrew.pitch"),
        "L": sheet.ref("setup.lead_cut") if train else lead(job, sheet),
    }
    if marks:
        inputs["teeth"] = given(float(gear), "", "machine:thread-dial.gear")
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
    if thread.starts > 1:
        next_marks = [found.get(start, ()) for start in range(2, thread.starts + 1)]
        _record_indexing(job, sheet, train, next_marks if all(next_marks) else [])
    return anywhere or bool(usable)


def _why_closed(cut: Fraction, wanted: Fraction, screw: Fraction) -> str:
    if cut != wanted:
        return "The wheels do not cut the lead exactly, so that a dial would lose its place."
    divisor = dial_gear_divisor(screw, cut)
    fitting = [teeth for teeth in _LIKELY_DIAL if teeth % divisor == 0]
    if not fitting:
        return f"The groove comes back only after {float(repeat_distance(screw, cut)):g} mm."
    return f"A dial wheel of {' or '.join(map(str, fitting[:3]))} teeth would serve."


def _record_indexing(
    job: Job, sheet: Sheet, train: Train | None, next_marks: list[tuple[int, ...]]
) -> None:
    thread, compound = job.thread, job.machine.compound_slide
    starts = thread.starts
    ways: list[str] = []
    if next_marks:
        some = "; ".join(
            f"start {number}: {'marks' if len(marks) > 1 else 'mark'} {', '.join(map(str, marks))}"
            for number, marks in enumerate(next_marks, 2)
        )
        ways.append(f"thread dial, {some}")
    if compound is not None and job.machine.compound_swivel:
        exact = thread.pitch_exact / compound.radial_step_exact
        nearest = round(exact)
        dial = reading(nearest, round(compound.per_turn_exact / compound.division_exact))
        off = float((nearest - exact) * compound.radial_step_exact)
        error = f", {rounded(off, 3)} mm off" if exact != nearest else ""
        ways.append(f"compound slide parallel to the axis, on by {dial}, one pitch{error}")
    if train is not None and train.wheels[0] % starts == 0:
        first = train.wheels[0]
        ways.append(
            f"first driver {first} out of mesh, spindle on by {first // starts} of its teeth"
        )
    if not ways:
        sheet.warn(
            "setup.no_indexing",
            f"Nothing on this machine finds the next of {starts} starts: it needs a first driver "
            f"whose teeth divide by {starts}, a compound slide that swivels, or a face plate "
            f"with {starts} slots.",
        )
        return
    inputs = {
        "n": given(float(starts), "", "spec:thread.starts"),
        "P": given(thread.pitch, "mm", "spec:thread.pitch"),
    }
    if train is not None:
        inputs["train"] = sheet.ref("setup.train")
    sheet.add(
        "setup.indexing",
        "; or ".join(ways[:2]),
        inputs=inputs,
        source="F. D. Jones, Turning and Boring (1919), Cutting Multiple Threads",
        basis="handbook",
        evidence="read",
    )
