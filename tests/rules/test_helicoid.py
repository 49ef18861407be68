"""The section of the groove's helicoid with the tool's face, by a solver that knows no formula."""

from __future__ import annotations

from math import atan, pi, radians, tan

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import fsolve, linprog

from cardgen.rules.helicoid import Groove, on_face, straight_edge
from tests.rules.cloud import unscrewed


@st.composite
def grooves(draw: st.DrawFn) -> tuple[Groove, float, float]:
    """Draw a groove, a rake, and a tilt that is its lead angle or none."""
    middle = draw(st.floats(5.0, 30.0))
    depth = draw(st.floats(0.08, 0.3)) * middle
    flanks = st.sampled_from([0.0, 3.0, 15.0, 30.0])
    leading, trailing = radians(draw(flanks)), radians(draw(flanks))
    out = draw(st.sampled_from([-1.0, 1.0]))
    angle = radians(draw(st.floats(1.0, 30.0)))
    groove = Groove(
        2 * pi * middle * tan(angle),
        middle - out * depth / 2,
        middle + out * depth / 2,
        leading,
        trailing,
        draw(st.floats(0.2, 1.0)) * depth,
    )
    return groove, radians(draw(st.sampled_from([0.0, 8.0]))), draw(st.sampled_from([0.0, angle]))


def section(groove: Groove, sign: float, rake: float, tilt: float, radius: float) -> np.ndarray:
    """Return along and across of the face's point that the helix carries to a wall."""
    rise = groove.outwards * (radius - groove.root)
    wall = groove.width / 2 + rise * tan(groove.leading if sign < 0 else groove.trailing)

    def off(point: np.ndarray) -> list[float]:
        tool = np.array([[point[0]], [point[1]], [point[0] * tan(rake)]])
        found, place = unscrewed(tool, groove, tilt)
        return [found[0] - radius, place[0] - sign * wall]

    return np.asarray(fsolve(off, [rise, sign * wall], xtol=1e-12))


@settings(max_examples=40, deadline=None)
@given(grooves(), st.floats(0.0, 1.0))
def test_the_section_is_the_solvers(case: tuple[Groove, float, float], part: float) -> None:
    groove, rake, tilt = case
    radius = groove.root + part * (groove.crest - groove.root)
    for sign in (-1.0, 1.0):
        found = on_face(groove, sign, radius, rake, tilt)
        assert found == pytest.approx(section(groove, sign, rake, tilt, radius), abs=1e-7)


@settings(max_examples=25, deadline=None)
@given(grooves())
def test_a_tipped_edge_is_as_near_as_a_straight_one_can_be(
    case: tuple[Groove, float, float],
) -> None:
    """No straight line has a smaller greatest deviation: the best by linear programming."""
    groove, rake, _ = case
    tilt = atan(groove.lead / (pi * (groove.root + groove.crest)))
    radii = np.linspace(groove.root, groove.crest, 9)
    for sign in (-1.0, 1.0):
        points = np.array([section(groove, sign, rake, tilt, radius) for radius in radii])
        along, across = points[:, 0], sign * points[:, 1]
        one = np.ones_like(along)
        best = linprog(
            [0, 0, 1],
            A_ub=np.vstack([np.array([one, along, -one]).T, np.array([-one, -along, -one]).T]),
            b_ub=np.concatenate([across, -across]),
            bounds=[(None, None), (None, None), (0, None)],
        ).fun
        edge = straight_edge(groove, sign, rake, tilt)
        worst = float(np.max(np.abs(edge.half + edge.slope * along - across)))
        assert worst == pytest.approx(best, rel=0.2, abs=1e-6)
