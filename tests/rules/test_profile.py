"""Profiles against shapely and against what must hold for any straight-flank thread."""

from __future__ import annotations

from itertools import pairwise
from math import pi, radians, sin, tan

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon

from cardgen.rules.profile import (
    Section,
    area_under,
    fundamental_height,
    groove_outline,
    nut_outline,
    rounded_corner,
    screw_outline,
)


@st.composite
def sections(draw: st.DrawFn) -> Section:
    pitch = draw(st.floats(0.2, 40))
    near, far = (radians(draw(st.floats(0, 45))) for _ in range(2))
    above, below = draw(st.floats(0.05, 0.5)), draw(st.floats(0.05, 0.6))
    line = 5 * pitch
    section = Section(pitch, near, far, line + above * pitch, line, line - below * pitch)
    assume(section.crest_flat > 0.01 * pitch)
    assume(section.root_flat > 0.01 * pitch)
    return section


@given(sections())
def test_one_pitch_is_crest_flanks_and_root(section: Section) -> None:
    flanks = section.depth * (tan(section.near) + tan(section.far))
    total = section.crest_flat + section.root_flat + flanks
    assert total == pytest.approx(section.pitch, rel=1e-9)


@given(sections())
def test_ridge_and_groove_are_equally_wide_at_the_pitch_line(section: Section) -> None:
    assert section.groove_width(section.pitch_line) == pytest.approx(section.pitch / 2)


@given(sections())
def test_groove_area_agrees_with_shapely(section: Section) -> None:
    outline = groove_outline(section)
    drawn = Polygon(outline).area
    by_hand = section.depth * (section.root_flat + section.pitch - section.crest_flat) / 2
    assert drawn == pytest.approx(by_hand, rel=1e-9)
    assert outline[1][0] == pytest.approx(-outline[2][0])


@given(sections(), st.floats(0.3, 3.2), st.floats(0, 1.5))
def test_screw_outline(section: Section, pitches: float, start: float) -> None:
    length = pitches * section.pitch
    line = screw_outline(section, length, start=start * section.pitch)
    assert line[0][0] == 0
    assert line[-1][0] == pytest.approx(length)
    assert all(b[0] >= a[0] - 1e-9 * length for a, b in pairwise(line))
    tiny = 1e-9 * section.crest
    assert all(section.root - tiny <= y <= section.crest + tiny for _, y in line)
    base = section.root - 1
    ring = Polygon([*line, (length, base), (0, base)])
    assert ring.is_valid
    assert area_under(line, base) == pytest.approx(ring.area, rel=1e-9)


@given(sections())
def test_a_whole_pitch_of_outline_loses_one_groove(section: Section) -> None:
    line = screw_outline(section, section.pitch)
    groove = Polygon(groove_outline(section)).area
    full = section.pitch * section.depth
    assert area_under(line, section.root) == pytest.approx(full - groove, rel=1e-6)


@given(sections(), st.floats(0, 0.1), st.floats(0, 0.1))
def test_nut_lies_on_the_screw(section: Section, over: float, under: float) -> None:
    nut_root = section.crest + over * section.pitch
    nut_crest = section.root + under * section.pitch
    assume(section.groove_width(nut_crest) > 0)
    assume(section.groove_width(nut_root) < section.pitch)
    assume(nut_crest < section.crest)
    length = 2.5 * section.pitch
    base, top = section.root - section.pitch, nut_root + section.pitch
    screw = Polygon([*screw_outline(section, length), (length, base), (0, base)])
    nut = Polygon([*nut_outline(section, nut_root, nut_crest, length), (length, top), (0, top)])
    assert screw.intersection(nut).area <= 1e-6 * screw.area


@given(st.floats(0.2, 30))
def test_a_root_rounded_to_a_sixth_of_h_is_one_arc(pitch: float) -> None:
    """The 60 degree screw: flat of P/6 at 17/24 H, radius H/6 touches both flanks and the root."""
    height = fundamental_height(pitch, radians(30), radians(30))
    section = Section(pitch, radians(30), radians(30), 10 * pitch, 10 * pitch - 0.375 * height, 0.0)
    section = Section(
        pitch,
        section.near,
        section.far,
        section.crest,
        section.pitch_line,
        section.crest - 17 / 24 * height,
    )
    assert section.crest_flat == pytest.approx(pitch / 8)
    assert section.root_flat == pytest.approx(pitch / 6)
    line = screw_outline(section, pitch, height / 6)
    lowest = min(y for _, y in line)
    assert lowest == pytest.approx(section.root, abs=1e-9 * pitch)
    # The rounding takes away from the groove what lies between its corners and the arc.
    corner = (height / 6) ** 2 * (tan(radians(30)) - radians(30))
    sharp = area_under(screw_outline(section, pitch), section.root)
    rounded = area_under(line, section.root)
    # Chords of ten degrees stand for the arc.
    assert rounded - sharp == pytest.approx(2 * corner, rel=0.06)


@given(st.floats(0.1, 5), st.floats(10, 80))
def test_a_rounded_corner_stays_tangent(radius: float, angle: float) -> None:
    a, b = (-20.0, 0.0), (0.0, 0.0)
    c = (20 * sin(pi / 2 - radians(angle)), 20 * sin(radians(angle)))
    points = rounded_corner(a, b, c, radius)
    assert LineString([a, b]).distance(LineString([points[0], points[0]]).centroid) < 1e-9
    assert LineString([b, c]).distance(LineString([points[-1], points[-1]]).centroid) < 1e-9
    length = LineString(points).length
    assert length == pytest.approx(radius * radians(angle), rel=0.002)


def test_parallel_flanks_have_no_triangle() -> None:
    with pytest.raises(ValueError, match="parallel flanks never meet"):
        fundamental_height(4, 0, 0)
