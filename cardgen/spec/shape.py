"""What a key may hold: the shapes of which the vocabulary of the spec files is made.

One description serves twice: :mod:`cardgen.spec.fit` measures a file's tree against it, and
:mod:`cardgen.spec.schema` writes it down as JSON Schema for editors. So the two cannot disagree.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from cardgen.core.unit_table import Dimension


@dataclass(frozen=True, slots=True)
class Measure:
    """A quantity with its unit.

    Attributes
    ----------
    low, high
        The sane range in the house unit of the dimension; it catches slips of the pen and of the
        unit, no more.
    """

    dimension: Dimension
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Number:
    """A plain number: decimal or fraction, in a range."""

    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Whole:
    """A whole number in a range."""

    low: int
    high: int


@dataclass(frozen=True, slots=True)
class Switch:
    """True or false."""


@dataclass(frozen=True, slots=True)
class Word:
    """One of a few words."""

    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Line:
    """Free text.

    Attributes
    ----------
    longest
        Characters that it may have.
    pattern
        Regular expression for the whole text (of the kind that JSON Schema knows too); empty for
        any text.
    meaning
        The pattern in words, for a message.
    numeric
        Whether it may look like a number to an editor: 1045 is a steel.
    """

    longest: int
    pattern: str = ""
    meaning: str = "text"
    numeric: bool = False


@dataclass(frozen=True, slots=True)
class Items:
    """A list of things of one shape."""

    item: Shape
    least: int
    most: int


@dataclass(frozen=True, slots=True)
class Row:
    """A list of a fixed length, each place with its own shape."""

    cells: tuple[Shape, ...]


@dataclass(frozen=True, slots=True)
class Key:
    """One key of a table.

    Attributes
    ----------
    about
        Its meaning in one sentence, shown by editors.
    needed
        Whether the table is nothing without it.
    """

    shape: Shape
    about: str
    needed: bool = False


@dataclass(frozen=True, slots=True)
class Keys:
    """A table with known keys."""

    keys: Mapping[str, Key]


@dataclass(frozen=True, slots=True)
class Names:
    """A table whose keys the maker chooses.

    Attributes
    ----------
    pattern, meaning
        What a key may look like, as in :class:`Line`.
    known
        Keys with a shape of their own.
    """

    value: Shape
    pattern: str
    meaning: str
    most: int
    known: Mapping[str, Key]


@dataclass(frozen=True, slots=True)
class Either:
    """A value of a scalar shape, or a table (told apart by how it is written)."""

    scalar: Measure | Number | Line | Word
    table: Keys


Shape = Measure | Number | Whole | Switch | Word | Line | Items | Row | Keys | Names | Either
