"""Rules of the cutter that hold for any thread."""

from __future__ import annotations

from math import degrees, pi, radians, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import Polygon

from cardgen.rules import tool
from cardgen.rules.clearance import least_clearances, square_to_edge
from cardgen.rules.helicoid import Groove
from cardgen.rules.tool import Nose, Side

ANGLES = st.floats(0.0, 0.6)
LENGTHS = st.floats(0.5, 60.0)


@given(st.floats(-0.5, 0.5), ANGLES)
def test_relief_square_to_the_edge_is_the_lesser(relief: float, flank: float) -> None:
    normal = square_to_edge(Side(flank, relief), 0.0)
    assert abs(normal) <= abs(relief) + 1e-12
    assert square_to_edge(Side(0.0, relief), 0.0) == pytest.approx(relief)


@given(LENGTHS, st.floats(0.0, 0.6), st.floats(0.0, 0.6), st.floats(0.01, 5.0))
def test_largest_corner_radius_is_that_of_the_inscribed_arc(
    tip: float, near: float, far: float, depth: float
) -> None:
    """A circle on the tip that touches both flanks: found by the distances of its centre."""
    del depth
    radius = tool.corner_radius_largest(tip, near, far)
    # Centre above the tip by the radius; along the tip where both flanks are a radius away.
    x = radius * tan(pi / 4 - near / 2)
    to_near = (x + radius * tan(near)) / (1 + tan(near) ** 2) ** 0.5
    to_far = (tip - x + radius * tan(far)) / (1 + tan(far) ** 2) ** 0.5
    assert to_near == pytest.approx(radius, rel=1e-9)
    assert to_far == pytest.approx(radius, rel=1e-9)


@given(
    st.floats(0.3, 5.0),
    st.floats(0.0, 0.5),
    st.floats(0.0, 0.3),
    st.floats(-0.2, 0.1),
    st.floats(4.0, 16.0),
)
def test_foot_is_the_thinnest_level_section(
    tip: float, flank: float, leading: float, trailing: float, height: float
) -> None:
    """Cut the blade at its bottom by brute force and take the narrowest place."""
    end = radians(8)
    length = max(3.0, height * tan(end) + 0.5)
    nose = Nose(tip, Side(flank, leading), Side(flank, trailing), end, 0.0, 0.0, length, height)
    back = height * tan(end)
    widths = [
        tip
        + 2 * (back + (length - back) * k / 50) * tan(flank)
        - height * (tan(leading) + tan(trailing))
        for k in range(51)
    ]
    assert nose.foot_width == pytest.approx(min(widths), abs=1e-9)
    assert nose.shank_width == pytest.approx(tip + 2 * length * tan(flank))


@given(st.floats(-0.3, 0.3), st.floats(-0.3, 0.3), st.floats(4.0, 20.0))
def test_blank_needed_is_the_width_of_the_whole_blade(
    leading: float, trailing: float, height: float
) -> None:
    nose = Nose(2.0, Side(0.25, leading), Side(0.25, trailing), 0.14, 0.0, 0.0, 4.0, height)
    half = 1.0 + 4.0 * tan(0.25)
    section = Polygon(
        [
            (-half, 0),
            (half, 0),
            (half - height * tan(trailing), -height),
            (-half + height * tan(leading), -height),
        ]
    )
    left, _, right, _ = section.bounds
    if nose.foot_width > 0:
        assert nose.blank_needed == pytest.approx(right - left)


def test_clearances_are_tried_from_the_usual_down_to_the_least() -> None:
    assert tool.clearance_between(3.0, 1.0, 0.5) == [3.0, 2.5, 2.0, 1.5, 1.0]
    assert tool.clearance_between(5.0, 3.0, 0.5)[-1] == 3.0


def test_end_loses_clearance_when_tipped() -> None:
    """A tip that stands off the axis's level at one corner meets the root's surface there."""
    level, tipped = (
        Nose(4.0, Side(0.0, 0.2), Side(0.0, 0.0), radians(8), 0.0, tilt, 5.0, 10.0)
        for tilt in (0.0, radians(15))
    )
    lead = 2 * pi * 9.0 * tan(radians(15))
    groove = Groove(lead, 8.0, 11.0, 0.0, 0.0, 4.0)
    flat = least_clearances(level, groove).end
    turned = least_clearances(tipped, groove).end
    assert degrees(flat) == pytest.approx(8.0, abs=0.01)
    assert 4.0 < degrees(turned) < 7.0
