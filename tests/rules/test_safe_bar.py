"""Safe stick-out and least core against trying every one of them, and never the wrong way round."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from cardgen.rules.holding import Gives, Work
from cardgen.rules.safe import Bearable, Pull, least_core, safe_stickout
from tests.rules.cases import WORK

SOFT = replace(WORK, gives=Gives(2e-5, 1e-8, 2e-5, 5e-5, 3e-5))
MAY = Bearable(bend=0.05, stress=220.0, dig_in=3.0, radial_share=0.5)
BENDS = replace(MAY, stress=1e9)
"""A longer plain part, and a chuck that yields, let the bar bend further but take less of a moment:
they are never safer against bending, and on a centre may be so against breaking."""
HOLDINGS = st.sampled_from(["chuck", "chuck-and-centre", "between-centres"])


def tried(work: Work, pulls: list[Pull], may: Bearable, most: int) -> float | None:
    shortest = work.thread + work.groove
    found = None
    for extra in range(int(most - shortest) + 1):
        longer = replace(work, stickout=shortest + extra)
        if any(
            pull.radial * longer.give(pull.core) > may.bend
            or may.dig_in * pull.tangential * longer.strain(pull.core, 0.5) > may.stress
            for pull in pulls
        ):
            break
        found = shortest + extra
    return found


@given(HOLDINGS, st.floats(12, 24), st.floats(100, 900))
@settings(max_examples=15, deadline=None)
def test_safe_stickout_is_the_last_safe_one(holding: str, core: float, force: float) -> None:
    work = replace(SOFT, holding=holding)  # type: ignore[arg-type]
    pulls = [Pull(core, force / 2, force)]
    may = MAY if holding == "chuck" else BENDS
    assert safe_stickout(work, pulls, may, 300) == tried(work, pulls, may, 300)


@given(HOLDINGS, st.floats(12, 24), st.floats(100, 900), st.floats(1.0, 1.5))
@settings(max_examples=20, deadline=None)
def test_harder_thinner_and_softer_is_never_safer(
    holding: str, core: float, force: float, more: float
) -> None:
    work = replace(SOFT, holding=holding)  # type: ignore[arg-type]

    def reach(core: float, force: float, work: Work = work) -> float:
        return safe_stickout(work, [Pull(core, force / 2, force)], BENDS, 300) or 0.0

    def least(force: float, work: Work = work, may: Bearable = MAY) -> float:
        found = least_core(work, Pull(0.0, force / 2, force), may)
        return work.blank + 1 if found is None else found

    softer = replace(work, gives=Gives(*(3 * getattr(SOFT.gives, n) for n in Gives.__slots__)))
    longer = replace(work, stickout=more * work.stickout)
    assert reach(core, force * more) <= reach(core, force)
    assert reach(core / more, force) <= reach(core, force)
    assert least(force * more) >= least(force)
    assert reach(core, force, softer) <= reach(core, force)
    assert least(force, softer, BENDS) >= least(force, may=BENDS)
    assert least(force, longer, BENDS) >= least(force, may=BENDS)


@given(HOLDINGS, st.floats(100, 900))
@settings(max_examples=15, deadline=None)
def test_least_core_holds_and_a_tenth_less_does_not(holding: str, force: float) -> None:
    work = replace(SOFT, holding=holding)  # type: ignore[arg-type]
    pull = Pull(0.0, force / 2, force)
    found = least_core(work, pull, MAY)
    if found is None:
        return
    assert MAY.holds(replace(work, root=found), replace(pull, core=found))
    if found > 0.2:
        less = found - 0.1
        assert not MAY.holds(replace(work, root=less), replace(pull, core=less))
