"""The search for fewer cards, where filling them as they are read does not give the fewest.

How many cards there must be is known from below: what stands on them has an area, and each panel
that does not begin a column has a gap above it (:func:`fewest`). A filling of so many cards is
proven to be the best. Otherwise :class:`Search` looks through every filling of this kind:

- columns are filled one after the other;
- a panel is put whole, or cut at the last place that fits, and then goes on at the top of the
  next column; neither of its pieces is a scrap;
- a panel may begin before others that are read before it, but it overtakes no more than
  ``_OVERTAKEN`` of them, and none is overtaken more often, so that related panels, which stand
  next to one another in a template, stay near one another; what must be read first is never
  overtaken. Fillings in reading order are looked for first, then those that differ least from it.

What a column leaves empty is lost, and there is only so much to lose for a number of cards: a
branch ends where that is used up, which is soon, or where the same panels were left before with no
more room. If no branch is left, there is no such filling on so few cards. A search that takes too
long is given up (``LONG``); then the number of cards is the best found, not proven.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import chain
from math import fsum

from cardgen.card.panel import Block
from cardgen.card.stack import SLACK, Filling, Group, Stack, cut, height_of

_OVERTAKEN = 2
"""How many panels one may overtake, and how many may overtake it."""
LONG, SHORT = 2000, 200
"""Steps after which a search is given up; the longest that a demo card needs has 1 574."""


def fewest(stacks: Sequence[Stack], per_card: int, height: float, gap: float) -> int:
    """Return how many cards the stacks need at least.

    Parameters
    ----------
    per_card
        Number of columns on a card.
    height, gap
        Of a column, and between two stacks in it [mm].
    """
    total = fsum(stack.height for stack in stacks)
    cards = 1
    while total + gap * max(0, len(stacks) - cards * per_card) > cards * per_card * height + SLACK:
        cards += 1
    return cards


@dataclass(frozen=True, slots=True)
class _Rest:
    """What is still to be put of a stack that was cut."""

    stack: Stack
    groups: tuple[Group, ...]


@dataclass(frozen=True, slots=True)
class _Move:
    """One thing to put next, or nothing, which ends the column.

    Attributes
    ----------
    number
        Of the stack among those that are left; ``None`` for nothing or for what was cut before.
    rest
        What is left of it for the next column.
    ends
        Whether the column is closed with it.
    over
        Height of what stands again above a stack that was cut before [mm].
    """

    number: int | None
    stack: Stack | None
    blocks: tuple[Block, ...]
    height: float
    rest: _Rest | None
    ends: bool
    over: float = 0.0


_Left = tuple[tuple[Stack, int], ...]
"""Stacks that are left, each with how many have overtaken it."""


class Search:
    """Looks for a filling of a number of cards.

    Parameters
    ----------
    stacks
        In the order in which they are read.
    per_card
        Columns on a card.
    height, gap
        Of a column, and between two stacks in it [mm].
    least
        Height below which a piece of a cut stack is a scrap [mm].

    Attributes
    ----------
    given_up
        Whether the last search ended before all was looked through.
    steps
        Taken in all searches so far.
    """

    def __init__(
        self, stacks: Sequence[Stack], per_card: int, height: float, gap: float, least: float
    ) -> None:
        self._stacks, self._per_card = tuple(stacks), per_card
        self._height, self._gap, self._least = height, gap, least
        self.given_up = False
        self.steps = 0

    def on(self, cards: int, steps: int = LONG) -> Filling | None:
        """Return a filling of at most so many cards, in reading order if there is one.

        Parameters
        ----------
        steps
            After which the search is given up.
        """
        self._columns = cards * self._per_card
        self._most = self.steps + steps
        self.given_up = False
        room = self._columns * self._height
        spare = room - fsum(stack.height for stack in self._stacks)
        left = tuple((stack, 0) for stack in self._stacks)
        for overtaken in range(_OVERTAKEN + 1):
            self._overtaken = overtaken
            self._lost: dict[tuple[object, ...], float] = {}
            found = self._filled(Filling(self._height, self._gap), 0, left, None, spare)
            if found is not None or self.given_up:
                return found
        return None

    def _filled(
        self,
        filling: Filling,
        column: int,
        left: _Left,
        rest: _Rest | None,
        spare: float,
    ) -> Filling | None:
        """Return the filling with all that is left put into it; ``spare`` may be lost [mm]."""
        if not left and rest is None:
            return filling
        if column >= self._columns or spare < -SLACK:
            return None
        top = filling.top(column)
        key = (
            tuple((stack.owner, overtaken) for stack, overtaken in left),
            rest and (rest.stack.owner, len(rest.groups), round(height_of(rest.groups), 3)),
            column,
            round(top, 1),
        )
        if self._lost.get(key, -1.0) >= spare:
            return None
        self.steps += 1
        if self.steps > self._most:
            self.given_up = True
            return None
        for move in self._moves(left, rest, top):
            trial, lost = filling, 0.0
            if move.stack is not None:
                trial = filling.copy()
                trial.put(column, move.stack.owner, move.blocks)
                lost += self._gap if top > 0.0 else 0.0
                lost += move.over
            if move.ends:
                lost += self._height - top - move.height
            still = left
            if move.number is not None:
                passed = tuple((stack, count + 1) for stack, count in left[: move.number])
                still = passed + left[move.number + 1 :]
            on = column + 1 if move.ends else column
            found = self._filled(trial, on, still, move.rest, spare - lost)
            if found is not None or self.given_up:
                return found
        self._lost[key] = spare
        return None

    def _moves(self, left: _Left, rest: _Rest | None, top: float) -> Iterator[_Move]:
        """Yield what may be put next, in reading order: whole, then cut; last, nothing."""
        room = self._height - top
        if rest is not None:
            above = [rest.stack.continued] if rest.stack.continued else []
            head = rest.groups[0].blocks[0].under
            again = [*above, *([head] if head else [])]
            yield from self._put(None, rest.stack, again, rest.groups, room, fresh=True)
            return
        for number, (stack, overtaken) in enumerate(left[: self._overtaken + 1]):
            above = [stack.heading] if stack.heading else []
            groups = stack.groups
            yield from self._put(number, stack, above, groups, room, fresh=top == 0.0)
            if overtaken >= self._overtaken or stack.first:
                break
        if top > 0.0:
            yield _Move(None, None, (), 0.0, None, True)

    def _put(
        self,
        number: int | None,
        stack: Stack,
        above: Sequence[Block],
        groups: tuple[Group, ...],
        room: float,
        *,
        fresh: bool,
    ) -> Iterator[_Move]:
        over = fsum(block.height for block in above)
        again = over if number is None else 0.0
        whole = over + height_of(groups)
        if whole <= room + SLACK:
            blocks = (*above, *chain.from_iterable(group.blocks for group in groups))
            yield _Move(number, stack, blocks, whole, None, False, again)
            return
        here, rest = cut(groups, room - over, self._least, must=fresh)
        if here:
            blocks = (*above, *chain.from_iterable(group.blocks for group in here))
            tall = over + height_of(here)
            yield _Move(number, stack, blocks, tall, _Rest(stack, tuple(rest)), True, again)
