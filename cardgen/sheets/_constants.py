"""Named constants of the data tables, as inputs that say where they come from."""

from __future__ import annotations

from functools import cache

from cardgen import library
from cardgen.core.figure import Evidence, Input

_EVIDENCE: dict[str, Evidence] = {
    "read": "read",
    "derived": "derived",
    "practice": "practice",
    "memory": "memory",
}


def evidence(word: str) -> Evidence:
    """Return a table's word for evidence as the type that figures carry."""
    return _EVIDENCE[word]


@cache
def constant(table: str, name: str) -> Input:
    """Return one row of a table with the columns ``name value unit evidence``.

    Parameters
    ----------
    table
        Path below ``data/`` without the ending.
    name
        Of the row.

    Raises
    ------
    KeyError
        If there is no such row.
    """
    for row in library.table(table):
        if row["name"] == name:
            origin = f"table:{table} {name}"
            return Input(float(row["value"]), row["unit"], origin, evidence(row["evidence"]))
    raise KeyError(name)


def value(table: str, name: str) -> float:
    """Return only the number of :func:`constant`."""
    number = constant(table, name).value
    assert not isinstance(number, str)  # noqa: S101  (constant() made it a float)
    return number


@cache
def source(table: str, name: str) -> str:
    """Return the source of a row."""
    return next(row["source"] for row in library.table(table) if row["name"] == name)
