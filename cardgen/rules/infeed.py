"""Which bites cut a thread in the fewest passes that break no limit? In whole divisions, to depth.

Each stage of the cut is a search of its own (:mod:`cardgen.rules.optimum`): a stage begins and ends
at a depth that is set beforehand, so that the fewest passes of all are the fewest of each. All
passes of one way of feeding take the same time, so that the fewest are the shortest too. No pass is
taken that is thinner than the least chip, unless the depth of a stage cannot be made up without.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import accumulate
from typing import Literal

from cardgen.rules.optimum import Bites, fewest, reached, safe_bites
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
    nearest, share
        The limit that the pass comes nearest to, and how much of it is used.
    aside
        What the compound slide shows where it moves the tool sideways [divisions].
    """

    stage: Stage
    before: int
    divisions: int
    cut: Cut
    ruled_by: RuledBy
    nearest: LimitName
    share: float
    aside: int = 0

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

    @property
    def share(self) -> float:
        """How much is used of the limit that any pass comes nearest to."""
        return max(bite.share for bite in self.bites)


@dataclass(frozen=True, slots=True)
class _Row:
    """The bites of one stage [divisions]."""

    bites: Bites
    row: tuple[int, ...]
    thin_end: bool = False


Known = dict[Stage, _Row | Stuck]
"""What was found for stages on one lathe."""


@dataclass(frozen=True, slots=True)
class Rows:
    """The bites of all stages, not yet worked out as passes."""

    lathe: Lathe
    rows: tuple[_Row, ...]
    least: int

    @property
    def passes(self) -> int:
        """Number of cutting passes."""
        return sum(len(each.row) * each.bites.stage.strokes for each in self.rows)

    def schedule(self) -> Schedule | Stuck:
        """Return the passes, each worked out and proved to keep every limit."""
        made: list[Bite] = []
        thin = False
        for each in self.rows:
            proved = _proved(self.lathe, each, self.least)
            if isinstance(proved, Stuck):
                return proved
            thin = thin or proved.thin_end
            stage = proved.bites.stage
            before = stage.start
            for bite in proved.row:
                made += _passes(self.lathe, proved.bites, before, bite)
                before += bite * stage.strokes
        return Schedule(tuple(made), thin)


def rows(
    lathe: Lathe, stages: Sequence[Stage], least: int, known: Known | None = None
) -> Rows | Stuck:
    """Return the fewest bites that cut all stages.

    Parameters
    ----------
    lathe
        What the passes are judged by.
    stages
        In the order of cutting.
    least
        Divisions of the least bite.
    known
        Stages that were cut on the same lathe before; what is found is added.

    Returns
    -------
    Rows or Stuck
        The bites, or where and why there is no safe one.
    """
    known = {} if known is None else known
    found: list[_Row] = []
    # The last stages are the deepest: if one of them cannot be cut, nothing else need be tried.
    for stage in reversed(stages):
        key = replace(stage, aside=0)
        if key not in known:
            known[key] = _stage_row(lathe, stage, least)
        row = known[key]
        if isinstance(row, Stuck):
            return row
        found.insert(0, replace(row, bites=replace(row.bites, stage=stage)))
    return Rows(lathe, tuple(found), least)


def schedule(lathe: Lathe, stages: Sequence[Stage], least: int) -> Schedule | Stuck:
    """Return the passes that cut all stages; see :func:`rows`."""
    found = rows(lathe, stages, least)
    return found if isinstance(found, Stuck) else found.schedule()


def _stage_row(
    lathe: Lathe, stage: Stage, least: int, struck: frozenset[tuple[int, int]] = frozenset()
) -> _Row | Stuck:
    """Return the fewest bites that cut a stage, without some that are known not to hold."""
    if stuck := _stuck_at_the_end(lathe, stage, least):
        return stuck
    within = min(least, (stage.end - stage.start) // stage.strokes)
    bites = replace(safe_bites(lathe, stage), struck=struck)
    row = fewest(bites, within)
    if row is not None:
        return _Row(bites, tuple(row))
    row = _ended_lightly(bites, within)
    return _stuck(lathe, bites, within) if row is None else _Row(bites, tuple(row), thin_end=True)


def _proved(lathe: Lathe, row: _Row, least: int) -> _Row | Stuck:
    """Return a row each of whose passes holds where it stands, struck out and found anew if not."""
    found: _Row | Stuck = row
    while isinstance(found, _Row) and (broken := _broken(lathe, found.bites.stage, found.row)):
        found = _stage_row(lathe, row.bites.stage, least, found.bites.struck | broken)
    return found


def _stuck_at_the_end(lathe: Lathe, stage: Stage, least: int) -> Stuck | None:
    """Return where the least bite begins to break a limit, if no pass at all can end a stage.

    It says no more than the full search would, but at once.
    """
    room = (stage.end - stage.start) // stage.strokes
    for bite in range(1, room + 1):
        last = stage.end - bite * stage.strokes
        if lathe.cut_chip(stage, bite) > stage.chip * (1 + 1e-9):
            break
        if lathe.keeps(stage, last, bite):
            return None
    within = min(least, room)
    low, high = stage.start, stage.end - within * stage.strokes
    while low < high:
        middle = (low + high) // 2
        if lathe.keeps(stage, middle, within):
            low = middle + 1
        else:
            high = middle
    return _told(lathe, stage, high, within)


def _broken(lathe: Lathe, stage: Stage, row: Sequence[int]) -> frozenset[tuple[int, int]]:
    """Return division and bite of those in a row that do not hold where they stand."""
    starts = accumulate((bite * stage.strokes for bite in row), initial=stage.start)
    moves = zip(starts, row, strict=False)
    return frozenset(move for move in moves if not lathe.keeps(stage, *move))


def _ended_lightly(bites: Bites, least: int) -> list[int] | None:
    """Return the fewest bites whose last alone is below the least one."""
    stage = bites.stage
    ends = {
        at: count
        for at, count in reached(bites, least).items()
        if 0 < stage.end - at < least * stage.strokes
        and bites.is_safe(at, (stage.end - at) // stage.strokes)
    }
    if not ends:
        return None
    # The deepest of the fewest leaves the lightest pass for the end.
    at = max(ends, key=lambda at: (-ends[at], at))
    return [*_shortest_to(bites, at, least), (stage.end - at) // stage.strokes]


def _shortest_to(bites: Bites, end: int, least: int) -> list[int]:
    """Return the fewest bites that lead to a division that can be reached, largest first."""
    counts = reached(bites, least)
    row: list[int] = []
    at, strokes = end, bites.stage.strokes
    while at > bites.stage.start:
        bite = next(
            bite
            for bite in bites.sizes
            if bite >= least
            and counts.get(at - bite * strokes) == counts[at] - 1
            and bites.is_safe(at - bite * strokes, bite)
        )
        row.insert(0, bite)
        at -= bite * strokes
    return row


def _stuck(lathe: Lathe, bites: Bites, least: int) -> Stuck:
    """Return the deepest division that safe bites lead to, and what ends it there."""
    stage = bites.stage
    at = max(reached(bites, least))
    return _told(lathe, stage, at, min(least, (stage.end - at) // stage.strokes))


def _told(lathe: Lathe, stage: Stage, at: int, bite: int) -> Stuck:
    before, cut = max(
        zip((at, at + bite), lathe.cuts(stage, at, bite), strict=False),
        key=lambda each: lathe.hardest(each[1], stage)[1],
    )
    return Stuck(stage, before, bite, lathe.hardest(cut, stage)[0], cut)


def _passes(lathe: Lathe, bites: Bites, before: int, bite: int) -> list[Bite]:
    """Return the passes of one bite: one, or two where the flanks cut in turn."""
    stage = bites.stage
    aside = stage.aside_by(bite * lathe.step)
    ruled = _ruled_by(lathe, bites, before, bite)
    return [
        Bite(
            stage,
            before + stroke * bite,
            bite,
            cut,
            ruled,
            *lathe.hardest(cut, stage),
            stage.aside + (0 if stroke else aside),
        )
        for stroke, cut in enumerate(lathe.cuts(stage, before, bite))
    ]


def _ruled_by(lathe: Lathe, bites: Bites, before: int, bite: int) -> RuledBy:
    stage = bites.stage
    if before + bite * stage.strokes == stage.end:
        return "finish" if stage.step == "finish" else "remaining"
    if bite < bites.largest(before):
        return "remaining"
    if before + (bite + 1) * stage.strokes > stage.end:
        return "remaining"
    return lathe.broken(stage, before, bite + 1) or "remaining"
