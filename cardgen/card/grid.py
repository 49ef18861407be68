"""Ruled tables: column widths, a head that repeats, a block for each row."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import fsum

from cardgen.card.panel import Block
from cardgen.card.pen import HAIR, NARROW, POINT, SOFT, TINT, Anchor, Pen, Role, Weight
from cardgen.card.piece import AIR, GAP, Piece, first_base, lines_height, put_lines
from cardgen.core.words import Said, told

_EDGE = 0.7
"""Clear space at the left and right end of a table's rows [mm]."""


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a table.

    Attributes
    ----------
    title
        Head of the column; may be empty.
    align
        ``start`` (left), ``middle`` or ``end`` (right; numbers).
    stretch
        Whether it takes the room that is over and gives way, by wrapping, when room is short. If
        no column stretches, the room that is over is shared out between the columns.
    dial
        Whether its cells are numbers set by hand: written in the dial size, bold.
    bold
        Whether its cells are bold.
    tick
        Whether it holds a box to tick instead of text; its cells are not shown.
    """

    title: str
    align: Anchor = "start"
    stretch: bool = False
    dial: bool = False
    bold: bool = False
    tick: bool = False


@dataclass(frozen=True, slots=True)
class Grid:
    """A table for one width.

    Attributes
    ----------
    width
        Of the whole table [mm].
    body, dial, small
        Type sizes [pt].
    """

    pen: Pen
    width: float
    body: float
    dial: float
    small: float
    columns: Sequence[Column]

    def blocks(self, rows: Sequence[Sequence[str] | str]) -> list[Block]:
        """Return the head, if any column has a title, and a block for each row.

        A row that is a plain text becomes a band across all columns, which stays with the row
        after it. In a width that cannot hold the columns without breaking words, each row becomes
        lines of its own: its first text, and under it the others with their columns' titles.
        """
        widths = self._widths([row for row in rows if not isinstance(row, str)])
        if widths is None:
            return self._stacked(rows)
        titled = any(column.title for column in self.columns)
        head = self._head(widths) if titled else None
        made: list[Block] = [head] if head else []
        shaded = False
        for row in rows:
            if isinstance(row, str):
                made.append(self._band(row, head))
                shaded = False
            else:
                made.append(self._row(widths, row, shaded, head))
                shaded = not shaded
        return made

    def _size(self, column: Column) -> float:
        return self.dial if column.dial else self.body

    def _weight(self, column: Column) -> Weight:
        return "bold" if column.dial or column.bold else "regular"

    @property
    def _tick_side(self) -> float:
        return max(3.2, self.body * POINT)

    def _widths(self, rows: Sequence[Sequence[str]]) -> list[float] | None:
        """Return widths that fill the table; columns that stretch give way first.

        Returns nothing if words would have to be broken.
        """
        needed = [self._natural(k, rows, whole=True) for k in range(len(self.columns))]
        room = self.width - GAP * (len(self.columns) - 1) - 2 * _EDGE
        over = room - fsum(needed)
        stretching = [k for k, column in enumerate(self.columns) if column.stretch]
        if over >= 0:
            sharing = stretching or list(range(len(self.columns)))
            for k in sharing:
                needed[k] += over / len(sharing)
            return needed
        least = [self._natural(k, rows, whole=False) for k in range(len(self.columns))]
        for group in (stretching, range(len(self.columns))):
            over = self._squeeze(needed, least, group, room)
            if over >= -1e-6:
                return needed
        return None

    def _squeeze(
        self, needed: list[float], least: Sequence[float], group: Iterable[int], room: float
    ) -> float:
        """Take width from columns that can be wrapped; return the room that is then over [mm]."""
        give = {k: needed[k] - least[k] for k in group}
        total = fsum(give.values())
        if total > 0:
            share = min(1.0, (fsum(needed) - room) / total)
            for k, most in give.items():
                needed[k] -= most * share
        return room - fsum(needed)

    def _natural(self, k: int, rows: Sequence[Sequence[str]], *, whole: bool) -> float:
        """Return the width of a column's widest cell, or of its widest word [mm]."""
        column = self.columns[k]
        titles = [self.pen.width(word, self.small, "bold") for word in self._words(column.title)]
        if column.tick:
            return max([self._tick_side, *titles])
        size, weight = self._size(column), self._weight(column)
        texts = [row[k] for row in rows]
        if not whole:
            texts = [word for text in texts for word in self._words(text)]
        return max([*titles, *(self.pen.width(text, size, weight) for text in texts)], default=0.0)

    def _words(self, text: str) -> list[str]:
        """Return the words of a text as the card says it."""
        return [Said(word) for word in self.pen.words.say(text).split()]

    def _head(self, widths: Sequence[float]) -> Piece:
        titles = [
            self.pen.wrap(column.title, self.small, width + 1e-6, "bold")
            for column, width in zip(self.columns, widths, strict=True)
        ]
        deepest = max(len(lines) for lines in titles)
        height = lines_height(deepest, self.small) + 2 * AIR
        small = self.small

        def draw(pen: Pen, x: float, y: float, width: float) -> None:
            for column, place, lines in zip(
                self.columns, self._places(x, widths), titles, strict=True
            ):
                top = y + AIR + lines_height(deepest - len(lines), small)
                with pen.tag("TH"):
                    put_lines(pen, lines, place, top, small, weight="bold", anchor=column.align)
            pen.line(x, y + height, x + width, y + height, width=NARROW)

        return Piece(height, draw, keep=True, role="TR")

    def _band(self, text: str, head: Piece | None, role: Role = "TR") -> Piece:
        lines = self.pen.wrap(text, self.body, self.width - 2 * _EDGE, "bold")
        height = lines_height(len(lines), self.body) + 3 * AIR

        def draw(pen: Pen, x: float, y: float, width: float) -> None:
            with pen.tag("TH" if role == "TR" else role, columns=len(self.columns)):
                put_lines(pen, lines, x + _EDGE, y + 2 * AIR, self.body, weight="bold")
            pen.line(x, y + height, x + width, y + height, stroke=SOFT, width=HAIR)

        return Piece(height, draw, keep=True, under=head, role="TR" if role == "TR" else "P")

    def _row(
        self, widths: Sequence[float], row: Sequence[str], shaded: bool, head: Piece | None
    ) -> Piece:
        written = [(column, self._size(column), self._weight(column)) for column in self.columns]
        cells = [
            [] if column.tick else self.pen.wrap(text, size, room + 1e-6, weight)
            for (column, size, weight), room, text in zip(written, widths, row, strict=True)
        ]
        # All first lines stand on one base line, whatever their sizes.
        lead = max((size for column, size, _ in written if not column.tick), default=self.body)
        base = first_base(self.pen, lead)
        height = 2 * AIR + max(
            self._tick_side + AIR
            if column.tick
            else base - first_base(self.pen, size) + lines_height(len(lines), size)
            for (column, size, _), lines in zip(written, cells, strict=True)
        )

        def draw(pen: Pen, x: float, y: float, width: float) -> None:
            if shaded:
                pen.rect(x, y, x + width, y + height, stroke=None, fill=TINT)
            for (column, size, weight), place, lines in zip(
                written, self._places(x, widths), cells, strict=True
            ):
                with pen.tag("TD"):
                    if column.tick:
                        side = self._tick_side
                        back = {"start": 0.0, "middle": side / 2, "end": side}[column.align]
                        tick_box(pen, place - back, y + (height - side) / 2, side)
                        continue
                    top = y + AIR + base - first_base(pen, size)
                    put_lines(pen, lines, place, top, size, weight=weight, anchor=column.align)

        return Piece(height, draw, under=head, role="TR")

    def _stacked(self, rows: Sequence[Sequence[str] | str]) -> list[Block]:
        """Return each row as lines under one another, kept together."""
        made: list[Block] = []
        for row in rows:
            if isinstance(row, str):
                made.append(self._band(row, None, "H3"))
                continue
            shown = [
                (column, text)
                for column, text in zip(self.columns, row, strict=True)
                if text.strip() and not column.tick
            ]
            tick = any(column.tick for column in self.columns)
            for number, (column, text) in enumerate(shown):
                last = number == len(shown) - 1
                made.append(self._line(column, text, tick and number == 0, not last, number == 0))
        return made

    def _line(self, column: Column, text: str, tick: bool, keep: bool, first: bool) -> Piece:
        """Return one text of a stacked row, the column's title before it unless it is the first."""
        size, weight = self._size(column), self._weight(column)
        indent = 0.0 if first else 4.0
        title = "" if first or not column.title else told("{title}:", title=column.title)
        taken = 2 * _EDGE + indent + (self._tick_side + GAP if tick else 0.0)
        before = self.pen.width(title, self.small) + GAP / 2 if title else 0.0
        # A title too long to stand before its text stands above it.
        above = self.pen.width(text, size, weight) > self.width - taken - before and bool(title)
        titles = self.pen.wrap(title, self.small, self.width - taken) if above else []
        lines = self.pen.wrap(text, size, self.width - taken - (0.0 if above else before), weight)
        head = lines_height(len(titles), self.small)
        words = head + lines_height(len(lines), size)
        height = max(words, self._tick_side if tick else 0.0) + 2 * AIR

        def draw(pen: Pen, x: float, y: float, width: float) -> None:
            left, top = x + _EDGE + indent, y + AIR
            put_lines(pen, titles, left, top, self.small, ink=SOFT)
            if title and not above:
                sink = first_base(pen, size) - first_base(pen, self.small)
                put_lines(pen, [title], left, top + sink, self.small, ink=SOFT)
                left += before
            put_lines(pen, lines, left, top + head, size, weight=weight)
            if tick:
                side = self._tick_side
                tick_box(pen, x + width - _EDGE - side, y + (height - side) / 2, side)
            if not keep:
                pen.line(x, y + height, x + width, y + height, stroke=SOFT, width=HAIR)

        return Piece(height, draw, keep)

    def _places(self, x: float, widths: Sequence[float]) -> list[float]:
        """Return where each column's text is anchored."""
        places: list[float] = []
        at = x + _EDGE
        for column, room in zip(self.columns, widths, strict=True):
            places.append(at + {"start": 0.0, "middle": room / 2, "end": room}[column.align])
            at += room + GAP
        return places


def tick_box(pen: Pen, x: float, y: float, side: float) -> None:
    """Draw a box to tick, its top left corner at (x, y)."""
    pen.rect(x, y, x + side, y + side, width=NARROW)
