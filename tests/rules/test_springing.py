"""Spring passes against a cut that is simulated pass by pass with the true, curved law."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from cardgen.rules.cutting import Edge, Law
from cardgen.rules.springing import barrel, left_over, part_left, passes_needed, taper

LAW = Law(1500, 0.22, 1.85)
SHARE, WIDTH, LEAST = 0.5, 2.5, 0.02


def radial(bite: float) -> float:
    """Radial force of a bite; below the least one in a straight line to nothing."""
    if bite < LEAST:
        return radial(LEAST) * bite / LEAST
    return SHARE * LAW.force(Edge(WIDTH, bite))


def taken(wanted: float, give: float) -> float:
    """The bite that is really taken: what is wanted less what the work yields to it."""
    return float(brentq(lambda a: a + give * radial(a) - wanted, 0.0, wanted, xtol=1e-12))


@given(st.floats(1e-6, 1e-4), st.lists(st.floats(0.02, 0.1), min_size=1, max_size=30))
@settings(max_examples=40, deadline=None)
def test_what_is_left_follows_the_true_law(give: float, bites: list[float]) -> None:
    left = 0.0
    for bite in bites:
        left = left + bite - taken(left + bite, give)
    told = left_over([(bite, radial(bite)) for bite in bites], give)
    # The secant of the bite that is set stands for that of the bite that is taken.
    assert told == pytest.approx(left, rel=0.25)


def test_equal_bites_leave_the_bend() -> None:
    give = 5e-5
    assert left_over([(0.05, radial(0.05))] * 60, give) == pytest.approx(give * radial(0.05))


@given(st.floats(1e-6, 1e-4), st.floats(1e-3, LEAST), st.integers(0, 6))
@settings(max_examples=40, deadline=None)
def test_spring_passes_leave_a_part_each(give: float, left: float, passes: int) -> None:
    part = part_left(radial(LEAST) / LEAST, give)
    now = left
    for _ in range(passes):
        now -= taken(now, give)
    assert left * part**passes == pytest.approx(now, rel=1e-6)


@given(st.floats(0, 0.5), st.floats(0, 0.99), st.floats(1e-3, 0.1))
def test_the_number_is_the_least_that_does(left: float, part: float, allowed: float) -> None:
    found = passes_needed(left, part, allowed, 2000)
    assert found is not None
    assert left * part**found <= allowed * (1 + 1e-6)
    assert found == 0 or left * part ** (found - 1) > allowed * (1 - 1e-6)


@given(st.floats(1e3, 1e5), st.floats(1e-6, 1e-4), st.floats(1.0, 3.0))
def test_a_softer_bar_or_a_harder_cut_leaves_more(k: float, give: float, more: float) -> None:
    least = part_left(k, give) * (1 - 1e-12)
    assert least <= part_left(k, more * give) < 1
    assert least <= part_left(more * k, give) < 1


def test_taper_and_barrel_of_a_parabola() -> None:
    sizes = [0.1 * x + 4 * 0.3 * x * (1 - x) for x in (k / 16 for k in range(17))]
    assert taper(sizes) == pytest.approx(0.1)
    assert barrel(sizes) == pytest.approx(0.3)
    assert barrel([-size for size in sizes]) == pytest.approx(-0.3)
