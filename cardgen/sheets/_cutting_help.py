"""What would make an unsafe job safe? Each change is worked out in full before it is named."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

from cardgen.core.words import Said, joined, told
from cardgen.rules.boring import Bar
from cardgen.rules.infeed import Stuck
from cardgen.rules.methods import Case, Method, Plan, choose
from cardgen.rules.sensitivity import finer, with_work
from cardgen.sheets._cutting_words import length

_PITCH_PARTS = (0.9, 0.8, 0.7, 0.6, 0.5, 0.4)
"""Pitches that are tried, as parts of the one asked for; all sizes in the groove go with it."""

_BLANKS = (1.25, 1.6, 2.0)
"""Tool blanks that are tried, as multiples of the one asked for."""

_SHORTER = (0.9, 0.8, 0.7, 0.6, 0.5, 0.4)
"""Overhangs of a boring bar that are tried, as parts of the one asked for."""

_STICKOUTS = 8
"""Steps between the stick-out asked for and the shortest there can be."""

Tried = TypeVar("Tried")


@dataclass(frozen=True, slots=True)
class Refused:
    """A job without a safe schedule.

    Attributes
    ----------
    case
        As it was planned.
    step
        Radial depth of one division of the dial [mm].
    stuck
        Where the schedule ended.
    asked
        The infeed that the job asks for; ``None`` for any.
    pitch
        Of the thread [mm].
    speeds
        Of the spindle [1/min].
    inch
        Whether lengths are written in inches.
    die
        Whether there are dies of this form and size.
    """

    case: Case
    step: float
    stuck: Stuck
    asked: Method | None
    pitch: float
    speeds: Sequence[float]
    inch: bool
    die: bool


def refusal(job: Refused) -> str:
    """Return why no pass is safe, and every change that would help, with its numbers."""
    if isinstance(job.case.lathe.work, Bar):
        helps = [*_bars(job), *_tools_and_pitches(job)]
    else:
        helps = [*_set_ups(job), *_lengths_and_speeds(job), *_tools_and_pitches(job)]
        if job.die:
            helps.append("a die, the cutter only to start it straight")
    if not helps and isinstance(job.case.lathe.work, Bar):
        return told(
            "{why} Neither a shorter nor a thicker boring bar, nor a larger bit or finer "
            "pitch alone would make it safe: use a tap, or a larger thread.",
            why=_why(job),
        )
    if not helps:
        return told(
            "{why} Neither a rest, nor a centre, nor a shorter bar, nor another tool "
            "blank or finer pitch alone would make it safe: use a stronger bar or "
            "another tool.",
            why=_why(job),
        )
    return told("{why} What would help: {helps}.", why=_why(job), helps=joined(helps, "; or "))


def _why(job: Refused) -> str:
    stuck, inch = job.stuck, job.inch
    asked, allowed = stuck.cut.of(stuck.limit), job.case.lathe.allowed.get(stuck.limit, 0.0)
    depth = length(stuck.before * job.step, inch=inch)
    bite = length(stuck.bite * job.step, inch=inch, decimals=3)
    where = told("beyond {depth} of depth", depth=depth) if stuck.before else "even at the surface"
    head = told("No pass is safe {where}: a bite of {bite}", where=where, bite=bite)
    away = length(asked, inch=inch, decimals=3, side="up")
    most = length(allowed, inch=inch, decimals=3, side="down")
    part = "the boring bar" if isinstance(job.case.lathe.work, Bar) else "the work"
    chip = length(stuck.stage.chip, inch=inch, decimals=3)
    return {
        "force": told(
            "{head} takes {asked} N; {allowed} N is what a lathe of this power is built for.",
            head=head,
            asked=f"{asked:.0f}",
            allowed=f"{allowed:.0f}",
        ),
        "deflection": told(
            "{head} bends {part} {away} away; {most} is allowed.",
            head=head,
            part=part,
            away=away,
            most=most,
        ),
        "work stress": told(
            "{head} would strain {part} to {asked} MPa if the tool dug in; {allowed} MPa "
            "is allowed.",
            head=head,
            part=part,
            asked=f"{asked:.0f}",
            allowed=f"{allowed:.0f}",
        ),
        "blade": told(
            "{head} would strain the blade to {asked} MPa if the tool dug in; {allowed} "
            "MPa is allowed.",
            head=head,
            asked=f"{asked:.0f}",
            allowed=f"{allowed:.0f}",
        ),
        "power": told(
            "{head} takes {asked} W at the spindle; there are {allowed} W.",
            head=head,
            asked=f"{asked:.0f}",
            allowed=f"{allowed:.0f}",
        ),
        "chip": told(
            "{head} is the least that the dial can set, and the tool takes a chip of "
            "{chip} at most.",
            head=head,
            chip=chip,
        ),
    }[stuck.limit]


def _safe(case: Case, asked: Method | None) -> Plan | None:
    """Return the plan of a changed case; ``None`` if it is not safe either."""
    found, _ = choose(case, asked)
    return found if isinstance(found, Plan) and found.passes else None


def _first_safe(tried: Sequence[Tried], is_safe: Callable[[Tried], bool]) -> Tried | None:
    """Return the first of several ever milder changes that is safe, by halving."""
    low, high = 0, len(tried)
    while low < high:
        middle = (low + high) // 2
        if is_safe(tried[middle]):
            high = middle
        else:
            low = middle + 1
    return tried[low] if low < len(tried) else None


def _bars(job: Refused) -> Iterator[str]:
    """Give a shorter and a thicker boring bar that would be safe."""
    work = job.case.lathe.work
    if not isinstance(work, Bar):
        return
    shorter = _first_safe(
        [work.overhang * part for part in _SHORTER],
        lambda x: _safe(with_work(job.case, replace(work, overhang=x)), job.asked) is not None,
    )
    if shorter is not None:
        longest = length(shorter, inch=job.inch, decimals=0, side="down")
        yield told("a boring bar that stands out at most {longest}", longest=longest)
    thicker = _first_safe(
        [work.bar * part for part in _BLANKS],
        lambda x: _safe(with_work(job.case, replace(work, bar=x)), job.asked) is not None,
    )
    if thicker is not None:
        least = length(thicker, inch=job.inch, decimals=1, side="up")
        yield told("a boring bar of {least}, and a bore that it passes", least=least)
    if job.asked is not None and _safe(job.case, None) is not None:
        yield told("infeed auto instead of {asked}", asked=Said(job.asked))


def _set_ups(job: Refused) -> Iterator[str]:
    """Give other ways to hold the bar, and the way of feeding that would be chosen freely."""
    work = job.case.lathe.work
    if isinstance(work, Bar):
        return

    def with_passes(change: str, changed: Case, asked: Method | None) -> str:
        """Return the change with its passes; nothing if it is not safe."""
        found = _safe(changed, asked)
        if found is None or isinstance(found.outcome, Stuck):
            return ""
        bites = [bite.divisions * found.lathe.step for bite in found.outcome.bites]
        least, most = (length(f(bites), inch=job.inch, decimals=3) for f in (min, max))
        return told(
            "{change} ({passes} passes of {least} to {most})",
            change=change,
            passes=len(bites),
            least=least,
            most=most,
        )

    single = {
        "a tailstock centre": replace(work, holding="chuck-and-centre"),
        "a steady rest beside the thread": replace(work, rest="steady"),
        "a follow rest": replace(work, rest="follow"),
    }
    found = False
    for words, changed in single.items():
        useless = changed == work or (changed.rest == "steady" and changed.steady_at is None)
        if not useless and (text := with_passes(words, with_work(job.case, changed), job.asked)):
            found = True
            yield text
    if not found and work.holding == "chuck":
        both = replace(work, holding="chuck-and-centre", rest="follow")
        words = "a tailstock centre and a follow rest"
        if text := with_passes(words, with_work(job.case, both), job.asked):
            yield text
    if job.asked is not None:
        words = told("infeed auto instead of {asked}", asked=Said(job.asked))
        if text := with_passes(words, job.case, None):
            yield text


def _lengths_and_speeds(job: Refused) -> Iterator[str]:
    case, work = job.case, job.case.lathe.work
    if isinstance(work, Bar):
        return
    shortest = work.thread + work.groove
    lengths = [
        shortest + (work.stickout - shortest) * part / _STICKOUTS
        for part in range(_STICKOUTS - 1, -1, -1)
    ]
    stickout = _first_safe(
        lengths,
        lambda x: _safe(with_work(case, replace(work, stickout=x)), job.asked) is not None,
    )
    if stickout is not None and stickout < work.stickout - 1e-9:
        yield told(
            "a stick-out of at most {stickout}",
            stickout=length(stickout, inch=job.inch, decimals=0, side="down"),
        )
    if job.stuck.limit == "power" and case.lathe.speed is not None:
        now = case.lathe.speed
        slower = _first_safe(
            sorted((speed for speed in job.speeds if speed < now), reverse=True),
            lambda n: (
                _safe(replace(case, lathe=replace(case.lathe, speed=n)), job.asked) is not None
            ),
        )
        if slower is not None:
            yield told("a spindle speed of at most {slower} rev/min", slower=f"{slower:g}")


def _tools_and_pitches(job: Refused) -> Iterator[str]:
    case, blade = job.case, job.case.blade
    if job.stuck.limit == "blade":
        factor = _first_safe(
            _BLANKS,
            lambda k: (
                _safe(
                    replace(
                        case, blade=replace(blade, height=blade.height * k, blank=blade.blank * k)
                    ),
                    job.asked,
                )
                is not None
            ),
        )
        if factor is not None:
            size = length(blade.blank * factor, inch=job.inch, decimals=1, side="up")
            yield told("a tool blank of {size} or more", size=size)
    part = _first_safe(_PITCH_PARTS, lambda k: _safe(finer(case, k), job.asked) is not None)
    if part is not None:
        pitch = length(part * job.pitch, inch=job.inch, side="down")
        yield told("a pitch of at most {pitch}, with all sizes in proportion", pitch=pitch)
