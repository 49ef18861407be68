"""The marks that a picture is made of, the inks and line widths, and the boxes they leave.

All lengths are millimetres, all type sizes points. The origin is the top left corner of the card,
x to the right, **y down the page**; the PDF writer turns it over. Nothing here knows a PDF.

Marks and boxes are named tuples because a card has a thousand of them, and a frozen dataclass
takes three times as long to make.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, cos, floor, radians, sin
from typing import Literal, NamedTuple, Protocol

POINT = 25.4 / 72.0
"""Millimetres in one typographic point (1/72 in)."""

Weight = Literal["regular", "bold"]
Anchor = Literal["start", "middle", "end"]
XY = tuple[float, float]


class Metrics(Protocol):
    """What a picture must know of the typeface; the PDF part provides it."""

    def __hash__(self) -> int:
        """Tell typefaces apart: what was measured in one is kept under it."""
        ...

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


class Text(NamedTuple):
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


class Path(NamedTuple):
    """A run of straight lines, stroked and perhaps filled."""

    points: tuple[XY, ...]
    closed: bool
    stroke: Ink | None
    width: float
    dash: tuple[float, ...]
    fill: Ink | None


class Disc(NamedTuple):
    """A circle, stroked and perhaps filled."""

    x: float
    y: float
    radius: float
    stroke: Ink | None
    width: float
    dash: tuple[float, ...]
    fill: Ink | None


class Arc(NamedTuple):
    """A part of a circle, stroked; angles anticlockwise [deg], ``extent`` signed."""

    x: float
    y: float
    radius: float
    start: float
    extent: float
    stroke: Ink
    width: float
    dash: tuple[float, ...]


QUIET = 4
"""Cells that must stay blank on every side of a QR symbol (ISO/IEC 18004)."""


class Cells(NamedTuple):
    """A text as a QR symbol: rows of cells from the top, true where dark."""

    text: str
    rows: tuple[tuple[bool, ...], ...]


class Symbol(NamedTuple):
    """A QR symbol, its top left corner at (x, y), its cells of a side [mm]."""

    x: float
    y: float
    cell: float
    cells: Cells


Mark = Text | Path | Disc | Arc | Symbol


def reach(mark: Path | Disc | Arc | Symbol) -> tuple[float, float, float, float]:
    """Return the left, top, right and bottom that a drawn mark reaches, without its width [mm]."""
    if isinstance(mark, Path):
        across, along = [x for x, _ in mark.points], [y for _, y in mark.points]
    elif isinstance(mark, Disc):
        across = [mark.x - mark.radius, mark.x + mark.radius]
        along = [mark.y - mark.radius, mark.y + mark.radius]
    elif isinstance(mark, Symbol):
        side = mark.cell * len(mark.cells.rows)
        across, along = [mark.x, mark.x + side], [mark.y, mark.y + side]
    else:
        low, high = sorted((mark.start, mark.start + mark.extent))
        # Its ends, and where it is level with its centre or straight above or below it.
        turns = [low, high, *(90.0 * k for k in range(ceil(low / 90), floor(high / 90) + 1))]
        across = [mark.x + mark.radius * cos(radians(turn)) for turn in turns]
        along = [mark.y - mark.radius * sin(radians(turn)) for turn in turns]
    return min(across), min(along), max(across), max(along)


class Box(NamedTuple):
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


Role = Literal["Sect", "H1", "H2", "H3", "P", "Line", "TR", "TH", "TD", "Figure", "Artifact"]
"""What a reader's software calls it (ISO 32000, standard structure types)."""


@dataclass(slots=True)
class Tag:
    """What a run of marks is to somebody who hears the card instead of seeing it.

    Lines and grounds around text need no tag of their own: whatever is no text and stands in no
    figure is an ornament.

    Attributes
    ----------
    role
        ``P`` for what has tags below it only groups them. A ``Line`` goes on the paragraph of the
        one before. ``Artifact`` is passed over.
    name
        The panel that a section is of; what a figure shows, if its own texts do not say it.
    columns
        How many columns of its table a cell covers.
    first, last
        Numbers of its first mark and of the one after its last.
    """

    role: Role
    name: str
    columns: int
    first: int
    last: int
    below: list[Tag]


class Span(NamedTuple):
    """Marks that are one line of text, some of whose characters are drawn."""

    first: int
    last: int
    text: str


@dataclass(frozen=True, slots=True)
class Page:
    """One finished card: its trimmed size [mm], its marks in drawing order, and their boxes.

    Attributes
    ----------
    tags
        In reading order.
    spans
        The lines that hold drawn characters.
    """

    width: float
    height: float
    marks: tuple[Mark, ...]
    boxes: tuple[Box, ...]
    tags: tuple[Tag, ...] = ()
    spans: tuple[Span, ...] = ()


@dataclass(frozen=True, slots=True)
class Picture:
    """All cards of one job, drawn.

    Attributes
    ----------
    pages
        Card 1, card 2 and so on.
    title, subject
        What the cards are and for which job, for the file's information.
    mono
        Whether they are printed in one ink.
    """

    pages: tuple[Page, ...]
    title: str
    subject: str
    mono: bool
