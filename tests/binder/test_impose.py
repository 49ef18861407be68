"""Imposition against paper: every card once, backs behind fronts, the knife between cards."""

from __future__ import annotations

from collections import Counter
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import LineString, box

from cardgen.binder.impose import ImposeError, Piece, Side, Stand, grid, impose, paired

A4, A3, LETTER = (210.0, 297.0), (297.0, 420.0), (215.9, 279.4)
CARDS = {
    "A4": (210, 297),
    "A5": (148, 210),
    "A5 lying": (210, 148),
    "A6": (105, 148),
    "A6 lying": (148, 105),
    "A7": (74, 105),
    "half letter": (139.7, 215.9),
    "4x6": (101.6, 152.4),
    "5x8": (127, 203.2),
    "ID-1": (53.98, 85.6),
}
MARGIN = 5.0

sheets = st.sampled_from([A4, A3, LETTER])
cards = st.sampled_from(sorted(CARDS.values()))
counts = st.integers(1, 60)


def pieces(count: int) -> list[Piece]:
    """Every third card has no back."""
    made, leaf = [], 0
    for number in range(count):
        back = None if number % 3 == 2 else leaf + 1
        made.append(Piece(leaf, back))
        leaf += 1 if back is None else 2
    return made


def sides(sheet: tuple[float, float], card: tuple[float, float], count: int) -> tuple[Side, ...]:
    try:
        return impose(pieces(count), sheet, card, margin=MARGIN)
    except ImposeError:
        return ()


def rectangle(stand: Stand, card: tuple[float, float], margin: float = 0.0):
    return box(
        stand.x + margin,
        stand.y + margin,
        stand.x + card[0] - margin,
        stand.y + card[1] - margin,
    )


@given(sheets, cards, counts)
def test_every_leaf_stands_once_and_apart(sheet, card, count) -> None:
    made = sides(sheet, card, count)
    if not made:
        return
    placed = Counter(stand.leaf for side in made for stand in side.stands)
    wanted = [leaf for piece in pieces(count) for leaf in (piece.front, piece.back)]
    assert placed == Counter(leaf for leaf in wanted if leaf is not None)
    for side in made:
        assert sorted((side.width, side.height)) == sorted(sheet)
        paper = box(0, 0, side.width, side.height).buffer(0.05)
        for stand in side.stands:
            assert paper.contains(rectangle(stand, card))
        for one, other in combinations(side.stands, 2):
            assert rectangle(one, card).intersection(rectangle(other, card)).area < 1e-6


@given(sheets, cards, counts)
def test_backs_lie_behind_their_fronts_and_turn_like_a_page(sheet, card, count) -> None:
    made = sides(sheet, card, count)
    where = {
        stand.leaf: (number, side, stand)
        for number, side in enumerate(made)
        for stand in side.stands
    }
    for piece in pieces(count) if made else []:
        if piece.back is None:
            continue
        front_side, side, front = where[piece.front]
        back_side, _, back = where[piece.back]
        assert front_side % 2 == 0, "fronts are printed first"
        assert back_side == front_side + 1

        def through(x: float, y: float, side: Side = side) -> tuple[float, float]:
            """Where a point of the back is seen from the front, the paper being held to the light.

            The sheet was turned over its long edge: an upright one left for right, a lying one
            top for bottom.
            """
            lying = side.width > side.height
            return (x, side.height - y) if lying else (side.width - x, y)

        w, h = card
        # The back's own top left and bottom right corner, as one reads it.
        corners = [(back.x, back.y), (back.x + w, back.y + h)]
        own = corners[::-1] if back.turned else corners
        top_left, bottom_right = (through(*corner) for corner in own)
        # Turned like the page of a book: its left lies behind the front's right.
        assert top_left == pytest.approx((front.x + w, front.y))
        assert bottom_right == pytest.approx((front.x, front.y + h))
        assert not front.turned


@given(sheets, cards, counts)
def test_marks_are_on_the_cuts_and_clear_of_print(sheet, card, count) -> None:
    for side in sides(sheet, card, count):
        paper = box(0, 0, side.width, side.height)
        live = [rectangle(stand, card, MARGIN) for stand in side.stands]
        for x1, y1, x2, y2 in side.cuts:
            mark = LineString([(x1, y1), (x2, y2)])
            assert mark.length > 1.0
            assert x1 == x2 or y1 == y2
            assert paper.buffer(0.05).covers(mark)
            assert all(mark.distance(part) >= 0.99 for part in live)


@given(sheets, cards, counts)
def test_every_edge_that_is_not_the_sheets_is_marked_at_both_ends(sheet, card, count) -> None:
    for side in sides(sheet, card, count):
        for stand in side.stands:
            for x in (stand.x, stand.x + card[0]):
                if 0.06 < x < side.width - 0.06:
                    along = [c for c in side.cuts if c[0] == c[2] and c[0] == pytest.approx(x)]
                    assert min(min(c[1], c[3]) for c in along) < side.height / 2
                    assert max(max(c[1], c[3]) for c in along) > side.height / 2
                    # A ruler laid along the marks is longer than the card it cuts.
                    reach = max(max(c[1], c[3]) for c in along)
                    reach -= min(min(c[1], c[3]) for c in along)
                    assert reach >= card[1] - 1e-6
            for y in (stand.y, stand.y + card[1]):
                if 0.06 < y < side.height - 0.06:
                    across = [c for c in side.cuts if c[1] == c[3] and c[1] == pytest.approx(y)]
                    reach = max(max(c[0], c[2]) for c in across)
                    reach -= min(min(c[0], c[2]) for c in across)
                    assert reach >= card[0] - 1e-6


@pytest.mark.parametrize(
    ("sheet", "card", "each"),
    [
        # By folding: halving A3 gives A4, A5, A6, A7 in turn.
        (A3, "A4", 2),
        (A4, "A4", 1),
        (A4, "A5", 2),
        (A4, "A5 lying", 2),
        (A3, "A5", 4),
        (A4, "A6", 4),
        (A4, "A6 lying", 4),
        (A4, "A7", 8),
        # Half letter is half a letter.
        (LETTER, "half letter", 2),
        (LETTER, "5x8", 2),
    ],
)
def test_as_many_as_folding_gives(sheet, card, each) -> None:
    made = grid(sheet, CARDS[card])
    assert made.columns * made.rows == each


def test_a_card_that_is_larger_than_the_sheet() -> None:
    with pytest.raises(ImposeError, match=r"210 x 297 mm does not fit a sheet of 215\.9 x 279\.4"):
        impose([Piece(0)], LETTER, CARDS["A4"], margin=MARGIN)


def test_leaves_are_paired_within_what_belongs_together() -> None:
    assert paired([3, 4, 5]) == [Piece(3, 4), Piece(5)]
    assert paired([3, 4, 5], both=False) == [Piece(3), Piece(4), Piece(5)]


def test_one_sided_sheets_have_fronts_only() -> None:
    made = impose(paired(range(9), both=False), A4, CARDS["A6"], margin=MARGIN, both=False)
    assert [len(side.stands) for side in made] == [4, 4, 1]
