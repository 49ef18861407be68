"""The schedule: every pass safe, whole divisions, the largest bite, and brute force beside it."""

from __future__ import annotations

from dataclasses import replace
from math import radians

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from cardgen.rules.cutting import Groove
from cardgen.rules.dialling import divisions_reaching, divisions_within, full_depth
from cardgen.rules.infeed import Schedule, Stuck, schedule
from cardgen.rules.methods import METHODS, Case, Impossible, Plan, choose, plan
from cardgen.rules.passes import LIMITS, Cut, Lathe, Stage
from tests.rules.cases import CASE, case, with_lathe, with_work


def safe(lathe: Lathe, stage: Stage, before: int, bite: int) -> bool:
    """Every limit by itself, not by the code's own way of ranking them."""
    return keeps(lathe, stage, lathe.cut(stage, before, bite))


def keeps(lathe: Lathe, stage: Stage, cut: Cut) -> bool:
    chip = cut.chip <= stage.chip * (1 + 1e-9)
    return chip and all(cut.of(name) <= limit * (1 + 1e-9) for name, limit in lathe.allowed.items())


def can_end(lathe: Lathe, stage: Stage, least: int, thin: bool) -> bool:
    """Whether any row of safe bites whatever cuts the stage: every sum is tried."""
    reached = {stage.start}
    for at in range(stage.start, stage.end):
        if at not in reached:
            continue
        rest = stage.end - at
        for bite in range(1 if thin and rest < least else least, rest + 1):
            if safe(lathe, stage, at, bite):
                reached.add(at + bite)
    return stage.end in reached


def check(found: Plan) -> None:
    """Hold a plan against what is promised of it."""
    outcome, lathe = found.outcome, found.lathe
    assert isinstance(outcome, Schedule)
    for stage in found.stages:
        bites = [bite for bite in outcome.bites if bite.stage == stage]
        assert sum(bite.divisions for bite in bites) == stage.end - stage.start
        at = stage.start
        for number, bite in enumerate(bites):
            assert bite.before == at
            assert isinstance(bite.divisions, int)
            assert bite.divisions >= 1
            back = number % stage.strokes == 1
            assert not back or bite.divisions == bites[number - 1].divisions
            assert keeps(lathe, stage, bite.cut)
            assert bite.cut == lathe.cut(stage, at, bite.divisions, back=back)
            if bite.ruled_by in LIMITS:
                first = at - bite.divisions if back else at
                over = lathe.cuts(stage, first, bite.divisions + 1)
                most = lathe.limit(bite.ruled_by, stage)
                assert max(cut.of(bite.ruled_by) for cut in over) > most
            elif bite is bites[-1]:
                assert bite.after == stage.end
            at = bite.after
        short = [b for b in bites if b.divisions < min(found.least, stage.end - stage.start)]
        assert not short or (outcome.thin_end and short == bites[-1:])
    assert found.stages[-1].end == found.total


steps = st.sampled_from([0.01, 0.0127, 0.02, 0.025, 0.0254, 0.05])
small = st.builds(
    lambda step, depth, point, angle, stickout, force, chip, holding, rest: with_work(
        with_lathe(
            case(
                depth=depth,
                shallowest=depth,
                deepest=depth + 0.2,
                point=point,
                groove=Groove(radians(angle), radians(angle)),
                chip=chip,
                compound_step=step,
            ),
            step=step,
            allowed={**CASE.lathe.allowed, "force": force},
        ),
        stickout=stickout,
        thread=stickout - 30,
        holding=holding,
        rest=rest,
    ),
    steps,
    st.floats(0.3, 3.0),
    st.floats(0.2, 4.0),
    st.sampled_from([0.0, 14.5, 15.0, 30.0]),
    st.floats(60, 300),
    st.floats(150, 3000),
    st.floats(0.06, 0.3),
    st.sampled_from(["chuck", "chuck-and-centre", "between-centres"]),
    st.sampled_from(["none", "steady", "follow"]),
)


@given(small, st.sampled_from(METHODS))
@settings(max_examples=60, deadline=None)
def test_every_pass_keeps_every_limit(made: Case, method: str) -> None:
    found = plan(made, method)  # type: ignore[arg-type]
    assume(isinstance(found, Plan))
    assert isinstance(found, Plan)
    if isinstance(found.outcome, Schedule):
        check(found)
        return
    stuck = found.outcome
    cut = found.lathe.cut(stuck.stage, stuck.before, stuck.bite)
    assert cut.of(stuck.limit) > found.lathe.limit(stuck.limit, stuck.stage)


@given(small, st.integers(2, 6))
@settings(max_examples=40, deadline=None)
def test_refused_only_if_no_row_of_bites_is_safe(made: Case, least: int) -> None:
    """All sums of safe bites are tried beside the search."""
    lathe = replace(made.lathe, step=0.05)
    total = min(max(divisions_within(made.depth, 0.05), 1), 40)
    stage = Stage("rough", 0, total, made.point, made.groove, made.blade, made.chip, made.confined)
    found = schedule(lathe, (stage,), least)
    possible = can_end(lathe, stage, min(least, total), thin=False)
    if isinstance(found, Schedule):
        assert possible or found.thin_end
        assert not (possible and found.thin_end)
    else:
        assert not possible


@given(small)
@settings(max_examples=30, deadline=None)
def test_the_first_bite_is_the_largest_that_can_be_finished(made: Case) -> None:
    lathe = replace(made.lathe, step=0.05)
    total = min(max(divisions_within(made.depth, 0.05), 1), 40)
    stage = Stage("rough", 0, total, made.point, made.groove, made.blade, made.chip, made.confined)
    found = schedule(lathe, (stage,), 1)
    assume(isinstance(found, Schedule))
    assert isinstance(found, Schedule)
    at = 0
    for bite in found.bites:
        # With a least bite of one division nothing is ever left that cannot be cut, unless a
        # single division is unsafe further down, and then there is no schedule.
        most = max(n for n in range(1, total - at + 1) if safe(lathe, stage, at, n))
        assert bite.divisions == most
        at += most


def test_a_scrape_at_the_end_is_shared_over_two_passes() -> None:
    made = with_lathe(case(chip=0.10), step=0.01, allowed={})
    stage = Stage("rough", 0, 31, 1.7, made.groove, made.blade, 0.10, made.confined)
    found = schedule(made.lathe, (stage,), 2)
    assert isinstance(found, Schedule)
    assert [bite.divisions for bite in found.bites] == [10, 10, 6, 5]
    assert [bite.ruled_by for bite in found.bites] == ["chip", "chip", "remaining", "remaining"]


def test_a_sum_that_cannot_come_out_ends_with_a_light_pass() -> None:
    made = with_lathe(case(), step=0.01, allowed={})
    stage = Stage("rough", 0, 7, 1.7, made.groove, made.blade, 0.04, made.confined)
    found = schedule(made.lathe, (stage,), 4)
    assert isinstance(found, Schedule)
    assert found.thin_end
    assert [bite.divisions for bite in found.bites] == [4, 3]


def test_full_depth_is_the_nearest_division_within_the_limits() -> None:
    assert full_depth(2.75, 0.01, 2.75, 2.9) == (275, True)
    assert full_depth(2.754, 0.01, 2.754, 2.9) == (276, True)
    assert full_depth(2.756, 0.01, 2.70, 2.757) == (275, True)
    assert full_depth(2.756, 0.01, None, None) == (276, True)
    assert full_depth(2.755, 0.1, 2.754, 2.756) == (28, False)


@given(st.floats(0.05, 6), steps, st.floats(0, 0.3), st.floats(0, 0.3))
def test_full_depth_keeps_limits_whenever_a_neighbour_does(
    depth: float, step: float, less: float, more: float
) -> None:
    count, kept = full_depth(depth, step, depth - less, depth + more)
    assert count >= 1
    assert abs(count * step - depth) <= step * (1 + 1e-6)
    inside = [
        n
        for n in (divisions_within(depth, step), divisions_reaching(depth, step))
        if n > 0 and depth - less - 1e-9 <= n * step <= depth + more + 1e-9
    ]
    if kept:
        assert depth - less - step * 2e-6 <= count * step <= depth + more + step * 2e-6
    else:
        assert not inside


def test_vee_threads_are_fed_along_the_flank_if_the_slide_can() -> None:
    vee = case(groove=Groove(radians(30), radians(30)), point=0.3, depth=1.2)
    found, _ = choose(vee, None)
    assert isinstance(found, Plan)
    assert found.method == "flank"
    found, _ = choose(replace(vee, compound_step=None), None)
    assert isinstance(found, Plan)
    assert found.method == "alternate"
    found, reason = choose(replace(vee, compound_step=None, side_step=None), None)
    assert isinstance(found, Plan)
    assert found.method == "plunge"
    assert "nothing else is safe" in reason


def test_wide_grooves_are_roughed_first() -> None:
    square = case(groove=Groove(0.0, 0.0), point=6.0, depth=6.0, shallowest=6.0, deepest=6.2)
    strong = with_lathe(square, allowed={**CASE.lathe.allowed, "force": 3000})
    found, reason = choose(strong, None)
    assert isinstance(found, Plan)
    assert found.method in {"rough-then-form", "widen"}
    assert "6.00 mm wide" in reason or "quickest" in reason
    for method, order in (
        ("rough-then-form", ["rough", "widen", "finish"]),
        ("widen", ["rough", "side", "widen", "finish"]),
    ):
        made = plan(strong, method)  # type: ignore[arg-type]
        assert isinstance(made, Plan)
        check(made)
        taken = [bite.stage.step for bite in made.outcome.bites]  # type: ignore[union-attr]
        assert sorted(set(taken), key=taken.index) == order


def test_narrow_grooves_cannot_be_roughed_and_upright_ones_not_flank_fed() -> None:
    assert isinstance(plan(case(point=0.5), "rough-then-form"), Impossible)
    assert isinstance(plan(case(groove=Groove(0.0, 0.0)), "flank"), Impossible)
    assert isinstance(plan(replace(CASE, compound_step=None), "flank"), Impossible)


def test_a_slender_bar_is_refused_and_a_follow_rest_helps() -> None:
    slender = with_work(CASE, holding="chuck", stickout=300, thread=250)
    alone, _ = choose(slender, None)
    assert isinstance(alone, Plan)
    assert isinstance(alone.outcome, Stuck)
    assert alone.outcome.limit == "deflection"
    followed, _ = choose(with_work(slender, holding="chuck-and-centre", rest="follow"), None)
    assert isinstance(followed, Plan)
    check(followed)


@pytest.mark.parametrize("rest", ["none", "follow"])
def test_a_weaker_set_up_never_needs_fewer_passes(rest: str) -> None:
    counts = []
    for stickout in (150, 200, 250, 300):
        found = plan(with_work(CASE, stickout=stickout, thread=stickout - 20, rest=rest), "plunge")
        assert isinstance(found, Plan)
        counts.append(found.passes or 10_000)
    assert counts == sorted(counts)
