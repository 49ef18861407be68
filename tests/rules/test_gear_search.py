"""The search against brute force over every ordered train, and what must always hold."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import permutations
from math import hypot
from time import process_time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cardgen.rules.meshing import (
    Quadrant,
    axles,
    bridges,
    goes_together,
    idlers_for,
    links,
    span_range,
    teeth_to_pass,
)
from cardgen.rules.train import PAIRS, Train, lead_error
from tests.trains import best_train

BENCH = [20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 75, 80, 120, 127]
QUADRANT = Quadrant(1.0, 4.5, 60.0, 160.0)

wheels = st.lists(st.integers(12, 127), min_size=2, max_size=7)
leads = st.fractions(min_value=Fraction(1, 4), max_value=25, max_denominator=64)
leadscrews = st.sampled_from(
    [Fraction(2), Fraction(3), Fraction(6), Fraction(127, 40), Fraction(127, 20)]
)


def every_train(owned: Sequence[int], counts: Sequence[int]) -> Iterator[Train]:
    for count in counts:
        for order in permutations(owned, 2 * count):
            pairs = tuple((order[2 * k], order[2 * k + 1]) for k in range(count))
            yield Train(pairs)


def meshes(train: Train, owned: Sequence[int], quadrant: Quadrant) -> bool:
    """The meshing rules written out once more, from the drawing board."""
    m, r = quadrant.module, quadrant.shaft_radius
    low, high = quadrant.centre_min, quadrant.centre_max
    assert low is not None
    assert high is not None
    if len(train.pairs) == 1:
        a, d = train.wheels
        spare = list(owned)
        spare.remove(a)
        spare.remove(d)
        spare.sort(reverse=True)
        if low <= m * (a + d) / 2 <= high:
            return True
        for idlers in (spare[:1], spare[:2]):
            reach = m * (a + d) / 2 + m * sum(idlers)
            if idlers and reach >= low and m * (a + d) / 2 + 2 * m <= high:
                return True
        return False
    a, b, c, d = train.wheels
    first, second = m * (a + b) / 2, m * (c + d) / 2
    if first < m * (c + 2) / 2 + r or second < m * (b + 2) / 2 + r:
        return False
    nearest = max(abs(first - second), m * (max(a, d) + 2) / 2 + r)
    return nearest <= high and first + second >= low


@settings(max_examples=60, deadline=None)
@given(owned=wheels, lead=leads, leadscrew=leadscrews)
def test_error_is_the_least_of_all_ordered_trains(
    owned: list[int], lead: Fraction, leadscrew: Fraction
) -> None:
    best = best_train(lead, leadscrew, owned)
    assert best is not None
    least = min(abs(lead_error(train, leadscrew, lead)) for train in every_train(owned, (1, 2)))
    assert abs(lead_error(best, leadscrew, lead)) == least


@settings(max_examples=60, deadline=None)
@given(owned=wheels, lead=leads, leadscrew=leadscrews, module=st.sampled_from([1.0, 1.5, 2.0]))
def test_error_is_the_least_of_all_that_go_together(
    owned: list[int], lead: Fraction, leadscrew: Fraction, module: float
) -> None:
    quadrant = Quadrant(module, 4.5, 60.0, 160.0)
    best = best_train(lead, leadscrew, owned, quadrant=quadrant)
    possible = [train for train in every_train(owned, (1, 2)) if meshes(train, owned, quadrant)]
    if not possible:
        assert best is None
        return
    assert best is not None
    assert meshes(best, owned, quadrant)
    errors = [abs(lead_error(train, leadscrew, lead)) for train in possible]
    assert abs(lead_error(best, leadscrew, lead)) == min(errors)
    equal = [t for t, error in zip(possible, errors, strict=True) if error == min(errors)]
    assert len(best.wheels) == min(len(train.wheels) for train in equal)


@settings(max_examples=25, deadline=None)
@given(owned=st.lists(st.integers(12, 127), min_size=6, max_size=6), lead=leads)
def test_double_compound_error_is_the_least(owned: list[int], lead: Fraction) -> None:
    best = best_train(lead, Fraction(3), owned, arrangements=tuple(PAIRS))
    assert best is not None
    least = min(abs(lead_error(t, Fraction(3), lead)) for t in every_train(owned, (1, 2, 3)))
    assert abs(lead_error(best, Fraction(3), lead)) == least


@given(owned=wheels, lead=leads, leadscrew=leadscrews)
def test_a_wheel_owned_once_is_used_once(
    owned: list[int], lead: Fraction, leadscrew: Fraction
) -> None:
    best = best_train(lead, leadscrew, owned)
    assert best is not None
    assert Counter(best.wheels) <= Counter(owned)


@given(lead=leads, leadscrew=leadscrews, seed=st.randoms(use_true_random=False))
def test_the_order_in_which_wheels_are_listed_does_not_matter(
    lead: Fraction, leadscrew: Fraction, seed: object
) -> None:
    shuffled = list(BENCH)
    seed.shuffle(shuffled)  # type: ignore[attr-defined]
    train = best_train(lead, leadscrew, BENCH, quadrant=QUADRANT, roomy_radius=6.5)
    again = best_train(lead, leadscrew, shuffled, quadrant=QUADRANT, roomy_radius=6.5)
    assert train == again


@given(lead=leads, steps=st.lists(st.sampled_from([1, 2, 3, Fraction(1, 2)]), min_size=1))
def test_gearbox_steps_never_make_it_worse(lead: Fraction, steps: list[Fraction]) -> None:
    levers = {f"lever {number}": Fraction(step) for number, step in enumerate([1, *steps])}
    plain = best_train(lead, Fraction(3), BENCH)
    geared = best_train(lead, Fraction(3), BENCH, levers=levers)
    assert plain is not None
    assert geared is not None
    assert levers[geared.lever] == geared.lever_ratio
    assert abs(lead_error(geared, Fraction(3), lead)) <= abs(lead_error(plain, Fraction(3), lead))


def test_fewest_wheels_then_the_larger_smallest_wheel() -> None:
    """5/3 is 50/30 and 75/45 here, and many compounds; the largest small wheel wins."""
    assert str(best_train(Fraction(5), Fraction(3), BENCH, quadrant=QUADRANT)) == "75/45"


def test_a_twin_wheel_is_used_where_it_is_owned() -> None:
    assert str(best_train(Fraction(3), Fraction(3), [40, 40, 30])) == "40/40"
    assert str(best_train(Fraction(3), Fraction(3), [40, 30])) != "40/40"


def test_room_beside_the_stud_is_preferred_but_not_demanded() -> None:
    owned = [21, 50, 60, 40]
    wanted = Train(((21, 50), (60, 40))).ratio * 3
    tight = best_train(wanted, Fraction(3), owned, quadrant=Quadrant(1.0, 4.5), roomy_radius=6.5)
    assert tight is not None
    assert lead_error(tight, Fraction(3), wanted) == 0
    assert best_train(wanted, Fraction(3), owned, quadrant=Quadrant(1.0, 25.0)) != tight


def test_nothing_that_reaches() -> None:
    far = Quadrant(1.0, 4.5, 900.0, 950.0)
    assert best_train(Fraction(5), Fraction(3), BENCH, quadrant=far) is None
    assert best_train(Fraction(5), Fraction(3), [40]) is None


def test_stud_clearance_of_the_textbooks() -> None:
    """15 teeth more for a 6.5 mm radius at module 1: A + B >= C + 15."""
    assert teeth_to_pass(1.0, 6.5) == 15.0
    quadrant = Quadrant(1.0, 6.5)
    assert goes_together(((30, 60), (75, 75)), (), quadrant)
    assert not goes_together(((30, 60), (76, 75)), (), quadrant)


@given(
    lengths=st.lists(st.floats(15, 100), min_size=2, max_size=4),
    share=st.floats(0.05, 1.0),
)
def test_axles_stand_a_link_apart_and_span_the_distance(lengths: list[float], share: float) -> None:
    reach = sum(lengths)
    least = max(0.0, 2 * max(lengths) - reach)
    span = least + share * (reach - least)
    try:
        places = axles(lengths, span)
    except ValueError:
        assert len(lengths) > 2  # an uneven chain cannot be curled so far by equal turns
        return
    for (x1, y1), (x2, y2), length in zip(places, places[1:], lengths, strict=False):
        assert hypot(x2 - x1, y2 - y1) == pytest.approx(length, rel=1e-6)
    assert places[0] == (0.0, 0.0)
    assert places[-1] == pytest.approx((span, 0.0), rel=1e-6, abs=1e-6)


@given(lead=leads, leadscrew=leadscrews, same_way=st.booleans())
def test_idlers_turn_the_leadscrew_the_right_way_and_bridge_the_gap(
    lead: Fraction, leadscrew: Fraction, same_way: bool
) -> None:
    train = best_train(lead, leadscrew, BENCH, quadrant=QUADRANT)
    assert train is not None
    spare = list((Counter(BENCH) - Counter(train.wheels)).elements())
    idlers = idlers_for(train.pairs, same_way=same_way, spare=spare, quadrant=QUADRANT)
    if idlers is None:
        return
    assert not set(idlers) & set(train.wheels)
    turns_back = (len(train.pairs) + len(idlers)) % 2
    assert (turns_back == 0) == same_way
    assert bridges(train.pairs, idlers, QUADRANT)
    least, reach = span_range(train.pairs, idlers, QUADRANT)
    assert reach == pytest.approx(sum(links(train.pairs, idlers, 1.0)))
    assert least <= 160.0
    assert reach >= 60.0


def test_forty_wheels_within_a_second() -> None:
    many = [*range(20, 128, 3), 127, 63, 65, 40]
    start = process_time()
    best_train(Fraction(31415926, 10**7), Fraction(3), many, quadrant=QUADRANT)
    assert process_time() - start < 1.0
