"""What a panel may look at: the finished figures of one job, written as the card writes them."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cached_property
from math import inf

from cardgen.card.marks import Cells
from cardgen.core.figure import Figure, Finding, Outline, Pass, Step
from cardgen.core.rounding import limits_written, written
from cardgen.core.words import ENGLISH, Said, Words

UNCHECKED = "†"
"""Mark of a figure that rests on memory; the card's foot says what it means."""


@dataclass(frozen=True, slots=True)
class Style:
    """Type sizes of a card [pt] and its ink, as the template sets them.

    Attributes
    ----------
    body
        Running text and table cells; 9 or more.
    dial
        Numbers that are dialled in; 14 or more.
    head
        Panel and card titles.
    small
        The smallest that may occur (source marks, notes on drawings).
    mono
        Whether the card is printed in one ink.
    record_line
        Height of a line that is written by hand [mm].
    grown
        By how much the numbers that are read from afar are larger than ``dial``, because the
        cards have room for that.
    """

    body: float
    dial: float
    head: float
    small: float
    mono: bool
    record_line: float = 8.5
    grown: float = 0.0


@dataclass(frozen=True)
class View:
    """The read-only face of a worked-out job.

    Attributes
    ----------
    figures
        Every figure by id.
    passes
        The infeed schedule.
    outlines
        Shapes to draw, by name such as ``thread.groove``.
    steps
        Orders of work by topic: ``heat``, ``tool``, ``setup``, ``safety`` ...
    findings
        Warnings and refusals.
    facts
        Plain words of the job that are not figures: ``title``, ``machine``, ``material``,
        ``hand``, ``file`` ...
    inch
        Whether inches are written first.
    tallest
        Height that one drawing may have, so that it fits a column under a heading [mm].
    undrawn
        Drawings that have no room on this card at any scale, by the functions that draw them.
    symbol
        Makes the card's code a QR symbol; none on a card that bears no code.
    words
        In which texts are put.
    """

    figures: Mapping[str, Figure]
    passes: tuple[Pass, ...]
    outlines: Mapping[str, Outline]
    steps: Mapping[str, tuple[Step, ...]]
    findings: tuple[Finding, ...]
    facts: Mapping[str, str]
    inch: bool
    style: Style
    tallest: float = inf
    undrawn: frozenset[str] = frozenset()
    symbol: Callable[[], Cells] | None = None
    words: Words = ENGLISH

    @cached_property
    def internal(self) -> bool:
        """Whether the job's thread is a nut's."""
        return any(figure.internal for figure in self.figures.values())

    def has(self, *ids: str) -> bool:
        """Whether all these figures were worked out."""
        return all(id in self.figures for id in ids)

    def number(self, id: str) -> float:
        """Return the value of a numeric figure, for drawing to scale."""
        return self.figures[id].number

    def written(self, id: str) -> str:
        """Return a figure's value as the card writes it, with its unit."""
        return self.words.say(written(self.figures[id], inch=self.inch))

    def limits(self, id: str) -> str:
        """Return a figure's limits as the card writes them, the larger first, the unit once."""
        both = limits_written(self.figures[id], inch=self.inch)
        first, bar, last = both.partition(" / ")
        if not bar:
            return self.words.say(both)
        return self.words.say(first.removesuffix(_unit(last)) + bar + last)

    def bare(self, id: str) -> str:
        """Return a figure's value without its unit, for a row that names the unit elsewhere."""
        text = written(self.figures[id], inch=self.inch)
        return self.words.say(text.removesuffix(_unit(text)))

    def label(self, id: str) -> str:
        """Return a figure's label."""
        return self.words.say(self.figures[id].name.label)

    def marked(self, id: str) -> str:
        """Return a figure's label with the mark of an unchecked source."""
        return Said(f"{self.label(id)}{self.mark(id)}")

    def lettered(self, id: str) -> str:
        """Return a figure's label with its symbol and the mark of an unchecked source."""
        return Said(f"{self.label(id)} {self.figures[id].name.symbol}".rstrip() + self.mark(id))

    def mark(self, id: str) -> str:
        """Return the mark of a figure that rests on an unchecked source, else nothing."""
        return UNCHECKED if self.figures[id].evidence == "memory" else ""


def _unit(text: str) -> str:
    """Return what follows the number at the beginning of a text: ``" mm"``, ``"°"``."""
    return text.lstrip("−0123456789.")
