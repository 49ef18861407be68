"""The grinder's settings against a blank that is really turned and tilted, by matrices."""

from __future__ import annotations

from math import cos, degrees, radians, sin, tan

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardgen.rules import grinding
from cardgen.rules.tool import Side

SIDES = st.builds(
    Side, st.floats(-0.1, 0.9), st.floats(-0.5, 0.6).filter(lambda relief: abs(relief) > 1e-4)
)


@given(SIDES, st.floats(0.0, 0.35))
def test_the_wheel_cuts_the_edge_and_the_relief_asked_for(side: Side, rake: float) -> None:
    """Carried to the wheel, the edge and the line of relief below it lie in the wheel's face.

    Blank: x along the shank from the point, y outwards, z up. The wheel's face is y = 0 of the
    machine. The protractor turns the blank about z so that the shank stands at its angle to the
    wheel, whose stone lies beyond, at y > 0; the table then slopes down away from it.
    """
    rest = grinding.rest_for_side(side, rake)
    turn, tip = rest.protractor, rest.table
    about_z = np.array([[cos(turn), sin(turn), 0], [-sin(turn), cos(turn), 0], [0, 0, 1]])
    about_x = np.array([[1, 0, 0], [0, cos(tip), -sin(tip)], [0, sin(tip), cos(tip)]])
    edge = np.array([1.0, tan(side.angle), -tan(rake)])
    below = np.array([0.0, -tan(side.relief), -1.0])
    for line in (edge, below):
        assert (about_x @ about_z @ line)[1] == pytest.approx(0.0, abs=1e-12)
    # Relieved, the top of the blank leans away from the wheel, so that its foot is ground more.
    up = about_x @ about_z @ np.array([0.0, 0.0, 1.0])
    assert (up[1] < 0) == (side.relief > 0)


def test_small_angles_alone_would_be_wrong() -> None:
    """A V side of 30 deg with 15 deg of relief: the table is 2 deg less, not the relief itself."""
    rest = grinding.rest_for_side(Side(radians(30), radians(15)))
    assert degrees(rest.table) == pytest.approx(13.06, abs=0.01)


@given(st.floats(2.0, 15.0), st.floats(0.05, 0.4), st.floats(-0.2, 0.3), st.floats(-0.1, 0.2))
def test_section_is_the_area_of_the_trapezium(
    height: float, slope: float, leading: float, trailing: float
) -> None:
    from shapely.geometry import Polygon

    width = 2 * height * slope + 10
    half = width / 2
    shape = Polygon(
        [
            (-half, 0),
            (half, 0),
            (half - height * tan(trailing), -height),
            (-half + height * tan(leading), -height),
        ]
    )
    found = grinding.section_left(width, height, leading, trailing)
    assert found == pytest.approx(shape.area, rel=1e-9)


@given(st.floats(2.0, 8.0), st.floats(10.0, 40.0), st.floats(0.05, 0.5))
def test_heel_gap_is_measured_along_a_radius(height: float, bore: float, relief: float) -> None:
    foot = complex(bore / 2 - height * tan(relief), height)
    assert grinding.heel_gap(height, relief, bore) == pytest.approx(bore / 2 - abs(foot))
