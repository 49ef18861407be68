"""The head and the foot of a card: which job this is, and how far to trust the print."""

from __future__ import annotations

from dataclasses import dataclass, field
from math import inf

from cardgen.card.panel import Block
from cardgen.card.pen import HAIR, NARROW, QUIET, SOFT, WIDE, Pen, Weight
from cardgen.card.piece import GAP, PAD, Piece, first_base, lines_height, put_lines
from cardgen.card.view import UNCHECKED, View
from cardgen.core.words import Said, joined, told

_BAR = 50.0
"""Length of the check bar [mm]."""
_SHORT_BAR = 20.0
"""Of the bar on a card that is too narrow for it."""
_TICK = 1.6
"""Height of its end marks [mm]."""
_UNDER = _TICK + 0.9
"""Where the words below it begin [mm]."""
_ABOVE = 1.0
"""Clear space between the foot's rule and what stands under it [mm]."""
_LEAST_BESIDE = 30.0
"""Width below which the foot's words stand under the bar and not beside it [mm]."""
_CELLS = (0.5, 0.45, 0.4, 0.35)
"""Sides of a symbol's cells, the least last [mm]."""
_LEAST_WITH_SYMBOL = 80.0
"""Width below which a card has no room for a symbol beside the bar and the words [mm]."""


@dataclass(frozen=True, slots=True)
class Frame:
    """What stands on every card of a job: made once, drawn on each card.

    Attributes
    ----------
    width
        Of the live area [mm].
    unchecked
        Whether the foot keeps room for the line on unchecked figures.
    low
        Whether the card is too low for all that a head and a foot say: title, machine, material
        and the check bar then stand once, before all panels.
    clear
        What is blank on the right of the foot and under it, up to the card's edge [mm].
    """

    view: View
    pen: Pen
    width: float
    unchecked: bool
    low: bool = False
    clear: float = inf
    _feet: dict[bool, Piece] = field(default_factory=dict, repr=False, compare=False)

    @property
    def space(self) -> float:
        """Clear space between the head or the foot and the columns [mm]."""
        return 1.0 if self.low else 2.0

    def left_out(self, width: float) -> list[Piece]:
        """Return what a short head and a short foot do not say, for a column's width [mm].

        It stands once, before all panels.
        """
        if not self.low:
            return []
        facts, body, small = self.view.facts, self.view.style.body, self.view.style.small
        title = facts.get("title") or facts.get("job", "")
        return [
            self._lines(title, width, body, "bold"),
            self._lines(self._told, width, body),
            self._lines(self._units, width, small),
            self._bar(_BAR if width >= _BAR else _SHORT_BAR, width),
        ]

    def _lines(self, text: str, width: float, size: float, weight: Weight = "regular") -> Piece:
        lines = self.pen.wrap(text, size, width, weight)

        def draw(pen: Pen, x: float, y: float, width: float) -> None:
            put_lines(pen, lines, x, y, size, weight=weight)

        return Piece(lines_height(len(lines), size), draw)

    def _bar(self, length: float, width: float) -> Piece:
        """Return the check bar with what must be under it."""
        pen, small = self.pen, self.view.style.small
        under = pen.wrap(self._under_bar(length, False), small, width)

        def draw(pen: Pen, x: float, y: float, width: float) -> None:
            check_bar(pen, x, y + _ABOVE, length)
            put_lines(pen, under, x, y + _ABOVE + _UNDER, small, ink=SOFT)

        return Piece(_ABOVE + _UNDER + lines_height(len(under), small) + _ABOVE, draw)

    def head(self, card: int, cards: int) -> Piece:
        """Return the head of one card; it is equally high on all of them."""
        if self.low:
            return self._short_head(card, cards)
        pen, style = self.pen, self.view.style
        facts, width = self.view.facts, self.width
        large = style.dial + 4
        named, tag = self._named, self._tag
        tag_width = pen.width(tag, style.head, "bold") + 2 * PAD if tag else 0.0
        big = pen.wrap(named, large, width - (tag_width + GAP if tag else 0.0), "bold")
        first = lines_height(len(big), large)
        # The title stands beside the designation if it fits there, else under it.
        title = facts.get("title") or facts.get("job", "")
        taken = max((pen.width(line, large, "bold") for line in big), default=0.0)
        spare = width - taken - 2 * GAP - (tag_width + GAP if tag else 0.0)
        beside = len(big) <= 1 and pen.width(title, style.head, "bold") <= spare
        titles = [title] if beside else pen.wrap(title, style.head, width, "bold")
        first = first if big else lines_height(1, style.head)
        under = 0.0 if beside else lines_height(len(titles), style.head)
        mark, widest = self._mark(card, cards), self._mark(0, 0)
        beside_mark = width - pen.width(widest, style.body, "bold") - GAP
        lines = pen.wrap(self._told, style.body, beside_mark)
        last = lines_height(max(1, len(lines)), style.body)
        height = first + under + last + 2.2

        def draw(pen: Pen, x: float, y: float, width: float) -> None:
            with pen.tag("H1"):
                put_lines(pen, big, x, y, large, weight="bold")
            base = y + first_base(pen, large)
            right = x + width
            if tag:
                up = pen.metrics.ascent(style.head)
                pen.rect(right - tag_width, base - up - PAD, right, base + PAD, width=WIDE)
                pen.text(right - PAD, base, tag, style.head, weight="bold", anchor="end")
                right -= tag_width + GAP
            if beside and big:
                pen.text(right, base, title, style.head, weight="bold", anchor="end")
            else:
                put_lines(pen, titles, x, y + (first if big else 0.0), style.head, weight="bold")
            below = y + first + under
            put_lines(pen, lines, x, below, style.body)
            put_lines(pen, [mark], x + width, below, style.body, weight="bold", anchor="end")
            rule = y + height - 1.0
            pen.line(x, rule, x + width, rule, width=2 * WIDE)

        return Piece(height, draw)

    @property
    def _named(self) -> str:
        view = self.view
        return view.written("thread.designation") if view.has("thread.designation") else ""

    @property
    def _tag(self) -> str:
        view = self.view
        left = view.has("thread.hand") and view.figures["thread.hand"].value == "left"
        return "LEFT HAND" if left else ""

    @property
    def _told(self) -> str:
        facts = self.view.facts
        told_of = (facts.get(key, "") for key in ("machine", "material", "date"))
        return joined(filter(None, told_of), " · ")

    def _mark(self, card: int, cards: int) -> str:
        """Return code and count; with the widest count for card 0, for measuring."""
        each, of = (f"{card}", f"{cards}") if card else ("00", "00")
        count = told("card {card} of {cards}", card=each, cards=of)
        code = self.view.facts.get("code", "")
        return joined([code, count], "   ") if code else count

    def _short_head(self, card: int, cards: int) -> Piece:
        """Return designation, hand, code and count, on one line if they fit."""
        pen, style, width = self.pen, self.view.style, self.width
        large, tag = style.head, self._tag
        tag_width = pen.width(tag, style.body, "bold") + 2 * PAD if tag else 0.0
        beside = tag_width + GAP if tag else 0.0
        mark = self._mark(card, cards)
        counted = pen.width(self._mark(0, 0), style.body, "bold")
        one = pen.width(self._named, large, "bold") + beside + 2 * GAP + counted <= width
        room = width - beside - (counted + 2 * GAP if one else 0.0)
        names = pen.wrap(self._named, large, room, "bold")
        first = max(lines_height(len(names), large), lines_height(1, style.body))
        height = first + (0.0 if one else lines_height(1, style.body)) + 1.2

        def draw(pen: Pen, x: float, y: float, width: float) -> None:
            with pen.tag("H1"):
                put_lines(pen, names, x, y, large, weight="bold")
            base = y + first_base(pen, large)
            if tag:
                at = x + max((pen.width(line, large, "bold") for line in names), default=0.0)
                at = at + GAP if one else x + width - tag_width
                up = pen.metrics.ascent(style.body)
                box = (at, base - up - PAD / 2, at + tag_width, base + PAD / 2)
                pen.rect(*box, width=WIDE)
                pen.text(at + PAD, base, tag, style.body, weight="bold")
            if one:
                pen.text(x + width, base, mark, style.body, weight="bold", anchor="end")
            else:
                put_lines(pen, [mark], x, y + first, style.body, weight="bold")
            rule = y + height - 0.5
            pen.line(x, rule, x + width, rule, width=2 * WIDE)

        return Piece(height, draw)

    def foot(self, *, marked: bool) -> Piece:
        """Return the foot of one card.

        Parameters
        ----------
        marked
            Whether a figure on this card bears the mark of an unchecked source.
        """
        if marked not in self._feet:
            # There are two kinds for all cards of a job: a twentieth of the layout's time.
            made = self._short_foot(marked=marked) if self.low else self._full_foot(marked)
            self._feet[marked] = made
        return self._feet[marked]

    def _full_foot(self, marked: bool) -> Piece:
        cells = [cell for cell in _CELLS if QUIET * cell <= self.clear]
        if self.view.symbol is None or not cells or self.width < _LEAST_WITH_SYMBOL:
            return self._foot(marked, self.width)
        symbol = self.view.symbol()
        across = len(symbol.rows)
        # What is blank under the symbol and on its right lies in the card's margins, what is blank
        # above it in the space between columns and foot: the foot's rule ends before it.
        made = [(self._foot(marked, self.width - (across + QUIET) * cell), cell) for cell in cells]
        # The largest cells that cost no height: they are read from farther away.
        foot, cell = min(made, key=lambda each: max(each[0].height, across * each[1]))
        height = max(foot.height, across * cell)

        def draw(pen: Pen, x: float, y: float, width: float) -> None:
            side = across * cell
            foot.drawn(pen, x, y, width - side - QUIET * cell)
            with pen.tag("Figure", f"QR: {symbol.text}"):
                pen.symbol(x + width - side, y + height - side, cell, symbol)

        return Piece(height, draw)

    def _foot(self, marked: bool, width: float) -> Piece:
        """Return bar and words in a width [mm], side by side unless they are lower stacked."""
        pen, small = self.pen, self.view.style.small
        bar = _BAR if width >= _BAR else _SHORT_BAR
        beside = width - bar - 2 * GAP

        def words(stacked: bool) -> tuple[float, bool, list[str], list[str]]:
            """Return the height, whether stacked, the words under the bar, and the others."""
            under = pen.wrap(self._under_bar(bar, stacked), small, width if stacked else bar)
            room = width if stacked else beside
            # As many lines as the fullest card of the job has, so that all feet are equally high.
            most = lines_height(len(pen.wrap(self._words(True), small, room)), small)
            left = _UNDER + lines_height(len(under), small)
            lines = pen.wrap(self._words(marked), small, room)
            return (left + most if stacked else max(left, most)), stacked, under, lines

        ways = (False, True) if beside >= _LEAST_BESIDE else (True,)
        tall, stacked, under, lines = min(map(words, ways), key=lambda way: way[0])
        left = _UNDER + lines_height(len(under), small)

        def draw(pen: Pen, x: float, y: float, width: float) -> None:
            pen.line(x, y, x + width, y, stroke=SOFT, width=HAIR)
            top = y + _ABOVE
            check_bar(pen, x, top, bar)
            put_lines(pen, under, x, top + _UNDER, small, ink=SOFT)
            place = (x, top + left) if stacked else (x + bar + 2 * GAP, top)
            put_lines(pen, lines, *place, small, ink=SOFT)

        return Piece(_ABOVE + tall, draw)

    def _short_foot(self, *, marked: bool) -> Piece:
        """Return the words that every card must have."""
        pen, small = self.pen, self.view.style.small
        lines, most = (
            pen.wrap(joined(self._musts(marked=each)), small, self.width) for each in (marked, True)
        )
        height = _ABOVE / 2 + lines_height(len(most), small)

        def draw(pen: Pen, x: float, y: float, width: float) -> None:
            pen.line(x, y, x + width, y, stroke=SOFT, width=HAIR)
            put_lines(pen, lines, x, y + _ABOVE / 2, small, ink=SOFT)

        return Piece(height, draw)

    @property
    def _made(self) -> str:
        facts = self.view.facts
        version = f"cardgen {facts['version']}" if facts.get("version") else ""
        # Names and numbers of versions have points in every language.
        return Said(" · ".join(part for part in (facts.get("file", ""), version) if part))

    @property
    def _units(self) -> str:
        return told("Lengths in {unit} unless marked.", unit="inches" if self.view.inch else "mm")

    def _under_bar(self, bar: float, one_line: bool) -> str:
        said = told("must measure {bar} mm", bar=f"{bar:g}")
        return joined([said, self._made] if self._made else [said], " · " if one_line else "\n")

    def _words(self, marked: bool) -> str:
        return joined([self._units, *self._musts(marked=marked)])

    def _musts(self, *, marked: bool) -> list[str]:
        """Return what every card must say."""
        lines = ["Local rules and licensed practice come first."]
        if marked and self.unchecked:
            lines.append(
                told("{mark}\u00a0from memory, not checked.", mark=UNCHECKED)
                if self.low
                else told(
                    "{mark}\u00a0from memory, not checked against the source.", mark=UNCHECKED
                )
            )
        return lines


def check_bar(pen: Pen, x: float, y: float, length: float) -> None:
    """Draw a bar of a known length, divided in tens, that shows whether the print is to scale.

    Its length is that between the middles of its end marks. The top left corner is at (x, y).
    """
    low = y + _TICK
    pen.line(x, low, x + length, low, width=NARROW)
    tens = int(length / 10)
    for ten in range(tens + 1):
        at = x + 10.0 * ten
        up = _TICK if ten in (0, tens) else _TICK / 2
        pen.line(at, low - up, at, low, width=NARROW)


def heading(pen: Pen, width: float, size: float, title: str, more: str = "") -> Block:
    """Return a panel's heading: a strong rule and its title.

    Parameters
    ----------
    more
        Written after the title in regular type, as ``continued``.
    """
    lines = pen.wrap(joined([title, more], ", ") if more else title, size, width, "bold")
    top = WIDE + 0.3
    height = top + lines_height(len(lines), size) + 0.4

    def draw(pen: Pen, x: float, y: float, width: float) -> None:
        pen.line(x, y + WIDE / 2, x + width, y + WIDE / 2, width=WIDE)
        put_lines(pen, lines, x, y + top, size, weight="bold")

    return Piece(height, draw, keep=True, role="H2")
