"""How near the bar is to bending, breaking or buckling: safe stick-out, least core, thrust."""

from __future__ import annotations

from dataclasses import replace

from cardgen.core.figure import Input, Outline, Sheet
from cardgen.core.rounding import rounded
from cardgen.core.words import told
from cardgen.rules.boring import Bar
from cardgen.rules.buckling import buckling_load, limit_slenderness, slenderness
from cardgen.rules.holding import Work
from cardgen.rules.infeed import Bite
from cardgen.rules.methods import Plan
from cardgen.rules.passes import Lathe
from cardgen.rules.safe import Bearable, Pull, furthest, least_core, safe_stickout
from cardgen.sheets._cutting_give import give, give_inputs
from cardgen.sheets._cutting_tables import Entry, force_factor, practice
from cardgen.sheets._cutting_words import length
from cardgen.spec.job import Job

_BEAM = "elementary beam theory, supports as springs"
_FURTHER = 5
"""A longer bar than this many times the stick-out is not looked at."""
_BAR_STEP = 0.5
"""Steps in which boring bars are tried [mm]."""


def record_safe(job: Job, sheet: Sheet, plan: Plan, bites: tuple[Bite, ...]) -> None:
    """Record the forces of a dig-in, how long and how thin the bar could be, and its thrust."""
    _dig_in(sheet)
    lathe = plan.lathe
    if "cutting.deflection_allowed" not in sheet or "cutting.work_stress_allowed" not in sheet:
        return
    may = Bearable(
        bend=sheet.number("cutting.deflection_allowed"),
        stress=sheet.number("cutting.work_stress_allowed"),
        dig_in=lathe.dig_in,
        radial_share=lathe.radial_share,
    )
    if isinstance(lathe.work, Bar):
        _record_bar(sheet, lathe.work, bites, may)
        return
    pulls = _hardest(lathe, bites)
    _record_stickout(job, sheet, lathe.work, pulls, may)
    _record_core(job, sheet, lathe.work, pulls[-1], may)
    _record_rests(job, sheet, lathe.work, pulls[0])
    _record_thrust(job, sheet, lathe.work, lathe.work.blank - 2 * plan.total * lathe.step)


def record_holding(job: Job, sheet: Sheet, work: Work) -> None:
    """Record how the bar is held, where a rest goes, and the shape of the bar for a drawing."""
    words = {
        "chuck": "in the chuck alone",
        "chuck-and-centre": "in the chuck, on the centre",
        "between-centres": "between centres",
    }[work.holding]
    inputs = {
        "holding": Input(work.holding, "", "spec:work.holding", "read"),
        "rest": Input(work.rest, "", "spec:work.rest", "read"),
        "stickout": Input(work.stickout, "mm", "spec:work.stickout", "read"),
        "thread": Input(work.thread, "mm", "spec:thread.length", "read"),
        "towards": Input(
            "tailstock" if work.left_hand else "chuck", "", "spec:work.cut-towards", "read"
        ),
    }
    sheet.add("cutting.holding", words, inputs=inputs, source="the job", basis="data")
    if work.rest == "steady" and work.steady_at is not None:
        width = practice("steady-width")
        sheet.add(
            "cutting.rest_place",
            work.steady_at,
            formula="s - l - G - w / 2",
            inputs={
                "s": inputs["stickout"],
                "l": inputs["thread"],
                "G": Input(work.groove, "mm", "spec:work.groove", "read"),
                "w": width.input,
            },
            source=width.source,
            basis="practice",
            evidence=width.evidence,
            note="on the plain part, as near the thread as it can stand: its jaws want a round, "
            "smooth place, and each millimetre nearer the tool stiffens the bar",
        )
    elif work.rest == "follow":
        offset = practice("follow-offset")
        side = "chuck" if work.left_hand else "tailstock"
        sheet.add(
            "cutting.rest_behind",
            offset.value,
            source="the tool a little in advance of the jaws: F. D. Jones, Turning and Boring "
            f"(1919), The Follow-rest; {offset.source}",
            basis="practice",
            evidence=offset.evidence,
            note=told(
                "on the {side} side of the tool, on crests that are already cut, opposite "
                "and above the tool",
                side=side,
            ),
        )
    crest, root = work.blank / 2, work.root / 2
    thread, groove = max(work.plain, 0.0) + work.groove, max(work.plain, 0.0)
    edge = [(0.0, crest), (groove, crest), (groove, root), (thread, root), (thread, crest)]
    sheet.outlines["cutting.bar"] = Outline((*edge, (work.stickout, crest)))


def _dig_in(sheet: Sheet) -> None:
    factor = practice("dig-in")
    for id, force in (
        ("cutting.dig_in_force", "cutting.force_max"),
        ("cutting.dig_in_radial", "cutting.radial_force_max"),
    ):
        sheet.add(
            id,
            factor.value * sheet.number(force),
            formula="kd F",
            inputs={"kd": sheet.ref("cutting.dig_in_factor"), "F": sheet.ref(force)},
            source=factor.source,
            basis="practice",
            evidence=factor.evidence,
            note="work and blade must stand it without harm",
        )


def _hardest(lathe: Lathe, bites: tuple[Bite, ...]) -> list[Pull]:
    """Return the passes that bend or strain the bar most, the last pass at the end."""

    def pull(bite: Bite) -> Pull:
        depth = max(bite.after, bite.stage.slot) * lathe.step
        return Pull(lathe.work.blank - 2 * depth, bite.cut.radial, bite.cut.force)

    bending = max(bites, key=lambda bite: bite.cut.deflection)
    straining = max(bites, key=lambda bite: bite.cut.work_stress)
    return [pull(bending), pull(straining), pull(bites[-1])]


def _inputs(job: Job, sheet: Sheet) -> dict[str, Input]:
    return {
        "Fc": sheet.ref("cutting.force_max"),
        "kd": sheet.ref("cutting.dig_in_factor"),
        "ya": sheet.ref("cutting.deflection_allowed"),
        "swa": sheet.ref("cutting.work_stress_allowed"),
        **({} if sheet.internal else give_inputs(job)),
    }


def _record_stickout(job: Job, sheet: Sheet, work: Work, pulls: list[Pull], may: Bearable) -> None:
    most = max(job.machine.thread_overhang or _FURTHER * work.stickout, work.stickout)
    found = safe_stickout(work, pulls, may, most)
    if found is None:
        return
    end = found >= most - 1
    sheet.add(
        "cutting.stickout_safe",
        found,
        formula="method: furthest whole millimetre at which the hardest passes neither bend the "
        "bar more than is allowed nor strain it more in a dig-in",
        inputs=_inputs(job, sheet),
        source=_BEAM,
        basis="computed",
        note="or more: no further was looked at"
        if end
        else "from the jaws, with the same thread and groove",
    )


def _record_core(job: Job, sheet: Sheet, work: Work, last: Pull, may: Bearable) -> None:
    found = least_core(work, last, may)
    if found is None:
        return
    sheet.add(
        "cutting.core_least",
        found,
        formula="method: thinnest tenth of a millimetre on which the last pass neither bends the "
        "bar more than is allowed nor strains it more in a dig-in",
        inputs=_inputs(job, sheet),
        source=_BEAM,
        basis="computed",
        note=told("this thread leaves {core}", core=length(last.core, inch=job.inch)),
    )


def _record_rests(job: Job, sheet: Sheet, work: Work, worst: Pull) -> None:
    """Record how far the bar would bend in the hardest pass if it had a rest, where it has none."""
    if work.rest != "none":
        return
    steady, follow = replace(work, rest="steady"), replace(work, rest="follow")
    rests = [("cutting.bend_follow", follow, "close behind the tool")]
    if steady.steady_at is not None:
        place = length(steady.steady_at, inch=job.inch, decimals=0)
        rests.insert(0, ("cutting.bend_steady", steady, told("{place} from the jaws", place=place)))
    for id, rested, where in rests:
        sheet.add(
            id,
            worst.radial * rested.give(worst.core),
            formula="method: radial force of the hardest pass on the bar as a stepped beam that a "
            "rest helps to carry, tool at the worst place along the thread",
            inputs={**_inputs(job, sheet), "ur": give(job, "rest")},
            source=_BEAM,
            basis="computed",
            note=told(
                "the rest {where}; without it {bend}",
                where=where,
                bend=_bend(job, worst.radial * work.give(worst.core)),
            ),
        )


def _bend(job: Job, mm: float) -> str:
    return length(mm, inch=job.inch, decimals=3, side="up")


def _record_bar(sheet: Sheet, bar: Bar, bites: tuple[Bite, ...], may: Bearable) -> None:
    """Record how far the boring bar may stand out, and how thin it could be."""
    hardest = max(bites, key=lambda bite: bite.cut.force).cut

    def safe(tried: Bar) -> bool:
        strained = may.dig_in * hardest.force * tried.strain(0.0, may.radial_share)
        return hardest.radial * tried.give(0.0) <= may.bend and strained <= may.stress

    inputs = {
        "Fc": sheet.ref("cutting.force_max"),
        "kd": sheet.ref("cutting.dig_in_factor"),
        "ya": sheet.ref("cutting.deflection_allowed"),
        "swa": sheet.ref("cutting.work_stress_allowed"),
        "Db": sheet.ref("tool.bar"),
        "Lb": sheet.ref("tool.bar_overhang"),
    }
    longest = furthest(
        1.0, int(_FURTHER * bar.overhang), 1.0, lambda x: safe(replace(bar, overhang=x))
    )
    thinner = furthest(
        0.0,
        int((bar.bar - 1.0) / _BAR_STEP),
        _BAR_STEP,
        lambda x: safe(replace(bar, bar=bar.bar - x)),
    )
    for id, value, words in (
        ("cutting.stickout_safe", longest, "longest whole millimetre of bar"),
        (
            "cutting.core_least",
            None if thinner is None else bar.bar - thinner,
            "thinnest bar, in steps of half a millimetre,",
        ),
    ):
        if value is not None:
            sheet.add(
                id,
                value,
                formula=f"method: {words} that the hardest pass neither bends more than is allowed "
                "nor strains more in a dig-in",
                inputs=inputs,
                source=_BEAM,
                basis="computed",
            )


def _record_thrust(job: Job, sheet: Sheet, work: Work, core: float) -> None:
    """Record thrust and buckling of a bar that is pressed between chuck or centre and centre."""
    if work.holding == "chuck":
        return
    thrust, share = practice("centre-thrust"), force_factor("radial-share")
    along = thrust.value + share.value * sheet.number("cutting.force_max")
    sheet.add(
        "cutting.thrust",
        along,
        formula="Ft + q Fc",
        inputs={"Ft": thrust.input, "q": share.input, "Fc": sheet.ref("cutting.force_max")},
        source=f"{thrust.source}; that the cut pushes along the bar as hard as across it is the "
        "safe side",
        basis="practice",
        evidence=thrust.evidence,
    )
    ends = practice(_ends(work))
    modulus, yields = job.work.material.modulus, job.work.material.yield_
    strength = yields.value if yields.low is None else yields.low
    span = work.free_length
    load = buckling_load(core, span, ends.value, modulus.value, strength)
    euler = slenderness(span, core) > limit_slenderness(ends.value, modulus.value, strength)
    inputs = {
        "C": ends.input,
        "E": Input(modulus.value, "MPa", "material:modulus", modulus.evidence),
        "dc": Input(core, "mm", "constant", "derived"),
        "l": sheet.ref("cutting.unsupported_length"),
    }
    if not euler:
        inputs["S"] = Input(strength, "MPa", "material:yield", yields.evidence)
    sheet.add(
        "cutting.buckling_load",
        load,
        formula="C pi^3 E dc^4 / (64 l^2)"
        if euler
        else "pi dc^2 / 4 * (S - (2 S l / (pi dc))^2 / (C E))",
        inputs=inputs,
        source="Euler's column"
        if euler
        else "J. B. Johnson's column; Shigley's Mechanical Engineering Design, 9th ed., ch. 4",
        basis="handbook",
        note="the core counts over the whole free length; a follow rest is not counted on",
    )
    _judge_thrust(job, sheet, along, load)


def _ends(work: Work) -> str:
    """Return the row of the column's end conditions."""
    gripped = work.holding == "chuck-and-centre" and len(work.supports) == len(("chuck", "centre"))
    return "ends-chuck-centre" if gripped else "ends-centres"


def _judge_thrust(job: Job, sheet: Sheet, along: float, load: float) -> None:
    margin: Entry = practice("thrust-safety")
    if along * margin.value <= load:
        return
    text = told(
        "The centre and the cut press {along} N along the bar, and its core would "
        "buckle at {load} N: at least {margin} times the thrust is wanted. What would "
        "help: a shorter free length, a steady rest, or a centre that is only just "
        "touching.",
        along=rounded(along, 0, "up"),
        load=rounded(load, 0, "down"),
        margin=f"{margin.value:g}",
    )
    if along >= load:
        sheet.refuse("cutting.buckles", text)
    else:
        sheet.warn("cutting.buckling_near", text)
