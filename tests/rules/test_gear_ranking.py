"""The ranking against every train written out, in exact fractions and by code of its own.

The oracle knows nothing of products, heaps or bounds: it lays out every order of every choice of
wheels, throws out what does not go together, and sorts what is left by the words of the rule.
"""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import permutations
from time import process_time

import pytest

from cardgen.rules.gears import ranked_trains
from cardgen.rules.meshing import Quadrant, fits_slot
from cardgen.rules.train import PAIRS, Fixed, Train, lead_error, wheels_to_change

ALL = tuple(PAIRS)
SETS = range(10)
SCREWS = [Fraction(3), Fraction(2), Fraction(6), Fraction(127, 20), Fraction(127, 40)]


@dataclass(frozen=True)
class Case:
    """Wheels drawn at random, a lead and a machine to go with them."""

    owned: list[int]
    leadscrew: Fraction
    lead: Fraction
    now: tuple[int, ...]
    centres: tuple[float, float]


def case(seed: int) -> Case:
    draw = random.Random(seed)
    owned = [draw.choice([*range(18, 90), 100, 120, 127]) for _ in range(7)]
    leadscrew = draw.choice(SCREWS)
    # Half of the leads are cut exactly by some train of these wheels.
    a, b, c, d = draw.sample(owned, 4)
    near = Fraction(a * c, b * d) * leadscrew
    lead = near if seed % 2 else Fraction(draw.randint(4, 80), draw.choice([8, 10, 16]))
    now = tuple(draw.sample(owned, draw.choice([2, 4]))) if seed % 3 else ()
    return Case(owned, leadscrew, lead, now, (40.0, draw.choice([90.0, 140.0])))


def every_order(owned: Sequence[int]) -> Iterator[tuple[int, ...]]:
    for count in (2, 4, 6):
        yield from set(permutations(owned, count))


def ratio(teeth: Sequence[int]) -> Fraction:
    value = Fraction(1)
    for place, each in enumerate(teeth):
        value = value / each if place % 2 else value * each
    return value


def to_change(teeth: Sequence[int], now: Sequence[int]) -> int:
    if not now:
        return len(teeth)
    ends = (teeth[0] != now[0]) + (teeth[-1] != now[-1])
    inner, there = teeth[1:-1], now[1:-1]
    return ends + sum(place >= len(there) or there[place] != z for place, z in enumerate(inner))


def stands(teeth: Sequence[int], owned: Sequence[int], low: float, high: float) -> bool:
    """Module 1, 4.5 mm about each axle: the rule from the drawing board, for 1 to 3 pairs."""
    radius = 4.5
    links = [(teeth[k] + teeth[k + 1]) / 2 for k in range(0, len(teeth), 2)]
    if len(teeth) == 2:
        left = list(owned)
        for each in teeth:
            left.remove(each)
        left.sort(reverse=True)
        direct = links[0]
        if low <= direct <= high:
            return True
        touching = sum(teeth) / 2 + 2
        return touching <= high and any(
            some and direct + sum(some) >= low for some in (left[:1], left[:2])
        )
    for before, after in zip(range(0, len(teeth), 2), range(2, len(teeth), 2), strict=False):
        # The wheel that shares a stud with a pair's own must pass the pair's other axle.
        if links[before // 2] < (teeth[after] + 2) / 2 + radius:
            return False
        if links[after // 2] < (teeth[before + 1] + 2) / 2 + radius:
            return False
    nearest = max((max(teeth[0], teeth[-1]) + 2) / 2 + radius, 2 * max(links) - sum(links))
    return nearest <= high and sum(links) >= low


def oracle(some: Case, *, banjo: bool) -> list[tuple[Fraction, int, int]]:
    """Return error, wheels to change and smallest wheel of the three best sets of wheels."""
    best: dict[tuple[object, ...], tuple[Fraction, int, int]] = {}
    for teeth in every_order(some.owned):
        if banjo and not stands(teeth, some.owned, *some.centres):
            continue
        error = abs(some.leadscrew * ratio(teeth) / some.lead - 1)
        rank = (error, to_change(teeth, some.now), -min(teeth))
        wheels = (tuple(sorted(teeth[::2])), tuple(sorted(teeth[1::2])))
        best[wheels] = min(best.get(wheels, rank), rank)
    return sorted(best.values())[:3]


def solved(some: Case, *, banjo: bool) -> tuple[Train, ...]:
    return ranked_trains(
        some.lead,
        some.leadscrew,
        some.owned,
        arrangements=ALL,
        now=some.now,
        quadrant=Quadrant(1.0, 4.5, *some.centres) if banjo else None,
    )


def ranks(some: Case, *, banjo: bool) -> list[tuple[Fraction, int, int]]:
    """Error, wheels to change and smallest wheel of each train that the solver gives."""
    return [
        (
            abs(some.leadscrew * ratio(train.wheels) / some.lead - 1),
            to_change(train.wheels, some.now),
            -min(train.wheels),
        )
        for train in solved(some, banjo=banjo)
    ]


@pytest.mark.parametrize("banjo", [False, True])
@pytest.mark.parametrize("seed", SETS)
def test_the_three_best_are_those_of_the_exhaustive_search(seed: int, banjo: bool) -> None:
    some = case(seed)
    assert ranks(some, banjo=banjo) == oracle(some, banjo=banjo)


def tied(seed: int) -> Case:
    """Wheels of many common factors, so that many trains are exact, and one of the long on now."""
    draw = random.Random(100 + seed)
    owned = draw.sample([20, 24, 30, 36, 40, 45, 48, 50, 60, 72, 75, 80, 90], 7)
    a, b, *_ = owned
    lead = 3 * Fraction(a, b)
    exact = [
        teeth for teeth in every_order(owned) if len(teeth) > 2 and ratio(teeth) == Fraction(a, b)
    ]
    now = draw.choice(exact) if exact else tuple(draw.sample(owned, 4))
    return Case(owned, Fraction(3), lead, now, (40.0, 140.0))


@pytest.mark.parametrize("banjo", [False, True])
@pytest.mark.parametrize("seed", SETS)
def test_of_trains_that_tie_the_one_on_the_machine_goes_first(seed: int, banjo: bool) -> None:
    some = tied(seed)
    assert ranks(some, banjo=banjo) == oracle(some, banjo=banjo)


@pytest.mark.parametrize("seed", SETS)
def test_ratio_times_leadscrew_is_the_lead_within_the_error(seed: int) -> None:
    some = case(seed)
    for train in solved(some, banjo=True):
        cut = some.leadscrew * ratio(train.wheels)
        assert lead_error(train, some.leadscrew, some.lead) == (cut - some.lead) / some.lead


def test_what_is_on_the_machine_is_left_there() -> None:
    """5/3 is 50/30 and 75/45 and 100/60: with 50/30 on the machine, nothing is changed."""
    owned = [30, 45, 50, 60, 75, 100]
    fresh = ranked_trains(Fraction(5), Fraction(3), owned)
    assert [str(train) for train in fresh] == ["100/60", "75/45", "50/30"]
    set_up = ranked_trains(Fraction(5), Fraction(3), owned, now=(50, 30))
    assert str(set_up[0]) == "50/30"
    # Of the two that are left, 45 and 75, 60 and 100 must both be put on: the larger goes first.
    assert [str(train) for train in set_up[1:]] == ["100/60", "75/45"]


def test_wheels_that_stay_are_in_every_train() -> None:
    """A 40 that cannot be taken off the spindle, on a 3 mm leadscrew: 2 mm takes a 60."""
    owned = [30, 50, 60, 80, 100]
    fixed = Fixed(first=40)
    found = ranked_trains(Fraction(2), Fraction(3), owned, fixed=fixed)
    assert str(found[0]) == "40/60"
    assert all(train.wheels[0] == 40 for train in found)
    both = ranked_trains(Fraction(2), Fraction(3), owned, fixed=Fixed(first=40, last=80))
    assert all((train.wheels[0], train.wheels[-1]) == (40, 80) for train in both)
    assert ranked_trains(Fraction(2), Fraction(3), [40], fixed=Fixed(first=40, last=60))[0].wheels


def test_a_ratio_ahead_of_the_wheels_counts() -> None:
    """The stud turns once for two turns of the spindle: 3 mm from a 6 mm leadscrew by 50/50."""
    half = Fixed(ratio=Fraction(1, 2))
    train = ranked_trains(Fraction(3), Fraction(6), [50, 50, 40], fixed=half)[0]
    assert str(train) == "50/50"
    assert train.ratio == Fraction(1, 2)


def test_a_slot_that_ends_shuts_out_what_needs_more_of_it() -> None:
    """127 and 60 stand 93.5 mm apart; a slot that ends at 60 mm takes a 50 before the 60, at 55."""
    owned = [50, 100, 127, 60]
    wanted = Fraction(127, 60) * Fraction(50, 100) * 2
    for least, most, order in ((80.0, 95.0, "50/100 x 127/60"), (50.0, 60.0, "127/100 x 50/60")):
        quadrant = Quadrant(1.0, 3.0, stud_min=least, stud_max=most)
        assert str(ranked_trains(wanted, Fraction(2), owned, quadrant=quadrant)[0]) == order


@pytest.mark.parametrize(
    ("least", "most", "fits"),
    [(40, 95, True), (55, 95, False), (40, 85, False), (50, 90, True)],
)
def test_both_ends_of_the_slot_count(least: float, most: float, fits: bool) -> None:
    """Links of 30, 40 and 50 mm in one line: the studs stand 50 and 90 mm from the leadscrew."""
    assert fits_slot((30.0, 40.0, 50.0), Quadrant(1.0, 4.5, stud_min=least, stud_max=most)) == fits
    assert fits_slot((30.0,), Quadrant(1.0, 4.5, stud_min=least, stud_max=most))


def test_a_wheel_counts_as_changed_where_it_does_not_stand() -> None:
    assert wheels_to_change((40, 60), (60, 40)) == 2
    assert wheels_to_change((40, 60, 30, 80), (40, 60, 30, 80)) == 0
    assert wheels_to_change((40, 60, 30, 80), (), Fixed(first=40)) == 3


@pytest.mark.parametrize("lead", [Fraction(31415926, 10**7), Fraction(3), Fraction(254, 190)])
def test_forty_wheels_double_compound_within_a_second(lead: Fraction) -> None:
    many = [*range(20, 128, 3), 127, 63, 65, 40]
    quadrant = Quadrant(1.0, 4.5, 60.0, 160.0)
    start = process_time()
    found = ranked_trains(lead, Fraction(3), many, arrangements=ALL, quadrant=quadrant)
    assert process_time() - start < 1.0
    assert len(found) == 3
