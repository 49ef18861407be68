"""One pass put together by hand: the core that is left, the dig-in, what each limit looks at."""

from __future__ import annotations

from dataclasses import replace
from math import cos, pi, radians, sin, sqrt

import pytest

from cardgen.rules.beam import Beam, Pin, Section
from cardgen.rules.blade import Load
from cardgen.rules.cutting import Groove
from cardgen.rules.passes import Stage, Zigzag
from tests.rules.cases import CASE, LATHE, WORK

STAGE = Stage("rough", 0, 275, 1.7, CASE.groove, CASE.blade, 0.15, CASE.confined)


def test_a_pass_from_two_to_two_point_one() -> None:
    cut = LATHE.cut(STAGE, 200, 10)
    law, a = CASE.confined, radians(15)
    kc = 1.85 * 1500
    assert law.correction * law.kc11 == kc
    point = kc * 1.7 * 0.1**0.78
    flank = kc * 2.05 / cos(a) * (0.1 * sin(a)) ** 0.78
    assert cut.force == pytest.approx(point + 2 * flank)
    assert cut.radial == pytest.approx(cut.force / 2)
    assert cut.power == pytest.approx(cut.force * pi * 28 * 60 / 60000)
    assert cut.chip == pytest.approx(0.1)

    core = 28 - 2 * 2.1
    beam = Beam(
        (Section(32, 28), Section(8, 22.3), Section(120, core)), 205_000, True, pins=(Pin(160),)
    )
    worst = max(range(40, 161), key=beam.deflection)
    assert cut.deflection == pytest.approx(cut.radial * beam.deflection(worst), rel=1e-3)
    strain = max(beam.stress(x, sqrt(1.25), 14) for x in range(40, 161))
    assert cut.work_stress == pytest.approx(3 * cut.force * strain, rel=1e-3)
    load = Load(3 * point, 3 * 2 * flank, 2.1)
    assert cut.tool_stress == pytest.approx(CASE.blade.stress(load))


@pytest.mark.parametrize("rest", ["none", "follow"])
@pytest.mark.parametrize("core", [23.8, 17.0])
def test_the_most_springing_place_is_found_between_those_looked_at(rest: str, core: float) -> None:
    work = replace(WORK, rest=rest)
    dense = [40 + k * 0.02 for k in range(6001)]
    assert work.give(core) == pytest.approx(max(work.gives_at(core, dense)), rel=1e-6)


def test_a_slot_already_cut_weakens_the_bar_from_the_first_pass() -> None:
    after = replace(STAGE, step="widen", slot=265)
    assert LATHE.cut(after, 0, 10).deflection > LATHE.cut(STAGE, 0, 10).deflection
    assert LATHE.cut(after, 0, 10).force == LATHE.cut(STAGE, 0, 10).force


def test_the_run_out_groove_is_no_thicker_than_the_core() -> None:
    sections = WORK.beam(25.0).sections
    assert [(s.length, s.diameter) for s in sections] == [(32, 28), (8, 22.3), (120, 25.0)]
    assert WORK.beam(21.0).sections[1].diameter == 21.0


def test_upright_sides_do_not_cut() -> None:
    square = replace(STAGE, groove=Groove(0.0, 0.0))
    shallow, deep = LATHE.cut(square, 0, 10), LATHE.cut(square, 200, 10)
    assert shallow.force == deep.force == pytest.approx(1.85 * 1500 * 1.7 * 0.1**0.78)


def test_the_hardest_limit_is_the_one_used_most() -> None:
    cut = LATHE.cut(STAGE, 200, 10)
    name, used = LATHE.hardest(cut, STAGE)
    assert name == "force"
    assert used == pytest.approx(cut.force / 900)
    assert not LATHE.is_safe(cut, STAGE)
    assert LATHE.is_safe(LATHE.cut(STAGE, 0, 5), STAGE)


@pytest.mark.parametrize(("bite", "aside", "room"), [(5, 1, True), (7, 1, False), (3, 0, False)])
def test_flanks_in_turn_by_hand(bite: int, aside: int, room: bool) -> None:
    """One flank cuts what both would; the chip has room if the other is only shaved."""
    side, shave, step, a = 0.02, 0.01, 0.02, radians(15)
    turning = replace(STAGE, law=CASE.open, zigzag=Zigzag(side, CASE.confined, shave))
    lathe = replace(LATHE, step=step)
    before, b = 30, bite * step
    recedes = b * sin(a) / cos(a)
    assert turning.aside_by(b) == int(recedes / side) == aside
    works, idle = ((recedes + way * aside * side) * cos(a) for way in (1, -1))
    assert room == (aside > 0 and idle <= shave)
    long = (before * step + b / 2) / cos(a)
    kc = (CASE.open if room else CASE.confined).correction * 1500
    force = kc * (1.7 * b**0.78 + long * (works**0.78 + idle**0.78))
    there = lathe.cut(turning, before, bite)
    assert there.force == pytest.approx(force)
    assert lathe.cut(turning, before, bite, back=True).force == pytest.approx(force)
    assert there.side == pytest.approx(
        0.5 * kc * long * cos(a) * (works**0.78 - idle**0.78), abs=1e-9
    )


@pytest.mark.parametrize(
    ("step", "divisions"),
    # A finishing bite of 0.05 mm, never below the least bite of 0.02 mm, in whole divisions.
    [(0.01, 5), (0.02, 2), (0.025, 2), (0.03, 2), (0.05, 1), (0.2, 1)],
)
def test_the_finishing_bite_in_divisions(step: float, divisions: int) -> None:
    assert CASE.light(step) == divisions
    coarse = replace(CASE, practice=replace(CASE.practice, finish_bite=0.001))
    assert coarse.light(0.01) == 2
