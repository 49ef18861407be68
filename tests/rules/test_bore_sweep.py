"""A nut's cutter against a second sweep, made in another way.

The oracle fills the whole blade below its edges with points, screws every one back into the
axial plane by a rotation matrix, and compares it with the groove that the edges leave there. It
finds by bisection the relief at which the first point touches; it knows no lean, no chord and no
heel.
"""

from __future__ import annotations

from math import atan, degrees, pi, radians, tan

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from cardgen.rules import boring, tool
from cardgen.rules.boring import least_clearances
from cardgen.rules.tool import Nose, Side

Array = NDArray[np.float64]
WITHIN = 0.05  # deg
Case = tuple[Nose, float, float, float, float]


def unscrewed(along: Array, across: Array, down: Array, lead: float) -> tuple[Array, Array]:
    """Return radius and axial place (positive towards the trailing side) carried to y = 0.

    The tool stands at x > 0, face up; below it lies what was cut a moment ago, when the tool was
    nearer its leading side's end: what lies below has come from the trailing side.
    """
    angle = np.arctan2(down, along)
    turned = along * np.cos(angle) + down * np.sin(angle)
    return turned, across - lead * angle / (2 * pi)


def blade(nose: Nose, root: float, crest: float, end_relief: float) -> tuple[Array, Array]:
    """Return along and down of a dense cloud over one side of the blade within the groove."""
    # Close under the edge, where a lean shows first, and down to the foot, where the curve does.
    # Behind the end, which runs back as it goes down, nothing of the blade is left in the groove.
    deep = min(nose.height, (root - crest) / tan(end_relief))
    down = np.concatenate([np.geomspace(1e-5, 0.05, 30), np.linspace(0.06, 1, 120)]) * deep
    along = crest + (root - crest) * np.concatenate(
        [np.linspace(0, 1, 61), 1 - np.geomspace(1e-6, 0.02, 25)]
    )
    grid_along, grid_down = np.meshgrid(along, down)
    within = grid_along <= root - grid_down * tan(end_relief) + 1e-12
    # The end itself, row by row.
    ends = root - down * tan(end_relief)
    ends_in = ends >= crest - 1e-12
    return (
        np.concatenate([grid_along[within], ends[ends_in]]),
        np.concatenate([grid_down[within], down[ends_in]]),
    )


def deepest(nose: Nose, sign: float, root: float, crest: float, lead: float, k: float) -> float:
    """Return how far one side with relief k stands inside the nut [mm]; negative if clear."""
    side = nose.leading if sign < 0 else nose.trailing
    along, down = blade(nose, root, crest, nose.end_relief)
    half = nose.tip_width / 2 + (root - along) * tan(side.angle) - down * tan(k)
    radius, place = unscrewed(along, sign * half, down, lead)
    inside = radius <= root
    wall = nose.tip_width / 2 + (root - radius) * tan(side.angle)
    return float(np.max((sign * place - wall)[inside]))


def touching_relief(nose: Nose, sign: float, root: float, crest: float, lead: float) -> float:
    low, high = radians(-30), radians(50)
    for _ in range(40):
        middle = (low + high) / 2
        if deepest(nose, sign, root, crest, lead, middle) > 1e-9:
            low = middle
        else:
            high = middle
    return high


def touching_end(height: float, radius: float) -> float:
    """Return the least end relief whose plane lies within a bore, by bisection [rad]."""
    down = np.linspace(1e-6, 1, 4001) * height
    low, high = 0.0, radians(89)
    for _ in range(50):
        middle = (low + high) / 2
        along = radius - down * tan(middle)
        if np.any(np.hypot(along, down) > radius + 1e-12):
            low = middle
        else:
            high = middle
    return high


@st.composite
def cutters(draw: st.DrawFn) -> Case:
    """Draw a nut and the tool that the rules give for it, with its working clearance."""
    crest = draw(st.floats(4.0, 40.0))
    pitch = draw(st.floats(0.08, 0.35)) * crest
    flank = radians(draw(st.sampled_from([0.0, 5.0, 14.5, 15.0, 30.0])))
    depth = 0.55 * pitch
    root = crest + depth
    lead = draw(st.integers(1, 4)) * pitch
    while atan(lead / (2 * pi * crest)) > radians(20):
        lead -= pitch
    height = draw(st.floats(0.1, 0.7)) * crest
    clearance = radians(draw(st.floats(1.0, 6.0)))
    heel = boring.heel_angle(height, 2 * crest)
    leading = boring.lean_leading(lead, 2 * crest, flank, heel)
    trailing = boring.lean_trailing(lead, 2 * root, flank, heel)
    nose = Nose(
        tip_width=max(pitch / 2 - depth * tan(flank), 0.1 * pitch),
        leading=Side(flank, tool.relief_leading(leading, clearance)),
        trailing=Side(flank, tool.relief_trailing(trailing, clearance)),
        end_relief=boring.heel_relief(heel) + radians(3),
        rake=0.0,
        tilt=0.0,
        length=depth + 1,
        height=height,
    )
    return nose, root, crest, lead, clearance


@settings(max_examples=60, deadline=None)
@given(cutters())
def test_the_ground_sides_clear_the_nut_by_what_was_asked(case: Case) -> None:
    """At least the working clearance, and no more than the bounds of the rule give away."""
    nose, root, crest, lead, clearance = case
    for sign, side in ((-1.0, nose.leading), (1.0, nose.trailing)):
        touching = touching_relief(nose, sign, root, crest, lead)
        assert degrees(side.relief - touching) >= degrees(clearance) - 0.02
    if nose.leading.angle == 0:
        # A square thread has no wall that closes in: the leading side is exact.
        touching = touching_relief(nose, -1.0, root, crest, lead)
        assert degrees(nose.leading.relief - touching) == pytest.approx(
            degrees(clearance), abs=0.05
        )


@settings(max_examples=60, deadline=None)
@given(cutters())
def test_sweep_measures_what_the_oracle_measures(case: Case) -> None:
    nose, root, crest, lead, _ = case
    found = least_clearances(nose, root, crest, lead)
    for sign, side, clear in (
        (-1.0, nose.leading, found.leading),
        (1.0, nose.trailing, found.trailing),
    ):
        touching = touching_relief(nose, sign, root, crest, lead)
        square = tool.normal_to_edge(side.relief, side.angle)
        oracle = square - tool.normal_to_edge(touching, side.angle)
        assert clear > 0
        assert degrees(clear) == pytest.approx(degrees(oracle), abs=WITHIN)
        assert (deepest(nose, sign, root, crest, lead, side.relief) < 0) == (clear > 0)


@settings(max_examples=60, deadline=None)
@given(st.floats(3.0, 60.0), st.floats(0.05, 0.9))
def test_the_end_must_lie_on_the_chord_of_the_bore(radius: float, part: float) -> None:
    height = part * radius
    rule = boring.heel_relief(boring.heel_angle(height, 2 * radius))
    assert degrees(touching_end(height, radius)) == pytest.approx(degrees(rule), abs=0.01)


def test_a_screws_tool_digs_into_a_nut() -> None:
    """The side reliefs of the screw of the same thread, which know no closing wall."""
    lead, root, crest, a = 5.0, 14.25, 11.5, radians(15)
    nose = Nose(
        1.75,
        Side(a, tool.relief_leading(tool.wall_lean(lead, crest), radians(1))),
        Side(a, tool.relief_trailing(tool.wall_lean(lead, root), radians(1))),
        radians(16),
        0.0,
        0.0,
        3.75,
        5.0,
    )
    assert least_clearances(nose, root, crest, lead).leading < 0
    assert deepest(nose, -1.0, root, crest, lead, nose.leading.relief) > 0.02


def test_reliefs_changed_over_are_found_out() -> None:
    lead, root, crest, a = 16.0, 12.0, 9.5, radians(15)
    heel = boring.heel_angle(3.0, 2 * crest)
    right = boring.lean_leading(lead, 2 * crest, a, heel) + radians(2)
    left = radians(2) - boring.lean_trailing(lead, 2 * root, a, heel)
    nose = Nose(1.3, Side(a, left), Side(a, right), radians(14), 0.0, 0.0, 3.25, 3.0)
    assert least_clearances(nose, root, crest, lead).leading < 0
