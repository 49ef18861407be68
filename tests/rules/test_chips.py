"""Chips of a form tool against shapely: what the edges are said to cut is what the groove grows."""

from __future__ import annotations

from math import cos, radians, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.affinity import translate
from shapely.geometry import LineString, Polygon

from cardgen.rules.cutting import Edge, Groove, Law, side_force

angles = st.floats(0, 40)


def tool_shape(groove: Groove, point: float, depth: float) -> Polygon:
    """The tool pushed in to a depth; the blank's surface is y = 0, y points inwards."""
    lead, trail = depth * tan(groove.leading), depth * tan(groove.trailing)
    return Polygon(
        [(-point / 2 - trail, 0), (point / 2 + lead, 0), (point / 2, depth), (-point / 2, depth)]
    )


@given(angles, angles, st.floats(0.1, 4), st.floats(0, 3), st.floats(0.01, 0.4), st.floats(0, 1))
def test_chips_add_up_to_the_groove(
    leading: float, trailing: float, point: float, before: float, bite: float, part: float
) -> None:
    groove = Groove(radians(leading), radians(trailing))
    feed = radians(trailing) * part
    edges = groove.edges(before, bite, point, feed)
    now = translate(tool_shape(groove, point, before + bite), bite * tan(feed), 0)
    cut = now.area if before == 0 else now.difference(tool_shape(groove, point, before)).area
    assert sum(edge.width * edge.thickness for edge in edges) == pytest.approx(cut, abs=1e-6)
    assert cut == pytest.approx(
        groove.area(before + bite, point) - groove.area(before, point), abs=1e-6
    )


@given(st.floats(1, 40), st.floats(1, 40), st.floats(0.5, 3), st.floats(0.01, 0.3))
def test_flank_chips_are_as_thick_as_the_flank_moves(
    leading: float, trailing: float, before: float, bite: float
) -> None:
    groove = Groove(radians(leading), radians(trailing))
    feed = radians(trailing) / 2
    _, lead, trail = groove.edges(before, bite, 1.0, feed)
    old = tool_shape(groove, 1.0, before).exterior.coords
    new = translate(tool_shape(groove, 1.0, before + bite), bite * tan(feed), 0).exterior.coords
    for side, edge in ((1, lead), (3, trail)):
        ends = (side, (side + 1) % 4)
        was = LineString([old[k] for k in ends])
        # A point of the new flank below the surface, and its distance from the old flank's line.
        (x1, y1), (x2, y2) = (new[k] for k in ends)
        (ax, ay), (bx, by) = was.coords
        middle = ((x1 + x2) / 2, (y1 + y2) / 2)
        away = abs((bx - ax) * (ay - middle[1]) - (ax - middle[0]) * (by - ay)) / was.length
        assert edge.thickness == pytest.approx(away, abs=1e-9)
        assert edge.width == pytest.approx(
            LineString([(x1, y1), (x2, y2)]).length
            - bite / 2 / cos(groove.leading if side == 1 else groove.trailing)
        )


def test_feeding_at_the_flank_angle_spares_the_trailing_flank() -> None:
    groove = Groove(radians(30), radians(30))
    point, lead, trail = groove.edges(0.5, 0.1, 0.2, radians(30))
    assert trail.thickness == pytest.approx(0, abs=1e-12)
    assert lead.thickness == pytest.approx(0.1)
    assert point.thickness == 0.1


@given(st.floats(0.02, 0.5), st.floats(0.1, 5), st.floats(0.15, 0.35))
def test_force_grows_with_bite_and_less_than_in_proportion(
    bite: float, width: float, mc: float
) -> None:
    law = Law(1500, mc)
    groove = Groove(0.0, 0.0)
    one = sum(law.force(edge) for edge in groove.edges(1.0, bite, width))
    two = sum(law.force(edge) for edge in groove.edges(1.0, 2 * bite, width))
    assert one < two < 2 * one


@given(st.floats(0, 40), st.floats(0.1, 2), st.floats(0.02, 0.2))
def test_equal_flanks_balance_on_a_plunge(angle: float, before: float, bite: float) -> None:
    groove, law = Groove(radians(angle), radians(angle)), Law(1500, 0.22)

    def flanks(edges: tuple[Edge, Edge, Edge]) -> list[float]:
        return [law.force(edge) for edge in edges[1:]]

    edges = groove.edges(before, bite, 1.0)
    assert side_force(groove, *flanks(edges), 0.5) == pytest.approx(0, abs=1e-9)
    if angle > 5:
        aside = groove.edges(before, bite, 1.0, radians(angle))
        assert side_force(groove, *flanks(aside), 0.5) > 0
