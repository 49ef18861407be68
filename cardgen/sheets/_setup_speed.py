"""Which of the machine's speeds to run at, what rules it, and how fast the carriage then goes."""

from __future__ import annotations

from collections.abc import Mapping

from cardgen.core.figure import Input, Sheet
from cardgen.core.rounding import rounded
from cardgen.core.words import joined, told
from cardgen.rules.cutting import Edge, Law, spindle_power
from cardgen.rules.speeds import (
    Choice,
    choose_speed,
    cutting_speed,
    speed_for_cutting_speed,
    speed_for_power,
)
from cardgen.rules.stopping import carriage_speed, run_out, speed_for_run_out, time_over
from cardgen.sheets._setup_range import record_range
from cardgen.sheets._setup_words import (
    given,
    known,
    lead,
    length,
    practice,
    practised,
    setting,
    surface_speed,
)
from cardgen.spec.job import Job

SURFACE, POWER, STOPPING = "cutting speed", "spindle power", "stopping"
KINEMATICS = "kinematics"


def record(job: Job, sheet: Sheet, half_nut_opens: bool) -> Choice:
    """Record the speed, its reason and what moves how fast; return the choice.

    The run-out that there is must stand on the sheet already, if there is a limit to it.
    """
    machine = job.machine
    _record_coast(job, sheet, half_nut_opens)
    limits, inputs = _limits(job, sheet)
    # A trip that opens the half-nut does not wait for a hand; with the half-nut closed it may not.
    by_hand = not (machine.stop == "trip" and half_nut_opens)
    if by_hand and "setup.groove_given" in sheet:
        free = sheet.number("setup.groove_given")
        limits[STOPPING] = speed_for_run_out(free, job.thread.lead, machine.reaction, coast(sheet))
        inputs |= {
            "G": sheet.ref("setup.groove_given"),
            "tr": given(machine.reaction, "s", "machine:carriage-stop.reaction"),
        }
    able = tuple(speed for speed in machine.speeds if not _stalls(job, sheet, speed))
    choice = choose_speed(able or machine.speeds, limits)
    _record_speed(job, sheet, choice, limits, inputs)
    record_range(job, sheet, choice.speed)
    if not able:
        _warn_of_stall(job, sheet, choice.speed)
    _record_motion(job, sheet, choice.speed)
    if SURFACE in choice.broken:
        sheet.warn(
            "setup.too_fast_for_tool",
            told(
                "Even the slowest, {breach}: use cutting oil and light passes, or turn the "
                "spindle by hand.",
                breach=_breach(SURFACE, choice.speed, job, sheet),
            ),
        )
    if POWER in choice.broken:
        sheet.warn(
            "setup.too_little_power",
            told("Even the slowest, {breach}.", breach=_breach(POWER, choice.speed, job, sheet)),
        )
    return choice


def _record_coast(job: Job, sheet: Sheet, half_nut_opens: bool) -> None:
    """Record how far the spindle coasts, where it and not the half-nut stops the carriage."""
    turns = job.machine.coast
    if half_nut_opens or not turns:
        return
    sheet.add(
        "setup.coast",
        turns,
        inputs={"N": given(turns, "", "machine:carriage-stop.coast")},
        source="the machine file: the maker's own",
        basis="data",
        evidence="read",
    )


def coast(sheet: Sheet) -> float:
    """Return the turns that the spindle coasts while it carries the tool on."""
    return sheet.number("setup.coast") if "setup.coast" in sheet else 0.0


def _diameter(job: Job, sheet: Sheet) -> Input:
    spec = given(job.thread.diameter, "mm", "spec:thread.diameter")
    return known(sheet, "thread.major_diameter", spec)


def _limits(job: Job, sheet: Sheet) -> tuple[dict[str, float], dict[str, Input]]:
    """Return the fastest speed that cutting speed and power allow, and what they rest on."""
    machine, cutting = job.machine, job.work.material.cutting
    diameter = _diameter(job, sheet)
    d = float(diameter.value)
    power = machine.power * machine.efficiency
    limits = {
        SURFACE: speed_for_cutting_speed(cutting.speed.value, d),
        POWER: speed_for_power(power, _light_force(job, sheet), d),
    }
    inputs = {
        "v": Input(cutting.speed.value, "m/min", "material:cutting.speed", cutting.speed.evidence),
        "d": diameter,
        "Pa": given(power, "W", "machine:spindle.power"),
        "h": practice("light-cut"),
    }
    return limits, inputs


def _light_force(job: Job, sheet: Sheet) -> float:
    """Return the force of a light finishing cut of the tool's whole point [N]."""
    cutting = job.work.material.cutting
    width = sheet.number("tool.tip_width") if "tool.tip_width" in sheet else job.thread.pitch / 2
    law = Law(cutting.kc11.value, cutting.mc.value)
    return law.force(Edge(width, practised("light-cut")))


def _stalls(job: Job, sheet: Sheet, speed: float) -> bool:
    """Whether belt or motor, which turn no harder at a low speed, let even a light cut stand."""
    machine = job.machine
    have = machine.power_at(speed)
    if have >= machine.power * machine.efficiency:
        return False
    return spindle_power(_light_force(job, sheet), float(_diameter(job, sheet).value), speed) > have


def _warn_of_stall(job: Job, sheet: Sheet, speed: float) -> None:
    d = float(_diameter(job, sheet).value)
    needed = spindle_power(_light_force(job, sheet), d, speed)
    have = job.machine.power_at(speed)
    sheet.warn(
        "setup.too_little_torque",
        told(
            "The spindle stalls: at {speed} rev/min a light cut takes {needed} W, and there are "
            "{have} W. A slower gear or a narrower tool would help.",
            speed=f"{speed:g}",
            needed=rounded(needed, 0, "up"),
            have=rounded(have, 0, "down"),
        ),
    )


def _record_speed(
    job: Job, sheet: Sheet, choice: Choice, limits: Mapping[str, float], inputs: Mapping[str, Input]
) -> None:
    allowed = joined(
        (
            told("{limit} {speed}", limit=name, speed=rounded(limit, 0, "down"))
            for name, limit in limits.items()
        ),
        ", ",
    )
    sheet.add(
        "setup.speed",
        choice.speed,
        formula="method: fastest of the machine's speeds that every limit allows",
        inputs=inputs,
        source="1000 v / (pi d), power over force, and run-out over lead and reaction time",
        basis="computed",
        note=told("Allowed at most, in rev/min: {allowed}.", allowed=allowed),
    )
    # What is said is what breaks: at the next faster speed, or even at the slowest.
    ruled, tried = choice.ruled_by, choice.speed if choice.broken else choice.faster
    if not ruled or tried is None:
        text = "the machine's fastest speed; nothing forbids it"
    else:
        first = "no slower speed" if choice.broken else ruled
        text = told("{limit}: {breach}", limit=first, breach=_breach(ruled, tried, job, sheet))
        others = [name for name, most in limits.items() if tried > most and name != ruled]
        if others:
            pattern = "{reason}; {others} forbids it too"
            if len(others) > 1:
                pattern = "{reason}; {others} forbid it too"
            text = told(pattern, reason=text, others=joined(others, " and "))
    sheet.add(
        "setup.speed_reason",
        text,
        inputs={"n": sheet.ref("setup.speed")},
        source="the lowest of the limits rules",
        basis="computed",
    )


def _breach(limit: str, speed: float, job: Job, sheet: Sheet) -> str:
    """Say in numbers what a speed would break."""
    d = float(_diameter(job, sheet).value)
    if limit == SURFACE:
        allowed = job.work.material.cutting.speed.value
        return told(
            "{speed} rev/min is {surface}, and {allowed} is allowed",
            speed=f"{speed:g}",
            surface=surface_speed(job, cutting_speed(d, speed)),
            allowed=surface_speed(job, allowed),
        )
    if limit == POWER:
        power = spindle_power(_light_force(job, sheet), d, speed)
        have = job.machine.power * job.machine.efficiency
        return told(
            "{speed} rev/min takes {power} W for a light cut, and there are {have} W",
            speed=f"{speed:g}",
            power=rounded(power, 0, "up"),
            have=rounded(have, 0, "down"),
        )
    needed = run_out(job.thread.lead, speed, job.machine.reaction, coast(sheet))
    return told(
        "at {speed} rev/min the carriage runs on {needed}, and there is {free}",
        speed=f"{speed:g}",
        needed=length(job, needed, "up"),
        free=length(job, max(0.0, sheet.number("setup.groove_given")), "down"),
    )


def _record_motion(job: Job, sheet: Sheet, speed: float) -> None:
    thread, machine = job.thread, job.machine
    n = setting(sheet, "setup.speed")
    diameter = _diameter(job, sheet)
    sheet.add(
        "setup.cutting_speed",
        cutting_speed(float(diameter.value), speed),
        formula="pi d n / 1000",
        inputs={"d": diameter, "n": n},
        source=KINEMATICS,
        basis="computed",
    )
    sheet.add(
        "setup.carriage_speed",
        carriage_speed(thread.lead, speed),
        formula="L n / 60",
        inputs={"L": lead(job, sheet), "n": n},
        source=KINEMATICS,
        basis="computed",
    )
    sheet.add(
        "setup.time_to_stop",
        time_over(thread.length, thread.lead, speed),
        formula="l / vc",
        inputs={
            "l": known(sheet, "thread.length", given(thread.length, "mm", "spec:thread.length")),
            "vc": sheet.ref("setup.carriage_speed"),
        },
        source=KINEMATICS,
        basis="computed",
        note="" if job.work.thread_end != "open" else "To the end of the thread.",
    )
    sheet.add(
        "setup.reaction",
        machine.reaction,
        inputs={"tr": given(machine.reaction, "s", "machine:carriage-stop.reaction")},
        source="the machine file: the maker's own",
        basis="data",
        evidence="read" if "carriage-stop.reaction" in machine.places else "practice",
        note="No single true value exists; 0.7 s is a ready hand, 1.5 s an unready one.",
    )
    inputs = {"vc": sheet.ref("setup.carriage_speed"), "tr": sheet.ref("setup.reaction")}
    if coast(sheet):
        inputs |= {"N": sheet.ref("setup.coast"), "L": lead(job, sheet)}
    sheet.add(
        "setup.groove_needed",
        run_out(thread.lead, speed, machine.reaction, coast(sheet)),
        formula="vc tr + N L" if coast(sheet) else "vc tr",
        inputs=inputs,
        source=KINEMATICS,
        basis="computed",
        note="the spindle taken to keep its speed under the cut: the safe side",
    )
