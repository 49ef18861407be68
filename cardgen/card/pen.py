"""The pen that puts marks on a card and remembers their boxes.

All lengths are millimetres, all type sizes points. The origin is the top left corner of the card,
x to the right, **y down the page**; the PDF writer turns it over. Nothing here knows a PDF.

Every mark of text leaves a :class:`Box` behind, and every panel's part opens a box of its own, so
that a test (and the layout engine at run time) can prove that nothing overlaps or leaves the
card.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from math import cos, radians, sin
from typing import Literal

from cardgen.card.marks import (
    BLACK,
    HAIR,
    NARROW,
    POINT,
    QUIET,
    SIGNAL,
    SOFT,
    TINT,
    WHITE,
    WIDE,
    XY,
    Anchor,
    Arc,
    Box,
    Cells,
    Disc,
    GlyphError,
    Ink,
    Mark,
    Metrics,
    Page,
    Path,
    Picture,
    Role,
    Span,
    Symbol,
    Tag,
    Text,
    Weight,
    reach,
)
from cardgen.card.symbols import LINE, SIGNS
from cardgen.card.wrap import line_width, runs, wrapped
from cardgen.core.words import ENGLISH, Words

__all__ = [
    "BLACK",
    "HAIR",
    "NARROW",
    "POINT",
    "QUIET",
    "SIGNAL",
    "SOFT",
    "TINT",
    "WHITE",
    "WIDE",
    "XY",
    "Anchor",
    "Arc",
    "Box",
    "Cells",
    "Disc",
    "GlyphError",
    "Ink",
    "Mark",
    "Metrics",
    "Page",
    "Path",
    "Pen",
    "Picture",
    "Role",
    "Span",
    "Symbol",
    "Tag",
    "Text",
    "Weight",
    "reach",
]


@dataclass(slots=True)
class Pen:
    """Puts marks on one card and keeps the boxes of all that it drew.

    Parameters
    ----------
    metrics
        Of the typeface.
    least
        The smallest type size that may occur [pt]; smaller is a fault of ours.
    mono
        Whether the card is printed in one ink.
    words
        In which every text is put that is written or measured.

    Attributes
    ----------
    parts
        Each part's box, with the first and the last (exclusive) number of the marks drawn in it
        and of the boxes recorded in it.
    tags
        What the marks are, in reading order.
    spans
        The lines that hold drawn characters.
    """

    metrics: Metrics
    least: float
    mono: bool = False
    words: Words = ENGLISH
    marks: list[Mark] = field(default_factory=list)
    boxes: list[Box] = field(default_factory=list)
    owner: str = ""
    parts: list[tuple[Box, slice, slice]] = field(default_factory=list)
    tags: list[Tag] = field(default_factory=list)
    spans: list[Span] = field(default_factory=list)
    _open: list[Tag] = field(default_factory=list)

    def text(
        self,
        x: float,
        y: float,
        text: str,
        size: float,
        *,
        weight: Weight = "regular",
        anchor: Anchor = "start",
        ink: Ink = BLACK,
        angle: float = 0.0,
    ) -> float:
        """Write one line of text with its base line at ``y``; return its width [mm].

        Raises
        ------
        ValueError
            If the size is below the card's smallest.
        GlyphError
            If a glyph is missing.
        """
        if size < self.least - 1e-9:
            msg = f"{self.owner}: type of {size} pt is below the card's smallest, {self.least} pt"
            raise ValueError(msg)
        text = self.words.say(text)
        width = line_width(self.metrics, text, size, weight)
        left = 0.0 if anchor == "start" else -width / 2 if anchor == "middle" else -width
        if text.isascii() or SIGNS.keys().isdisjoint(text):
            self.marks.append(Text(x, y, text, size, weight, anchor, ink, angle))
        else:
            first = len(self.marks)
            self._with_signs(x, y, left, text, size, weight, ink, angle)
            if all(char in SIGNS for char in text):
                # Readers look for what a line says only where a letter stands, if but a blank.
                self.marks.append(Text(x, y, " ", size, weight, anchor, ink, angle))
            self.spans.append(Span(first, len(self.marks), text))
        up, down = self.metrics.ascent(size), self.metrics.descent(size)
        if angle:
            covered = turned_box(x, y, left, left + width, up, down, angle)
        else:
            covered = (x + left, y - up, x + left + width, y + down)
        self.boxes.append(Box(*covered, "text", f"{self.owner}: {text[:40]}"))
        return width

    def width(self, text: str, size: float, weight: Weight = "regular") -> float:
        """Return the width of a line of text, signs included [mm].

        Raises
        ------
        GlyphError
            If a character is neither in the typeface nor among the signs.
        """
        return line_width(self.metrics, self.words.say(text), size, weight)

    def _with_signs(
        self,
        x: float,
        y: float,
        left: float,
        text: str,
        size: float,
        weight: Weight,
        ink: Ink,
        angle: float,
    ) -> None:
        """Write the runs of a line that holds signs, and draw the signs between them."""
        c, s = cos(radians(angle)), sin(radians(angle))
        em = size * POINT
        at = left
        for run in runs(text):
            if run not in SIGNS:
                self.marks.append(
                    Text(x + at * c, y - at * s, run, size, weight, "start", ink, angle)
                )
                at += self.metrics.width(run, size, weight)
                continue
            for stroke in SIGNS[run].strokes:
                points = tuple(
                    (x + (at + u * em) * c - v * em * s, y - (at + u * em) * s - v * em * c)
                    for u, v in stroke.points
                )
                line = None if stroke.filled else ink
                fill = ink if stroke.filled else None
                width = LINE[weight] * em
                self.marks.append(Path(points, stroke.closed, line, width, (), fill))
            at += SIGNS[run].advance * em

    def path(
        self,
        points: Sequence[XY],
        *,
        closed: bool = False,
        stroke: Ink | None = BLACK,
        width: float = NARROW,
        dash: tuple[float, ...] = (),
        fill: Ink | None = None,
    ) -> None:
        """Draw straight lines from point to point."""
        self.marks.append(Path(tuple(points), closed, stroke, width, dash, fill))

    def line(
        self,
        x1: float,
        y1: float,
        x2: float,
        y2: float,
        *,
        stroke: Ink = BLACK,
        width: float = NARROW,
        dash: tuple[float, ...] = (),
    ) -> None:
        """Draw one straight line."""
        self.marks.append(Path(((x1, y1), (x2, y2)), False, stroke, width, dash, None))

    def rect(
        self,
        left: float,
        top: float,
        right: float,
        bottom: float,
        *,
        stroke: Ink | None = BLACK,
        width: float = NARROW,
        fill: Ink | None = None,
    ) -> None:
        """Draw an upright rectangle."""
        corners = ((left, top), (right, top), (right, bottom), (left, bottom))
        self.marks.append(Path(corners, True, stroke, width, (), fill))

    def disc(
        self,
        x: float,
        y: float,
        radius: float,
        *,
        stroke: Ink | None = BLACK,
        width: float = NARROW,
        dash: tuple[float, ...] = (),
        fill: Ink | None = None,
    ) -> None:
        """Draw a circle."""
        self.marks.append(Disc(x, y, radius, stroke, width, dash, fill))

    def arc(
        self,
        x: float,
        y: float,
        radius: float,
        start: float,
        extent: float,
        *,
        stroke: Ink = BLACK,
        width: float = NARROW,
        dash: tuple[float, ...] = (),
    ) -> None:
        """Draw a part of a circle, from ``start`` through ``extent`` anticlockwise [deg]."""
        self.marks.append(Arc(x, y, radius, start, extent, stroke, width, dash))

    def symbol(self, x: float, y: float, cell: float, cells: Cells) -> None:
        """Draw a QR symbol with its top left corner at (x, y)."""
        self.marks.append(Symbol(x, y, cell, cells))

    @contextmanager
    def part(
        self,
        owner: str,
        box: tuple[float, float, float, float],
        kind: Literal["part", "panel"] = "part",
    ) -> Iterator[None]:
        """Name what is drawn next, and record the box (left, top, right, bottom) it may fill."""
        before = self.owner
        self.owner = owner
        own = Box(*box, kind, owner)
        self.boxes.append(own)
        marks, boxes = len(self.marks), len(self.boxes)
        try:
            yield
        finally:
            self.owner = before
        if kind == "part":
            drawn = slice(marks, len(self.marks)), slice(boxes, len(self.boxes))
            self.parts.append((own, *drawn))

    @contextmanager
    def tag(self, role: Role, name: str = "", columns: int = 1) -> Iterator[None]:
        """Say what is drawn next; see :class:`~cardgen.card.marks.Tag`."""
        tag = Tag(role, name, columns, len(self.marks), len(self.marks), [])
        (self._open[-1].below if self._open else self.tags).append(tag)
        self._open.append(tag)
        try:
            yield
        finally:
            self._open.pop()
            tag.last = len(self.marks)

    def undo(self, marks: int, boxes: int) -> None:
        """Take back all but some first marks and boxes: a drawing that is tried again."""
        del self.marks[marks:], self.boxes[boxes:]
        while self.spans and self.spans[-1].last > marks:
            self.spans.pop()

    def wrap(self, text: str, size: float, width: float, weight: Weight = "regular") -> list[str]:
        """Break text into lines no wider than ``width`` [mm]; a single long word is broken too.

        A number is not parted from its unit, nor what stands on either side of a no-break space.
        """
        return list(wrapped(self.metrics, self.words.say(text), size, width, weight))


def turned_box(
    x: float, y: float, left: float, right: float, up: float, down: float, angle: float
) -> tuple[float, float, float, float]:
    """Return the upright box around a text that is turned anticlockwise about (x, y) [deg]."""
    c, s = cos(radians(angle)), sin(radians(angle))
    # Anticlockwise on a page whose y runs down.
    across = [x + u * c + v * s for u in (left, right) for v in (-up, down)]
    along = [y - u * s + v * c for u in (left, right) for v in (-up, down)]
    return min(across), min(along), max(across), max(along)
