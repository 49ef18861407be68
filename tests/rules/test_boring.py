"""Boring bars: which passes, how it bends; balls in a nut: where they rest. Independent oracles."""

from __future__ import annotations

from math import cos, hypot, pi, radians, sin, sqrt, tan

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import minimize
from shapely.geometry import LineString, Point, Polygon

from cardgen.rules.balls import (
    NutGroove,
    ball_flush,
    ball_on_root,
    ball_seat,
    ball_touching,
    best_ball,
    between_balls,
    between_short,
)
from cardgen.rules.boring import Bar, bit_reach, largest_bar
from cardgen.rules.pair import Pair

# --- the bar ----------------------------------------------------------------------------------


@settings(max_examples=80, deadline=None)
@given(st.floats(10, 80), st.floats(0.5, 5), st.floats(0.1, 0.3), st.floats(0.3, 1.0))
def test_bar_passes_at_full_depth_and_withdrawn(
    bore: float, depth: float, bit_part: float, share: float
) -> None:
    """Swept as a shape through its travel it clears the bore, and a thicker one does not."""
    bit, room, travel = bit_part * bore, 0.05 * bore, depth + 0.5
    largest = largest_bar(bore, room, travel, bit)
    assume(largest > 1.2 * bit)
    bar = max(share * largest, 0.5 * largest)
    reach = bit_reach(bore, bore + 2 * depth, room, bar, bit)
    at_work = (bore / 2 + depth) - reach - bar / 2

    def swept(size: float, middle: float) -> float:
        path = LineString([(middle, -bit / 2), (middle - travel, -bit / 2)])
        shape = path.buffer(size / 2, quad_segs=64)
        return max(hypot(x, y) for x, y in shape.exterior.coords)

    assert swept(bar, at_work) <= bore / 2 - room + 1e-3
    # The best place of the largest bar is travelling about the bore's middle.
    assert swept(largest, travel / 2) == pytest.approx(bore / 2 - room, abs=1e-3)
    assert swept(largest + 0.1, travel / 2) > bore / 2 - room + 0.04
    # The point stands out by more than the thread is deep.
    assert reach >= depth + room - 1e-9


@settings(max_examples=40, deadline=None)
@given(st.floats(5, 40), st.floats(1.0, 8.0), st.floats(1, 10))
def test_bar_bends_as_a_cantilever(diameter: float, slender: float, reach: float) -> None:
    overhang, modulus = slender * diameter, 210_000.0
    inertia = pi * diameter**4 / 64
    bar = Bar(30.0, diameter, overhang, reach, modulus)
    # Unit-load theorem: the moment of a unit force, squared, over the stiffness.
    expected, _ = quad(lambda x: (overhang - x) ** 2 / (modulus * inertia), 0, overhang)
    assert bar.give(0.0) == pytest.approx(expected, rel=1e-9)
    share = 0.5
    # Skin at the holder: bending by the resultant, torsion by the tangential force's own arm.
    bending = overhang * sqrt(1 + share**2) * (diameter / 2) / inertia
    torsion = (reach + diameter / 2) * (diameter / 2) / (2 * inertia)
    tensor = np.array([[bending, torsion, 0], [torsion, 0, 0], [0, 0, 0]])
    deviator = tensor - np.trace(tensor) / 3 * np.eye(3)
    assert bar.strain(0.0, share) == pytest.approx(sqrt(1.5 * np.sum(deviator**2)), rel=1e-9)


# --- balls ------------------------------------------------------------------------------------


def distance(groove: NutGroove, centre: float, side: float, shift: float) -> float:
    """Return the distance from a point on the x axis, ``shift`` along, to one flank's helicoid."""
    slope = tan(groove.far if side > 0 else groove.near)

    def squared(at: np.ndarray) -> float:
        r, phi = at
        z = side * (groove.width / 2 - (r - groove.pitch_diameter / 2) * slope)
        z += groove.lead * phi / (2 * pi)
        return (r * cos(phi) - centre) ** 2 + (r * sin(phi)) ** 2 + (z - shift) ** 2

    found = minimize(squared, (centre, 0.0), tol=1e-14)
    return sqrt(found.fun)


@st.composite
def grooves(draw: st.DrawFn, wild: bool = False) -> NutGroove:
    """Wild ones have flanks that stand nearly or quite square, and a lead angle up to 18 deg."""
    diameter = draw(st.floats(6, 60))
    pitch = draw(st.floats(0.05, 0.2)) * diameter
    usual = [(15.0, 15.0), (14.5, 14.5), (30.0, 30.0), (27.5, 27.5), (3, 30)]
    unlike = [(5, 5), (30, 3), (7, 45), (0, 45)]
    flanks = draw(st.sampled_from([*usual, *unlike] if wild else usual))
    near, far = (radians(a) for a in flanks)
    return NutGroove(draw(st.integers(1, 5 if wild else 3)) * pitch, diameter, pitch / 2, near, far)


@settings(max_examples=40, deadline=None)
@given(grooves(wild=True), st.floats(0.95, 1.2))
def test_a_ball_touches_both_flanks(groove: NutGroove, part: float) -> None:
    ball = part * best_ball(groove)
    seat = ball_seat(groove, ball)
    if groove.near == groove.far:
        assert seat.shift == pytest.approx(0.0, abs=1e-9)
    for side in (-1.0, 1.0):
        found = distance(groove, seat.centre, side, seat.shift)
        assert found == pytest.approx(ball / 2, rel=1e-5)
    assert between_balls(groove, ball) == pytest.approx(2 * seat.centre - ball)
    assert seat.centre < groove.pitch_diameter / 2 + ball


def test_the_short_formula_without_a_lead_is_plane_geometry() -> None:
    """A circle between two lines, in shapely: Tr 28x5, a ball of 2.6 mm, no lead."""
    groove = NutGroove(1e-9, 25.5, 2.5, radians(15), radians(15))
    ball = 2.6
    seat = ball_seat(groove, ball)
    wall = LineString([(1.25 - (r - 12.75) * tan(radians(15)), r) for r in (11.0, 15.0)])
    assert Point(0, seat.centre).distance(wall) == pytest.approx(ball / 2, abs=1e-9)
    assert between_short(groove, ball) == pytest.approx(between_balls(groove, ball), abs=1e-9)


@settings(max_examples=40, deadline=None)
@given(grooves())
def test_limiting_balls_do_what_they_are_called_for(groove: NutGroove) -> None:
    assume(groove.near == groove.far)
    bore = groove.pitch_diameter - groove.width
    root = groove.pitch_diameter + 0.9 * groove.width
    flush, touching = ball_flush(groove, bore), ball_touching(groove, bore)
    assert between_balls(groove, flush) == pytest.approx(bore, abs=1e-6)
    seat = ball_seat(groove, touching)
    assert min(seat.near, seat.far) == pytest.approx(bore / 2, abs=1e-6)
    reaching = ball_seat(groove, ball_on_root(groove, root))
    assert reaching.centre + reaching.wire / 2 == pytest.approx(root / 2, abs=1e-6)
    # A larger pitch diameter lets the ball in deeper: the gap grows with it, by as much.
    wider = NutGroove(
        groove.lead, groove.pitch_diameter + 0.1, groove.width, groove.near, groove.far
    )
    ball = best_ball(groove)
    assert between_balls(wider, ball) - between_balls(groove, ball) == pytest.approx(0.1, abs=2e-3)


# --- the pair ---------------------------------------------------------------------------------


@settings(max_examples=80, deadline=None)
@given(
    st.floats(1, 10), st.sampled_from([(0, 0), (15, 15), (30, 30), (3, 30), (7, 45)]),
    st.floats(0, 0.03), st.floats(0, 0.03), st.floats(0, 0.3),
)  # fmt: skip
def test_pair_touches_on_one_side_and_never_overlaps(
    pitch: float, flanks: tuple[float, float], screw_more: float, nut_more: float, arc: float
) -> None:
    near, far = (radians(angle) for angle in flanks)
    line, depth = 5 * pitch, 0.3 * pitch
    pair = Pair(
        pitch, near, far, line,
        pitch * (0.5 + screw_more), pitch * (0.5 + nut_more),
        line + depth, line - depth - 0.05 * pitch, line - depth, line + depth + 0.05 * pitch,
        # A round root never stands nearer to a ridge than that ridge's own rounding.
        (arc * pitch, 0.9 * arc * pitch, arc * pitch, 0.9 * arc * pitch),
    )  # fmt: skip
    if not pair.stands:
        return
    length = 2.5 * pitch
    screw = Polygon([*pair.screw(length), (length, 0), (0, 0)])
    nut = Polygon([*pair.nut(length), (length, 10 * pitch), (0, 10 * pitch)])
    assert screw.is_valid
    assert nut.is_valid
    assert screw.intersection(nut).area == pytest.approx(0, abs=1e-9 * pitch**2)
    assert screw.distance(nut) == pytest.approx(0, abs=1e-9)
    (left, level), (right, _) = pair.gap()
    assert right - left == pytest.approx(pair.play, abs=1e-9)
    if pair.play > 1e-6:
        middle = Point((left + right) / 2, level)
        assert not screw.contains(middle)
        assert not nut.contains(middle)
    # The dimensioned ends lie on the two parts; an arc of chords has its top within a hair.
    bar, body = LineString(pair.screw(length)), LineString(pair.nut(length))
    for low, high in (pair.over_crest(), pair.under_bore()):
        assert low[1] < high[1]
        if near == far:
            assert bar.distance(Point(low)) < 2e-3 * pitch
            assert body.distance(Point(high)) < 2e-3 * pitch + pair.play
