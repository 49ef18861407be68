"""The swept solid against a second sweep, made in another way.

The oracle knows no wall formula and no edge formula: it turns a dense cloud of points of the tool
by rotation matrices, screws every point back into the axial plane, builds the groove there from
the points of the edges, and finds by bisection the relief at which the side just touches.
"""

from __future__ import annotations

from dataclasses import replace
from math import atan, cos, degrees, pi, radians, sqrt, tan

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from cardgen.rules import tool
from cardgen.rules.sweep import least_clearances
from cardgen.rules.tool import Nose, Side

Array = NDArray[np.float64]
WITHIN = 0.05  # deg


def unscrewed(tool_points: Array, tilt: float, lead: float) -> tuple[Array, Array]:
    """Return radius and axial place of tool points (along, across, down), screwed to y = 0."""
    turn = np.array([[1, 0, 0], [0, np.cos(tilt), np.sin(tilt)], [0, -np.sin(tilt), np.cos(tilt)]])
    x, z, y = turn @ tool_points
    return np.hypot(x, y), z - lead * np.arctan2(y, x) / (2 * pi)


def cloud(nose: Nose, sign: float, root: float, crest: float, relief: float) -> Array:
    """Return points of one relieved side, the edge itself left out."""
    side = nose.leading if sign < 0 else nose.trailing
    reach = 1.2 * sqrt(crest**2 - root**2)
    fall = tan(nose.rake)
    # Where the face, falling behind its point, meets the crest: x^2 + ((x - root) fall)^2 = crest^2
    end = max(np.roots([1 + fall**2, -2 * root * fall**2, (root * fall) ** 2 - crest**2]))
    # Close to both ends of the edge, and close under it, where the worst points are.
    part = np.concatenate([np.linspace(0, 1, 41), 1 - np.geomspace(1e-5, 0.02, 20)])
    along, down = np.meshgrid(root + (end - root) * part, np.geomspace(1e-5, 1, 50) * reach)
    across = nose.tip_width / 2 + (along - root) * tan(side.angle) - down * tan(relief)
    below = down + (along - root) * fall
    return np.array([along.ravel(), sign * across.ravel(), below.ravel()])


def deepest(
    nose: Nose, sign: float, root: float, crest: float, lead: float, relief: float
) -> float:
    """Return how far the side's worst point stands inside the work [mm]; negative if clear."""
    side = nose.leading if sign < 0 else nose.trailing
    along = np.linspace(root, 1.05 * crest, 20001)
    edge = sign * (nose.tip_width / 2 + (along - root) * max(tan(side.angle), 0.0))
    face = (along - root) * tan(nose.rake)
    wall_radius, wall = unscrewed(np.array([along, edge, face]), nose.tilt, lead)
    radius, place = unscrewed(cloud(nose, sign, root, crest, relief), nose.tilt, lead)
    in_work = (radius <= crest * (1 + 1e-8)) & (radius >= wall_radius[0])
    there = np.interp(radius[in_work], wall_radius, wall)
    return float(np.max(sign * (place[in_work] - there)))


def touching_relief(nose: Nose, sign: float, root: float, crest: float, lead: float) -> float:
    """Return the least relief at which the side does not enter the work [rad]."""
    low, high = radians(-30), radians(40)
    for _ in range(40):
        middle = (low + high) / 2
        if deepest(nose, sign, root, crest, lead, middle) > 1e-9:
            low = middle
        else:
            high = middle
    return high


@st.composite
def cutters(draw: st.DrawFn) -> tuple[Nose, float, float, float, float]:
    """Draw a thread and the tool that the rules give for it, with its working clearance."""
    crest = draw(st.floats(4.0, 40.0))
    pitch = draw(st.floats(0.08, 0.45)) * crest
    starts = draw(st.integers(1, 4))
    flank = radians(draw(st.sampled_from([0.0, 5.0, 14.5, 15.0, 30.0])))
    depth = 0.55 * pitch
    root = crest - depth
    lead = starts * pitch
    while atan(lead / (2 * pi * root)) > radians(20):
        lead -= pitch
    tip = max(pitch / 2 - depth * tan(flank), 0.1 * pitch)
    tilt = draw(st.sampled_from([0.0, atan(lead / (pi * (crest + root)))]))
    clearance = radians(draw(st.floats(1.0, 6.0)))
    seen = atan(tan(flank) * cos(tilt))
    tip *= cos(tilt)
    leading = tool.wall_lean(lead, root, tilt, tip / 2, seen)
    trailing = tool.wall_lean(lead, crest, tilt, tip / 2 + depth * tan(seen), seen)
    nose = Nose(
        tip_width=tip,
        leading=Side(seen, tool.relief_leading(leading, clearance)),
        trailing=Side(seen, tool.relief_trailing(trailing, clearance)),
        end_relief=radians(8),
        rake=0.0,
        tilt=tilt,
        length=depth + 1,
        height=10.0,
    )
    return nose, root, crest, lead, clearance


@settings(max_examples=40, deadline=None)
@given(cutters())
def test_ground_clearance_is_the_one_asked_for(
    case: tuple[Nose, float, float, float, float],
) -> None:
    """Both sides could give up the working clearance, no more and no less, before they touch."""
    nose, root, crest, lead, clearance = case
    if lead <= 0:
        return
    for sign, side in ((-1.0, nose.leading), (1.0, nose.trailing)):
        touching = touching_relief(nose, sign, root, crest, lead)
        assert degrees(side.relief - touching) == pytest.approx(degrees(clearance), abs=WITHIN)


@settings(max_examples=40, deadline=None)
@given(cutters())
def test_sweep_measures_what_the_oracle_measures(
    case: tuple[Nose, float, float, float, float],
) -> None:
    """In the plane square to the edge: the ground relief less the one that would just touch."""
    nose, root, crest, lead, _ = case
    if lead <= 0:
        return
    found = least_clearances(nose, root, crest, lead)
    for sign, side, clear in (
        (-1.0, nose.leading, found.leading),
        (1.0, nose.trailing, found.trailing),
    ):
        touching = touching_relief(nose, sign, root, crest, lead)
        square = tool.normal_to_edge(side.relief, side.angle)
        oracle = square - tool.normal_to_edge(touching, side.angle)
        assert degrees(clear) == pytest.approx(degrees(oracle), abs=WITHIN)
    assert found.end > 0


@settings(max_examples=60, deadline=None)
@given(cutters(), st.floats(0.0, 15.0))
def test_sweep_knows_when_a_raked_tool_touches(
    case: tuple[Nose, float, float, float, float], rake_deg: float
) -> None:
    """Ground a little more than just touching a side is clear, a little less it is not.

    No plane need be agreed on in which clearance is measured, as on a flat face. A rake does take
    clearance away: 0.3 deg of 1 deg at a rake of 15 deg on a square thread of large lead.
    """
    nose, root, crest, lead, _ = case
    if lead <= 0 or nose.tilt:
        return
    raked = replace(nose, rake=radians(rake_deg))
    for sign, name in ((-1.0, "leading"), (1.0, "trailing")):
        touching = touching_relief(raked, sign, root, crest, lead)
        for more in (WITHIN, -WITHIN):
            side = replace(getattr(raked, name), relief=touching + radians(more))
            found = least_clearances(replace(raked, **{name: side}), root, crest, lead)
            assert (getattr(found, name) > 0) == (more > 0)


def test_a_tool_ground_the_wrong_way_round_is_found_out() -> None:
    """Reliefs of a two-start thread changed over: the leading side must dig in."""
    lead, root, crest = 16.0, 7.75, 10.0
    right = tool.relief_leading(tool.wall_lean(lead, root), radians(3))
    left = tool.relief_trailing(tool.wall_lean(lead, crest), radians(3))
    a = radians(15)
    nose = Nose(1.3, Side(a, left), Side(a, right), radians(8), 0.0, 0.0, 3.25, 8.0)
    found = least_clearances(nose, root, crest, lead)
    assert found.leading < 0
    assert deepest(nose, -1.0, root, crest, lead, left) > 0.1


def test_a_blade_that_narrows_behind_its_edge_cuts_with_its_corners() -> None:
    lead, root, crest = 6.35, 12.7, 15.875
    nose = Nose(
        3.175,
        Side(radians(-1), tool.relief_leading(tool.wall_lean(lead, root), radians(3))),
        Side(radians(-1), tool.relief_trailing(tool.wall_lean(lead, crest), radians(3))),
        radians(8),
        0.0,
        0.0,
        4.0,
        9.5,
    )
    found = least_clearances(nose, root, crest, lead)
    assert degrees(found.leading) == pytest.approx(3.0, abs=WITHIN)
    assert degrees(found.trailing) > 3.0
    assert degrees(found.end) == pytest.approx(8.0, abs=WITHIN)
