"""Where the files behind a job are: beside it, above it, or among the shipped data.

Paths are worked out lexically, so that a message names a file the way the maker does, and the
names kept for the card do not depend on where the folder lies.
"""

from __future__ import annotations

import os
from dataclasses import dataclass
from functools import cache
from importlib.resources.abc import Traversable
from pathlib import Path

from cardgen import library
from cardgen.core.problems import nearest

LEVELS = 6
"""Folders that are searched upwards, the job's own counted."""

_KEPT_LEVELS = 3


@dataclass(frozen=True, slots=True)
class File:
    """A spec file that was found.

    Attributes
    ----------
    shown
        What to call it in messages.
    name
        What to call it in the card's record: relative to the job's folder where possible.
    content
        Its bytes.
    """

    shown: str
    name: str
    content: bytes


def upward(folder: Path, relative: str, home: Path | None) -> Path | None:
    """Return the nearest file of a name, looking in a folder and in those above it.

    Parameters
    ----------
    folder
        Where to begin.
    relative
        Path below each folder, such as ``"materials/c45.yaml"``.
    home
        Where to stop; :data:`LEVELS` folders at most in any case.
    """
    # Plain text, not path objects: those took half of the time to read a job.
    last = None if home is None else _absolute(home)
    here = os.path.normpath(folder)
    at = _absolute(here)
    for _ in range(LEVELS):
        candidate = f"{here}{os.sep}{relative}"
        if os.path.isfile(candidate):  # noqa: PTH113
            return Path(candidate)
        above = os.path.normpath(f"{here}{os.sep}{os.pardir}")
        over = _absolute(above)
        if last == at or over == at:
            return None
        here, at = above, over
    return None


def _absolute(path: str | Path) -> str:
    # Lexically: a symbolic link is followed only when the file is opened.
    return os.path.abspath(path)  # noqa: PTH100


def record_name(path: Path, folder: Path) -> str:
    """Return a file's name for the card's record: relative to the job's folder where possible."""
    try:
        relative = os.path.relpath(path, folder)
    except ValueError:  # another drive
        return path.name
    parts = Path(relative).parts
    return path.name if parts.count(os.pardir) > _KEPT_LEVELS else Path(relative).as_posix()


def shipped(folder: str, name: str) -> File | None:
    """Return a shipped file of a name, or ``None``."""
    shelf = _shelf(folder)
    if shelf is None or name not in _names(folder):
        return None
    label = f"cardgen/data/{folder}/{name}.yaml"
    return File(label, label, (shelf / f"{name}.yaml").read_bytes())


@cache
def _shelf(folder: str) -> Traversable | None:
    """Return the folder of shipped files of a kind.

    Templates lie beside the package in a checkout, for makers to see and copy, and below ``data``
    in an installed package.
    """
    own = library.shelf() / folder
    if own.is_dir():
        return own
    beside = library.shelf() / ".." / ".." / folder
    return beside if beside.is_dir() else None


@cache
def _names(folder: str) -> tuple[str, ...]:
    shelf = _shelf(folder)
    if shelf is None:
        return ()
    found = (item.name for item in shelf.iterdir())
    return tuple(sorted(name.removesuffix(".yaml") for name in found if name.endswith(".yaml")))


def near_names(folder: Path, kind: str, word: str, home: Path | None) -> tuple[str, str]:
    """Return the names that are known in ``kind`` folders, in one text, and the nearest to a word.

    Parameters
    ----------
    folder
        The job's folder.
    kind
        ``"materials"`` or ``"templates"``.
    word
        The name that was not found.
    home
        Where to stop looking upwards.
    """
    names = set(_names(kind))
    here = folder
    for _ in range(LEVELS):
        own = Path(os.path.normpath(here)) / kind
        if own.is_dir():
            names |= {path.stem for path in own.glob("*.yaml")}
        if home is not None and _absolute(here) == _absolute(home):
            break
        here = here / os.pardir
    ordered = sorted(names)
    return ", ".join(ordered) or "none yet", nearest(word, ordered)
