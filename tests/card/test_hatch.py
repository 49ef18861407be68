"""Hatch lines lie inside the area: checked against shapely's clipping."""

from __future__ import annotations

from math import cos, hypot, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon

from cardgen.card.hatch import hatching

# Whole hundredths: shapely is no oracle where coordinates differ by 1e-40.
coordinate = st.integers(-2000, 2000).map(lambda n: n / 100)
point = st.tuples(coordinate, coordinate)


@given(
    st.lists(point, min_size=3, max_size=12, unique=True),
    st.sampled_from([0.5, 1.2, 3.0]),
    st.sampled_from([0.0, 30.0, 45.0, 135.0]),
)
def test_length_of_hatching_is_that_of_the_clipped_lines(
    corners: list[tuple[float, float]], spacing: float, angle: float
) -> None:
    area = Polygon(corners).buffer(0)
    if area.geom_type != "Polygon" or area.area < 1 or area.interiors:
        return
    ring = list(area.exterior.coords)[:-1]
    c, s = cos(radians(angle)), sin(radians(angle))
    expected = 0.0
    for number in range(-120, 121):
        v = number * spacing
        # Off the grid by a hair, so that no line runs along an edge.
        line = LineString([(-90 * c - v * s, -90 * s + v * c), (90 * c - v * s, 90 * s + v * c)])
        expected += line.intersection(area).length
    drawn = sum(hypot(q[0] - p[0], q[1] - p[1]) for p, q in hatching([ring], spacing, angle))
    along = max(
        (abs((y2 - y1) * c - (x2 - x1) * s) < 1e-6) * hypot(x2 - x1, y2 - y1)
        for (x1, y1), (x2, y2) in zip(ring, [*ring[1:], ring[0]], strict=True)
    )
    # An edge that lies on a hatch line may be drawn or not.
    assert drawn == pytest.approx(expected, abs=1e-6 + 2 * along)


def test_a_hole_is_not_hatched() -> None:
    outer = [(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)]
    hole = [(4.0, 4.0), (6.0, 4.0), (6.0, 6.0), (4.0, 6.0)]
    ring = Polygon(outer, [hole])
    for p, q in hatching([outer, hole], 0.7, 45.0):
        assert ring.buffer(1e-6).contains(LineString([p, q]))


def test_neighbouring_areas_hatch_alike() -> None:
    left = [(0.0, 0.0), (5.0, 0.0), (5.0, 5.0), (0.0, 5.0)]
    right = [(5.0, 0.0), (9.0, 0.0), (9.0, 5.0), (5.0, 5.0)]
    levels = [
        {round((p[1] - p[0]) / 1.2 / 2**0.5, 6) for p, _ in hatching([ring], 1.2, 45.0)}
        for ring in (left, right)
    ]
    assert all(level == int(level) for part in levels for level in part)
