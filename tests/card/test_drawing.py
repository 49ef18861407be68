"""Drawings are to a preferred scale, and no word of them lies on a line."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from math import atan2, cos, degrees, hypot, radians, sin

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.affinity import rotate
from shapely.geometry import LineString, Point, Polygon, box

from cardgen.card.dimension import Head
from cardgen.card.drawing import Drawing, DrawingError
from cardgen.card.pen import HAIR, NARROW, WHITE, WIDE, Arc, Box, Disc, Path, Pen, Text
from cardgen.card.projection import projection_sign
from cardgen.card.scale import PREFERRED, fitting_scale, scale_written
from cardgen.card.screw import screw
from cardgen.pdf.fonts import metrics

FRAME = (10.0, 20.0, 65.0, 60.0)
PART = [(0.0, 0.0), (12.0, 0.0), (12.0, 4.0), (7.0, 4.0), (6.0, 7.0), (0.0, 7.0)]


def drawn(draw: Callable[[Drawing], None], **options: object) -> Pen:
    pen = Pen(metrics(), 7.0)
    with (
        pen.part("part", (10.0, 20.0, 75.0, 80.0)),
        Drawing(pen, FRAME, (0, 0, 12, 7), size=7.0, clear=(10, 12, 14, 12), **options) as d,  # type: ignore[arg-type]
    ):
        draw(d)
    return pen


def strays(pen: Pen) -> list[str]:
    """Return texts that a line crosses and that no white ground parts from it."""
    found = []
    for index, text in enumerate(pen.marks):
        if not isinstance(text, Text):
            continue
        width = metrics().width(text.text, text.size, text.weight)
        left = {"start": 0.0, "middle": -width / 2, "end": -width}[text.anchor]
        up, down = metrics().ascent(text.size), metrics().descent(text.size)
        flat = box(text.x + left, text.y - up, text.x + left + width, text.y + down)
        area = rotate(flat, -text.angle, origin=(text.x, text.y)).buffer(-0.2)
        grounds = [
            at
            for at, mark in enumerate(pen.marks[:index])
            if isinstance(mark, Path) and mark.fill is WHITE and Polygon(mark.points).covers(area)
        ]
        covered = max(grounds, default=-1)
        for at, mark in enumerate(pen.marks):
            if at < covered or isinstance(mark, Text) or mark.stroke is None:
                continue
            if shape(mark).intersects(area):
                found.append(f"{text.text} on {mark}")
    return found


def shape(mark: Path | Disc | Arc) -> LineString:
    if isinstance(mark, Path):
        points = [*mark.points, mark.points[0]] if mark.closed else mark.points
        return LineString(points)
    if isinstance(mark, Disc):
        return Point(mark.x, mark.y).buffer(mark.radius).exterior
    turns = [radians(mark.start + mark.extent * k / 40) for k in range(41)]
    return LineString(
        [(mark.x + mark.radius * cos(t), mark.y - mark.radius * sin(t)) for t in turns]
    )


def busy(d: Drawing) -> None:
    d.section(PART)
    d.centre_line((-1, 3), (13, 3))
    d.hidden([(2, 0), (2, 7)])
    d.horizontal((0, 7), (6, 7), "6.00", 5)
    d.horizontal((0, 7), (0.4, 7), "0.40", 9)
    d.horizontal((0, 0), (12, 0), "12.000", -6)
    d.vertical((12, 0), (12, 4), "4.00", 5)
    d.vertical((0, 0), (0, 7), "7.000 0/−0.05", -5)
    d.aligned((7, 4), (6, 7), "3.16", 4)
    d.angle((7, 4), 0, 108.4, "108°", 6)
    d.leader((6, 7), "R 0.25", toward=60)
    d.leader((9, 2), "hardened\nand ground", toward=-60, end="dot")
    d.label((3, 3), "1")


def test_no_word_lies_on_a_line_or_on_another_word() -> None:
    pen = drawn(busy)
    assert strays(pen) == []
    words = [box_ for box_ in pen.boxes if box_.kind == "text"]
    for number, one in enumerate(words):
        assert one.inside(Box(10, 20, 75, 80, "part", ""))
        for other in words[number + 1 :]:
            assert not one.overlaps(other, 0.0)


@settings(max_examples=60)
@given(
    st.lists(
        st.tuples(
            st.floats(0, 12), st.floats(0, 12), st.sampled_from([-10, -6, 5, 9]), st.booleans()
        ),
        min_size=1,
        max_size=5,
    )
)
def test_any_dimensions_keep_clear(wanted: list[tuple[float, float, int, bool]]) -> None:
    def draw(d: Drawing) -> None:
        d.section(PART)
        for p, q, offset, upright in wanted:
            if abs(p - q) < 0.05:
                continue
            if upright:
                d.vertical((12, p * 7 / 12), (12, q * 7 / 12), f"{abs(p - q):.3f}", offset)
            else:
                d.horizontal((p, 7), (q, 7), f"{abs(p - q):.3f}", offset)

    pen = drawn(draw)
    words = [box_ for box_ in pen.boxes if box_.kind == "text"]
    assert not any(a.overlaps(b, 0.0) for n, a in enumerate(words) for b in words[n + 1 :])


def test_a_drawing_that_is_full_says_which_word_has_no_place() -> None:
    def draw(d: Drawing) -> None:
        for number in range(400):
            d.label((6, 3), f"label {number}")

    with pytest.raises(DrawingError, match="no clear place for 'label"):
        drawn(draw)


def test_a_part_too_large_for_the_scale_asked_for_is_refused() -> None:
    with pytest.raises(DrawingError, match="do not fit"):
        drawn(lambda d: None, scale=Fraction(10))


@given(
    st.floats(0.01, 500),
    st.floats(0.01, 500),
    st.floats(25, 130),
    st.floats(25, 130),
)
def test_the_scale_is_the_largest_preferred_one_that_fits(
    across: float, up: float, width: float, height: float
) -> None:
    extent, clear = (0.0, 0.0, across, up), (2.0, 3.0, 4.0, 5.0)
    fits = [s for s in PREFERRED if across * s <= width - 6 and up * s <= height - 8]
    assert fitting_scale(extent, width, height, clear) == max(fits)


def test_scales_are_those_of_iso_5455() -> None:
    """ISO 5455:1979, table: enlargements 50:1 20:1 10:1 5:1 2:1, reductions 1:2 to 1:100."""
    written = [scale_written(scale) for scale in PREFERRED]
    assert " ".join(written[1:-1]) == "50:1 20:1 10:1 5:1 2:1 1:1 1:2 1:5 1:10 1:20 1:50"
    assert (written[0], written[-1]) == ("100:1", "1:100")


def test_a_length_is_drawn_to_scale() -> None:
    pen = drawn(lambda d: d.outline([(0, 0), (12, 0)]), scale=Fraction(2))
    (path,) = [mark for mark in pen.marks if isinstance(mark, Path)]
    (x1, y1), (x2, y2) = path.points
    assert hypot(x2 - x1, y2 - y1) == pytest.approx(24.0)
    assert path.width == WIDE


def test_up_on_the_part_is_up_on_the_card() -> None:
    pen = drawn(lambda d: d.thin([(0, 0), (0, 5)]))
    (path,) = [mark for mark in pen.marks if isinstance(mark, Path)]
    assert path.points[1][1] < path.points[0][1]
    assert path.width == NARROW


@given(st.floats(0, 360))
def test_arrowheads_are_filled_points_of_18_degrees(turn: float) -> None:
    toward = (cos(radians(turn)), -sin(radians(turn)))
    tip, left, right = Head((3.0, 4.0), toward).corners
    a = atan2(left[1] - tip[1], left[0] - tip[0])
    b = atan2(right[1] - tip[1], right[0] - tip[0])
    spread = abs((degrees(a - b) + 180) % 360 - 180)
    assert spread == pytest.approx(18.0)
    back = ((left[0] + right[0]) / 2, (left[1] + right[1]) / 2)
    assert (tip[0] - back[0]) * toward[0] + (tip[1] - back[1]) * toward[1] > 0


def test_arrowheads_touch_what_they_measure() -> None:
    pen = drawn(lambda d: d.horizontal((0, 7), (12, 7), "12.0", 5), scale=Fraction(2))
    heads = [m for m in pen.marks if isinstance(m, Path) and m.fill is not None and m.closed]
    tips = sorted(head.points[0][0] for head in heads)
    assert tips[1] - tips[0] == pytest.approx(24.0)


@pytest.mark.parametrize(("projection", "circles_first"), [("first", False), ("third", True)])
def test_the_projection_sign_has_its_circles_on_the_right_side(
    projection: str, circles_first: bool
) -> None:
    """ISO 5456-2:1996, figures 3 and 6: small end of the cone on the left in both."""
    pen = Pen(metrics(), 7.0)
    projection_sign(pen, 0.0, 0.0, 6.0, projection)  # type: ignore[arg-type]
    (cone,) = [m for m in pen.marks if isinstance(m, Path) and m.closed]
    discs = [m for m in pen.marks if isinstance(m, Disc)]
    middle = sum(x for x, _ in cone.points) / 4
    assert all((disc.x < middle) == circles_first for disc in discs)
    left, right = min(x for x, _ in cone.points), max(x for x, _ in cone.points)
    tall = {x: [y for px, y in cone.points if px == x] for x in (left, right)}
    assert max(tall[left]) - min(tall[left]) < max(tall[right]) - min(tall[right])


def test_a_screw_is_drawn_by_the_convention_of_iso_6410() -> None:
    pen = Pen(metrics(), 7.0)
    screw(pen, 10.0, 60.0, 20.0, 26.0)
    lines = [mark for mark in pen.marks if isinstance(mark, Path)]
    roots = [m for m in lines if m.width == NARROW and not m.dash]
    assert sorted(m.points[0][1] for m in roots) == pytest.approx([21.0, 25.0])
    for root in roots:
        # Not less than two wide lines, nor than 0.7 mm, from the crest.
        away = min(root.points[0][1] - 20.0, 26.0 - root.points[0][1])
        assert away >= max(2 * WIDE, 0.7)
        assert [x for x, _ in root.points] == [10.0, 60.0]
    limits = [m for m in lines if m.width == WIDE]
    assert sorted(m.points[0][0] for m in limits) == [10.0, 60.0]
    (axis,) = (m for m in lines if m.dash)
    assert {y for _, y in axis.points} == {23.0}
    assert axis.points[0][0] < 10.0 < 60.0 < axis.points[1][0]


def test_the_lines_of_a_drawing_are_of_one_group() -> None:
    # ISO 128-2: two widths, as two to one, from the series 0.13 0.18 0.25 0.35 0.5 0.7.
    assert pytest.approx(2.0) == WIDE / NARROW
    assert {WIDE, NARROW, HAIR} <= {0.13, 0.18, 0.25, 0.35, 0.5, 0.7}


def test_larger_words_stand_farther_out() -> None:
    levels = []
    for grow in (1.0, 1.5):
        pen = Pen(metrics(), 7.0)
        frame, clear = (0, 0, 60, 60), (5, 5, 5, 20)
        with Drawing(pen, frame, (0, 0, 10, 6), size=7.0 * grow, clear=clear, grow=grow) as d:
            d.horizontal((0, 0), (10, 0), "10", -8.0)
        levels.append(max(m.points[0][1] for m in pen.marks if isinstance(m, Path) and not m.fill))
    assert levels[1] > levels[0] + 3.0
