"""Which two changes would ease the cut most, with what each would do in numbers."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from cardgen.core.figure import Input, Sheet
from cardgen.core.words import Said, told
from cardgen.rules.boring import Bar
from cardgen.rules.case import Case, Plan
from cardgen.rules.holding import Work
from cardgen.rules.infeed import Stuck
from cardgen.rules.sensitivity import (
    Eased,
    as_bites,
    eased,
    finer,
    hardest_bites,
    least_bite,
    narrower,
    slower,
    softer,
    stouter,
    used,
    with_work,
)
from cardgen.sheets._cutting_tables import practice
from cardgen.sheets._cutting_words import length
from cardgen.spec.job import Job

_PLACES = ("first", "second")
_TELLING = 0.01
"""Part of a limit below which a change is not worth telling."""


@dataclass(frozen=True, slots=True)
class _Change:
    """A change of the set-up, in words, and the case with it."""

    words: str
    case: Case


def record_ease(job: Job, sheet: Sheet, case: Case, plan: Plan) -> None:
    """Record how near the hardest pass comes to a limit, and the two changes that ease it most.

    A job without a safe schedule is told the same of the pass that it does not get beyond.
    """
    if not case.lathe.allowed:
        return
    if isinstance(plan.outcome, Stuck):
        stuck = plan.outcome
        bites, cuts = least_bite(stuck), [(stuck.stage, stuck.cut)]
        note = "the least bite, where no pass is safe any more"
    else:
        hard = hardest_bites(plan.outcome)
        bites, cuts = as_bites(hard), [(bite.stage, bite.cut) for bite in hard]
        note = "but for the thickest chip, which is a matter of how the tool cuts"
    limit, now = used(plan.lathe, cuts)
    sheet.add(
        "cutting.limit_used",
        100 * now,
        formula="method: the greatest share of any limit that any pass uses",
        inputs=_limits(sheet),
        source="this schedule",
        basis="computed",
        note=told("{limit}; {note}", limit=limit, note=note),
    )
    found = [
        (change, done)
        for change in _changes(job, case, plan)
        if (done := eased(change.case, plan, bites)) is not None and now - done.used > _TELLING
    ]
    best = sorted(found, key=lambda each: each[1].used)
    for place, (change, done) in zip(_PLACES, best, strict=False):
        _record(sheet, place, change.words, done, plan)


def _record(sheet: Sheet, place: str, words: str, done: Eased, plan: Plan) -> None:
    now = {"u": sheet.ref("cutting.limit_used")}
    sheet.add(
        f"cutting.ease_{place}",
        words,
        formula="method: of the changes tried one by one, the one with which the hardest passes "
        "use least of any limit",
        inputs=now,
        source="this schedule, worked out anew",
        basis="computed",
        note=told(
            "{method} as before; then {limit} is nearest",
            method=Said(plan.method),
            limit=done.limit,
        ),
    )
    sheet.add(
        f"cutting.ease_{place}_used",
        100 * done.used,
        formula="method: the same bites with the change",
        inputs=now,
        source="this schedule, worked out anew",
        basis="computed",
    )
    if passes := done.plan.passes:
        sheet.add(
            f"cutting.ease_{place}_passes",
            float(passes),
            formula="method: fewest bites with the change",
            inputs=now,
            source="this schedule, worked out anew",
            basis="computed",
        )


def _changes(job: Job, case: Case, plan: Plan) -> Iterator[_Change]:
    """Give the changes that this job leaves open, one by one."""
    work = case.lathe.work
    if isinstance(work, Bar):
        yield from _bars(job, case, work)
    else:
        yield from _holdings(job, case, work)
    if (speed := case.lathe.speed) is not None:
        below = [each for each in job.machine.speeds if each < speed]
        if below:
            yield _Change(
                told("A spindle speed of {speed} rev/min", speed=f"{max(below):g}"),
                slower(case, max(below)),
            )
    if plan.rough_width is not None:
        width = plan.rough_width - case.practice.rough_try
        if width >= case.practice.rough_least:
            size = length(width, inch=job.inch, decimals=1)
            yield _Change(told("A roughing tool {size} wide", size=size), narrower(case, width))
    blank, part = practice("ease-blank").value, practice("ease-force").value
    size = length(case.blade.blank * blank, inch=job.inch, decimals=1)
    yield _Change(told("A tool blank of {size}", size=size), stouter(case, blank))
    yield _Change(
        told("Stock that takes {less} % less force (free-cutting)", less=f"{100 * (1 - part):.0f}"),
        softer(case, part),
    )
    pitch = practice("ease-pitch").value
    size = length(job.thread.pitch * pitch, inch=job.inch)
    yield _Change(told("A pitch of {size}, all sizes in proportion", size=size), finer(case, pitch))


def _holdings(job: Job, case: Case, work: Work) -> Iterator[_Change]:
    if work.rest == "none":
        yield _Change("A follow rest", with_work(case, replace(work, rest="follow")))
        if work.steady_at is not None:
            steady = replace(work, rest="steady")
            yield _Change("A steady rest beside the thread", with_work(case, steady))
    if work.holding == "chuck":
        centred = replace(work, holding="chuck-and-centre")
        yield _Change("A tailstock centre", with_work(case, centred))
    shortest = work.thread + work.groove
    if work.stickout - shortest > 1:
        size = length(shortest, inch=job.inch, decimals=0)
        shorter = replace(work, stickout=shortest)
        yield _Change(told("A stick-out of {size}", size=size), with_work(case, shorter))


def _bars(job: Job, case: Case, bar: Bar) -> Iterator[_Change]:
    shorter, thicker = practice("ease-bar").value, practice("ease-blank").value
    size = length(bar.overhang * shorter, inch=job.inch, decimals=0)
    yield _Change(
        told("A boring bar that stands out {size}", size=size),
        with_work(case, replace(bar, overhang=bar.overhang * shorter)),
    )
    size = length(bar.bar * thicker, inch=job.inch, decimals=1)
    yield _Change(
        told("A boring bar of {size}, if it passes the bore", size=size),
        with_work(case, replace(bar, bar=bar.bar * thicker)),
    )


def _limits(sheet: Sheet) -> dict[str, Input]:
    ids = {
        "Fa": "cutting.force_allowed",
        "ya": "cutting.deflection_allowed",
        "swa": "cutting.work_stress_allowed",
        "sta": "cutting.tool_stress_allowed",
        "Pa": "cutting.power_allowed",
    }
    return {symbol: sheet.ref(id) for symbol, id in ids.items() if id in sheet}
