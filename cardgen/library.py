"""The only code that opens ``data/``: published tables as rows, each with its source."""

from __future__ import annotations

import csv
import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable
from typing import Any


def shelf() -> Traversable:
    """Return the folder of shipped data."""
    return files("cardgen") / "data"


@cache
def table(name: str) -> tuple[Mapping[str, str], ...]:
    """Return the rows of a published table, each a mapping from column to text.

    Parameters
    ----------
    name
        Path below ``data/`` without the ending, such as ``"threads/iso_2903_by_pitch"``.

    Raises
    ------
    FileNotFoundError
        If no such table is shipped.
    """
    return tuple(csv.DictReader(text(f"{name}.csv").splitlines()))


def text(name: str) -> str:
    """Return a shipped text file, by its path below ``data/`` with its ending."""
    return (shelf() / name).read_text(encoding="utf-8")


def names(folder: str, ending: str) -> tuple[str, ...]:
    """Return the names, without ending, of the shipped files in a folder of ``data/``."""
    found = (item.name for item in (shelf() / folder).iterdir())
    return tuple(sorted(name.removesuffix(ending) for name in found if name.endswith(ending)))


@cache
def form(name: str) -> dict[str, Any]:
    """Return what a thread form's file says; that of a variant is laid over the form's own.

    Parameters
    ----------
    name
        ``FORM``, or ``FORM+VARIANT`` for a file that states only what differs from ``FORM``.

    Raises
    ------
    FileNotFoundError
        If there is no such form or variant.
    """
    base, joined, _ = name.partition("+")
    said = tomllib.loads(text(f"forms/{name}.toml"))
    return _over(form(base), said) if joined else said


@cache
def words(language: str) -> Mapping[str, str]:
    """Return the translation of each text and pattern of a card; none of them for English.

    An entry that is still to be filled in is left out.
    """
    if language == "en":
        return {}
    entries = tomllib.loads(text(f"words/{language}.toml"))
    return {english: said for english, said in entries.items() if said}


def _over(below: Mapping[str, Any], above: Mapping[str, Any]) -> dict[str, Any]:
    """Lay one table of a TOML file over another, table by table."""
    laid = dict(below)
    for key, value in above.items():
        under = laid.get(key)
        # Which nut goes with which class is one list, not a table to be added to.
        if isinstance(under, dict) and isinstance(value, dict) and key != "usual":
            laid[key] = _over(under, value)
        else:
            laid[key] = value
    return laid
