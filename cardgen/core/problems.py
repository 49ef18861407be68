"""What is wrong with a spec file, said so that it can be mended without a manual."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from difflib import get_close_matches

_LONGEST_NAME = 300
"""Characters of a file's name that a message has room for."""


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """Where something stands in a file.

    Attributes
    ----------
    file
        Path as the user named it.
    line, column
        Counted from 1.
    source_line
        The whole line, for showing with a caret.
    """

    file: str
    line: int
    column: int
    source_line: str = ""

    def __str__(self) -> str:
        """Return ``file:line:column``; of an endless name the end."""
        file = self.file if len(self.file) <= _LONGEST_NAME else f"…{self.file[-_LONGEST_NAME:]}"
        return f"{file}:{self.line}:{self.column}"


@dataclass(frozen=True, slots=True)
class Problem:
    """One fault of a spec file.

    Attributes
    ----------
    place
        Where.
    key
        Path of the key, such as ``thread.pitch``; empty for a fault of the file itself.
    found
        What was found, in one sentence.
    allowed
        What is allowed.
    mend
        What to do, if there is more to say than ``allowed`` says; may be empty.
    """

    place: Place
    key: str
    found: str
    allowed: str
    mend: str = ""

    def __str__(self) -> str:
        """Return the problem as it is printed: place, line with caret, allowed, mend."""
        # A terminal must not be steered by a file's control characters, nor flooded by it.
        clean = "".join(c if c.isprintable() else " " for c in self.place.source_line)
        start = max(0, self.place.column - 61)
        shown = clean[start : start + 100]
        lines = [f"{self.place}  {self.key}".rstrip(), f"  {_short(self.found)}"]
        if shown.strip():
            caret = " " * (self.place.column - 1 - start) + "^"
            lines += [f"    {shown}", f"    {caret}"]
        lines.append(f"  allowed: {_short(self.allowed)}")
        if self.mend:
            lines.append(f"  mend:    {_short(self.mend)}")
        return "\n".join(lines)


def _short(text: str, limit: int = 400) -> str:
    clean = "".join(c if c.isprintable() else " " for c in text)
    return clean if len(clean) <= limit else clean[: limit - 1] + "…"


class CardgenError(Exception):
    """Something is wrong with a maker's own files or wishes; the text says what, and the mend."""


class SpecError(CardgenError):
    """One or more spec files are faulty.

    Parameters
    ----------
    problems
        All of them; kept sorted by file, line and column.
    """

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems: tuple[Problem, ...] = tuple(
            sorted(problems, key=lambda p: (p.place.file, p.place.line, p.place.column))
        )
        super().__init__("\n".join(str(problem) for problem in self.problems))


def nearest(word: str, known: Sequence[str]) -> str:
    """Return the known word that is most like a misspelt or clipped one, or ``""``."""
    lower = word.lower()[:60]
    close = get_close_matches(lower, known, n=1, cutoff=0.6)
    if not close and len(lower) > 1:
        close = [each for each in known if each.startswith(lower)]
    return close[0] if close else ""
