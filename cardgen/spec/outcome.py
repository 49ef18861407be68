"""What came of reading one spec file: a record or its problems, and what was assumed."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from typing import Generic, TypeVar

from cardgen import library
from cardgen.core.problems import Problem
from cardgen.core.unit_table import Dimension
from cardgen.core.units import Quantity, read
from cardgen.spec.fit import Answers, fit
from cardgen.spec.job import Assumed
from cardgen.spec.read import tree
from cardgen.spec.shape import Keys
from cardgen.spec.text import UnreadableError

Record = TypeVar("Record")


@dataclass(frozen=True, slots=True)
class Outcome(Generic[Record]):
    """What came of one file.

    Attributes
    ----------
    record
        ``None`` if the file is faulty.
    problems
        Every fault of the file.
    assumed
        Defaults that the file left open.
    """

    record: Record | None
    problems: tuple[Problem, ...] = ()
    assumed: tuple[Assumed, ...] = ()


def answers_of(content: bytes, shown: str, shape: Keys) -> Answers:
    """Return what a file says, measured against its shape.

    Raises
    ------
    UnreadableError
        If it is not YAML of the kind that is read here.
    """
    return fit(tree(content, shown), shape, shown)


def unreadable(error: UnreadableError) -> Outcome[Record]:
    """Return the outcome of a file that could not be read."""
    return Outcome(None, tuple(error.problems))


@cache
def default(key: str, dimension: Dimension) -> Quantity:
    """Return a default of the table of common practice."""
    for row in library.table("stock/defaults"):
        if row["key"] == key:
            return read(row["value"], dimension)
    raise KeyError(key)


@cache
def default_number(key: str) -> Fraction:
    """Return a default that is a plain number."""
    for row in library.table("stock/defaults"):
        if row["key"] == key:
            return Fraction(row["value"])
    raise KeyError(key)
