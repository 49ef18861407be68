"""The list of passes itself: what the dial shows at each, how many there are, how long it takes."""

from __future__ import annotations

from cardgen.core.figure import Input, Pass, Sheet
from cardgen.core.words import told
from cardgen.rules.dialling import reading, reading_outwards, travel
from cardgen.rules.infeed import Bite
from cardgen.rules.methods import Plan
from cardgen.sheets._cutting_tables import practice
from cardgen.sheets._cutting_work import springs_to_make
from cardgen.spec.job import Job
from cardgen.spec.lathe import Dial

_SOFT_WORK = "one more because the work bends"
_SOFT_BAR = "one more because the boring bar bends"
_FROM_BLANK = (
    "on the {slide}, from the blank's surface; the division nearest to the depth that keeps the "
    "minor diameter within its limits"
)
_FROM_BORE = (
    "on the {slide}, from the bore's surface outwards; the division nearest to the depth that "
    "keeps the major diameter within its limits"
)


def counts(job: Job, sheet: Sheet, plan: Plan, bites: tuple[Bite, ...]) -> int:
    sheet.add(
        "cutting.passes",
        float(len(bites)),
        formula="method: the fewest bites of whole divisions that break no limit, found by "
        "dynamic programming",
        inputs={
            "h": sheet.ref("thread.depth"),
            "hmin": sheet.ref("cutting.bite_min"),
            "hmax": sheet.ref("cutting.bite_max"),
        },
        source="this schedule",
        basis="computed",
        note=""
        if job.thread.starts == 1
        else told("for each of the {starts} starts", starts=job.thread.starts),
    )
    soft = sheet.number("cutting.deflection_max") > sheet.number("cutting.deflection_allowed") / 2
    spring = practice("spring-passes-soft" if soft else "spring-passes")
    springs = springs_to_make(spring.value, sheet)
    sheet.add(
        "cutting.spring_passes",
        float(springs),
        formula="max(Nu, Ns)",
        inputs={"Nu": spring.input, "Ns": sheet.ref("cutting.spring_needed")},
        source=spring.source,
        basis="practice",
        evidence=spring.evidence,
        note=_SOFT_BAR if soft and sheet.internal else _SOFT_WORK if soft else "",
    )
    dial = _feeding_dial(job, plan)
    sheet.add(
        "cutting.dial_total",
        _shown(sheet, plan.total, dial),
        source="whole divisions of the dial",
        basis="computed",
        note=told(
            _FROM_BORE if sheet.internal else _FROM_BLANK,
            slide="compound slide" if plan.method == "flank" else "cross-slide",
        ),
    )
    if plan.method == "flank":
        sheet.add(
            "cutting.compound_travel",
            float(travel(plan.total, dial.radial_step_exact)),
            formula="N s",
            inputs={
                "N": Input(float(plan.total), "", "constant", "derived"),
                "s": Input(
                    float(dial.radial_step_exact), "mm", "machine:compound-slide.division", "read"
                ),
            },
            source="whole divisions of the dial",
            basis="computed",
        )
    if "setup.speed" in sheet:
        total = len(bites) + springs
        sheet.add(
            "cutting.time",
            60
            * total
            * job.thread.starts
            * job.thread.length
            / (sheet.number("thread.lead") * sheet.number("setup.speed")),
            formula="60 (N + Ns) z l / (L n)",
            inputs={
                "N": sheet.ref("cutting.passes"),
                "Ns": sheet.ref("cutting.spring_passes"),
                "z": Input(float(job.thread.starts), "", "spec:thread.starts", "read"),
                "l": Input(job.thread.length, "mm", "spec:thread.length", "read"),
                "L": sheet.ref("thread.lead"),
                "n": sheet.ref("setup.speed"),
            },
            source="kinematics",
            basis="computed",
        )
    return springs


def _shown(sheet: Sheet, divisions: int, dial: Dial) -> str:
    """Return what a dial shows: wound in from 0 for a screw, wound out for a nut."""
    write = reading_outwards if sheet.internal else reading
    return write(divisions, dial.divisions_per_turn)


def _feeding_dial(job: Job, plan: Plan) -> Dial:
    compound = job.machine.compound_slide
    return compound if plan.method == "flank" and compound else job.machine.cross_slide


def passes(job: Job, sheet: Sheet, plan: Plan, bites: tuple[Bite, ...], springs: int) -> None:
    """Write the schedule, spring passes last."""
    dial, flank, step = _feeding_dial(job, plan), plan.method == "flank", plan.lathe.step
    zero = _shown(sheet, 0, job.machine.cross_slide)

    def line(after: int, bite: Bite | None) -> Pass:
        shown = _shown(sheet, after, dial)
        return Pass(
            number=len(sheet.passes) + 1,
            depth=after * step,
            increment=bite.divisions * step if bite else 0.0,
            dial=zero if flank else shown,
            compound=shown if flank else _sideways(job, plan, bite),
            force=bite.cut.force if bite else 0.0,
            limited_by=bite.ruled_by if bite else "spring",
            step=bite.stage.step if bite else "spring",
            used=bite.share if bite else 0.0,
            nearest=bite.nearest if bite else "",
        )

    for bite in bites:
        sheet.passes.append(line(bite.after, bite))
    for _ in range(springs):
        sheet.passes.append(line(plan.total, None))


def _sideways(job: Job, plan: Plan, bite: Bite | None) -> str:
    """Return what the compound shows that moves the tool sideways; empty where none does."""
    compound = job.machine.compound_slide
    roughing = bite is not None and bite.stage.step in {"rough", "side"}
    if compound is None or not (plan.method == "alternate" or (plan.asides and roughing)):
        return ""
    return reading(bite.aside if bite else 0, compound.divisions_per_turn)
