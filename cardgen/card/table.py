"""The blocks that panels are made of: text, rows of label and number, dial numbers, tables.

A panel asks a :class:`Kit`, made for the width of its column::

    def blocks(view: View, pen: Pen, width: float) -> list[Block]:
        kit = Kit(view, pen, width)
        return [
            kit.big("Turn the blank to", view.written("thread.blank_diameter")),
            kit.figure("thread.pitch_diameter"),
            *kit.table([Column("Pass"), Column("Dial", dial=True), Column("", tick=True)], rows),
            kit.sketch(40.0, draw_profile),
            kit.note("Limits by ISO 2903."),
        ]

Every method returns a finished block (``table`` and ``figures`` a list of them) that knows its
height and draws itself. What is too wide is wrapped; nothing is ever made smaller. Text sizes are
those of the card's style: ``body`` for reading, ``dial`` for numbers that are set by hand,
``small`` for sources and remarks.

Signs such as ``⌀ ⚠ □ ↔ ∠ ⟂ ⁻`` may stand in any text: the pen draws those that the typeface lacks.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import product
from math import fsum

from cardgen.card.drawing import Drawing, DrawingError
from cardgen.card.grid import Column, Grid, tick_box
from cardgen.card.panel import Block
from cardgen.card.pen import BLACK, POINT, SIGNAL, SOFT, WIDE, Ink, Pen, Weight
from cardgen.card.piece import AIR, GAP, PAD, Draw, Piece, lines_height, put_lines, running
from cardgen.card.rows import dial_row, pair_row
from cardgen.card.scale import PREFERRED, Clear, Extent, fitting_scale
from cardgen.card.symbols import SIGNS
from cardgen.card.view import View

__all__ = ["GAP", "Column", "Draw", "Kit", "Piece", "tick_box"]

_WIDE = 85.0
"""Width of a column from which a picture and its rows stand side by side [mm]."""
_USUAL = 9.0
"""Size of the text for which that holds [pt]."""
_USUAL_SMALL = 7.0
"""Size of the small text that goes with it [pt]."""
_LEAST_SEEN = 6.0
"""Height or width on the card below which a part is not drawn: its lines would meet [mm]."""
_TRIES = 3
"""How many smaller scales a drawing falls back on whose words do not fit."""


class Kit:
    """Makes blocks for one panel.

    Parameters
    ----------
    view
        Whose style and figures are used.
    pen
        For measuring text.
    width
        Of the column [mm]; every block fills it.

    Attributes
    ----------
    body, dial, small
        Type sizes of the style [pt].
    large
        The dial size, or as much more as the cards have room for: for numbers that are read from
        afar and can take it [pt].
    """

    def __init__(self, view: View, pen: Pen, width: float) -> None:
        self.view, self.pen, self.width = view, pen, width
        style = view.style
        self.body, self.dial, self.small = style.body, style.dial, style.small
        self.large = style.dial + style.grown

    @property
    def wide(self) -> bool:
        """Whether a picture and its rows stand side by side, for the size of the text."""
        return self.width >= _WIDE * self.body / _USUAL

    # --- text -----------------------------------------------------------------------------------

    def paragraph(
        self,
        text: str,
        *,
        size: float | None = None,
        weight: Weight = "regular",
        ink: Ink = BLACK,
        indent: float = 0.0,
        keep: bool = False,
    ) -> Piece:
        """Return running text, wrapped to the width; a line feed begins a new line."""
        points = self.body if size is None else size
        lines = self.pen.wrap(text, points, self.width - indent, weight)

        def put(lines: Sequence[str]) -> Draw:
            def draw(pen: Pen, x: float, y: float, width: float) -> None:
                put_lines(pen, lines, x + indent, y + AIR, points, weight=weight, ink=ink)

            return draw

        return running(lines, points, 2 * AIR, put, keep)

    def prose(self, text: str, *, weight: Weight = "regular") -> list[Block]:
        """Return running text as a block for each line, so that it may be cut where it is long."""

        def line(words: str) -> Piece:
            def draw(pen: Pen, x: float, y: float, width: float) -> None:
                put_lines(pen, [words], x, y, self.body, weight=weight)

            return Piece(lines_height(1, self.body), draw, role="Line")

        return [line(words) for words in self.pen.wrap(text, self.body, self.width, weight)]

    def note(self, text: str, *, keep: bool = False) -> Piece:
        """Return a remark or a source in the small size."""
        return self.paragraph(text, size=self.small, ink=SOFT, keep=keep)

    def heading(self, text: str) -> Piece:
        """Return a heading within a panel; it stays with the block after it."""
        return replace(self.paragraph(text, weight="bold", keep=True), role="H3")

    def item(self, text: str, mark: str = "•", *, weight: Weight = "regular") -> Piece:
        """Return a paragraph with a mark (a bullet, or a number such as ``"1"``) before it."""
        indent = max(self.pen.width(mark, self.body, "bold") + 1.2, 4.0)
        whole = self.pen.wrap(text, self.body, self.width - indent, weight)

        def put(lines: Sequence[str]) -> Draw:
            def draw(pen: Pen, x: float, y: float, width: float) -> None:
                if lines and lines[0] is whole[0]:
                    put_lines(pen, [mark], x, y, self.body, weight="bold")
                put_lines(pen, lines, x + indent, y, self.body, weight=weight)

            return draw

        made = running(whole, self.body, 0.4, put, False)
        # What is written bold must be seen at one glance.
        return made if weight == "regular" else replace(made, parts=None)

    def warning(self, text: str) -> Piece:
        """Return a framed warning with a drawn triangle: a sign besides its colour."""
        sign = 1.8 * self.body
        indent = SIGNS["⚠"].advance * sign * POINT + 2 * PAD
        return self._framed(self.pen.wrap(text, self.body, self.width - indent - PAD), indent)

    def _framed(self, lines: Sequence[str], indent: float) -> Piece:
        """Return lines in a warning's frame; too long for a card, they go on in a second one."""
        sign = 1.8 * self.body
        height = max(lines_height(len(lines), self.body), sign * POINT) + 2 * PAD

        def draw(pen: Pen, x: float, y: float, width: float) -> None:
            inset = WIDE / 2
            pen.rect(
                x + inset,
                y + inset,
                x + width - inset,
                y + height - inset,
                stroke=SIGNAL,
                width=WIDE,
            )
            pen.text(x + PAD, y + PAD + 0.82 * sign * POINT, "⚠", sign, weight="bold", ink=SIGNAL)
            top = y + (height - lines_height(len(lines), self.body)) / 2
            put_lines(pen, lines, x + indent, top, self.body)

        def parts(room: float) -> tuple[Piece, Piece] | None:
            fit = int((room - 0.8 - 2 * PAD) / lines_height(1, self.body) + 1e-6)
            fit = min(fit, len(lines) - 2)
            if fit < 2:
                return None
            return self._framed(lines[:fit], indent), self._framed(lines[fit:], indent)

        # What fits a card is seen at one glance.
        long = height + 0.8 > self.view.tallest
        return Piece(height + 0.8, draw, parts=parts if long else None)

    def space(self, height: float = 1.0) -> Piece:
        """Return clear space [mm]."""
        return Piece(height, lambda pen, x, y, width: None)

    # --- label and value ------------------------------------------------------------------------

    def pair(self, label: str, value: str, limits: str = "", *, keep: bool = False) -> Piece:
        """Return a ruled row: label on the left, value on the right, in bold.

        With ``limits`` these are the bold text on the right, for they are what is measured, and
        the value stands before them. What does not fit in one line goes to a second one.
        """
        return pair_row(self.pen, self.width, self.body, label, value, limits, keep)

    def figure(self, id: str, *, limits: bool = True, keep: bool = False) -> Piece:
        """Return the row of a figure: label, value, limits, and the mark of unchecked sources."""
        view = self.view
        label = view.marked(id)
        value = view.written(id)
        both = view.limits(id) if limits else value
        if both == value:
            return self.pair(label, value, keep=keep)
        return self.pair(label, view.bare(id), both, keep=keep)

    def figures(self, *ids: str) -> list[Block]:
        """Return the rows of those of the figures that were worked out."""
        return [self.figure(id) for id in ids if self.view.has(id)]

    def big(self, label: str, value: str, under: str = "", *, keep: bool = False) -> Piece:
        """Return a number that is dialled in or set: in the dial size, its label before it.

        ``under`` is a remark (limits, a reason) below it in the body size.
        """
        return self.bigs([(label, value, under)], keep=keep)

    def bigs(self, cells: Sequence[tuple[str, str, str]], *, keep: bool = False) -> Piece:
        """Return several dial numbers side by side, each ``(label, value, under)``.

        The label stands above its number. Cells that are too wide for that are put under one
        another.
        """
        return dial_row(self.pen, self.width, self.body, (self.dial, self.large), cells, keep)

    # --- tables ---------------------------------------------------------------------------------

    def table(self, columns: Sequence[Column], rows: Sequence[Sequence[str] | str]) -> list[Block]:
        """Return a ruled table: a head that is repeated where the table is cut, a block a row.

        Parameters
        ----------
        columns
            Left to right.
        rows
            A text for each column (also for a tick column, where it is not shown); or a single
            text, which is written across all columns as a heading of the rows after it.
        """
        return Grid(self.pen, self.width, self.body, self.dial, self.small, columns).blocks(rows)

    # --- drawings and groups --------------------------------------------------------------------

    def sketch(self, height: float, draw: Draw, *, keep: bool = False) -> Piece:
        """Return a drawing of a fixed height [mm]; ``draw`` must stay within its box."""
        return Piece(height, draw, keep, picture=True)

    def drawing(
        self,
        extent: Extent,
        draw: Callable[[Drawing], None],
        *,
        tallest: float,
        clear: Clear = (0.0, 0.0, 0.0, 0.0),
        scale: Fraction | None = None,
        size: float | None = None,
        keep: bool = False,
    ) -> Piece:
        """Return a drawing to the largest preferred scale that fits the width, as high as it needs.

        Parameters
        ----------
        extent
            Left, bottom, right and top of the part [mm], y up.
        draw
            Draws the part; see :mod:`cardgen.card.drawing`. It is called again, for a smaller
            scale, if words find no room: only its ``scale_text`` says which scale it came to.
        tallest
            Greatest height of the block, its clear room included [mm]; less on a card that is
            too low for it.
        clear
            Room on the left, top, right and bottom for dimensions [mm on the card].
        scale
            Instead of the largest that fits: ``Fraction(1)`` for a silhouette to hold against
            the tool.
        size
            Of dimension text [pt]; the small size if not given.
        """
        points = self.small if size is None else size
        # What is larger than usual needs as much more room.
        grow = max(1.0, points / (_USUAL_SMALL if size is None else _USUAL))
        left, top, right, bottom = (side * grow for side in clear)
        clear = (left, top, right, bottom)
        most = min(tallest * grow, self.view.tallest)
        try:
            chosen = scale or fitting_scale(extent, self.width, most, clear)
        except ValueError:
            return self.no_room()
        thin = min(extent[2] - extent[0], extent[3] - extent[1])
        if chosen * thin < _LEAST_SEEN:
            return self.no_room()
        height = float(chosen) * (extent[3] - extent[1]) + clear[1] + clear[3]

        def inner(pen: Pen, x: float, y: float, width: float) -> None:
            box = (x, y, width, height)
            marks, boxes = len(pen.marks), len(pen.boxes)
            fitting = [s for s in PREFERRED if s < chosen and s * thin >= _LEAST_SEEN]
            scales = [chosen] if scale else [chosen, *fitting[:_TRIES]]
            # A smaller part leaves its words more room; at last they are small.
            tries = list(product((points, min(points, self.small)), scales))
            for words, trial in tries:
                try:
                    with Drawing(
                        pen,
                        box,
                        extent,
                        size=words,
                        clear=clear,
                        scale=trial,
                        grow=grow,
                    ) as drawing:
                        draw(drawing)
                except DrawingError:
                    if (words, trial) == tries[-1]:
                        raise
                    pen.undo(marks, boxes)
                else:
                    return

        inner.__module__, inner.__qualname__ = draw.__module__, draw.__qualname__
        return Piece(height, inner, keep, picture=True)

    def no_room(self) -> Piece:
        """Return what stands in place of a drawing for which a card is too small."""
        return self.note("This card has no room for the drawing: it stands on a larger one.")

    def beside(self, left: Sequence[Block], right: Sequence[Block], split: float) -> Piece:
        """Return two stacks of blocks side by side, as one block that is not cut.

        Parameters
        ----------
        split
            Width of the left stack [mm]. Make its blocks with ``kit.narrow(split)`` and the
            right ones with ``kit.narrow(kit.width - split - GAP)``.
        """

        def draw(pen: Pen, x: float, y: float, width: float) -> None:
            stacks = ((left, x, split), (right, x + split + GAP, width - split - GAP))
            for side, at, room in stacks:
                top = y
                for block in side:
                    block.draw(pen, at, top, room)
                    top += block.height

        return Piece(max(fsum(b.height for b in left), fsum(b.height for b in right)), draw)

    def illustrated(
        self, picture: Callable[[Kit], Sequence[Block]], rows: Callable[[Kit], Sequence[Block]]
    ) -> list[Block]:
        """Return a picture with rows beside it in a wide column, or under it in a narrow one.

        Both are made for the width that they are given, by the kit that they are handed.
        """
        if self.wide:
            split = (self.width - GAP) / 2
            half = self.narrow(split)
            both = self.beside(picture(half), rows(half), split)
            if both.height <= self.view.tallest:
                return [both]
        return [*picture(self), *rows(self)]

    def narrow(self, width: float) -> Kit:
        """Return a kit of another width [mm]."""
        return Kit(self.view, self.pen, width)
