"""The passes, as settings of the dial, that neither bend the bar nor break the tool."""

from __future__ import annotations

from cardgen.core.figure import Sheet
from cardgen.core.words import Said, told
from cardgen.rules.boring import Bar
from cardgen.rules.infeed import Schedule, Stuck
from cardgen.rules.methods import Case, Impossible, Plan, best, compare
from cardgen.rules.passes import LimitName
from cardgen.sheets._cutting_case import NEEDS, NUT_NEEDS, gather
from cardgen.sheets._cutting_ease import record_ease
from cardgen.sheets._cutting_help import Refused, refusal
from cardgen.sheets._cutting_limits import bar_length, free_length, limits
from cardgen.sheets._cutting_pace import compared, pace_figures
from cardgen.sheets._cutting_record import plan_figures, schedule_figures
from cardgen.sheets._cutting_steps import steps
from cardgen.sheets._cutting_stops import record_stops
from cardgen.sheets._cutting_tables import practice
from cardgen.sheets._cutting_words import length
from cardgen.spec.job import Job

_WITH_DIES = ("metric", "unified", "whitworth", "ba")
"""Forms for which hand dies are sold."""

_LIMITED_BY: dict[LimitName, str] = {
    "force": "cutting.force_allowed",
    "deflection": "cutting.deflection_allowed",
    "work stress": "cutting.work_stress_allowed",
    "blade": "cutting.tool_stress_allowed",
    "power": "cutting.power_allowed",
}

_COARSE_INWARDS = (
    "One division moves the tool {step} inwards: too coarse to keep the limits of the minor "
    "diameter by the dial. Finish by measuring."
)
_COARSE_OUTWARDS = (
    "One division moves the tool {step} outwards: too coarse to keep the limits of the major "
    "diameter by the dial. Finish by measuring."
)


def work_out(job: Job, sheet: Sheet) -> None:
    """Record the cutting law, the limits, the schedule of passes and its hardest moments.

    Parameters
    ----------
    job
        The job.
    sheet
        With the figures of thread, tool and setup behind it; what is missing there is done
        without, down to the limits alone.
    """
    limits(job, sheet)
    if not all(id in sheet for id in (*NEEDS, *(NUT_NEEDS if sheet.internal else ()))):
        return
    allowed = {name: sheet.number(id) for name, id in _LIMITED_BY.items() if id in sheet}
    case = gather(job, sheet, allowed)
    if not _held(job, sheet, case):
        return
    asked = None if job.tool.infeed == "auto" else job.tool.infeed
    pace_figures(job, sheet, case)
    plans = compare(case)
    found, reason = best(case, plans) if asked is None else (plans[asked], "as the job asks")
    if isinstance(found, Impossible):
        sheet.refuse(
            "cutting.infeed_impossible",
            told("Infeed {asked}: {reason}. Use auto.", asked=Said(asked), reason=found.reason),
        )
        return
    plan_figures(job, sheet, case, found, reason)
    record_ease(job, sheet, case, found)
    outcome = found.outcome
    if isinstance(outcome, Stuck):
        refused = Refused(
            case=case,
            step=found.lathe.step,
            stuck=outcome,
            asked=asked,
            pitch=job.thread.pitch,
            speeds=_as_strong(job, sheet),
            inch=job.inch,
            die=job.thread.form in _WITH_DIES
            and job.thread.diameter <= practice("die-largest").value,
        )
        sheet.refuse("cutting.no_safe_pass", refusal(refused))
        return
    schedule_figures(job, sheet, case, found, outcome)
    compared(sheet, case, plans, found)
    _warn(job, sheet, found, outcome)
    record_stops(sheet)
    sheet.steps.extend(steps(job, sheet, found))


def _as_strong(job: Job, sheet: Sheet) -> tuple[float, ...]:
    """Return the speeds at which the spindle has as much power as now: a slower one may not."""
    machine = job.machine
    if "setup.speed" not in sheet:
        return machine.speeds
    have = machine.power_at(sheet.number("setup.speed"))
    return tuple(speed for speed in machine.speeds if machine.power_at(speed) >= have)


def _held(job: Job, sheet: Sheet, case: Case) -> bool:
    """Record the free length and say whether the bar can be held so at all."""
    work = case.lathe.work
    if isinstance(work, Bar):
        bar_length(sheet)
        return True

    def shown(value: float) -> str:
        return length(value, inch=job.inch, decimals=1)

    if work.plain < -1e-9:
        sheet.refuse(
            "cutting.stickout_short",
            told(
                "The bar sticks out {stickout}, but thread and groove take {needed}: let it "
                "out at least that far.",
                stickout=shown(work.stickout),
                needed=shown(work.thread + work.groove),
            ),
        )
        return False
    deepest = case.depth + max(case.lathe.step, case.compound_step or 0.0)
    if work.blank <= 2 * deepest:
        sheet.refuse(
            "cutting.no_core",
            told(
                "A thread {depth} deep leaves no core in a bar of ⌀ {blank}: take a finer "
                "pitch or a thicker bar.",
                depth=shown(case.depth),
                blank=shown(work.blank),
            ),
        )
        return False
    if work.rest == "steady" and work.steady_at is None:
        sheet.warn(
            "cutting.steady_has_no_room",
            told(
                "A steady rest needs {room} beside the thread and there are {plain}: "
                "it is not counted on. A follow rest could go along with the tool.",
                room=shown(work.steady_width),
                plain=shown(work.plain),
            ),
        )
    free_length(job, sheet, work)
    trusted, free = job.machine.thread_overhang, work.free_length
    if trusted is not None and free > trusted + 1e-9 and work.rest != "follow":
        sheet.refuse(
            "cutting.overhang",
            told(
                "The bar is free over {free}; this lathe's owner trusts {trusted}. What "
                "would help: a follow rest, or a shorter stick-out.",
                free=shown(free),
                trusted=shown(trusted),
            ),
        )
    alone = work.holding == "chuck"
    ladder = practice("slender-chuck" if alone else "slender-centre")
    if free > ladder.value * work.blank and work.rest == "none":
        sheet.warn(
            "cutting.slender",
            told(
                "Slender work: {free} free on ⌀ {blank} is {diameters} diameters; over {most} it "
                "wants {help}.",
                free=shown(free),
                blank=shown(work.blank),
                diameters=f"{free / work.blank:.1f}",
                most=f"{ladder.value:g}",
                help="a centre or a rest" if alone else "a rest",
            ),
        )
    return True


def _warn(job: Job, sheet: Sheet, plan: Plan, outcome: Schedule) -> None:
    """Say where the dial or the sum of bites does not come out well."""
    if not plan.kept:
        pattern = _COARSE_OUTWARDS if sheet.internal else _COARSE_INWARDS
        step = length(plan.lathe.step, inch=job.inch, decimals=3)
        sheet.warn("cutting.dial_coarse", told(pattern, step=step))
    if outcome.thin_end:
        sheet.warn(
            "cutting.thin_last_bite",
            "The last bite is thinner than the least chip: hone the tool, or it rubs.",
        )
