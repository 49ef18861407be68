"""How a nut's schedule is followed: the tool is fed outwards, and withdrawn into the bore."""

from __future__ import annotations

from cardgen.core.figure import Sheet, Step
from cardgen.core.rounding import MM_PER_INCH
from cardgen.rules.methods import Plan
from cardgen.sheets._cutting_tables import practice
from cardgen.sheets._cutting_words import length
from cardgen.spec.job import Job
from cardgen.spec.lathe import Dial

_PRACTICE = "common practice"


def nut_steps(job: Job, sheet: Sheet, plan: Plan) -> list[Step]:
    """Return the instructions that go with a nut's schedule, in the order they are needed."""
    return [
        *_setting(job, plan),
        _bar(job, sheet),
        _dial_step(job, plan),
        *_zeroing(job, sheet, plan),
        *_passing(job, sheet, plan),
        *_ending(job, plan),
        _picking_up(plan),
    ]


def _setting(job: Job, plan: Plan) -> list[Step]:
    if plan.method == "flank":
        towards = "tailstock" if job.thread.hand == "left" else "chuck"
        text = (
            f"Swing the compound {plan.feed_deg:g}° from square to the axis, so that winding it "
            f"out carries the tool towards you and towards the {towards}. A base graduated from "
            f"the lathe's axis shows {90 - plan.feed_deg:g}°."
        )
        source = "Navy training manual, tpub 14345, Fig. 6-91, mirrored for a bore"
        return [Step(text, "set-over", source)]
    if job.machine.compound_slide is None:
        return []
    text = (
        "Set the compound parallel to the bed and lock it: it only shifts the tool sideways when "
        "a groove is picked up."
    )
    return [Step(text, "set-over", _PRACTICE)]


def _bar(job: Job, sheet: Sheet) -> Step:
    bar, out = (
        length(sheet.number(id), inch=job.inch, decimals=1)
        for id in ("tool.bar", "tool.bar_overhang")
    )
    return Step(
        f"Boring bar ⌀ {bar} of heat-treated steel (yield {practice('bar-yield').value:g} MPa or "
        f"more; common steel bends in a dig-in), {out} from its holder to the point, parallel to "
        "the bed; the point at the front of the bore, face up, at centre height. Run it through "
        "by hand: it must clear the bore behind.",
        "set-over",
        _PRACTICE,
    )


def _dial_step(job: Job, plan: Plan) -> Step:
    dial = _dial(job, plan)
    reads = "on the diameter" if dial.reads == "diameter" else "of slide travel"
    return Step(
        "The tool cuts OUTWARDS, towards you: wind the slide OUT. Readings are whole turns out "
        "from 0, and the number that the dial then shows: its numbers run down. Its division is "
        f"{length(dial.division, inch=dial.inch, decimals=3)} {reads}, {dial.divisions_per_turn} "
        "to the turn.",
        "dial",
        "machine file",
    )


def _zeroing(job: Job, sheet: Sheet, plan: Plan) -> list[Step]:
    bore = length(sheet.number("thread.blank_diameter"), inch=job.inch)
    dials = "both dials" if plan.method == "flank" else "the cross-slide dial"
    little = 0.01 * MM_PER_INCH if job.inch else 0.1
    less = little / 2 / plan.lathe.step
    over = length(little, inch=job.inch, decimals=2)
    return [
        Step(
            f"Bore trued to ⌀ {bore}: touch its front wall with the tool, winding outwards, and "
            f"set {dials} to 0. For each {over} that the bore is larger, stop {less:.0f} divisions "
            "earlier at full depth. Come up to every setting from the bore's middle, so that the "
            "play lies on one side.",
            "zero",
            _PRACTICE,
        ),
        Step(
            "Scratch the bore with the dial a hair past 0 and check the pitch with rule or gauge "
            "before the first bite.",
            "check",
            _PRACTICE,
        ),
    ]


def _passing(job: Job, sheet: Sheet, plan: Plan) -> list[Step]:
    withdraw = length(sheet.number("tool.withdraw"), inch=job.inch, side="up")
    clear = length(
        sheet.number("tool.withdraw") - sheet.number("thread.depth"), inch=job.inch, decimals=1
    )
    away = (
        f"At the end of the cut wind the cross-slide IN, away from you, to 0 and {clear} beyond "
        f"({withdraw} from full depth), no farther: behind, the bar comes near the bore."
    )
    text = (
        f"Each pass: cross-slide to 0, compound out to the reading. {away} Go back, cross-slide "
        "to 0 again."
        if plan.method == "flank"
        else f"Each pass: cross-slide out to the reading. {away} Go back, count the turns out "
        "again."
    )
    made = [Step(text, "pass", _PRACTICE)]
    if plan.rough_width is not None:
        width = length(plan.rough_width, inch=job.inch)
        made.append(
            Step(
                f"Roughing bit: square nose {width} wide, reliefs as the form tool. Then change to "
                "the form tool, set it in the middle of the groove with the compound, touch the "
                "bore beside the groove and set 0 anew.",
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
    return [
        Step(
            "Spring passes: again at the last reading, without feeding, until the tool hardly "
            "cuts. A boring bar springs more than a shank does.",
            "spring",
            "machine-shop training text (issuhub 4752) p. 191",
        ),
        Step(
            "Measure, or try the screw, before the tool is moved or the nut taken out. One "
            f"division ({length(dial.division, inch=dial.inch, decimals=3)} on the dial) adds "
            f"{length(2 * plan.lathe.step, inch=job.inch, decimals=3)} to the root diameter.",
            "measure",
            _PRACTICE,
        ),
    ]


def _picking_up(plan: Plan) -> Step:
    shift = (
        "with the compound and the cross-slide together"
        if plan.method == "flank"
        else "sideways with the compound, outwards with the cross-slide"
    )
    return Step(
        "Set the tool square by the gauge, in the bore, clear of the wall. Close the half-nut and "
        "turn the spindle forwards by hand until the carriage moves, so that all play is out; "
        f"stop. Bring the tool {shift} until it lies in the groove and touches both flanks: feel "
        "for it, or look through with a light. Set the dial to the last reading that was cut, "
        "withdraw, and take that pass once more before going on.",
        "pick-up",
        _PRACTICE,
    )


def _dial(job: Job, plan: Plan) -> Dial:
    compound = job.machine.compound_slide
    return compound if plan.method == "flank" and compound else job.machine.cross_slide
