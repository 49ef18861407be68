"""How a nut's schedule is followed: the tool is fed outwards, and withdrawn into the bore."""

from __future__ import annotations

from cardgen.core.figure import Sheet, Step
from cardgen.core.rounding import MM_PER_INCH
from cardgen.core.words import told
from cardgen.rules.methods import Plan
from cardgen.sheets._cutting_sideways import IN_TURN, SIDEWAYS
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
        text = told(
            "Swing the compound {angle}° from straight out ({shown}° on a base "
            "graduated from the lathe's axis): wound out, it carries the tool towards "
            "you and the {towards}.",
            angle=f"{plan.feed_deg:g}",
            shown=f"{90 - plan.feed_deg:g}",
            towards=towards,
        )
        source = "Navy training manual, tpub 14345, Fig. 6-91, mirrored for a bore"
        return [Step(text, "set-over", source)]
    if job.machine.compound_slide is None:
        return []
    if plan.method == "alternate":
        return [Step(SIDEWAYS, "set-over", _PRACTICE)]
    text = (
        "Compound parallel to the bed and locked: it only shifts the tool sideways when a groove "
        "is picked up."
    )
    return [Step(text, "set-over", _PRACTICE)]


def _bar(job: Job, sheet: Sheet) -> Step:
    bar, out = (
        length(sheet.number(id), inch=job.inch, decimals=1)
        for id in ("tool.bar", "tool.bar_overhang")
    )
    return Step(
        told(
            "Bar ⌀ {bar}, heat-treated (yield over {strength} MPa, or it bends in a "
            "dig-in), {out} from holder to point, parallel to the bed. Point in front, "
            "face up, at centre height. Run it through by hand: it must clear behind.",
            bar=bar,
            strength=f"{practice('bar-yield').value:g}",
            out=out,
        ),
        "set-over",
        _PRACTICE,
    )


def _dial_step(job: Job, plan: Plan) -> Step:
    dial = _dial(job, plan)
    reads = "on the diameter" if dial.reads == "diameter" else "of slide travel"
    return Step(
        told(
            "Cut OUTWARDS: wind OUT, towards you. Readings are turns out from 0 and what "
            "the dial then shows; it runs down. One division is {division} {reads}, "
            "{divisions} to the turn.",
            division=length(dial.division, inch=dial.inch, decimals=3),
            reads=reads,
            divisions=dial.divisions_per_turn,
        ),
        "dial",
        "machine file",
    )


def _zeroing(job: Job, sheet: Sheet, plan: Plan) -> list[Step]:
    bore = length(sheet.number("thread.blank_diameter"), inch=job.inch)
    both = plan.method in {"flank", "alternate"}
    dials = "both dials" if both else "the cross-slide dial"
    little = 0.01 * MM_PER_INCH if job.inch else 0.1
    less = little / 2 / plan.lathe.step
    over = length(little, inch=job.inch, decimals=2)
    return [
        Step(
            told(
                "Touch the bore, ⌀ {bore}, in front, winding out, and set {dials} to 0. For "
                "each {over} larger, stop {less} divisions earlier. Come to every setting "
                "from the middle: the play lies on one side.",
                bore=bore,
                dials=dials,
                over=over,
                less=f"{less:.0f}",
            ),
            "zero",
            _PRACTICE,
        ),
        Step(
            "Scratch a first line, a hair past 0, and check the pitch with rule or gauge.",
            "check",
            _PRACTICE,
        ),
    ]


def _passing(job: Job, sheet: Sheet, plan: Plan) -> list[Step]:
    withdraw = length(sheet.number("tool.withdraw"), inch=job.inch, side="up")
    clear = length(
        sheet.number("tool.withdraw") - sheet.number("thread.depth"), inch=job.inch, decimals=1
    )
    away = told(
        "At the end wind the cross-slide IN to 0 and {clear} beyond ({withdraw} from "
        "full depth), no farther: behind, the bar is near the bore.",
        clear=clear,
        withdraw=withdraw,
    )
    text = told(
        "Each pass: wind out to the reading. {away} Go back, count the turns out again.", away=away
    )
    if plan.method == "flank":
        text = told(
            "Each pass: cross-slide to 0, compound out to the reading. {away} Go back.", away=away
        )
    elif plan.method == "alternate":
        text = told(
            "Each pass: {in_turn} {away} Go back, count the turns out again.",
            in_turn=IN_TURN,
            away=away,
        )
    made = [Step(text, "pass", _PRACTICE)]
    if plan.rough_width is not None:
        width = length(plan.rough_width, inch=job.inch)
        made.append(
            Step(
                told(
                    "Roughing bit: square nose {width} wide, reliefs as the form tool. After it "
                    "set the form tool in the middle of the groove with the compound, touch the "
                    "bore beside the groove and set 0 anew.",
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


def _ending(job: Job, plan: Plan) -> list[Step]:
    dial = _dial(job, plan)
    return [
        Step(
            "Spring passes: again at the last reading until the tool hardly cuts.",
            "spring",
            "machine-shop training text (issuhub 4752) p. 191",
        ),
        Step(
            told(
                "Measure, or try the screw, before tool or nut is moved. One division "
                "({division}) adds {added} to the root diameter.",
                division=length(dial.division, inch=dial.inch, decimals=3),
                added=length(2 * plan.lathe.step, inch=job.inch, decimals=3),
            ),
            "measure",
            _PRACTICE,
        ),
    ]


def _picking_up(plan: Plan) -> Step:
    shift = (
        "with compound and cross-slide together"
        if plan.method == "flank"
        else "sideways with the compound, outwards with the cross-slide"
    )
    return Step(
        told(
            "Tool square by the gauge, clear of the wall. Half-nut closed, turn the "
            "spindle forwards by hand until the carriage moves: all play is out. Bring "
            "the tool {shift} until it touches both flanks: feel, or look through with a "
            "light. Set the dial to the last reading cut, withdraw, and take that pass "
            "again.",
            shift=shift,
        ),
        "pick-up",
        _PRACTICE,
    )


def _dial(job: Job, plan: Plan) -> Dial:
    compound = job.machine.compound_slide
    return compound if plan.method == "flank" and compound else job.machine.cross_slide
