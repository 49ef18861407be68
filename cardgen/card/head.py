"""The head and the foot of a card: which job this is, and how far to trust the print."""

from __future__ import annotations

from dataclasses import dataclass

from cardgen.card.panel import Block
from cardgen.card.pen import HAIR, NARROW, SOFT, WIDE, Pen
from cardgen.card.piece import GAP, PAD, Piece, first_base, lines_height, put_lines
from cardgen.card.view import UNCHECKED, View

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


@dataclass(frozen=True, slots=True)
class Frame:
    """What stands on every card of a job: made once, drawn on each card.

    Attributes
    ----------
    width
        Of the live area [mm].
    unchecked
        Whether the foot keeps room for the line on unchecked figures.
    """

    view: View
    pen: Pen
    width: float
    unchecked: bool

    def head(self, card: int, cards: int) -> Piece:
        """Return the head of one card; it is equally high on all of them."""
        view, pen, style = self.view, self.pen, self.view.style
        facts, width = view.facts, self.width
        large = style.dial + 4
        named = view.written("thread.designation") if view.has("thread.designation") else ""
        hand = view.figures["thread.hand"].value if view.has("thread.hand") else "right"
        tag = "LEFT HAND" if hand == "left" else ""
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
        told = " · ".join(facts[key] for key in ("machine", "material", "date") if facts.get(key))
        count = f"card {card} of {cards}"
        mark = "   ".join(part for part in (facts.get("code", ""), count) if part)
        # Measured with the widest count, so that the height does not depend on it.
        widest = mark.replace(count, "card 00 of 00")
        beside_mark = width - pen.width(widest, style.body, "bold") - GAP
        lines = pen.wrap(told, style.body, beside_mark)
        last = lines_height(max(1, len(lines)), style.body)
        height = first + under + last + 2.2

        def draw(pen: Pen, x: float, y: float, width: float) -> None:
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

    def foot(self, *, marked: bool) -> Piece:
        """Return the foot of one card.

        Parameters
        ----------
        marked
            Whether a figure on this card bears the mark of an unchecked source.
        """
        pen, small = self.pen, self.view.style.small
        bar = _BAR if self.width >= _BAR else _SHORT_BAR
        beside = self.width - bar - 2 * GAP
        stacked = beside < _LEAST_BESIDE
        words = self.width if stacked else beside
        under = pen.wrap(self._under_bar(bar), small, bar)
        # As many lines as the fullest card of the job has, so that all feet are equally high.
        most = pen.wrap(self._words(True), small, words)
        told = pen.wrap(self._words(marked), small, words)
        left = _UNDER + lines_height(len(under), small)
        right = lines_height(len(most), small)
        height = _ABOVE + (left + right if stacked else max(left, right))

        def draw(pen: Pen, x: float, y: float, width: float) -> None:
            pen.line(x, y, x + width, y, stroke=SOFT, width=HAIR)
            top = y + _ABOVE
            check_bar(pen, x, top, bar)
            put_lines(pen, under, x, top + _UNDER, small, ink=SOFT)
            place = (x, top + left) if stacked else (x + bar + 2 * GAP, top)
            put_lines(pen, told, *place, small, ink=SOFT)

        return Piece(height, draw)

    def _under_bar(self, bar: float) -> str:
        facts = self.view.facts
        version = f"cardgen {facts['version']}" if facts.get("version") else ""
        made = " · ".join(part for part in (facts.get("file", ""), version) if part)
        return f"must measure {bar:g} mm\n{made}"

    def _words(self, marked: bool) -> str:
        units = "Lengths in inches" if self.view.inch else "Lengths in mm"
        told = [f"{units} unless marked.", "Local rules and licensed practice come first."]
        if marked and self.unchecked:
            told.append(f"{UNCHECKED}\u00a0from memory, not checked against the source.")
        return " ".join(told)


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
    lines = pen.wrap(f"{title}, {more}" if more else title, size, width, "bold")
    top = WIDE + 0.3
    height = top + lines_height(len(lines), size) + 0.4

    def draw(pen: Pen, x: float, y: float, width: float) -> None:
        pen.line(x, y + WIDE / 2, x + width, y + WIDE / 2, width=WIDE)
        put_lines(pen, lines, x, y + top, size, weight="bold")

    return Piece(height, draw, keep=True)
