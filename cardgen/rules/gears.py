"""Which change wheels cut a lead: the best of all trains that can be put together.

Driver is the wheel nearer the spindle. The lead cut in one turn of the spindle is

    leadscrew lead x (drivers / driven) x gearbox ratio

in exact fractions of a millimetre: wheels are counted, not measured.
"""

from __future__ import annotations

from bisect import bisect_right
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
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

PAIRS: Mapping[str, int] = {"single": 1, "compound": 2, "double-compound": 3}
"""Arrangement to the number of pairs that it changes the ratio with."""


@dataclass(frozen=True, slots=True)
class Train:
    """Wheels on the machine.

    Attributes
    ----------
    pairs
        (driver, driven) from the spindle to the leadscrew.
    lever
        Name of the gearbox step; empty where there is no gearbox.
    lever_ratio
        Leadscrew turns for one turn of the last driven wheel.
    """

    pairs: tuple[Pair, ...]
    lever: str = ""
    lever_ratio: Fraction = Fraction(1)

    @property
    def ratio(self) -> Fraction:
        """Leadscrew turns for one turn of the spindle."""
        return prod((Fraction(*pair) for pair in self.pairs), start=self.lever_ratio)

    @property
    def wheels(self) -> tuple[int, ...]:
        """Teeth from the spindle to the leadscrew: driver, driven, driver, driven."""
        return tuple(teeth for pair in self.pairs for teeth in pair)

    def __str__(self) -> str:
        """Return the pairs from the spindle to the leadscrew, each ``driver/driven``.

        Examples
        --------
        >>> str(Train(((40, 60), (30, 45))))
        '40/60 x 30/45'
        """
        return " x ".join(f"{driver}/{driven}" for driver, driven in self.pairs)


def lead_error(train: Train, leadscrew: Fraction, lead: Fraction) -> Fraction:
    """Error of the lead that a train cuts, as a signed part of the lead wanted.

    Parameters
    ----------
    leadscrew, lead
        Travel for one turn of the leadscrew, and lead wanted [mm].

    Returns
    -------
    Fraction
        (lead cut - lead) / lead: positive for a thread that is too coarse. An error counted in
        threads per inch has the opposite sign.
    """
    return leadscrew * train.ratio / lead - 1


def best_train(
    lead: Fraction,
    leadscrew: Fraction,
    wheels: Sequence[int],
    *,
    arrangements: Sequence[str] = ("single", "compound"),
    levers: Mapping[str, Fraction] | None = None,
    quadrant: Quadrant | None = None,
    roomy_radius: float = 0.0,
) -> Train | None:
    """Return the train that cuts a lead best.

    Best is: the least error; then the fewest wheels; then room beside every stud; then the larger
    smallest wheel; then the mildest steepest pair; then the earlier gearbox step. Whatever still
    ties is put in order by its teeth, so that the answer is always the same.

    Parameters
    ----------
    lead, leadscrew
        Wanted, and of the leadscrew [mm].
    wheels
        Teeth of every wheel owned; a wheel owned twice stands twice.
    arrangements
        Words of :data:`PAIRS` that the machine takes.
    levers
        Gearbox step to leadscrew turns for one turn of its input; ``None`` for no gearbox.
    quadrant
        What can be put together; ``None`` if nothing is known: then everything can.
    roomy_radius
        About each axle that a comfortable train leaves free [mm].

    Returns
    -------
    Train or None
        ``None`` if no train goes together at all.
    """
    owned = Counter(wheels)
    roomy = teeth_to_pass(quadrant.module, roomy_radius) if quadrant else 0.0
    best = _Best()
    for count in sorted(PAIRS[word] for word in set(arrangements)):
        if best.error == 0:
            break  # exact with fewer wheels: no longer train can rank above it
        sides = _products(wheels, count)
        for place, (lever, ratio) in enumerate((levers or {"": Fraction(1)}).items()):
            for drivers, driven, error in _nearest(sides, lead / (leadscrew * ratio), best):
                if not _owned(owned, drivers, driven):
                    continue
                if quadrant is not None and not may_bridge(drivers, driven, quadrant):
                    continue
                # Only a single train takes its idlers from the wheels left over.
                left = owned - Counter(drivers + driven) if count == 1 else Counter[int]()
                spare = sorted(left.elements())
                for pairs in _orders(drivers, driven):
                    if quadrant is not None and not goes_together(pairs, spare, quadrant):
                        continue
                    spared = teeth_to_spare(pairs)
                    rank = (
                        error,
                        count,
                        spared is not None and spared < roomy,
                        -min(drivers + driven),
                        max(Fraction(max(pair), min(pair)) for pair in pairs),
                        place,
                        pairs,
                    )
                    if best.rank is None or rank < best.rank:
                        best.train, best.rank, best.error = Train(pairs, lever, ratio), rank, error
    return best.train


Wheels = tuple[int, ...]
Rank = tuple[Fraction, int, bool, int, Fraction, int, tuple[Pair, ...]]


@dataclass(slots=True)
class _Best:
    """The best train so far, why it ranks where it does, and its error without sign."""

    train: Train | None = None
    rank: Rank | None = None
    error: Fraction | None = None


@dataclass(frozen=True, slots=True)
class _Sides:
    """Products of so many wheels in rising order, and the sets of wheels that make each."""

    products: Sequence[int]
    sets: Mapping[int, Sequence[Wheels]]


def _products(wheels: Sequence[int], count: int) -> _Sides:
    sets: dict[int, list[Wheels]] = defaultdict(list)
    for chosen in sorted(set(combinations(sorted(wheels), count))):
        sets[prod(chosen)].append(chosen)
    return _Sides(sorted(sets), sets)


def _owned(owned: Counter[int], drivers: Wheels, driven: Wheels) -> bool:
    """Whether enough wheels are there for both sides; each side alone is known to be."""
    return set(drivers).isdisjoint(driven) or Counter(drivers + driven) <= owned


def _orders(drivers: Wheels, driven: Wheels) -> Iterator[tuple[Pair, ...]]:
    """Every way in which these drivers and driven wheels can follow one another."""
    for first in set(permutations(drivers)):
        for second in set(permutations(driven)):
            yield tuple(zip(first, second, strict=True))


def _nearest(
    sides: _Sides, wanted: Fraction, best: _Best
) -> Iterator[tuple[Wheels, Wheels, Fraction]]:
    """Yield the sets of drivers and driven wheels that come as near as the best train so far.

    For each product of driven wheels the products of drivers are tried outwards from the one
    that would be exact, and given up as soon as they are further off than the best.
    """
    products = sides.products
    for below in products:
        exact = wanted.numerator * below
        high = bisect_right(products, exact // wanted.denominator)
        low = high - 1
        while low >= 0 or high < len(products):
            under = exact - products[low] * wanted.denominator if low >= 0 else None
            over = products[high] * wanted.denominator - exact if high < len(products) else None
            if over is None or (under is not None and under <= over):
                above, low = products[low], low - 1
            else:
                above, high = products[high], high + 1
            error = Fraction(abs(above * wanted.denominator - exact), exact)
            if best.error is not None and error > best.error:
                break
            for drivers in sides.sets[above]:
                for driven in sides.sets[below]:
                    yield drivers, driven, error
