"""The flow puts every block somewhere, whole, in order, and in as few cards as it can see."""

from __future__ import annotations

from collections.abc import Sequence

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardgen.card.flow import fill
from cardgen.card.pen import Pen
from cardgen.card.piece import Draw, Piece, running
from cardgen.card.stack import LayoutError, Part, Stack, cut, groups_of
from cardgen.pdf.fonts import metrics

HEIGHT = 100.0
GAP = 3.0


def blank(pen: Pen, x: float, y: float, width: float) -> None:
    return None


@st.composite
def stacks(draw: st.DrawFn) -> list[Stack]:
    made = []
    for name in range(draw(st.integers(1, 7))):
        heading = Piece(6.0, blank, keep=True)
        again = Piece(6.0, blank, keep=True)
        head = Piece(4.0, blank, keep=True)
        blocks = [head] if draw(st.booleans()) else []
        for _ in range(draw(st.integers(1, 25))):
            height = draw(st.floats(0.5, 25.0))
            keep = draw(st.integers(0, 9)) == 0
            blocks.append(Piece(height, blank, keep=keep, under=head if blocks else None))
        made.append(Stack(f"panel {name}", heading, again, blocks))
    return made


def parts(cards: list[list[tuple[Part, ...]]]) -> list[Part]:
    return [part for card in cards for column in card for part in column]


def whole(stack: Stack) -> float:
    assert stack.heading is not None
    return stack.heading.height + sum(block.height for block in stack.blocks)


@given(stacks(), st.integers(1, 3))
def test_every_block_stands_once_and_in_order(made: list[Stack], per_card: int) -> None:
    try:
        cards = fill(made, per_card, HEIGHT, GAP)
    except LayoutError:
        # Only a run that may not be parted can be too high: blocks alone are 25 mm at most.
        assert any(block.keep for stack in made for block in stack.blocks)
        return
    for stack in made:
        mine = [part for part in parts(cards) if part.owner == stack.owner]
        furniture = [stack.heading, stack.continued, *(b.under for b in stack.blocks)]
        repeated = [f for f in furniture if f is not None and f is not stack.blocks[0]]
        got = [b for part in mine for b in part.blocks]
        # The head that opens the stack's own blocks may come again; take its repeats away.
        seen: list[object] = []
        for part in mine:
            for block in part.blocks:
                first = block is stack.blocks[0] and not any(s is block for s in seen)
                if first or not any(block is r for r in [*repeated, stack.blocks[0]]):
                    seen.append(block)
        assert [id(b) for b in seen] == [id(b) for b in stack.blocks], got
        if whole(stack) <= HEIGHT and len(mine) > 1:
            # Parted to save a card: what begins below something else is not a scrap.
            assert mine[0].top == 0.0 or mine[0].height >= 0.15 * HEIGHT
        for part in mine[1:]:
            assert part.blocks[0] is stack.continued
            below = part.blocks[1]
            if stack.blocks[0] in furniture:
                assert below is stack.blocks[0]


@given(stacks(), st.integers(1, 3))
def test_no_part_leaves_its_column_or_meets_another(made: list[Stack], per_card: int) -> None:
    try:
        cards = fill(made, per_card, HEIGHT, GAP)
    except LayoutError:
        return
    for card in cards:
        assert len(card) <= per_card
        for column in card:
            end = -GAP
            for part in column:
                assert part.top >= end + GAP - 1e-6
                end = part.top + part.height
                assert end <= HEIGHT + 1e-6
                last = next(stack for stack in made if stack.owner == part.owner).blocks[-1]
                assert part.blocks[-1] is last or not part.blocks[-1].keep


@given(stacks(), st.integers(1, 3))
def test_no_more_cards_than_one_column_a_piece(made: list[Stack], per_card: int) -> None:
    try:
        cards = fill(made, per_card, HEIGHT, GAP)
    except LayoutError:
        return
    area = sum(whole(stack) for stack in made)
    assert len(cards) >= area / (HEIGHT * per_card) - 1e-9
    # Cut at every block a column would still be at least half full.
    longest = sum(2 + int(whole(stack) / (HEIGHT / 2)) for stack in made)
    assert len(cards) <= longest


def test_short_panels_go_back_to_an_open_column_when_that_saves_a_card() -> None:
    def panel(name: str, height: float) -> Stack:
        return Stack(name, Piece(5, blank), Piece(5, blank), [Piece(height, blank)])

    made = [panel("a", 40), panel("b", 80), panel("c", 30)]
    cards = fill(made, 2, HEIGHT, GAP)
    assert len(cards) == 1
    assert [part.owner for part in cards[0][0]] == ["a", "c"]


def test_panels_that_fit_are_kept_whole_where_that_costs_no_card() -> None:
    def panel(name: str) -> Stack:
        return Stack(name, None, None, [Piece(30, blank), Piece(30, blank)])

    cards = fill([panel("a"), panel("b")], 2, HEIGHT, GAP)
    assert [[len(column) for column in card] for card in cards] == [[1, 1]]


def test_parting_over_one_card_saves_the_next() -> None:
    def panel(name: str) -> Stack:
        return Stack(name, None, None, [Piece(30, blank), Piece(30, blank)])

    cards = fill([panel("a"), panel("b"), panel("c")], 2, HEIGHT, 0.0)
    assert len(cards) == 1
    assert [part.owner for part in cards[0][0]] == ["a", "c"]
    assert [part.owner for part in cards[0][1]] == ["b", "c"]


def test_a_block_higher_than_a_column_is_named() -> None:
    with pytest.raises(LayoutError, match=r"tool.*higher than a column"):
        fill([Stack("tool", None, None, [Piece(HEIGHT + 1, blank)])], 2, HEIGHT, GAP)


def test_nothing_to_show_is_one_empty_card() -> None:
    assert fill([], 2, HEIGHT, GAP) == [[()]]


class Rows:
    """A list of equal rows that can be cut anywhere."""

    keep = False
    under = None

    def __init__(self, count: int) -> None:
        self.count = count

    @property
    def height(self) -> float:
        return 10.0 * self.count

    def draw(self, pen: Pen, x: float, y: float, width: float) -> None:
        return None

    def cut(self, room: float) -> tuple[Rows, Rows] | None:
        fits = int(room / 10.0)
        return (Rows(fits), Rows(self.count - fits)) if fits else None


def test_a_block_that_can_be_cut_fills_the_column() -> None:
    cards = fill([Stack("list", None, None, [Piece(25, blank, keep=True), Rows(11)])], 2, HEIGHT, 0)
    assert [[part.height for part in column] for column in cards[0]] == [[95.0], [40.0]]


def test_a_list_whose_half_is_given_back_is_one_list_again() -> None:
    """Two halves under one another, each in two columns, would be read down in a wrong order."""
    whole = Rows(4)
    groups = groups_of([Piece(90, blank), whole])
    here, rest = cut(groups, 100.0, 50.0, must=True)
    assert [each.height for each in here] == [90]
    assert [block for each in rest for block in each.blocks] == [whole]


def test_no_heading_is_left_with_a_scrap_at_the_foot_of_a_column() -> None:
    title = Piece(6, blank, keep=True)
    first = Stack("a", title, title, [Piece(80, blank)])
    second = Stack("b", title, title, [Piece(7, blank), *[Piece(20, blank)] * 6])
    cards = fill([first, second], 2, HEIGHT, 0.0)
    assert [part.owner for part in cards[0][0]] == ["a"]


def test_long_text_is_parted_two_lines_at_least_on_either_side() -> None:
    drawn: list[list[str]] = []

    def put(lines: Sequence[str]) -> Draw:
        return lambda pen, x, y, width: drawn.append(list(lines))

    text = running(["one", "two", "three", "four", "five"], 9.0, 1.0, put, keep=False)
    line = (text.height - 1.0) / 5
    assert text.cut(1.0 + 1.9 * line) is None
    for room in (2.1, 3.0, 4.9):
        halves = text.cut(1.0 + room * line)
        assert halves is not None
        assert sum(half.height for half in halves) == pytest.approx(text.height + 1.0)
        for half in halves:
            half.draw(Pen(metrics(), 7.0), 0, 0, 0)
        assert [*drawn[-2], *drawn[-1]] == ["one", "two", "three", "four", "five"]
        assert min(len(drawn[-2]), len(drawn[-1])) >= 2
