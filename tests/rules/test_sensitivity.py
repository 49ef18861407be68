"""What eases a cut: changes put into the case by hand, and the passes looked at one by one."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cardgen.rules.cutting import Law
from cardgen.rules.infeed import Schedule
from cardgen.rules.methods import METHODS, Case, Plan, again, best, compare, plan
from cardgen.rules.pace import Pace
from cardgen.rules.passes import LIMITS
from cardgen.rules.sensitivity import (
    as_bites,
    eased,
    finer,
    hardest_bites,
    slower,
    softer,
    stouter,
    with_work,
)
from tests.rules.cases import CASE, with_lathe
from tests.rules.cases import with_work as holding
from tests.rules.test_schedule import small

MORE = 10_000


def passes(made: Case, method: str) -> int:
    found = plan(made, method)  # type: ignore[arg-type]
    return found.passes or MORE if isinstance(found, Plan) else MORE


def worst_of_all(lathe_case: Case, bites: Schedule, planned: Plan) -> float:
    """Every pass of a schedule in a changed case, every limit of it but the chip's."""
    found = again(lathe_case, planned)
    assert isinstance(found, Plan)
    return max(
        found.lathe.cut(stage, bite.before, bite.divisions).of(name)
        / found.lathe.limit(name, stage)
        for bite in bites.bites
        for stage in found.stages
        if stage.step == bite.stage.step
        for name in LIMITS
        if name != "chip"
    )


CHANGES = {
    "follow rest": holding(CASE, rest="follow"),
    "shorter": holding(CASE, stickout=CASE.lathe.work.thread + 8),
    "softer": softer(CASE, 0.8),
    "larger blank": stouter(CASE, 1.25),
    "slower": slower(CASE, 30),
}


@pytest.mark.parametrize("change", CHANGES)
@pytest.mark.parametrize("method", ["plunge", "flank", "rough-then-form"])
def test_the_share_told_is_that_of_the_hardest_pass(change: str, method: str) -> None:
    planned = plan(CASE, method)  # type: ignore[arg-type]
    assert isinstance(planned, Plan)
    assert isinstance(planned.outcome, Schedule)
    told = eased(CHANGES[change], planned, as_bites(hardest_bites(planned.outcome)))
    assert told is not None
    assert told.used == pytest.approx(worst_of_all(CHANGES[change], planned.outcome, planned))
    assert told.plan.passes == passes(CHANGES[change], method) or planned.rough_width


def test_softening_changes_the_force_alone() -> None:
    soft = softer(CASE, 0.8)
    assert soft.confined == Law(0.8 * 1500, 0.22, 1.85)
    assert replace(soft, confined=CASE.confined, open=CASE.open) == CASE


def test_a_finer_groove_is_like_the_coarser_one() -> None:
    fine = finer(CASE, 0.5)
    work, whole = fine.lathe.work, CASE.lathe.work
    assert fine.depth / fine.point == pytest.approx(CASE.depth / CASE.point)
    assert whole.blank - whole.root == pytest.approx(2 * (work.blank - work.root))


@pytest.mark.parametrize("method", METHODS)
def test_a_worse_cut_never_takes_fewer_passes(method: str) -> None:
    """Thinner, longer, harder, deeper, weaker: one thing at a time, ever worse."""
    thinner = [
        passes(with_work(CASE, replace(CASE.lathe.work, blank=d, root=d - 5.7)), method)
        for d in (30, 26, 22, 18, 14)
    ]
    longer = [
        passes(holding(CASE, holding="chuck", stickout=s, thread=s - 20), method)
        for s in (60, 90, 120, 150, 200)
    ]
    harder = [passes(softer(CASE, part), method) for part in (0.6, 0.8, 1.0, 1.3, 1.7)]
    deeper = [
        passes(replace(CASE, depth=h, shallowest=h, deepest=h + 0.2), method)
        for h in (1.5, 2.0, 2.5, 3.0, 3.5)
    ]
    weaker = [
        passes(with_lathe(CASE, allowed={**CASE.lathe.allowed, "force": force}), method)
        for force in (1500, 1200, 900, 700, 500, 300)
    ]
    for counts in (thinner, longer, harder, deeper, weaker):
        assert all(before <= after for before, after in pairwise(counts)), counts


def test_of_ways_as_quick_the_simpler_is_taken() -> None:
    plans = compare(CASE)
    taken, _ = best(CASE, plans)
    times = {
        method: found.time(CASE.pace)
        for method, found in plans.items()
        if isinstance(found, Plan) and found.passes
    }
    assert taken.time(CASE.pace) == min(times.values())


def test_time_by_hand() -> None:
    """Two starts of 10 passes: rough and form twice over, so three changes of tool."""
    pace = Pace(cut=20, back=10, dial=5, change=300, grind=900, starts=2)
    assert pace.total(10, 1, 1) == 2 * 10 * 35
    assert pace.total(10, 2, 2) == 2 * 10 * 40 + 3 * 300 + 900


@given(small, st.sampled_from(METHODS), st.floats(1.0, 1.6))
@settings(max_examples=60, deadline=None, derandomize=True)
def test_nothing_that_is_worse_takes_fewer_passes(made: Case, method: str, worse: float) -> None:
    work = made.lathe.work
    depth = made.depth * worse
    changed = [
        softer(made, worse),
        with_work(made, replace(work, blank=work.blank / worse**0.3, root=work.root / worse**0.3)),
        replace(made, depth=depth, shallowest=depth, deepest=depth + 0.2),
    ]
    if work.rest != "steady":
        # A longer bar may have room for a steady rest that a shorter one has not.
        changed.append(with_work(made, replace(work, stickout=work.stickout * worse)))
    for case in changed:
        if case.lathe.work.blank > 2 * case.depth + 1:
            assert passes(case, method) >= passes(made, method)
