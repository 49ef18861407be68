"""How the schedule is followed at the lathe: setting the slides, zero, passes, pick-up."""

from __future__ import annotations

from math import fsum, radians, tan

from cardgen.core.figure import Sheet, Step
from cardgen.core.rounding import MM_PER_INCH
from cardgen.core.words import told
from cardgen.rules.methods import Plan
from cardgen.sheets._cutting_nut_steps import nut_steps
from cardgen.sheets._cutting_sideways import IN_TURN, SIDEWAYS
from cardgen.sheets._cutting_words import length
from cardgen.spec.job import Job
from cardgen.spec.lathe import Dial

_PRACTICE = "common practice"


def steps(job: Job, sheet: Sheet, plan: Plan) -> list[Step]:
    """Return the instructions that go with a schedule, in the order in which they are needed."""
    if sheet.internal:
        return nut_steps(job, sheet, plan)
    return [
        *_setting(job, plan),
        *_resting(job, sheet),
        _dial_step(job, plan),
        *_zeroing(job, sheet, plan),
        *_passing(job, plan),
        *_ending(job, plan),
        *_picking_up(sheet, job, plan),
    ]


def _setting(job: Job, plan: Plan) -> list[Step]:
    if plan.method == "flank":
        towards = "tailstock" if job.outwards else "chuck"
        return [
            Step(
                told(
                    "Swing the compound {angle}° from straight in, so that its feed carries "
                    "the tool inwards and towards the {towards}. A base graduated from the "
                    "lathe's axis shows {shown}°.",
                    angle=f"{plan.feed_deg:g}",
                    towards=towards,
                    shown=f"{90 - plan.feed_deg:g}",
                ),
                "set-over",
                "Navy training manual, tpub 14345, Fig. 6-91; graduations differ between lathes",
            )
        ]
    if job.machine.compound_slide is None:
        return []
    if plan.method == "alternate" or plan.asides:
        return [Step(SIDEWAYS, "set-over", _PRACTICE)]
    return [
        Step(
            "Compound parallel to the bed and locked: it only shifts the tool sideways when a "
            "groove is picked up.",
            "set-over",
            _PRACTICE,
        )
    ]


def _resting(job: Job, sheet: Sheet) -> list[Step]:
    """Return how the rest is set that the bites count on."""
    blank = length(sheet.number("thread.blank_diameter"), inch=job.inch)
    return {
        "none": [],
        "follow": [
            Step(
                told(
                    "Follow rest: jaws oiled, up to the blank at ⌀ {blank}, close behind the "
                    "tool. The bites count on it: look at it, and take the burr off the crests.",
                    blank=blank,
                ),
                "rest",
                _PRACTICE,
            )
        ],
        "steady": [
            Step(
                "Steady rest: on the plain part, close beside the thread, jaws oiled. The bites "
                "count on it.",
                "rest",
                _PRACTICE,
            )
        ],
    }[job.work.rest]


def _dial_step(job: Job, plan: Plan) -> Step:
    dial = _dial(job, plan)
    reads = "off the diameter" if dial.reads == "diameter" else "of slide travel"
    return Step(
        told(
            "One division is {division} {reads}, {divisions} to the turn. "
            "Settings are turns + divisions from 0.",
            division=length(dial.division, inch=dial.inch, decimals=3),
            reads=reads,
            divisions=dial.divisions_per_turn,
        ),
        "dial",
        "machine file",
    )


def _zeroing(job: Job, sheet: Sheet, plan: Plan) -> list[Step]:
    diameter = length(sheet.number("thread.blank_diameter"), inch=job.inch)
    both = plan.method in {"flank", "alternate"} or plan.asides
    dials = "both dials" if both else "the cross-slide dial"
    # Half of a little on the diameter, in divisions of the dial that feeds.
    little = 0.01 * MM_PER_INCH if job.inch else 0.1
    less = little / 2 / plan.lathe.step
    under = length(little, inch=job.inch, decimals=2)
    zero = Step(
        told(
            "Touch the blank, ⌀ {diameter}, winding inwards, and set {dials} to 0. For "
            "each {under} that it is smaller, stop {less} divisions earlier. Come to "
            "every setting from outside: the play lies on one side.",
            diameter=diameter,
            dials=dials,
            under=under,
            less=f"{less:.0f}",
        ),
        "zero",
        _PRACTICE,
    )
    scratch = Step(
        "Scratch a first line, a hair past 0, and check the pitch with rule or gauge.",
        "check",
        _PRACTICE,
    )
    return [zero, scratch]


def _passing(job: Job, plan: Plan) -> list[Step]:
    if plan.method == "flank":
        text = (
            "Each pass: cross-slide to 0, compound on to the setting; at the end of the cut draw "
            "the cross-slide straight out and go back."
        )
    elif plan.method == "alternate":
        text = told(
            "Each pass: {in_turn} At the end of the cut draw out and go back.", in_turn=IN_TURN
        )
    else:
        text = (
            "Each pass: wind in to the setting; at the end of the cut draw out, go back, count "
            "the turns in again."
        )
    made = [Step(text, "pass", _PRACTICE)]
    if plan.rough_width is not None:
        width = length(plan.rough_width, inch=job.inch)
        if plan.asides:
            made.append(_widening(len(plan.asides)))
        made.append(
            Step(
                told(
                    "Roughing tool: square nose {width} wide, reliefs as the form tool. After it "
                    "set the form tool in the middle of the groove with the compound, touch the "
                    "blank beside the groove and set 0 anew.",
                    width=width,
                ),
                "tool-change",
                _PRACTICE,
            )
        )
    if job.thread.starts > 1:
        made.append(
            Step(
                told(
                    "{starts} starts: cut the whole list, index, dial back to 0, cut it again.",
                    starts=job.thread.starts,
                ),
                "starts",
                _PRACTICE,
            )
        )
    return made


def _widening(further: int) -> Step:
    """Return how further grooves are cut beside the first."""
    times = "once more" if further == 1 else told("{further} times more", further=further)
    return Step(
        told(
            "Groove at full rough depth: tool out, compound on to the next setting, and "
            "down again from 0, {times}. Only the strip that the tool was moved by is "
            "cut.",
            times=times,
        ),
        "pass",
        _PRACTICE,
    )


def _ending(job: Job, plan: Plan) -> list[Step]:
    radial = plan.lathe.step
    return [
        Step(
            "Spring passes: the last setting again until the tool hardly cuts.",
            "spring",
            "machine-shop training text (issuhub 4752) p. 191",
        ),
        Step(
            told(
                "Measure before tool or bar is moved. One division takes {less} off the "
                "root diameter.",
                less=length(2 * radial, inch=job.inch, decimals=3),
            ),
            "measure",
            _PRACTICE,
        ),
    ]


def _picking_up(sheet: Sheet, job: Job, plan: Plan) -> list[Step]:
    shift = (
        "with the compound and the cross-slide together"
        if plan.method == "flank"
        else "sideways with the compound, inwards with the cross-slide"
    )
    made = [
        Step(
            told(
                "Tool square by the gauge, clear of the work. Half-nut closed, turn the "
                "spindle forwards by hand until the carriage moves: all play is out. Bring "
                "the tool {shift} until it touches both flanks. Set the dial to the last "
                "setting cut, draw out, and take that pass again.",
                shift=shift,
            ),
            "pick-up",
            _PRACTICE,
        )
    ]
    if reground := regrind(sheet, job):
        made.append(reground)
    return made


def regrind(sheet: Sheet, job: Job) -> Step | None:
    """Return what a point that came out narrower means for the depth; nothing between walls."""
    opening = fsum(
        tan(radians(sheet.number(f"thread.{side}_flank"))) for side in ("leading", "trailing")
    )
    if opening <= 0:
        return Step(
            "A reground point is narrower: finish by the width of the groove, one side at a time.",
            "pick-up",
            _PRACTICE,
        )
    little = 0.005 * MM_PER_INCH if job.inch else 0.1
    narrower, deeper = (
        length(value, inch=job.inch, decimals=2) for value in (little, little / opening)
    )
    return Step(
        told(
            "A point ground {narrower} narrower stands {deeper} deeper when it touches "
            "both flanks: touch the blank beside the groove to find the depth, and "
            "finish by measuring.",
            narrower=narrower,
            deeper=deeper,
        ),
        "pick-up",
        "geometry",
    )


def _dial(job: Job, plan: Plan) -> Dial:
    compound = job.machine.compound_slide
    return compound if plan.method == "flank" and compound else job.machine.cross_slide
