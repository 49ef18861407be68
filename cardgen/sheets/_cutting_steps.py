"""How the schedule is followed at the lathe: setting the slides, zero, passes, pick-up."""

from __future__ import annotations

from cardgen.core.figure import Sheet, Step
from cardgen.core.rounding import MM_PER_INCH
from cardgen.rules.methods import Plan
from cardgen.sheets._cutting_words import length
from cardgen.spec.job import Job
from cardgen.spec.lathe import Dial

_PRACTICE = "common practice"


def steps(job: Job, sheet: Sheet, plan: Plan) -> list[Step]:
    """Return the instructions that go with a schedule, in the order in which they are needed."""
    return [
        *_setting(job, plan),
        *_resting(job, sheet),
        _dial_step(job, plan),
        *_zeroing(job, sheet, plan),
        *_passing(job, plan),
        *_ending(job, plan),
        *_picking_up(plan),
    ]


def _setting(job: Job, plan: Plan) -> list[Step]:
    if plan.method == "flank":
        towards = "tailstock" if job.thread.hand == "left" else "chuck"
        return [
            Step(
                f"Swing the compound {plan.feed_deg:g}° from straight in, so that its feed carries "
                f"the tool inwards and towards the {towards}. A base graduated from the lathe's "
                f"axis shows {90 - plan.feed_deg:g}°.",
                "set-over",
                "Navy training manual, tpub 14345, Fig. 6-91; graduations differ between lathes",
            )
        ]
    if job.machine.compound_slide is None:
        return []
    return [
        Step(
            "Set the compound parallel to the bed and lock it: it only shifts the tool sideways "
            "when a groove is picked up.",
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
                f"Follow rest: jaws brought up to the blank at ⌀ {blank}, oiled, close beside the "
                "tool on the side already cut. The bites count on it: look at it every few "
                "passes, and take the burr off the crests.",
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
        f"The dial's division is {length(dial.division, inch=dial.inch, decimals=3)} {reads}, "
        f"{dial.divisions_per_turn} to the turn. Readings are whole turns and divisions from 0.",
        "dial",
        "machine file",
    )


def _zeroing(job: Job, sheet: Sheet, plan: Plan) -> list[Step]:
    diameter = length(sheet.number("thread.blank_diameter"), inch=job.inch)
    dials = "both dials" if plan.method == "flank" else "the cross-slide dial"
    # Half of a little on the diameter, in divisions of the dial that feeds.
    little = 0.01 * MM_PER_INCH if job.inch else 0.1
    less = little / 2 / plan.lathe.step
    under = length(little, inch=job.inch, decimals=2)
    zero = Step(
        f"Blank turned to ⌀ {diameter}: touch it with the tool, winding inwards, and set {dials} "
        f"to 0. For each {under} that the blank is smaller, stop {less:.0f} divisions earlier at "
        "full depth. Come up to every setting from outside, so that the play lies on one side.",
        "zero",
        _PRACTICE,
    )
    scratch = Step(
        "Scratch the surface with the dial a hair past 0 and check the pitch with rule or gauge "
        "before the first bite.",
        "check",
        _PRACTICE,
    )
    return [zero, scratch]


def _passing(job: Job, plan: Plan) -> list[Step]:
    if plan.method == "flank":
        text = (
            "Each pass: cross-slide to 0, compound on to the reading. At the end of the cut draw "
            "the cross-slide straight out, go back, cross-slide to 0 again."
        )
    else:
        text = (
            "Each pass: cross-slide on to the reading. At the end of the cut draw it out, go "
            "back, count the turns in again."
        )
    made = [Step(text, "pass", _PRACTICE)]
    if plan.rough_width is not None:
        width = length(plan.rough_width, inch=job.inch)
        made.append(
            Step(
                f"Roughing tool: square nose {width} wide, reliefs as the form "
                "tool. Then change to the form tool, set it in the middle of the groove with the "
                "compound, touch the blank beside the groove and set 0 anew.",
                "tool-change",
                _PRACTICE,
            )
        )
    if job.thread.starts > 1:
        made.append(
            Step(
                f"Cut the whole list for start 1, index, set the dial back, and cut it again: "
                f"{job.thread.starts} starts, the same settings.",
                "starts",
                _PRACTICE,
            )
        )
    return made


def _ending(job: Job, plan: Plan) -> list[Step]:
    dial = _dial(job, plan)
    radial = plan.lathe.step
    return [
        Step(
            "Spring passes: again at the last reading, without feeding, until the tool hardly "
            "cuts.",
            "spring",
            "machine-shop training text (issuhub 4752) p. 191",
        ),
        Step(
            "Measure before the tool is moved or the bar taken out. One division "
            f"({length(dial.division, inch=dial.inch, decimals=3)} on the dial) takes "
            f"{length(2 * radial, inch=job.inch, decimals=3)} off the root diameter.",
            "measure",
            _PRACTICE,
        ),
    ]


def _picking_up(plan: Plan) -> list[Step]:
    shift = (
        "with the compound and the cross-slide together"
        if plan.method == "flank"
        else "sideways with the compound, inwards with the cross-slide"
    )
    return [
        Step(
            "Set the tool square by the gauge, clear of the work. "
            "Close the half-nut and turn the spindle forwards by hand until the carriage moves, "
            f"so that all play is out; stop. Bring the tool {shift} until it lies in the groove "
            "and touches both flanks. Set the dial to the last reading that was cut, draw out, "
            "and take that pass once more before going on.",
            "pick-up",
            _PRACTICE,
        )
    ]


def _dial(job: Job, plan: Plan) -> Dial:
    compound = job.machine.compound_slide
    return compound if plan.method == "flank" and compound else job.machine.cross_slide
