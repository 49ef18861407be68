"""Whole cards: nothing overlaps, nothing is cut off, nothing is too small, whatever the words."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from cardgen.card.pen import Box, Page, Path, Picture, Text
from cardgen.card.piece import Piece
from cardgen.card.place import arrange, lay_out
from cardgen.card.stack import LayoutError
from cardgen.card.table import Column, Kit
from cardgen.core.figure import Finding, Sheets
from cardgen.pdf.fonts import metrics
from tests.card.synthetic import (
    A5,
    A6,
    FACTS,
    SHAPES,
    Shape,
    figure,
    panel,
    panels,
    view,
)

LETTERS = "abcdefghij klm nop ABC 0123456789.,;:()/×°⌀⚠−†"
words = st.text(LETTERS, min_size=1, max_size=90)
long_words = st.text("WM", min_size=1, max_size=60)


def assert_whole(picture: Picture, shape: Shape) -> None:
    """Check every pair of boxes the slow way."""
    for page in picture.pages:
        live = Box(
            shape.margin,
            shape.margin,
            shape.width - shape.margin,
            shape.height - shape.margin,
            "part",
            "live",
        )
        texts = [box for box in page.boxes if box.kind == "text"]
        parts = [box for box in page.boxes if box.kind == "part"]
        assert texts
        assert parts
        for kind in (texts, parts):
            for number, one in enumerate(kind):
                assert one.inside(live)
                for other in kind[number + 1 :]:
                    assert not one.overlaps(other), (one, other)
        for text in texts:
            assert any(text.inside(part) for part in parts)
        for mark in page.marks:
            if isinstance(mark, Text):
                assert mark.size >= shape.small
            elif isinstance(mark, Path):
                for x, y in mark.points:
                    assert live.left - 0.3 <= x <= live.right + 0.3
                    assert live.top - 0.3 <= y <= live.bottom + 0.3


def texts(page: Page) -> str:
    return "\n".join(mark.text for mark in page.marks if isinstance(mark, Text))


@pytest.mark.parametrize("shape", SHAPES, ids=lambda s: f"{s.width:g}x{s.height:g}")
@pytest.mark.parametrize("rows", [0, 14, 60])
def test_the_made_up_job_is_whole(shape: Shape, rows: int) -> None:
    picture = arrange(view(shape), shape, metrics(), panels(rows))
    assert_whole(picture, shape)
    count = len(picture.pages)
    for number, page in enumerate(picture.pages, start=1):
        assert f"card {number} of {count}" in texts(page)
        assert "Tr 28 × 5 LH - 7e" in texts(page)
        assert "K7MQ-29XF" in texts(page)
    every = "\n".join(texts(page) for page in picture.pages)
    for row in range(rows):
        turns, rest = divmod(row * 7, 50)
        assert f"{turns} + {rest:02d}" in every


@settings(max_examples=40, suppress_health_check=[HealthCheck.too_slow], deadline=None)
@given(
    st.sampled_from(SHAPES),
    st.one_of(words, long_words),
    st.one_of(words, long_words),
    st.lists(st.tuples(words, st.one_of(words, long_words), words), max_size=12),
    st.lists(st.one_of(words, long_words), max_size=6),
    st.integers(0, 60),
)
def test_any_words_give_whole_cards(
    shape: Shape,
    title: str,
    note: str,
    rows: list[tuple[str, str, str]],
    warnings: list[str],
    passes: int,
) -> None:
    def blocks(view: object, pen: object, width: float) -> list[Piece]:
        kit = Kit(view, pen, width)  # type: ignore[arg-type]
        columns = [Column("Name"), Column("Long words here", stretch=True), Column("", tick=True)]
        made = [
            kit.big(title, note[:20]),
            kit.bigs(
                [(one[:12], other[:12], "") for one, other, _ in rows[:3]] or [("a", "b", "")]
            ),
            kit.item(note),
            kit.warning(note),
            *[kit.pair(*row) for row in rows],
            *kit.table(columns, [(a[:8], b, "") for a, b, _ in rows]),
        ]
        return made  # type: ignore[return-value]

    looked = view(
        shape,
        facts={**FACTS, "title": title, "note": note, "machine": title, "assumed": note},
        findings=tuple(Finding("x.y", text) for text in warnings),
        figures={f.id: f for f in (figure("thread.designation", title),)},
    )
    made = [panel(title[:30], blocks), *panels(passes)[2:3]]  # type: ignore[arg-type]
    assert_whole(arrange(looked, shape, metrics(), made), shape)


def test_a_dial_number_is_at_least_14_points_and_the_largest_in_its_panel() -> None:
    picture = arrange(view(A5), A5, metrics(), panels())
    sizes = {m.text: m.size for p in picture.pages for m in p.marks if isinstance(m, Text)}
    assert sizes["0 + 07"] >= 14.0
    assert sizes["40/60 × 50/20"] >= 14.0
    assert sizes["force"] == 9.0


def test_the_unchecked_mark_is_explained_only_where_it_is_printed() -> None:
    picture = arrange(view(A6), A6, metrics(), panels(40))
    for page in picture.pages:
        told = "not checked against the source" in texts(page).replace("\n", " ")
        assert told == ("Minor diameter†" in texts(page))


def test_warnings_come_first_and_have_a_sign() -> None:
    picture = arrange(view(A5), A5, metrics(), panels())
    first = picture.pages[0]
    owners = [box.owner for box in first.boxes if box.kind == "panel"]
    assert owners[0] == "mind"


def test_a_left_hand_is_said_in_the_head_of_every_card_and_a_right_one_is_not() -> None:
    left = arrange(view(A6), A6, metrics(), panels(40))
    assert all("LEFT HAND" in texts(page) for page in left.pages)
    figures = {**view(A6).figures, "thread.hand": figure("thread.hand", "right")}
    right = arrange(view(A6, figures=figures), A6, metrics(), panels(40))
    assert not any("LEFT HAND" in texts(page) for page in right.pages)


def test_a_panel_without_its_figures_is_left_out() -> None:
    lone = replace(panels()[0], needs=("heat.soak",))
    picture = arrange(view(A5), A5, metrics(), [lone, panels()[1]])
    assert "Turn the blank to" not in texts(picture.pages[0])
    assert "Spindle speed" in texts(picture.pages[0])


def test_lay_out_passes_over_words_without_a_panel() -> None:
    shape = replace(A5, order=("no-such-panel",))
    picture = lay_out(Sheets(()), FACTS, shape, metrics(), show=("no-such-panel",))
    assert len(picture.pages) == 1
    assert "Main screw" in texts(picture.pages[0])


@pytest.mark.parametrize("shape", SHAPES, ids=lambda s: f"{s.width:g}x{s.height:g}")
def test_a_long_note_is_cut_between_its_lines(shape: Shape) -> None:
    note = " ".join(f"word{number}" for number in range(400))
    looked = view(shape, facts={**FACTS, "note": note})
    picture = arrange(looked, shape, metrics(), panels())
    assert_whole(picture, shape)
    every = " ".join(texts(page) for page in picture.pages).replace("\n", " ")
    positions = [every.index(f"word{number}") for number in range(400)]
    assert positions == sorted(positions)


def test_a_drawing_is_made_smaller_where_a_card_is_low() -> None:
    shape = replace(A5, height=105.0)
    assert_whole(arrange(view(shape), shape, metrics(), panels()), shape)


def test_a_page_without_room_is_a_fault() -> None:
    with pytest.raises(LayoutError, match="no room"):
        arrange(view(A5), replace(A5, height=40.0), metrics(), panels())


@pytest.mark.parametrize("fault", ["overlap", "outside", "line", "part"])
def test_a_panel_that_draws_badly_is_caught_and_named(fault: str) -> None:
    def draw(pen: object, x: float, y: float, width: float) -> None:
        if fault == "overlap":
            pen.text(x, y + 4, "one", 9.0)  # type: ignore[attr-defined]
            pen.text(x + 1, y + 5, "two", 9.0)  # type: ignore[attr-defined]
        elif fault == "outside":
            pen.text(x, y + 20, "below", 9.0)  # type: ignore[attr-defined]
        elif fault == "line":
            pen.line(x, y, -5, y)  # type: ignore[attr-defined]
        else:
            pen.text(x - 9, y + 4, "left", 9.0)  # type: ignore[attr-defined]

    bad = panel("bad", lambda view, pen, width: [Piece(10.0, draw)])
    with pytest.raises(LayoutError, match="bad" if fault != "line" else "a path"):
        arrange(view(A5), A5, metrics(), [bad])
