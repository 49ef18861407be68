"""Stacks of blocks into columns and cards: what stays together, what is cut, and where.

Only heights are looked at here; nothing is drawn. A stack that fits into one column is kept whole,
unless parting it saves a card. A longer one is cut between its blocks, and a table's head stands
again above what was cut off.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import is_dataclass, replace
from itertools import chain
from math import fsum

from cardgen.card.panel import Block
from cardgen.card.search import LONG, SHORT, Search, fewest
from cardgen.card.stack import (
    SLACK,
    Filling,
    Group,
    Part,
    Stack,
    TooHighError,
    cut,
)

_LEAST_PIECE = 0.15
"""Share of a column's height that a piece of a parted stack has at least."""


Cards = list[list[tuple[Part, ...]]]
"""Cards, each a list of its columns."""


def fill(stacks: Sequence[Stack], per_card: int, height: float, gap: float) -> Cards:
    """Return the cards, each a list of its columns: as few cards as can be.

    Five ways are tried, the most natural to read first, and the first one that needs the fewest
    cards is taken: never back to an earlier column; back on the same card; parting even a stack
    that fits a column, if all of it comes onto one card; every stack straight after the one
    before it, cut where a column ends; and the same with short stacks back on the same card.

    If none of them comes down to the number of cards that the area of the stacks alone asks for,
    a search looks for a filling of that number, then of one more, and so on: see
    :mod:`cardgen.card.search` for what it proves.

    Parameters
    ----------
    stacks
        In the order in which they are read.
    per_card
        Number of columns on a card.
    height, gap
        As for :class:`Filling`.

    Raises
    ------
    LayoutError
        If a block is higher than a column.
    """
    enough = fewest(stacks, per_card, height, gap)
    return _dealt(_filled_on(stacks, per_card, height, gap, enough, LONG), per_card)


def refill(
    stacks: Sequence[Stack], per_card: int, height: float, gap: float, cards: int
) -> Cards | None:
    """Return a filling of so many cards at most, if one is soon found; see :func:`fill`."""
    if fewest(stacks, per_card, height, gap) > cards:
        return None
    filled = _filled_on(stacks, per_card, height, gap, cards, SHORT)
    return None if _cards(filled, per_card) > cards else _dealt(filled, per_card)


def _filled_on(
    stacks: Sequence[Stack], per_card: int, height: float, gap: float, enough: int, steps: int
) -> Filling:
    """Return the best filling that is found; nothing is looked for below ``enough`` cards."""
    stacks = [_loosened(stack, height) for stack in stacks]
    told = [stack for stack in stacks if not stack.anywhere]
    remarks = [stack for stack in stacks if stack.anywhere]
    ways: tuple[Callable[[], Filling], ...] = (
        lambda: _filled(told, per_card, height, gap, back=False, parting=False),
        lambda: _filled(told, per_card, height, gap, back=True, parting=False),
        lambda: _filled(told, per_card, height, gap, back=True, parting=True),
        lambda: _in_a_row(told, per_card, height, gap, back=False),
        lambda: _in_a_row(told, per_card, height, gap, back=True),
    )
    best: Filling | None = None
    for way in ways:
        tried = _remarked(way(), remarks, per_card)
        if best is None or _cards(tried, per_card) < _cards(best, per_card):
            best = tried
        if _cards(best, per_card) <= enough:
            return best
    best = best or Filling(height, gap)
    search = Search(told, per_card, height, gap, _LEAST_PIECE * height)
    for cards in range(enough, _cards(best, per_card)):
        found = search.on(cards, steps - search.steps)
        if found is not None:
            tried = _remarked(found, remarks, per_card)
            if _cards(tried, per_card) <= cards:
                return tried
    return best


def _dealt(filling: Filling, per_card: int) -> Cards:
    columns = filling.columns or [[]]
    return [
        [tuple(column) for column in columns[start : start + per_card]]
        for start in range(0, len(columns), per_card)
    ]


def _loosened(stack: Stack, height: float) -> Stack:
    """Return a stack whose runs of blocks all fit a column; one that is too high is parted."""
    above = max((each.height for each in (stack.heading, stack.continued) if each), default=0.0)
    if not any(_too_high(run, height - above) for run in stack.groups):
        return stack
    blocks: list[Block] = []
    for run in stack.groups:
        parted = _too_high(run, height - above)
        blocks += [_alone(block) for block in run.blocks] if parted else run.blocks
    return replace(stack, blocks=blocks)


def _too_high(run: Group, room: float) -> bool:
    """Whether blocks that should stay together do not fit a column, nor can be cut there."""
    if run.height <= room or len(run.blocks) == 1:
        return False
    *before, last = run.blocks
    return last.cut(room - fsum(block.height for block in before)) is None


def _alone(block: Block) -> Block:
    """Return a block that need not stand with the next one."""
    return replace(block, keep=False) if block.keep and is_dataclass(block) else block


def _remarked(filling: Filling, remarks: Sequence[Stack], per_card: int) -> Filling:
    """Return a filling with the remarks in the last places that have room for them."""
    for stack in remarks:
        tall = stack.height - SLACK
        roomy = [k for k in range(_cards(filling, per_card) * per_card) if tall <= filling.room(k)]
        # Within a panel that goes on in the next column it would be read as a part of that panel.
        apart = [k for k in roomy if not _goes_on(filling, k)]
        under = [k for k in apart if k < len(filling.columns)]
        places = under or apart or roomy or [len(filling.columns)]
        filling = _poured(filling, stack, places[-1])
    return filling


def _goes_on(filling: Filling, column: int) -> bool:
    """Whether what stands last in a column goes on in a later one."""
    if column >= len(filling.columns) or not filling.columns[column]:
        return False
    owner = filling.columns[column][-1].owner
    return any(part.owner == owner for later in filling.columns[column + 1 :] for part in later)


def _cards(filling: Filling, per_card: int) -> int:
    return -(-len(filling.columns) // per_card)


def _filled(
    stacks: Sequence[Stack],
    per_card: int,
    height: float,
    gap: float,
    *,
    back: bool,
    parting: bool,
) -> Filling:
    filling = Filling(height, gap)
    for stack in stacks:
        last = max(0, len(filling.columns) - 1)
        first = last - last % per_card if back else last
        whole = [*([stack.heading] if stack.heading else []), *stack.blocks]
        total = fsum(block.height for block in whole)
        if total <= height + SLACK:
            column = first
            while total > filling.room(column) + SLACK:
                column += 1
            parted = _on_last_card(filling, stack, per_card, first) if parting else None
            if parted is not None and column // per_card >= _cards(filling, per_card):
                filling = parted
            else:
                filling.put(column, stack.owner, whole)
            continue
        # Cut where it costs the fewest cards, then the fewest pieces, then as early as may be.
        tried = [_poured(filling, stack, start) for start in range(first, len(filling.columns) + 1)]
        filling = min(
            tried,
            key=lambda each: (_cards(each, per_card), sum(len(column) for column in each.columns)),
        )
    return filling


def _in_a_row(
    stacks: Sequence[Stack], per_card: int, height: float, gap: float, *, back: bool
) -> Filling:
    filling = Filling(height, gap)
    for stack in stacks:
        last = max(0, len(filling.columns) - 1)
        whole = [*([stack.heading] if stack.heading else []), *stack.blocks]
        earlier = range(last - last % per_card, last) if back else ()
        tall = stack.height - SLACK
        hole = next((column for column in earlier if tall <= filling.room(column)), None)
        if hole is None:
            filling = _poured(filling, stack, last)
        else:
            filling.put(hole, stack.owner, whole)
    return filling


def _on_last_card(filling: Filling, stack: Stack, per_card: int, first: int) -> Filling | None:
    """Return the filling with a stack parted over the last card's columns, if it holds it all."""
    cards = _cards(filling, per_card)
    for column in range(first, cards * per_card):
        if filling.room(column) < _LEAST_PIECE * filling.height:
            continue
        tried = _poured(filling, stack, column)
        pieces = [part for each in tried.columns for part in each if part.owner == stack.owner]
        if _cards(tried, per_card) == cards and all(
            part.height >= _LEAST_PIECE * filling.height for part in pieces
        ):
            return tried
    return None


def _poured(filling: Filling, stack: Stack, start: int) -> Filling:
    """Return the filling with a stack poured in, from a column on, cut where a column ends."""
    result = filling.copy()
    column = start
    above = stack.heading
    groups: Sequence[Group] = stack.groups
    while groups:
        part: list[Block] = [above] if above else []
        head = groups[0].blocks[0].under
        if head is not None and above is stack.continued:
            part.append(head)
        fresh = result.top(column) == 0.0
        over = fsum(block.height for block in part)
        room = result.room(column) - over
        here, rest = cut(groups, room, _LEAST_PIECE * filling.height, must=fresh)
        if here:
            result.put(
                column, stack.owner, [*part, *chain.from_iterable(each.blocks for each in here)]
            )
            groups, above = rest, stack.continued
        elif fresh:
            tall = over + groups[0].height
            room += over
            msg = f"{stack.owner}: a piece of {tall:.1f} mm is higher than a column, {room:.1f} mm"
            raise TooHighError(groups[0].blocks[-1], msg)
        # What goes on does so in the next column that has room for some of it.
        column += 1
    return result
