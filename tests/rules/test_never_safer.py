"""Thinner, longer, harder, deeper: one pass of one tool, changed one thing at a time."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from cardgen.rules.holding import Gives
from cardgen.rules.passes import Lathe, Stage
from tests.rules.cases import CASE, LATHE

SOFT = replace(
    LATHE,
    work=replace(LATHE.work, gives=Gives(2e-5, 1e-8, 2e-5, 5e-5, 3e-5)),
)
BLADE = replace(CASE.blade, side_least=0.1)
STAGE = Stage("rough", 0, 275, CASE.point, CASE.groove, BLADE, 0.15, CASE.confined)
BEFORE, BITE = st.integers(0, 200), st.integers(2, 15)
HOLDINGS = st.sampled_from(["chuck", "chuck-and-centre", "between-centres"])
MORE = st.floats(1.0, 1.6)
SLACK = 1 - 1e-9


def bears(holding: str) -> tuple[str, ...]:
    """What never gets better as a bar is weakened.

    Chuck and centre together hold a bar more than once: weakened in one place it leans harder on
    another, and may be strained a trifle less where it was strained most.
    """
    return ("deflection",) if holding == "chuck-and-centre" else ("deflection", "work_stress")


def held(holding: str, **changed: object) -> Lathe:
    work = replace(SOFT.work, holding=holding, **changed)
    return replace(SOFT, work=work)


@given(BEFORE, BITE, HOLDINGS, MORE)
@settings(max_examples=40, deadline=None)
def test_a_harder_material_is_never_safer(
    before: int, bite: int, holding: str, more: float
) -> None:
    lathe = held(holding)
    hard = replace(STAGE, law=replace(STAGE.law, kc11=more * STAGE.law.kc11))
    now, then = lathe.cut(STAGE, before, bite), lathe.cut(hard, before, bite)
    for name in ("force", "radial", "deflection", "work_stress", "tool_stress", "power"):
        assert getattr(then, name) >= SLACK * getattr(now, name), name


@given(BEFORE, BITE, st.integers(1, 60), HOLDINGS)
@settings(max_examples=40, deadline=None)
def test_deeper_is_never_safer_for_the_bar(
    before: int, bite: int, deeper: int, holding: str
) -> None:
    lathe = held(holding)
    now, then = lathe.cut(STAGE, before, bite), lathe.cut(STAGE, before + deeper, bite)
    for name in ("force", "radial", "power", *bears(holding)):
        assert getattr(then, name) >= SLACK * getattr(now, name), name


@given(BEFORE, BITE, st.integers(1, 20), HOLDINGS)
@settings(max_examples=40, deadline=None)
def test_a_larger_bite_is_never_safer(before: int, bite: int, larger: int, holding: str) -> None:
    lathe = held(holding)
    now, then = lathe.cut(STAGE, before, bite), lathe.cut(STAGE, before, bite + larger)
    for name in ("force", "radial", "power", "chip", *bears(holding)):
        assert getattr(then, name) >= SLACK * getattr(now, name), name


@given(BEFORE, BITE, HOLDINGS, st.floats(20.0, 28.0))
@settings(max_examples=40, deadline=None)
def test_a_thinner_bar_is_never_safer(before: int, bite: int, holding: str, blank: float) -> None:
    thin = held(holding, blank=blank, root=blank - 5.7)
    now, then = held(holding).cut(STAGE, before, bite), thin.cut(STAGE, before, bite)
    for name in bears(holding):
        # Torque falls with the diameter, strength with its cube.
        assert getattr(then, name) >= SLACK * getattr(now, name), name


@given(BEFORE, BITE, HOLDINGS, MORE)
@settings(max_examples=40, deadline=None)
def test_a_longer_bar_never_bends_less(before: int, bite: int, holding: str, more: float) -> None:
    work = SOFT.work
    long = held(holding, stickout=more * work.stickout)
    now, then = held(holding).cut(STAGE, before, bite), long.cut(STAGE, before, bite)
    assert then.deflection >= SLACK * now.deflection
    if holding == "chuck":
        assert then.work_stress >= SLACK * now.work_stress


@given(BEFORE, BITE, MORE)
@settings(max_examples=40, deadline=None)
def test_a_thinner_blade_is_never_safer(before: int, bite: int, more: float) -> None:
    thin = replace(STAGE, blade=replace(BLADE, tip=BLADE.tip / more, shank=BLADE.shank / more))
    now, then = SOFT.cut(STAGE, before, bite), SOFT.cut(thin, before, bite)
    assert then.tool_stress >= SLACK * now.tool_stress
