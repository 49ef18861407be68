"""Which bite next? The largest that breaks no limit, in whole divisions, down to full depth.

Every limit gets harder to keep with a larger bite, so the largest bite is found by halving. A bite
is only taken if the rest of the depth can be cut too: no pass may be left that is thinner than
the least chip.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from cardgen.rules.passes import Cut, Lathe, LimitName, Stage

RuledBy = LimitName | Literal["remaining", "finish"]


@dataclass(frozen=True, slots=True)
class Bite:
    """One pass of the schedule.

    Attributes
    ----------
    before, divisions
        Dial division before the pass, and how many it takes.
    cut
        What it asks.
    ruled_by
        The limit that one more division would break; ``remaining`` where the rest of the stage
        ruled the bite, ``finish`` for a cut that is kept light on purpose.
    """

    stage: Stage
    before: int
    divisions: int
    cut: Cut
    ruled_by: RuledBy

    @property
    def after(self) -> int:
        """Dial division after the pass."""
        return self.before + self.divisions


@dataclass(frozen=True, slots=True)
class Stuck:
    """Why there is no safe schedule: the least bite breaks a limit.

    Attributes
    ----------
    before
        Dial division at which no pass is safe any more.
    bite
        Divisions of the least bite.
    limit
        Which limit it breaks.
    cut
        What it would ask.
    """

    stage: Stage
    before: int
    bite: int
    limit: LimitName
    cut: Cut


@dataclass(frozen=True, slots=True)
class Schedule:
    """All passes of a thread, stage by stage; spring passes are not among them.

    Attributes
    ----------
    thin_end
        Whether a stage could only be ended with a bite below the least one.
    """

    bites: tuple[Bite, ...]
    thin_end: bool = False


def largest_bite(lathe: Lathe, stage: Stage, before: int, guess: int = 0) -> tuple[int, RuledBy]:
    """Return the most divisions that break no limit (perhaps none), and what ruled them.

    Parameters
    ----------
    lathe, stage, before
        Where the tool stands.
    guess
        A bite that is probably near, such as the last one: it only saves time.
    """
    rest = stage.end - before
    low, high = 0, rest + 1  # low is safe, high is not (or is more than there is)
    nearby = [guess, guess + 1, guess - 1]
    while high - low > 1:
        middle = next((bite for bite in nearby if low < bite < high), (low + high) // 2)
        if lathe.is_safe(lathe.cut(stage, before, middle), stage):
            low = middle
        else:
            high = middle
    if low == rest:
        return rest, "finish" if stage.step == "finish" else "remaining"
    return low, lathe.hardest(lathe.cut(stage, before, low + 1), stage)[0]


def schedule(lathe: Lathe, stages: Sequence[Stage], least: int) -> Schedule | Stuck:
    """Return the passes that cut all stages, each as large as is safe.

    Parameters
    ----------
    lathe
        What the passes are judged by.
    stages
        In the order of cutting.
    least
        Divisions of the least bite.

    Returns
    -------
    Schedule or Stuck
        The passes, or where and why there is no safe one.
    """
    bites: list[Bite] = []
    thin = False
    for stage in stages:
        within = min(least, stage.end - stage.start)
        if within and (stuck := _stuck_at_the_end(lathe, stage, within)):
            return stuck
    for stage in stages:
        within = min(least, stage.end - stage.start)
        found = _stage_bites(lathe, stage, within, thin=False)
        if found is None:
            # Only the sum did not come out: allow one light pass at the end.
            found = _stage_bites(lathe, stage, least, thin=True)
            thin = True
        if not isinstance(found, list):
            return _certain(found)
        bites += found
    return Schedule(tuple(bites), thin)


def _stuck_at_the_end(lathe: Lathe, stage: Stage, least: int) -> Stuck | None:
    """Return where the least bite begins to break a limit, if it does at the end of a stage.

    The last pass takes at least that bite, so nothing more need be tried.
    """
    low, high = stage.start, stage.end - least
    cut = lathe.cut(stage, high, least)
    if lathe.is_safe(cut, stage):
        return None
    while low < high:
        middle = (low + high) // 2
        trial = lathe.cut(stage, middle, least)
        if lathe.is_safe(trial, stage):
            low = middle + 1
        else:
            high, cut = middle, trial
    return Stuck(stage, high, least, lathe.hardest(cut, stage)[0], cut)


def _certain(found: Stuck | None) -> Stuck:
    """Return why a stage has no bites: with a light last pass allowed there is always a reason."""
    if found is None:
        msg = "every dead end of the search is a bite that breaks a limit"
        raise AssertionError(msg)
    return found


def _stage_bites(
    lathe: Lathe, stage: Stage, least: int, *, thin: bool
) -> list[Bite] | Stuck | None:
    """Return the bites of a stage, by trying the largest first and stepping back at a dead end.

    ``None`` if bites between the least and the largest cannot be made to add up.
    """
    stuck: Stuck | None = None
    dead: set[int] = set()
    taken: list[tuple[int, int, RuledBy]] = []
    open_choices: list[Iterator[tuple[int, RuledBy]]] = []
    before = stage.start
    while before < stage.end:
        if len(open_choices) == len(taken):
            most, ruled = largest_bite(lathe, stage, before, taken[-1][1] if taken else 0)
            rest = stage.end - before
            needed = min(least, rest) if thin else least
            if most < needed <= rest and (stuck is None or before > stuck.before):
                cut = lathe.cut(stage, before, needed)
                stuck = Stuck(stage, before, needed, lathe.hardest(cut, stage)[0], cut)
            open_choices.append(iter(_choices(most, ruled, least, rest, thin=thin)))
        choice = next(
            (
                c
                for c in open_choices[-1]
                if before + c[0] not in dead and not _hopeless(stuck, before + c[0], least)
            ),
            None,
        )
        if choice is not None:
            taken.append((before, *choice))
            before += choice[0]
            continue
        dead.add(before)
        open_choices.pop()
        if not taken:
            return stuck
        before = taken.pop()[0]
    return [Bite(stage, at, bite, lathe.cut(stage, at, bite), ruled) for at, bite, ruled in taken]


def _hopeless(stuck: Stuck | None, before: int, least: int) -> bool:
    """Whether a depth lies where the least bite is known to break a limit.

    With depth the force grows and the bar gets weaker, so what is unsafe at one depth is unsafe
    below it. The blade's worst section wanders, so it is looked at anew each time.
    """
    return (
        stuck is not None
        and stuck.limit != "blade"
        and before >= stuck.before
        and stuck.stage.end - before >= least
    )


def _choices(
    most: int, ruled: RuledBy, least: int, rest: int, *, thin: bool
) -> Iterator[tuple[int, RuledBy]]:
    """Give the bites worth trying at one depth, best first."""
    if rest < least:
        if thin and 0 < rest <= most:
            yield rest, "remaining"
        return
    if most >= rest:
        yield rest, ruled
        return
    if rest - most < least:
        # The largest bite would leave a scrape: share what is left over two passes.
        half = (rest + 1) // 2
        if least <= half <= most:
            yield half, ruled if half == most else "remaining"
    for bite in range(most, least - 1, -1):
        yield bite, ruled if bite == most else "remaining"
