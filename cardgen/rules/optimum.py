"""Which row of bites cuts a stage in the fewest passes? Every row is weighed, by stages of depth.

The dial makes depths whole numbers, so that the shortest way from the first division to the last
is found exactly by dynamic programming: the fewest bites from a depth are one more than the fewest
from the best depth that one safe bite leads to. It is told apart from trying every row only by
never asking the same question twice.

One thing is taken for granted, and held against a search without it in the tests: **a bite that is
safe at one depth is safe at any lesser depth**. With depth the flanks in the metal get longer, the
core thinner and the arm of the flanks' force no shorter, so that every force, bend and stress of
the same bite grows. So it is enough to know, for each size of bite, the deepest division from which
it is safe, and that is found by halving. Nothing is taken for granted about larger bites being
harder than smaller ones: where flanks cut in turn they need not be.

Only a slender blade may go against it, by a little: it is looked at behind the edge that is in the
metal, so that its weakest section may drop out with depth. So each pass of the row that is found is
asked again where it stands, and one that does not hold is struck out and the row found anew.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import inf

from cardgen.rules.passes import Lathe, Stage


@dataclass(frozen=True, slots=True)
class Bites:
    """Which bites are safe where in a stage.

    Attributes
    ----------
    sizes
        All bites that are safe anywhere, rising [divisions].
    deepest
        Bite to the deepest division from which it is safe, as far as that says all.
    struck
        Division and bite of those that did not hold when they were asked at their own depth.
    """

    stage: Stage
    sizes: tuple[int, ...]
    deepest: Mapping[int, int]
    struck: frozenset[tuple[int, int]] = frozenset()

    def is_safe(self, before: int, bite: int) -> bool:
        """Whether a bite from a division is safe and ends within the stage."""
        return (
            before + bite * self.stage.strokes <= self.stage.end
            and before <= self.deepest.get(bite, -1)
            and (before, bite) not in self.struck
        )

    def largest(self, before: int) -> int:
        """Return the largest safe bite from a division; zero if there is none."""
        safe = (bite for bite in reversed(self.sizes) if self.is_safe(before, bite))
        return next(safe, 0)


def safe_bites(lathe: Lathe, stage: Stage) -> Bites:
    """Return which bites are safe where in a stage."""
    deepest: dict[int, int] = {}
    for bite in range(1, (stage.end - stage.start) // stage.strokes + 1):
        last = stage.end - bite * stage.strokes
        if lathe.cut_chip(stage, bite) > stage.chip * (1 + 1e-9):
            break
        if lathe.keeps(stage, stage.start, bite):
            deepest[bite] = _deepest(lathe, stage, bite, last)
    return Bites(stage, tuple(deepest), deepest)


def _deepest(lathe: Lathe, stage: Stage, bite: int, last: int) -> int:
    if lathe.keeps(stage, last, bite):
        return last
    low, high = stage.start, last  # low is safe, high is not
    while high - low > 1:
        middle = (low + high) // 2
        if lathe.keeps(stage, middle, bite):
            low = middle
        else:
            high = middle
    return low


def fewest(bites: Bites, least: int) -> list[int] | None:
    """Return the fewest bites that cut a stage, none below the least; ``None`` if there are none.

    Of several rows of the fewest, the one whose bites are as large as can be as early as can be:
    the last ones are then the lightest. Where the last but one was held back, so that the last is
    not below the least, the two share what they have to cut.
    """
    stage = bites.stage
    sizes = [bite for bite in reversed(bites.sizes) if bite >= least]
    # The nearer to the surface, the more moves are safe: each joins once, at its deepest division.
    waiting = sorted(sizes, key=bites.deepest.__getitem__)
    # How many bites are left from each division; beyond the end as from where there is no way.
    left = [inf] * (stage.end + stage.strokes * max(sizes, default=0) + 1)
    left[stage.end] = 0
    moves: list[int] = []
    for at in range(stage.end - stage.strokes * least, stage.start - 1, -1):
        while waiting and bites.deepest[waiting[-1]] >= at:
            moves.append(waiting.pop() * stage.strokes)
        safe = moves
        if bites.struck:
            safe = [far for far in moves if (at, far // stage.strokes) not in bites.struck]
        left[at] = 1 + min([left[at + far] for far in safe], default=inf)
    if left[stage.start] == inf:
        return None
    row: list[int] = []
    at = stage.start
    while at < stage.end:
        bite = _next(bites, left, sizes, at)
        row.append(bite)
        at += bite * stage.strokes
    return row


def _next(bites: Bites, left: Sequence[float], sizes: Sequence[int], at: int) -> int:
    """Return the first bite of the row from a division on."""
    strokes = bites.stage.strokes
    best = [
        bite
        for bite in sizes
        if left[at + bite * strokes] == left[at] - 1 and bites.is_safe(at, bite)
    ]
    if left[at] == 2 and best[0] < bites.largest(at):
        rest = (bites.stage.end - at) // strokes
        even = [bite for bite in best if 2 * bite >= rest]
        return even[-1] if even else best[0]
    return best[0]


def reached(bites: Bites, least: int) -> dict[int, int]:
    """Return the divisions that safe bites of at least the least lead to, and in how few of them.

    Returns
    -------
    dict
        Division to number of bites; the start with none.
    """
    stage = bites.stage
    found = {stage.start: 0}
    for at in range(stage.start, stage.end):
        if at in found:
            for bite in bites.sizes:
                there = at + bite * stage.strokes
                if bite >= least and bites.is_safe(at, bite):
                    found[there] = min(found.get(there, found[at] + 1), found[at] + 1)
    return found
