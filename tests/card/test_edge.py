"""What is drawn on a card's edge stays on the edge: trim marks on the cut, holes where punched."""

from __future__ import annotations

from dataclasses import replace
from math import hypot

import pytest

from cardgen.card.edge import draw_edge
from cardgen.card.marks import Arc, Disc, Path, reach
from cardgen.card.pen import Pen
from cardgen.card.place import arrange, live_area
from cardgen.pdf.fonts import metrics
from cardgen.spec.job import Hole
from tests.card.synthetic import A5, A6, Shape, panels, view

TWO = (Hole(12.0, 65.0, 6.0), Hole(12.0, 145.0, 6.0))
PUNCHED = replace(A5, taken=(17.0, 0.0, 0.0, 0.0), holes=TWO)


def drawn(shape: Shape) -> Pen:
    pen = Pen(metrics(), shape.small)
    draw_edge(pen, shape)
    return pen


def test_holes_are_circles_of_their_size_with_a_cross() -> None:
    marks = drawn(PUNCHED).marks
    discs = [mark for mark in marks if isinstance(mark, Disc)]
    assert [(d.x, d.y, 2 * d.radius) for d in discs] == [(12.0, 65.0, 6.0), (12.0, 145.0, 6.0)]
    assert len([mark for mark in marks if isinstance(mark, Path)]) == 4


@pytest.mark.parametrize("trim", ["corners", "outline"])
@pytest.mark.parametrize("corners", [0.0, 3.0])
def test_trim_marks_lie_on_the_cut_and_outside_the_live_area(trim: str, corners: float) -> None:
    shape = replace(A6, trim=trim, corners=corners)
    live = live_area(shape)
    marks = drawn(shape).marks
    assert marks
    for mark in marks:
        assert isinstance(mark, (Path, Arc))
        left, top, right, bottom = reach(mark)
        assert min(left, top) >= 0.0
        assert right <= shape.width
        assert bottom <= shape.height
        # A straight line hugs one side; a corner's arc touches two.
        near = [left < 0.2, top < 0.2, right > shape.width - 0.2, bottom > shape.height - 0.2]
        assert sum(near) >= (2 if isinstance(mark, Arc) else 1)
        if isinstance(mark, Path):
            assert (
                left >= live.right or right <= live.left or bottom <= live.top or top >= live.bottom
            )
    if corners:
        arcs = [mark for mark in marks if isinstance(mark, Arc)]
        assert len(arcs) == 4
        # No corner of the live area lies beyond its arc.
        for arc in arcs:
            x = live.left if arc.x < shape.width / 2 else live.right
            y = live.top if arc.y < shape.height / 2 else live.bottom
            outside = (x - arc.x) * (arc.x - shape.width / 2) > 0
            assert not outside or hypot(x - arc.x, y - arc.y) <= arc.radius


def test_a_card_without_trim_or_holes_has_no_edge() -> None:
    assert drawn(A5).marks == []


def test_print_keeps_clear_of_holes() -> None:
    for page in arrange(view(PUNCHED), PUNCHED, metrics(), panels()).pages:
        assert min(box.left for box in page.boxes) >= 17.0 - 1e-6
