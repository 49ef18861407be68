"""Which change wheels cut a lead: the best of all trains that can be put together.

Trains are looked at in the order of their error. Both sides of a train, its drivers and its
driven wheels, are sets whose products are sorted once; for each product of driven wheels the
products of drivers are tried outwards from the one that would be exact, and a heap over all of
these brings them up nearest first. So few of the many trains are ever put together, and none that
could rank among the best is passed over.
"""

from __future__ import annotations

from bisect import bisect_right, insort
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from heapq import heapify, heappop, heapreplace
from itertools import combinations, permutations
from math import prod

from cardgen.rules.meshing import (
    Pair,
    Quadrant,
    goes_together,
    may_bridge,
    teeth_to_pass,
    teeth_to_spare,
)
from cardgen.rules.train import PAIRS, Fixed, Train, wheels_to_change

Wheels = tuple[int, ...]
Rank = tuple[Fraction, int, int, bool, Fraction, int, tuple[Pair, ...]]
"""Error without sign; wheels to change; the smallest wheel, negative; whether it is tight at a
stud; the steepest pair; the place of the gearbox step; the pairs, so that nothing ties."""


def ranked_trains(
    lead: Fraction,
    leadscrew: Fraction,
    wheels: Sequence[int],
    *,
    count: int = 3,
    arrangements: Sequence[str] = ("single", "compound"),
    levers: Mapping[str, Fraction] | None = None,
    fixed: Fixed | None = None,
    now: Sequence[int] = (),
    quadrant: Quadrant | None = None,
    roomy_radius: float = 0.0,
) -> tuple[Train, ...]:
    """Return the trains that cut a lead best, the best first.

    They are ranked by their error; then by how many wheels must be changed from those on the
    machine now (every wheel, where that is not known: so a shorter train goes first); then by
    their smallest wheel, the larger the better; then by room beside the studs, by the mildest
    steepest pair, and by the earlier gearbox step. Whatever still ties is put in order by its
    teeth, so that the answer is always the same.

    Parameters
    ----------
    lead, leadscrew
        Wanted, and of the leadscrew [mm].
    wheels
        Teeth of every wheel owned; a wheel owned twice stands twice.
    count
        How many to return. Two orders of the same drivers and driven wheels are one train, shown
        in its best order.
    arrangements
        Words of :data:`~cardgen.rules.train.PAIRS` that the machine takes.
    levers
        Gearbox step to leadscrew turns for one turn of its input; ``None`` for no gearbox.
    fixed
        What stays on the machine.
    now
        Teeth on the machine, from the spindle to the leadscrew; empty if not known.
    quadrant
        What can be put together; ``None`` if nothing is known: then everything can.
    roomy_radius
        About each axle that a comfortable train leaves free [mm].
    """
    stays = fixed or Fixed()
    steps: dict[Fraction, str] = {}
    for lever, ratio in (levers or {"": Fraction(1)}).items():
        steps.setdefault(ratio, lever)  # of two steps of one ratio the earlier serves
    search = _Search(
        tuple(sorted(wheels)),
        [(lead / (leadscrew * stays.ratio * ratio), ratio) for ratio in steps],
        stays,
        tuple(now),
        quadrant,
        teeth_to_pass(quadrant.module, roomy_radius) if quadrant else 0.0,
        count,
    )
    for pairs in sorted(PAIRS[word] for word in set(arrangements)):
        search.run(pairs)
    return tuple(Train(rank[-1], steps[ratio], ratio, stays.ratio) for rank, ratio in search.best)


@dataclass(frozen=True, slots=True)
class _Sides:
    """Products of so many wheels in rising order, and the sets of wheels that make each."""

    products: Sequence[int]
    sets: Mapping[int, Sequence[Wheels]]


@dataclass(slots=True)
class _Stream:
    """The products of drivers for one product of driven wheels, from the exact one outwards.

    Attributes
    ----------
    exact
        What ``product * scale`` must be for an exact train.
    low, high
        Places of the next products below and above it.
    """

    exact: int
    scale: int
    below: int
    step: int
    low: int
    high: int

    def nearest(self, products: Sequence[int]) -> tuple[float, int]:
        """Return the error of the next product and its place; the place is -1 at the end.

        A quotient of whole numbers is rounded correctly, so that equal errors are equal floats.
        """
        exact, scale = self.exact, self.scale
        under = exact - products[self.low] * scale if self.low >= 0 else -1
        over = products[self.high] * scale - exact if self.high < len(products) else -1
        if under < 0 and over < 0:
            return 0.0, -1
        if over < 0 or 0 <= under <= over:
            return under / exact, self.low
        return over / exact, self.high

    def advance(self, place: int) -> None:
        """Leave the product that was the nearest."""
        if place == self.low:
            self.low -= 1
        else:
            self.high += 1


Bound = tuple[int, int]
Candidate = tuple[Bound, int, Wheels, Wheels]


@dataclass(slots=True)
class _Search:
    """What is searched, and the best so far: rank and gearbox ratio, the best first."""

    wheels: Wheels
    wanted: Sequence[tuple[Fraction, Fraction]]
    fixed: Fixed
    now: Wheels
    quadrant: Quadrant | None
    roomy: float
    count: int
    best: list[tuple[Rank, Fraction]] = field(default_factory=list)

    @property
    def worst(self) -> Rank | None:
        """The rank to beat; ``None`` while there is room for any train."""
        return self.best[-1][0] if len(self.best) == self.count else None

    def run(self, pairs: int) -> None:
        """Try all trains of so many pairs that may rank among the best."""
        worst = self.worst
        least = max(0, 2 * pairs - self._there())
        if worst is not None and (worst[0], worst[1]) < (0, least):
            return
        ahead, after = self.fixed.first, self.fixed.last
        drivers = self._side(pairs, ahead)
        driven = drivers if ahead == after else self._side(pairs, after)
        heap = self._streams(drivers, driven)
        while heap:
            error = heap[0][0]
            worst = self.worst
            if worst is not None and error > float(worst[0]):
                return
            group: list[Candidate] = []
            while heap and heap[0][0] == error:
                self._take(heap, drivers, driven, group)
            # All of one error are at hand: the likeliest first, the rest is not put together.
            for bound, step, first, second in sorted(group):
                self._consider(bound, step, first, second)

    def _there(self) -> int:
        """Count the wheels that no train needs to put on."""
        if self.now:
            return len(self.now)
        return (self.fixed.first is not None) + (self.fixed.last is not None)

    def _side(self, pairs: int, fixed: int | None) -> _Sides:
        chosen = pairs if fixed is None else pairs - 1
        sets: dict[int, list[Wheels]] = defaultdict(list)
        for some in dict.fromkeys(combinations(self.wheels, chosen)):
            sets[prod(some, start=fixed or 1)].append(some)
        return _Sides(sorted(sets), sets)

    def _streams(self, drivers: _Sides, driven: _Sides) -> list[tuple[float, int, int, _Stream]]:
        """Return a heap of error, count, place and stream, the nearest at its head."""
        worst, products = self.worst, drivers.products
        most = None if worst is None else float(worst[0])
        heap: list[tuple[float, int, int, _Stream]] = []
        for step, (wanted, _) in enumerate(self.wanted):
            for below in driven.products:
                exact, scale = wanted.numerator * below, wanted.denominator
                high = bisect_right(products, exact // scale)
                stream = _Stream(exact, scale, below, step, high - 1, high)
                error, place = stream.nearest(products)
                if place >= 0 and (most is None or error <= most):
                    heap.append((error, len(heap), place, stream))
        heapify(heap)
        return heap

    def _take(
        self,
        heap: list[tuple[float, int, int, _Stream]],
        drivers: _Sides,
        driven: _Sides,
        group: list[Candidate],
    ) -> None:
        """Move the trains at the head of the heap into the group, as far as they are owned."""
        _, number, place, stream = heap[0]
        firsts = drivers.sets[drivers.products[place]]
        for second in driven.sets[stream.below]:
            for first in firsts:
                if self._possible(first, second):
                    group.append((self._bound(first, second), stream.step, first, second))
        stream.advance(place)
        error, place = stream.nearest(drivers.products)
        if place >= 0:
            heapreplace(heap, (error, number, place, stream))
        else:
            heappop(heap)

    def _possible(self, first: Wheels, second: Wheels) -> bool:
        """Whether enough wheels are owned, and may reach; each side alone is known to be owned."""
        if not set(first).isdisjoint(second):
            used = first + second
            if any(used.count(teeth) > self.wheels.count(teeth) for teeth in set(used)):
                return False
        return self.quadrant is None or may_bridge(
            self._with_fixed(first, self.fixed.first),
            self._with_fixed(second, self.fixed.last),
            self.quadrant,
        )

    @staticmethod
    def _with_fixed(some: Wheels, fixed: int | None) -> Wheels:
        return some if fixed is None else (*some, fixed)

    def _bound(self, first: Wheels, second: Wheels) -> Bound:
        """Return what the train's rank is at best: wheels to change, and the smallest wheel."""
        used = first + second
        smallest = min(self._with_fixed(self._with_fixed(used, self.fixed.first), self.fixed.last))
        there = Counter(used) & Counter(self.now)
        return len(used) - there.total(), -smallest

    def _consider(self, bound: Bound, step: int, first: Wheels, second: Wheels) -> None:
        """Put a train in its place among the best, in the best of its orders that go together."""
        wanted, ratio = self.wanted[step]
        drivers = prod(first, start=self.fixed.first or 1)
        driven = prod(second, start=self.fixed.last or 1)
        error = abs(Fraction(drivers, driven) / wanted - 1)
        worst = self.worst
        if worst is not None and (error, *bound) > worst[:3]:
            return
        ranks = [
            self._rank(error, pairs, bound[1], step)
            for pairs in self._orders(first, second)
            if self._goes_together(pairs, first + second)
        ]
        if ranks:
            insort(self.best, (min(ranks), ratio), key=lambda each: each[0])
            del self.best[self.count :]

    def _orders(self, first: Wheels, second: Wheels) -> Iterator[tuple[Pair, ...]]:
        """Every way in which these drivers and driven wheels can follow one another."""
        ahead = () if self.fixed.first is None else (self.fixed.first,)
        after = () if self.fixed.last is None else (self.fixed.last,)
        for drivers in set(permutations(first)):
            for driven in set(permutations(second)):
                yield tuple(zip((*ahead, *drivers), (*driven, *after), strict=True))

    def _goes_together(self, pairs: tuple[Pair, ...], used: Wheels) -> bool:
        if self.quadrant is None:
            return True
        # Only a single train takes its idlers from the wheels left over.
        left = Counter(self.wheels) - Counter(used) if len(pairs) == 1 else Counter[int]()
        return goes_together(pairs, sorted(left.elements()), self.quadrant)

    def _rank(self, error: Fraction, pairs: tuple[Pair, ...], smallest: int, step: int) -> Rank:
        spared = teeth_to_spare(pairs)
        teeth = tuple(each for pair in pairs for each in pair)
        return (
            error,
            wheels_to_change(teeth, self.now, self.fixed),
            smallest,
            spared is not None and spared < self.roomy,
            max(Fraction(max(pair), min(pair)) for pair in pairs),
            step,
            pairs,
        )
