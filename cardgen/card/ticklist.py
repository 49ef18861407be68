"""Settings to be ticked off: equal rows in columns side by side, each column read down."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import fsum

from cardgen.card.grid import tick_box
from cardgen.card.panel import Block
from cardgen.card.pen import NARROW, POINT, TINT, Pen, Weight
from cardgen.core.words import Said

_BETWEEN = 2.6
"""Between two columns, a rule in its middle [mm]."""
_AFTER_NUMBER = 1.4
_AIR = 0.45
"""Above and below the letters of a setting [mm]."""
_WITH_DESCENDERS = 1.12
"""Height of a row that has the figures in its middle and room for a comma under them [em]."""
_LEAST_TICK = 3.2
"""Side of the box to tick [mm]."""
_LEAST_ROWS = 2
"""Rows that stand together where a list is cut."""
_MOST = 3
"""Columns side by side; more are not read down any longer."""
_EDGE = 0.6
"""Clear space at both ends of a row [mm]."""

Run = tuple[str, float, Weight]
"""A piece of a setting, its type size [pt] and weight."""


@dataclass(frozen=True, slots=True)
class TickList:
    """Rows of a number, a setting in the dial size and a box; it may be cut between rows.

    Attributes
    ----------
    body, dial
        Type sizes [pt].
    rows
        Number and setting of each.
    across
        How many columns stand side by side.
    number_width
        Of the widest number [mm].
    under
        As for any block.
    """

    body: float
    dial: float
    rows: Sequence[tuple[str, str]]
    across: int
    number_width: float
    under: Block | None = None
    keep: bool = False

    @property
    def each(self) -> float:
        """Height of a row [mm]: the letters' own height, and air."""
        em = self.dial * POINT
        return max(em + 2 * _AIR, _WITH_DESCENDERS * em)

    @property
    def deep(self) -> int:
        """How many rows stand under one another."""
        return -(-len(self.rows) // self.across)

    @property
    def height(self) -> float:
        """Height of the list [mm]."""
        return self.deep * self.each

    def cut(self, room: float) -> tuple[Block, Block] | None:
        """Return the rows that fit a height [mm] and the others, at least two deep each."""
        deep = min(int(room / self.each), self.deep - _LEAST_ROWS)
        if deep < _LEAST_ROWS:
            return None
        there = deep * self.across
        return replace(self, rows=self.rows[:there]), replace(self, rows=self.rows[there:])

    def draw(self, pen: Pen, x: float, y: float, width: float) -> None:
        """Draw with the top left corner at (x, y): the first column, the second, and so on."""
        column = (width - (self.across - 1) * _BETWEEN) / self.across
        for k in range(1, self.deep, 2):
            top = y + k * self.each
            pen.rect(x, top, x + width, top + self.each, stroke=None, fill=TINT)
        for place in range(1, self.across):
            middle = x + place * (column + _BETWEEN) - _BETWEEN / 2
            pen.line(middle, y, middle, y + self.height, width=NARROW)
        for k, (number, setting) in enumerate(self.rows):
            left = x + k // self.deep * (column + _BETWEEN)
            with pen.tag("P"):
                self._row(pen, left, y + k % self.deep * self.each, column, number, setting)

    def _row(self, pen: Pen, x: float, y: float, width: float, number: str, setting: str) -> None:
        # Figures have no descenders: they stand in the middle of the row by their own height.
        base = y + (self.each + pen.metrics.ascent(self.dial)) / 2
        at = x + _EDGE + self.number_width
        pen.text(at, base, number, self.body, anchor="end")
        at += _AFTER_NUMBER
        for text, size, weight in runs(pen.words.say(setting), self.body, self.dial):
            at += pen.text(at, base, text, size, weight=weight)
        side = max(_LEAST_TICK, self.body * POINT)
        tick_box(pen, x + width - _EDGE - side, y + (self.each - side) / 2, side)


def runs(setting: str, body: float, dial: float) -> Iterator[Run]:
    """Give the numbers of a setting in the dial size and the words between them in the body's.

    The setting is in the reader's language already.

    Examples
    --------
    >>> [text for text, _, _ in runs("1 turn + 21", 9.0, 14.0)]
    ['1', ' turn + ', '21']
    """
    for run in re.split(r"(\d+(?:[.,]\d+)?)", setting):
        if run:
            large = run[0].isdigit()
            yield Said(run), dial if large else body, "bold" if large else "regular"


def tick_list(
    pen: Pen,
    width: float,
    body: float,
    dial: float,
    rows: Sequence[tuple[str, str]],
    wished: float | None = None,
) -> TickList:
    """Return a list of settings in as many columns as the width holds [mm].

    Parameters
    ----------
    body, dial
        Type sizes [pt].
    rows
        Number and setting of each, such as ``("12", "1 turn + 21")``.
    wished
        A larger size for the numbers, which they have as far as it costs no column [pt].
    """
    number = max(pen.width(number, body) for number, _ in rows)
    across = _across(pen, width, body, dial, number, rows)
    size = max(dial, wished or dial)
    while size > dial and _across(pen, width, body, size, number, rows) < across:
        size = max(dial, size - 1.0)
    return TickList(body, size, rows, across, number)


def _across(
    pen: Pen,
    width: float,
    body: float,
    dial: float,
    number: float,
    rows: Sequence[tuple[str, str]],
) -> int:
    """Return how many columns a width holds, all rows on one line."""
    said = [pen.words.say(setting) for _, setting in rows]
    setting = max(fsum(pen.width(*run) for run in runs(text, body, dial)) for text in said)
    tick = max(_LEAST_TICK, body * POINT)
    needed = 2 * _EDGE + number + 2 * _AFTER_NUMBER + setting + tick
    return min(max(int((width + _BETWEEN) / (needed + _BETWEEN)), 1), _MOST)
