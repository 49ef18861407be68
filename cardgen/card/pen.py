"""The marks that a picture is made of, and the pen that puts them down and remembers their boxes.

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
from typing import Literal, Protocol

POINT = 25.4 / 72.0
"""Millimetres in one typographic point (1/72 in)."""

Weight = Literal["regular", "bold"]
Anchor = Literal["start", "middle", "end"]
XY = tuple[float, float]


class Metrics(Protocol):
    """What a picture must know of the typeface; the PDF part provides it."""

    def width(self, text: str, size: float, weight: Weight) -> float:
        """Return the advance width of a line of text [mm] at a size [pt].

        Raises
        ------
        GlyphError
            If the typeface has no glyph for a character of the text.
        """
        ...

    def ascent(self, size: float) -> float:
        """Return the height of a capital letter above the base line [mm]."""
        ...

    def descent(self, size: float) -> float:
        """Return the depth of a descender below the base line [mm], positive."""
        ...


class GlyphError(ValueError):
    """A character that the typeface does not have: it would print as an empty box."""


@dataclass(frozen=True, slots=True)
class Ink:
    """A colour for line, fill or text, and the grey that it becomes on a monochrome card.

    Attributes
    ----------
    red, green, blue
        0 to 1.
    grey
        0 (black) to 1 (white).
    """

    red: float
    green: float
    blue: float
    grey: float


BLACK = Ink(0.0, 0.0, 0.0, 0.0)
WHITE = Ink(1.0, 1.0, 1.0, 1.0)
SOFT = Ink(0.35, 0.35, 0.35, 0.35)
"""Secondary text and thin lines."""
TINT = Ink(0.92, 0.92, 0.92, 0.92)
"""The shade behind a heading or an alternate row."""
SIGNAL = Ink(0.70, 0.08, 0.05, 0.0)
"""Warnings: dark red in colour, black in monochrome; never the only sign of a warning."""

# Line widths [mm] in the ratio 2 : 1, group 0.5 of ISO 128-2.
WIDE = 0.5
NARROW = 0.25
HAIR = 0.13


@dataclass(frozen=True, slots=True)
class Text:
    """One line of text; ``(x, y)`` is on the base line at the anchor."""

    x: float
    y: float
    text: str
    size: float
    weight: Weight
    anchor: Anchor
    ink: Ink
    angle: float
    """Anticlockwise [deg]."""


@dataclass(frozen=True, slots=True)
class Path:
    """A run of straight lines, stroked and perhaps filled."""

    points: tuple[XY, ...]
    closed: bool
    stroke: Ink | None
    width: float
    dash: tuple[float, ...]
    fill: Ink | None


@dataclass(frozen=True, slots=True)
class Disc:
    """A circle, stroked and perhaps filled."""

    x: float
    y: float
    radius: float
    stroke: Ink | None
    width: float
    dash: tuple[float, ...]
    fill: Ink | None


@dataclass(frozen=True, slots=True)
class Arc:
    """A part of a circle, stroked; angles anticlockwise [deg], ``extent`` signed."""

    x: float
    y: float
    radius: float
    start: float
    extent: float
    stroke: Ink
    width: float
    dash: tuple[float, ...]


Mark = Text | Path | Disc | Arc


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle that something occupies [mm].

    Attributes
    ----------
    kind
        ``text`` for a line of type, ``part`` for a block of a panel, ``panel`` for a whole panel.
    owner
        What it belongs to, for messages.
    """

    left: float
    top: float
    right: float
    bottom: float
    kind: Literal["text", "part", "panel"]
    owner: str

    def overlaps(self, other: Box, slack: float = 0.05) -> bool:
        """Whether two boxes share area, beyond a slack on each side [mm]."""
        return (
            self.left + slack < other.right
            and other.left + slack < self.right
            and self.top + slack < other.bottom
            and other.top + slack < self.bottom
        )

    def inside(self, other: Box, slack: float = 0.05) -> bool:
        """Whether this box lies within another, give or take a slack [mm]."""
        return (
            self.left >= other.left - slack
            and self.right <= other.right + slack
            and self.top >= other.top - slack
            and self.bottom <= other.bottom + slack
        )


@dataclass(frozen=True, slots=True)
class Page:
    """One finished card: its trimmed size [mm], its marks in drawing order, and their boxes."""

    width: float
    height: float
    marks: tuple[Mark, ...]
    boxes: tuple[Box, ...]


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
    """

    metrics: Metrics
    least: float
    mono: bool = False
    marks: list[Mark] = field(default_factory=list)
    boxes: list[Box] = field(default_factory=list)
    owner: str = ""

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
        width = self.metrics.width(text, size, weight)
        self.marks.append(Text(x, y, text, size, weight, anchor, ink, angle))
        left = {"start": 0.0, "middle": -width / 2, "end": -width}[anchor]
        up, down = self.metrics.ascent(size), self.metrics.descent(size)
        turn = radians(angle)
        # Anticlockwise on a page whose y runs down.
        corners = [
            (x + u * cos(turn) + v * sin(turn), y - u * sin(turn) + v * cos(turn))
            for u in (left, left + width)
            for v in (-up, down)
        ]
        self.boxes.append(
            Box(
                min(c[0] for c in corners),
                min(c[1] for c in corners),
                max(c[0] for c in corners),
                max(c[1] for c in corners),
                "text",
                f"{self.owner}: {text[:40]}",
            )
        )
        return width

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
        self.boxes.append(Box(*box, kind, owner))
        try:
            yield
        finally:
            self.owner = before

    def wrap(self, text: str, size: float, width: float, weight: Weight = "regular") -> list[str]:
        """Break text into lines no wider than ``width`` [mm]; a single long word is broken too."""
        lines: list[str] = []
        for paragraph in text.split("\n"):
            line = ""
            for word in paragraph.split():
                trial = f"{line} {word}" if line else word
                if self.metrics.width(trial, size, weight) <= width:
                    line = trial
                    continue
                if line:
                    lines.append(line)
                while self.metrics.width(word, size, weight) > width and len(word) > 1:
                    cut = len(word) - 1
                    while cut > 1 and self.metrics.width(word[:cut], size, weight) > width:
                        cut -= 1
                    lines.append(word[:cut])
                    word = word[cut:]
                line = word
            if line:
                lines.append(line)
        return lines
