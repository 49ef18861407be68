"""Pages of the binder's own: a title, blocks under one another, and rows that lead somewhere.

Drawn with the same kit as the cards, in the type sizes of their template, and proved whole in the
same way.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum

from cardgen.card.panel import Block
from cardgen.card.pen import WIDE, Box, Metrics, Page, Pen
from cardgen.card.piece import Piece, lines_height, put_lines
from cardgen.card.proof import prove
from cardgen.card.shape import Typed
from cardgen.card.table import Kit
from cardgen.card.view import Style, View
from cardgen.core.words import ENGLISH, Words

_UNDER_TITLE = 2.0
"""Clear space below a page's title and its rule [mm]."""


@dataclass(frozen=True, slots=True)
class Row:
    """A block that leads to a page of the binder when it is clicked."""

    block: Block
    goal: int

    @property
    def height(self) -> float:
        """Height of the block [mm]."""
        return self.block.height

    @property
    def keep(self) -> bool:
        """Whether it stays with the next block."""
        return self.block.keep

    @property
    def under(self) -> Block | None:
        """The table head above it."""
        return self.block.under

    def draw(self, pen: Pen, x: float, y: float, width: float) -> None:
        """Draw with the top left corner at (x, y)."""
        self.block.draw(pen, x, y, width)

    def cut(self, room: float) -> None:
        """Return nothing: a row is never cut."""
        del room


@dataclass(frozen=True, slots=True)
class Lead:
    """A rectangle of a page [mm] that leads to a page of the binder."""

    left: float
    top: float
    right: float
    bottom: float
    goal: int


@dataclass(frozen=True, slots=True)
class Drawn:
    """A page of the binder's own, and where its rows lead."""

    page: Page
    leads: tuple[Lead, ...]


@dataclass(frozen=True, slots=True)
class Paper:
    """What the binder's own pages are drawn on.

    Attributes
    ----------
    shape
        Page, margin, type sizes and ink.
    metrics
        Of the typeface.
    words
        In which texts are put.
    """

    shape: Typed
    metrics: Metrics
    words: Words = ENGLISH

    @property
    def mono(self) -> bool:
        """Whether it is printed in one ink."""
        return self.shape.ink == "mono"

    @property
    def live(self) -> Box:
        """The page less its margins."""
        shape, margin = self.shape, self.shape.margin
        return Box(margin, margin, shape.width - margin, shape.height - margin, "part", "page")

    def kit(self) -> Kit:
        """Return a kit for the live width."""
        shape = self.shape
        style = Style(shape.body, shape.dial, shape.head, shape.small, self.mono)
        view = View({}, (), {}, {}, (), {}, False, style, words=self.words)
        pen = Pen(self.metrics, shape.small, words=self.words)
        return Kit(view, pen, self.live.right - self.live.left)

    def pages(self, title: str, blocks: Sequence[Block]) -> list[Drawn]:
        """Return blocks as pages under a title; table heads stand again where a table is cut."""
        head = self._title(title)
        return [self._page([head, *part]) for part in _parted(blocks, self.room(title))]

    def room(self, title: str) -> float:
        """Return the height that a title leaves on a page [mm]."""
        return self.live.bottom - self.live.top - self._title(title).height

    def _title(self, title: str) -> Piece:
        size = self.shape.dial + 4
        pen = Pen(self.metrics, size, words=self.words)
        lines = pen.wrap(title, size, self.live.right - self.live.left, "bold")
        rule = lines_height(len(lines), size) + 0.6

        def draw(pen: Pen, x: float, y: float, width: float) -> None:
            put_lines(pen, lines, x, y, size, weight="bold")
            pen.line(x, y + rule, x + width, y + rule, width=2 * WIDE)

        return Piece(rule + _UNDER_TITLE, draw)

    def _page(self, blocks: Sequence[Block]) -> Drawn:
        live = self.live
        width = live.right - live.left
        pen = Pen(self.metrics, self.shape.small, self.mono, self.words)
        leads: list[Lead] = []
        top = live.top
        for number, block in enumerate(blocks):
            box = (live.left, top, live.right, top + block.height)
            with pen.part(f"block {number}", box):
                block.draw(pen, live.left, top, width)
            if isinstance(block, Row):
                leads.append(Lead(*box, block.goal))
            top += block.height
        prove(pen, live)
        shape = self.shape
        page = Page(shape.width, shape.height, tuple(pen.marks), tuple(pen.boxes))
        return Drawn(page, tuple(leads))


def _parted(blocks: Sequence[Block], room: float) -> list[list[Block]]:
    """Return blocks by page; what must stay together does, and no row stands alone on the last."""
    groups: list[list[Block]] = []
    joined = False
    for block in blocks:
        if joined:
            groups[-1].append(block)
        else:
            groups.append([block])
        joined = block.keep
    pages: list[list[list[Block]]] = [[]]
    for group in groups:
        if pages[-1] and _height(_page(pages[-1])) + _height(group) > room:
            pages.append([])
        pages[-1].append(group)
    if len(pages) > 1 and len(pages[-1]) == 1 and len(pages[-2]) > 2:
        both = [pages[-2][-1], *pages[-1]]
        if _height(_page(both)) <= room:
            pages[-2:] = [pages[-2][:-1], both]
    return [_page(page) for page in pages]


def _page(groups: Sequence[Sequence[Block]]) -> list[Block]:
    """Return the blocks of a page, the table head again where a table goes on."""
    blocks = [block for group in groups for block in group]
    head = blocks[0].under if blocks else None
    return [head, *blocks] if head else blocks


def _height(blocks: Sequence[Block]) -> float:
    return fsum(block.height for block in blocks)
