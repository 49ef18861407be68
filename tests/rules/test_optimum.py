"""The fewest passes, against a search that tries every row of bites and takes nothing for granted.

The oracle asks the full model of a pass for every bite from every depth: no halving, no order of
bites, nothing remembered of the bar at other depths.
"""

from __future__ import annotations

from dataclasses import replace
from math import atan2, inf, radians, tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cardgen.rules.blade import Blade
from cardgen.rules.cutting import Groove, Law
from cardgen.rules.infeed import Stuck, schedule
from cardgen.rules.methods import METHODS, Impossible, Method, plan
from cardgen.rules.passes import LIMITS, Lathe, Stage, Zigzag
from cardgen.rules.roughing import roughed
from cardgen.rules.thinning import Thinning
from tests.rules.cases import CASE, LATHE, WORK

SHUT, OPEN = Law(1500, 0.22, 1.85), Law(1500, 0.22, 1.42)


def passes_of(lathe: Lathe, stage: Stage, before: int, bite: int) -> bool:
    """Every limit of every pass of a bite, one by one."""
    return all(
        cut.of(name) <= lathe.limit(name, stage) * (1 + 1e-9)
        for cut in lathe.cuts(stage, before, bite)
        for name in LIMITS
    )


def fewest_by_trying_all(lathe: Lathe, stage: Stage, least: int) -> float:
    """Return the fewest passes of all rows of bites, by a plain search in breadth."""
    front, count = {stage.start}, 0
    seen = set(front)
    while front:
        if stage.end in front:
            return count * stage.strokes
        following = set()
        for at in front:
            for bite in range(least, (stage.end - at) // stage.strokes + 1):
                there = at + bite * stage.strokes
                if there not in seen and passes_of(lathe, stage, at, bite):
                    following.add(there)
        seen |= following
        front, count = following, count + 1
    return inf


def deeper_is_never_safer(lathe: Lathe, stage: Stage) -> bool:
    """Whether the one thing holds that the optimiser takes for granted."""
    for bite in range(1, (stage.end - stage.start) // stage.strokes + 1):
        places = range(stage.start, stage.end - bite * stage.strokes + 1)
        safe = [passes_of(lathe, stage, at, bite) for at in places]
        if safe != sorted(safe, reverse=True):
            return False
    return True


angles = st.sampled_from([0.0, 3.0, 14.5, 15.0, 30.0, 45.0])
steps = st.sampled_from([0.02, 0.025, 0.0254, 0.05])
lathes = st.builds(
    lambda step, feed, force, bend, blade, stress, stickout, holding, rest: replace(
        LATHE,
        step=step,
        feed=radians(feed),
        work=replace(
            WORK, stickout=stickout, thread=stickout - 30, holding=holding, rest=rest, blank=22
        ),
        allowed={
            "force": force,
            "deflection": bend,
            "work stress": stress,
            "blade": blade,
            "power": 412,
        },
    ),
    steps,
    st.just(0.0),
    st.floats(150, 3000),
    st.floats(0.01, 0.2),
    st.floats(150, 1500),
    st.floats(60, 400),
    st.floats(60, 250),
    st.sampled_from(["chuck", "chuck-and-centre", "between-centres"]),
    st.sampled_from(["none", "follow"]),
)


@st.composite
def stages(draw: st.DrawFn, zigzag: bool = False) -> Stage:
    leading = draw(angles.filter(bool)) if zigzag else draw(angles)
    trailing = draw(angles.filter(bool)) if zigzag else draw(angles)
    tip = draw(st.floats(0.15, 4.0))
    length = draw(st.floats(2.5, 6.0))
    shank = tip + length * (tan(radians(leading)) + tan(radians(trailing)))
    reliefs = (radians(draw(st.floats(2, 14))), radians(draw(st.floats(0, 8))))
    blade = Blade(tip, shank, length, 10, reliefs, overhang=15, blank=10)
    end = draw(st.integers(4, 36))
    if zigzag:
        end += end % 2
    return Stage(
        "rough",
        0,
        end,
        tip,
        Groove(radians(leading), radians(trailing)),
        blade,
        draw(st.floats(0.06, 0.3)),
        OPEN if zigzag else SHUT,
        slot=draw(st.sampled_from([0, end])),
        zigzag=Zigzag(draw(steps), SHUT, 0.01) if zigzag else None,
    )


def check(lathe: Lathe, stage: Stage, least: int) -> None:
    """Hold a schedule against the oracle.

    A slender blade's weakest section may drop out of sight with depth: there the schedule is still
    safe, but a row that counts on it is not found.
    """
    within = min(least, (stage.end - stage.start) // stage.strokes)
    fewest = fewest_by_trying_all(lathe, stage, within)
    found = schedule(lathe, (stage,), least)
    exact = deeper_is_never_safer(lathe, stage)
    if isinstance(found, Stuck):
        assert fewest == inf or not exact
        return
    assert all(
        cut.of(name) <= lathe.limit(name, stage) * (1 + 1e-9)
        for cut in (bite.cut for bite in found.bites)
        for name in LIMITS
    )
    assert found.bites[-1].after == stage.end
    if found.thin_end:
        assert fewest == inf or not exact
    else:
        assert len(found.bites) == fewest or (not exact and len(found.bites) > fewest)


@given(lathes, stages(), st.integers(1, 4))
@settings(max_examples=120, deadline=None, derandomize=True)
def test_straight_in(lathe: Lathe, stage: Stage, least: int) -> None:
    check(lathe, stage, least)


@given(lathes, stages(), st.floats(0.5, 40), st.integers(1, 4))
@settings(max_examples=120, deadline=None, derandomize=True)
def test_along_the_flank(lathe: Lathe, stage: Stage, angle: float, least: int) -> None:
    check(replace(lathe, feed=radians(angle)), stage, least)


@given(lathes, stages(zigzag=True), st.integers(1, 4))
@settings(max_examples=120, deadline=None, derandomize=True)
def test_flanks_in_turn(lathe: Lathe, stage: Stage, least: int) -> None:
    check(lathe, stage, least)


@given(lathes, stages(), st.integers(2, 30), st.integers(1, 3))
@settings(max_examples=60, deadline=None, derandomize=True)
def test_from_a_depth_on(lathe: Lathe, stage: Stage, start: int, least: int) -> None:
    deep = replace(stage, step="finish", start=start, end=start + stage.end)
    check(lathe, deep, least)


def test_the_flanks_in_turn_are_what_the_groove_grows_by() -> None:
    """Area: two passes of a bite take what lies between the grooves before and after them."""
    side = 0.01
    stage = Stage(
        "rough", 0, 40, 1.7, CASE.groove, CASE.blade, 0.3, OPEN, zigzag=Zigzag(side, SHUT, 0.01)
    )
    step, before, bite = 0.02, 10, 5
    aside = stage.aside_by(bite * step)
    assert aside == 2  # 0.1 mm tan 15 deg is 0.0268 mm
    feed = atan2(aside * side, bite * step)
    area = sum(
        edge.width * edge.thickness
        for at, way in ((before, feed), (before + bite, -feed))
        for edge in CASE.groove.edges(at * step, bite * step, 1.7, way)
    )
    whole = CASE.groove.area((before + 2 * bite) * step, 1.7)
    assert area == pytest.approx(whole - CASE.groove.area(before * step, 1.7))


def test_what_is_known_of_other_cores_answers_rightly() -> None:
    asked: list[float] = []

    def give(core: float) -> float:
        asked.append(core)
        return 1000 / core**3

    bar = Thinning(give, lambda core: 0.0)
    for core in (20.0, 12.0, 16.0, 15.0, 17.0, 13.0, 19.0):
        for most in (0.1, 0.2, 0.25, 0.3, 0.5, 0.7):
            assert bar.gives(core, most) == (1000 / core**3 <= most)
    assert len(asked) == len(set(asked))


@pytest.mark.parametrize("method", METHODS)
@given(
    st.floats(0.3, 1.6),
    st.floats(0.6, 3.2),
    st.sampled_from([0.0, 15.0, 30.0]),
    st.floats(400, 3000),
    st.floats(0.02, 0.2),
)
@settings(max_examples=20, deadline=None, derandomize=True)
def test_whole_plans(
    method: Method, depth: float, point: float, angle: float, force: float, bend: float
) -> None:
    """Every stage by trying all; of roughing blades, half a millimetre apart, the best."""
    allowed = {**CASE.lathe.allowed, "force": force, "deflection": bend}
    made = replace(
        CASE,
        depth=depth,
        shallowest=None,
        deepest=None,
        point=point,
        groove=Groove(radians(angle), radians(angle)),
        compound_step=0.05,
        side_step=0.02,
        lathe=replace(CASE.lathe, step=0.05, allowed=allowed),
    )
    found = plan(made, method)
    if isinstance(found, Impossible):
        return
    tried = [found]
    if found.rough_width is not None:
        opening = point - 0.3
        widest = min(opening if method == "rough-then-form" else opening - 0.5, 4.0)
        widths = [round(int(widest * 10 + 1e-6) / 10 - 0.5 * k, 1) for k in range(9)]
        tried = [
            roughed(made, method, width, asides)
            for width in widths
            if width >= 0.8
            for asides in ([()] if method == "rough-then-form" else strips(opening, width, 0.02))
        ]
    counts = [
        sum(
            fewest_by_trying_all(
                one.lathe, stage, min(one.least, (stage.end - stage.start) // stage.strokes)
            )
            for stage in one.stages
        )
        for one in tried
    ]
    if not any(each.thin_end for each in getattr(found.found, "rows", ())):
        assert (found.passes or inf) == min(counts)


def strips(opening: float, width: float, side: float) -> list[tuple[int, ...]]:
    """Return where further grooves are cut: as few as open the bottom, and one or two more."""
    reach = int((opening - width) / side + 1e-6)
    few = -(-reach // int(width / side + 1e-6))
    return [
        tuple(reach * k // count for k in range(1, count + 1)) for count in (few, few + 1, few + 2)
    ]
