"""Stacks of blocks into columns and cards: what stays together, what is cut, and where.

Only heights are looked at here; nothing is drawn. A stack that fits into one column is kept whole,
unless parting it saves a card. A longer one is cut between its blocks, and a table's head stands
again above what was cut off.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from itertools import chain
from math import ceil

from cardgen.card.panel import Block

_SLACK = 1e-6
_LEAST_PIECE = 0.15
"""Share of a column's height that a piece of a parted stack has at least."""


class LayoutError(Exception):
    """A card cannot be laid out as it should be: a fault of ours, which names the block."""


@dataclass(frozen=True, slots=True)
class Stack:
    """One panel's blocks.

    Attributes
    ----------
    owner
        The panel's name.
    heading
        Stands above the first block; ``None`` for a stack without a title.
    continued
        Stands above what is cut off.
    anywhere
        Whether it is a remark that may stand wherever room is left, the last place first.
    """

    owner: str
    heading: Block | None
    continued: Block | None
    blocks: Sequence[Block]
    anywhere: bool = False


@dataclass(frozen=True, slots=True)
class Part:
    """A run of a stack's blocks, heading first, that stands in one column from ``top`` on [mm]."""

    owner: str
    top: float
    blocks: tuple[Block, ...]

    @property
    def height(self) -> float:
        """Height of all its blocks [mm]."""
        return sum(block.height for block in self.blocks)


@dataclass(slots=True)
class Filling:
    """Columns in reading order, those of the first card first, and how full they are.

    Parameters
    ----------
    height
        Of a column [mm].
    gap
        Clear space between two parts in a column [mm].
    """

    height: float
    gap: float
    columns: list[list[Part]] = field(default_factory=list)

    def top(self, column: int) -> float:
        """Return where the next part of a column would begin [mm]."""
        if column >= len(self.columns) or not self.columns[column]:
            return 0.0
        last = self.columns[column][-1]
        return last.top + last.height + self.gap

    def room(self, column: int) -> float:
        """Return the height that is left in a column [mm]."""
        return self.height - self.top(column)

    def put(self, column: int, owner: str, blocks: Sequence[Block]) -> None:
        """Let blocks stand in a column, under what is there."""
        while len(self.columns) <= column:
            self.columns.append([])
        self.columns[column].append(Part(owner, self.top(column), tuple(blocks)))

    def copy(self) -> Filling:
        """Return another filling that can be changed without changing this one."""
        return Filling(self.height, self.gap, [list(column) for column in self.columns])


def fill(
    stacks: Sequence[Stack], per_card: int, height: float, gap: float
) -> list[list[tuple[Part, ...]]]:
    """Return the cards, each a list of its columns.

    Five ways are tried, the most natural to read first, and the first one that needs the fewest
    cards is taken: never back to an earlier column; back on the same card; parting even a stack
    that fits a column, if all of it comes onto one card; every stack straight after the one
    before it, cut where a column ends; and the same with short stacks back on the same card.

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
    best: Filling | None = None
    remarks = [stack for stack in stacks if stack.anywhere]
    stacks = [stack for stack in stacks if not stack.anywhere]
    total = sum(block.height for stack in stacks for block in stack.blocks)
    fewest = ceil(total / height / per_card)
    ways: tuple[Callable[[], Filling], ...] = (
        lambda: _filled(stacks, per_card, height, gap, back=False, parting=False),
        lambda: _filled(stacks, per_card, height, gap, back=True, parting=False),
        lambda: _filled(stacks, per_card, height, gap, back=True, parting=True),
        lambda: _in_a_row(stacks, per_card, height, gap, back=False),
        lambda: _in_a_row(stacks, per_card, height, gap, back=True),
    )
    for way in ways:
        tried = way()
        if best is None or _cards(tried, per_card) < _cards(best, per_card):
            best = tried
        if _cards(best, per_card) <= fewest:
            break
    best = best or Filling(height, gap)
    for stack in remarks:
        tall = _height([stack.blocks]) - _SLACK
        roomy = [k for k in range(_cards(best, per_card) * per_card) if tall <= best.room(k)]
        best = _poured(best, stack, roomy[-1] if roomy else len(best.columns))
    columns = best.columns or [[]]
    return [
        [tuple(column) for column in columns[start : start + per_card]]
        for start in range(0, len(columns), per_card)
    ]


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
        total = sum(block.height for block in whole)
        if total <= height + _SLACK:
            column = first
            while total > filling.room(column) + _SLACK:
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
        tall = _height([whole]) - _SLACK
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


def _groups(blocks: Sequence[Block]) -> list[list[Block]]:
    """Return runs of blocks that may not be parted from one another."""
    groups: list[list[Block]] = []
    joined = False
    for block in blocks:
        if joined:
            groups[-1].append(block)
        else:
            groups.append([block])
        joined = block.keep
    return groups


def _poured(filling: Filling, stack: Stack, start: int) -> Filling:
    """Return the filling with a stack poured in, from a column on, cut where a column ends."""
    result = filling.copy()
    column = start
    above = stack.heading
    groups = _groups(stack.blocks)
    while groups:
        part: list[Block] = [above] if above else []
        head = groups[0][0].under
        if head is not None and above is stack.continued:
            part.append(head)
        fresh = result.top(column) == 0.0
        room = result.room(column) - _height([part])
        here, rest = _cut(groups, room, _LEAST_PIECE * filling.height, must=fresh)
        if here:
            result.put(column, stack.owner, [*part, *chain.from_iterable(here)])
            groups, above = rest, stack.continued
        elif fresh:
            tall = _height([part, groups[0]])
            msg = f"{stack.owner}: a piece of {tall:.1f} mm is higher than a column, {room:.1f} mm"
            raise LayoutError(msg)
        # What goes on does so in the next column that has room for some of it.
        column += 1
    return result


def _cut(
    groups: Sequence[list[Block]], room: float, least: float, *, must: bool
) -> tuple[list[list[Block]], list[list[Block]]]:
    """Return the groups that go into a room and those that are left, neither of them a scrap.

    Parameters
    ----------
    least
        Height below which a piece is a scrap [mm].
    must
        Whether even a scrap must go in, because another column would not be higher.
    """
    here: list[list[Block]] = []
    rest = list(groups)
    while rest:
        *before, last = rest[0]
        over = room - _height(here) - _height([before])
        if last.height <= over + _SLACK:
            here.append(rest.pop(0))
            continue
        if halves := last.cut(over):
            here.append([*before, halves[0]])
            rest[0] = [halves[1]]
        break
    if not rest:
        return here, rest
    # What is left is made more of, unless that leaves more room empty than a scrap would fill.
    while len(here) > 1 and _height(rest) < least <= _height(here[:-1]):
        if _height(here[-1:]) > least / 2:
            break
        rest.insert(0, here.pop())
    if _height(here) < least and not must:
        return [], list(groups)
    return here, rest


def _height(groups: Sequence[Sequence[Block]]) -> float:
    return sum(block.height for group in groups for block in group)
