"""The number of cards is the least that there is: an exhaustive search of small cases says so."""

from __future__ import annotations

from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cardgen.card.flow import fill, refill
from cardgen.card.pen import Pen
from cardgen.card.piece import Piece
from cardgen.card.search import Search, fewest
from cardgen.card.stack import Part, Stack

HEIGHT = 100.0
GAP = 3.0
HEAD = 6.0


def blank(pen: Pen, x: float, y: float, width: float) -> None:
    return None


def stack(name: str, heights: list[float]) -> Stack:
    head, again = Piece(HEAD, blank, keep=True), Piece(HEAD, blank, keep=True)
    return Stack(name, head, again, [Piece(height, blank) for height in heights])


@st.composite
def stacks(draw: st.DrawFn, most: int = 4) -> list[Stack]:
    # Blocks that are no scrap by themselves, so that every cut between two is allowed.
    block = st.integers(16, 60).map(float)
    return [
        stack(f"panel {number}", draw(st.lists(block, min_size=1, max_size=3)))
        for number in range(draw(st.integers(1, most)))
    ]


def columns_needed(made: list[Stack]) -> int:
    """Return the fewest columns in reading order, by trying every number of blocks in each."""
    run = [(number, block.height) for number, one in enumerate(made) for block in one.blocks]

    @cache
    def needed(at: int) -> int:
        if at == len(run):
            return 0
        best, end, top, last = len(run), at, 0.0, -1
        while end < len(run):
            owner, height = run[end]
            if owner != last:
                top += HEAD + (GAP if last >= 0 else 0.0)
            if top + height > HEIGHT + 1e-6:
                break
            top, last, end = top + height, owner, end + 1
            best = min(best, 1 + needed(end))
        return best

    return needed(0)


@settings(max_examples=150, deadline=None)
@given(stacks())
def test_a_card_of_one_column_needs_no_more_than_an_exhaustive_search_finds(
    made: list[Stack],
) -> None:
    assert len(fill(made, 1, HEIGHT, GAP)) <= columns_needed(made)


@settings(max_examples=100, deadline=None)
@given(stacks(), st.integers(1, 3))
def test_no_filling_is_below_the_bound(made: list[Stack], per_card: int) -> None:
    bound = fewest(made, per_card, HEIGHT, GAP)
    cards = fill(made, per_card, HEIGHT, GAP)
    assert bound <= len(cards)
    # The bound is the area, worked out anew.
    parts = [part for card in cards for column in card for part in column]
    filled = sum(part.height for part in parts)
    gaps = GAP * sum(max(0, len(column) - 1) for card in cards for column in card)
    assert filled + gaps <= len(cards) * per_card * HEIGHT + 1e-6


@settings(max_examples=100, deadline=None)
@given(stacks(5), st.integers(1, 2))
def test_what_the_search_finds_is_whole_and_near_the_reading_order(
    made: list[Stack], per_card: int
) -> None:
    for cards in range(fewest(made, per_card, HEIGHT, GAP), len(made) * 3 + 1):
        found = Search(made, per_card, HEIGHT, GAP, 15.0).on(cards)
        if found is not None:
            break
    assert found is not None
    assert len(found.columns) <= cards * per_card
    begun: list[str] = []
    seen: dict[str, list[Part]] = {}
    for column in found.columns:
        end = -GAP
        for part in column:
            assert part.top >= end + GAP - 1e-6
            end = part.top + part.height
            seen.setdefault(part.owner, []).append(part)
            begun += [part.owner] if part.owner not in begun else []
        assert end <= HEIGHT + 1e-6
    names = [one.owner for one in made]
    for one in made:
        blocks = [b for part in seen[one.owner] for b in part.blocks if b in one.blocks]
        assert [id(b) for b in blocks] == [id(b) for b in one.blocks]
        before = begun[: begun.index(one.owner)]
        later = [name for name in before if names.index(name) > names.index(one.owner)]
        assert len(later) <= 2


def test_a_panel_moves_up_into_a_hole_that_would_cost_a_card() -> None:
    made = [stack("a", [60.0]), stack("b", [80.0]), stack("c", [20.0])]
    cards = fill(made, 1, HEIGHT, GAP)
    assert len(cards) == 2
    assert [part.owner for part in cards[0][0]] == ["a", "c"]


def test_what_must_be_read_first_is_not_overtaken() -> None:
    first = Stack("mind", None, None, [Piece(90.0, blank)], first=True)
    cards = fill([first, stack("a", [30.0]), stack("b", [70.0])], 1, HEIGHT, GAP)
    assert cards[0][0][0].owner == "mind"


def test_a_larger_filling_is_refused_if_it_needs_another_card() -> None:
    made = [stack("a", [60.0]), stack("b", [60.0])]
    assert refill(made, 1, HEIGHT, GAP, 1) is None
    again = refill(made, 1, HEIGHT, GAP, 2)
    assert again is not None
    assert len(again) == 2


def test_a_table_leaves_no_row_alone() -> None:
    # Five of the six rows fit the first column.
    head = Piece(5.0, blank, keep=True)
    rows = [head, *(Piece(19.0, blank, under=head) for _ in range(6))]
    cards = fill([Stack("t", None, Piece(5.0, blank, keep=True), rows)], 1, HEIGHT, GAP)
    counts = [sum(b.under is head for b in part.blocks) for card in cards for part in card[0]]
    assert counts == [4, 2]


@pytest.mark.parametrize("per_card", [1, 2])
def test_blocks_that_stay_together_are_parted_only_if_no_column_holds_them(per_card: int) -> None:
    kept = [Piece(70.0, blank, keep=True), Piece(50.0, blank)]
    cards = fill([Stack("a", None, None, kept)], per_card, HEIGHT, GAP)
    assert sum(len(column) for card in cards for column in card) == 2
