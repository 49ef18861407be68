"""Stacks of blocks, the columns that hold them, and where a stack may be cut.

Only heights are looked at here; nothing is drawn.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from math import fsum

from cardgen.card.panel import Block

SLACK = 1e-6
"""Heights that differ by no more are the same [mm]."""


class LayoutError(Exception):
    """A card cannot be laid out as it should be: a fault of ours, which names the block."""


class NoRoomError(LayoutError):
    """The shape of the card is too small for its type: the template's fault, not ours."""


class TooHighError(NoRoomError):
    """A block is higher than a column and cannot be cut.

    Attributes
    ----------
    block
        Which.
    """

    def __init__(self, block: Block, why: str) -> None:
        super().__init__(why)
        self.block = block


@dataclass(frozen=True)
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
    first
        Whether nothing may stand before it.
    """

    owner: str
    heading: Block | None
    continued: Block | None
    blocks: Sequence[Block]
    anywhere: bool = False
    first: bool = False

    @cached_property
    def groups(self) -> tuple[Group, ...]:
        """Its blocks, in runs that stay together."""
        return tuple(groups_of(self.blocks))

    @cached_property
    def height(self) -> float:
        """Height of its heading and all its blocks [mm]."""
        above = self.heading.height if self.heading else 0.0
        return above + height_of(self.groups)


@dataclass(frozen=True, slots=True)
class Part:
    """A run of a stack's blocks, heading first, in one column from ``top`` on, and its height."""

    owner: str
    top: float
    blocks: tuple[Block, ...]
    height: float


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
        height = fsum(block.height for block in blocks)
        self.columns[column].append(Part(owner, self.top(column), tuple(blocks), height))

    def copy(self) -> Filling:
        """Return another filling that can be changed without changing this one."""
        return Filling(self.height, self.gap, [list(column) for column in self.columns])


@dataclass(frozen=True, slots=True)
class Group:
    """A run of blocks that may not be parted from one another, and its height [mm]."""

    blocks: tuple[Block, ...]
    height: float


def group(blocks: Iterable[Block]) -> Group:
    """Return blocks as one group."""
    run = tuple(blocks)
    return Group(run, fsum(block.height for block in run))


def groups_of(blocks: Sequence[Block]) -> list[Group]:
    """Return the groups that blocks form by what each must be kept with."""
    runs: list[list[Block]] = []
    joined = False
    for block in blocks:
        if joined:
            runs[-1].append(block)
        else:
            runs.append([block])
        joined = block.keep
    return [group(run) for run in runs]


def height_of(groups: Sequence[Group]) -> float:
    """Return the height of some groups [mm]."""
    return fsum(each.height for each in groups)


def _orphaned(here: Sequence[Group], rest: Sequence[Group]) -> bool:
    """Whether a table is cut so that one row of it stands alone, on either side."""
    head = rest[0].blocks[0].under
    if head is None:
        return False
    alone_there = len(rest) == 1 or rest[1].blocks[0].under is not head
    alone_here = here[-1].blocks[0] is head
    return alone_here or (alone_there and here[-1].blocks[0].under is head)


def _give_back(here: list[Group], rest: list[Group], parted: Group | None) -> None:
    """Move the last group to those that are left; the half of one that was cut makes it whole.

    Two halves under one another would be read as two lists.
    """
    last = here.pop()
    if parted is None:
        rest.insert(0, last)
    else:
        rest[0] = parted


def cut(
    groups: Sequence[Group], room: float, least: float, *, must: bool
) -> tuple[list[Group], list[Group]]:
    """Return the groups that go into a room and those that are left, neither of them a scrap.

    Parameters
    ----------
    room
        Height that there is [mm].
    least
        Height below which a piece is a scrap [mm].
    must
        Whether even a scrap must go in, because another column would not be higher.
    """
    here: list[Group] = []
    rest = list(groups)
    over = room
    parted: Group | None = None
    while rest:
        first = rest[0]
        if first.height <= over + SLACK:
            here.append(rest.pop(0))
            over -= first.height
            continue
        *before, last = first.blocks
        if halves := last.cut(over - (first.height - last.height)):
            here.append(group([*before, halves[0]]))
            rest[0] = group([halves[1]])
            parted = first
        break
    if not rest:
        return here, rest
    # What is left is made more of, unless that leaves more room empty than a scrap would fill.
    while len(here) > 1 and height_of(rest) < least <= height_of(here[:-1]):
        if here[-1].height > least / 2:
            break
        _give_back(here, rest, parted)
        parted = None
    while len(here) > 1 and _orphaned(here, rest):
        _give_back(here, rest, parted)
        parted = None
    if height_of(here) < least and not must:
        return [], list(groups)
    return here, rest
