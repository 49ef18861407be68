"""The bar on supports that give way, against a finite-element beam assembled here."""

from __future__ import annotations

from dataclasses import replace
from math import inf, pi

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cardgen.rules.beam import Beam, Ends, Pin, Section
from cardgen.rules.holding import Gives, Work
from tests.rules.cases import WORK

STEPPED = (Section(32, 28), Section(8, 21.5), Section(120, 22.4))
GIVES = Gives(chuck=2e-5, tilt=1e-8, head=2e-5, centre=5e-5, rest=3e-5)


def elements(beam: Beam, at: float, pins: tuple[Pin, ...] = ()) -> float:
    """Return the movement under 1 N by Hermite beam elements, springs added on the diagonal.

    What a support holds fast is taken out of the unknowns.
    """
    edges = np.cumsum([0.0, *(section.length for section in beam.sections)])
    all_pins = [*beam.pins, *pins]
    # Between loads and shoulders the element is exact: no finer division is needed.
    places = sorted({*edges.tolist(), at, *(p.at for p in all_pins)})
    nodes = np.array([x for x, y in zip(places, [*places[1:], inf], strict=True) if y - x > 1e-6])
    stiffness = np.zeros((2 * len(nodes), 2 * len(nodes)))
    for k in range(len(nodes) - 1):
        length = nodes[k + 1] - nodes[k]
        middle = (nodes[k + 1] + nodes[k]) / 2
        section = beam.sections[min(int(np.searchsorted(edges, middle)) - 1, len(edges) - 2)]
        ei = beam.modulus * pi * section.diameter**4 / 64
        one = np.array(
            [
                [12, 6 * length, -12, 6 * length],
                [6 * length, 4 * length**2, -6 * length, 2 * length**2],
                [-12, -6 * length, 12, -6 * length],
                [6 * length, 2 * length**2, -6 * length, 4 * length**2],
            ]
        )
        stiffness[2 * k : 2 * k + 4, 2 * k : 2 * k + 4] += ei / length**3 * one

    fast: set[int] = set()

    def spring(place: float, give: float, turning: bool = False) -> None:
        node = 2 * int(np.argmin(abs(nodes - place))) + turning
        if give == 0:
            fast.add(node)
        else:
            stiffness[node, node] += 1 / give

    spring(0.0, beam.ends.near)
    if beam.clamped:
        spring(0.0, beam.ends.tilt, turning=True)
    else:
        spring(beam.length, beam.ends.far)
    for pin in all_pins:
        spring(pin.at, pin.give)
    force = np.zeros(2 * len(nodes))
    loaded = 2 * int(np.argmin(abs(nodes - at)))
    force[loaded] = 1.0
    if loaded in fast:
        return 0.0
    free = [k for k in range(2 * len(nodes)) if k not in fast]
    moved = np.linalg.solve(stiffness[np.ix_(free, free)], force[free])
    return float(moved[free.index(loaded)])


@pytest.mark.parametrize("holding", ["chuck", "chuck-and-centre", "between-centres"])
@pytest.mark.parametrize("rest", ["none", "steady", "follow"])
@pytest.mark.parametrize("part", [0.25, 0.6, 0.85, 1.0])
def test_deflection_on_springs(holding: str, rest: str, part: float) -> None:
    work = replace(WORK, holding=holding, rest=rest, gives=GIVES)  # type: ignore[arg-type]
    beam, at = work.beam(22.4), part * work.stickout
    pins = work.follow_pins(at)
    assert beam.deflection(at, pins) == pytest.approx(elements(beam, at, pins), rel=1e-3)


gives = st.just(0.0) | st.floats(1e-7, 1e-4)


@given(
    st.floats(8, 40), st.floats(8, 40), st.floats(10, 150), st.floats(10, 150),
    st.booleans(), st.integers(1, 16),
    gives, st.just(0.0) | st.floats(1e-10, 1e-7), gives, st.floats(1e-6, 1e-4),
)  # fmt: skip
@settings(max_examples=60, deadline=None)
def test_any_bar_on_any_springs(
    d1: float, d2: float, l1: float, l2: float, clamped: bool, eighth: int,
    near: float, tilt: float, far: float, rest: float,
) -> None:  # fmt: skip
    beam = Beam(
        (Section(l1, d1), Section(l2, d2)),
        205_000,
        clamped,
        (Pin(l1, rest),),
        Ends(near, tilt, far),
    )
    # Elements of a hair's length would spoil the oracle: eighths of either cylinder.
    at = l1 * min(eighth, 8) / 8 + l2 * max(eighth - 8, 0) / 8
    assert beam.deflection(at) == pytest.approx(elements(beam, at), rel=1e-4, abs=1e-10)


@given(
    st.sampled_from(["chuck", "chuck-and-centre", "between-centres"]),
    st.sampled_from(["none", "follow"]),
    st.floats(14, 24),
    st.floats(1.02, 1.4),
    st.floats(1.0, 4.0),
)
@settings(max_examples=40, deadline=None)
def test_thinner_longer_and_softer_held_is_never_stiffer(
    holding: str, rest: str, core: float, more: float, softer: float
) -> None:
    work = replace(WORK, holding=holding, rest=rest, gives=GIVES)  # type: ignore[arg-type]
    give, strain = work.give(core), work.strain(core, 0.5)
    assert work.give(core / more) >= give * (1 - 1e-9)
    soft = Gives(*(softer * getattr(GIVES, name) for name in Gives.__slots__))
    assert replace(work, gives=soft).give(core) >= give * (1 - 1e-9)
    # All of the bar longer, the jaws of a follow rest as far from the tool as before.
    longer = replace(
        work, stickout=more * work.stickout, thread=more * work.thread, groove=more * work.groove
    )
    assert longer.give(core) >= give * (1 - 1e-6)
    # A bar that a rest, or chuck and centre together, hold more than once leans harder on one of
    # them as it gets longer or thinner, and may be strained a trifle less elsewhere.
    if rest == "none" and holding != "chuck-and-centre":
        assert work.strain(core / more, 0.5) >= strain * (1 - 1e-9)
        assert longer.strain(core, 0.5) >= strain * (1 - 1e-6)


def test_a_stiff_centre_is_the_limit_of_a_soft_one() -> None:
    def propped(give: float) -> float:
        return Beam(STEPPED, 205_000, clamped=True, pins=(Pin(160.0, give),)).deflection(100.0)

    free = Beam(STEPPED, 205_000, clamped=True).deflection(100.0)
    assert propped(1e-12) == pytest.approx(propped(0.0), rel=1e-5)
    assert propped(1e6) == pytest.approx(free, rel=1e-5)
    assert propped(0.0) < propped(1e-5) < free < inf


def test_a_pin_beside_a_soft_support_carries_too() -> None:
    ends = Ends(near=1e-4, tilt=1e-8)
    alone = Beam(STEPPED, 205_000, clamped=True, ends=ends)
    helped = Beam(STEPPED, 205_000, clamped=True, pins=(Pin(0.0),), ends=ends)
    assert helped.deflection(100.0) < alone.deflection(100.0)


def test_work_reaches_its_springs() -> None:
    stiff: Work = WORK
    for name in ("chuck", "tilt", "centre"):
        soft = replace(stiff, gives=replace(stiff.gives, **{name: getattr(GIVES, name)}))
        assert soft.give(22.4) > stiff.give(22.4)
