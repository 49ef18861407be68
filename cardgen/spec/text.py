"""The bytes of a spec file to text that any parser reads the same way."""

from __future__ import annotations

import os
import re
import stat
import unicodedata
from pathlib import Path

from cardgen.core.problems import Place, Problem, nearest

LARGEST = 64 * 1024
"""Bytes that a spec file may have."""

_UNBLOCKED: int = getattr(os, "O_NONBLOCK", 0)
_UNTRANSLATED: int = getattr(os, "O_BINARY", 0)


class UnreadableError(Exception):
    """A file that cannot be taken further.

    Parameters
    ----------
    problems
        What is wrong with it.
    """

    def __init__(self, problems: list[Problem]) -> None:
        self.problems = problems
        super().__init__("; ".join(problem.found for problem in problems))


def content(path: Path, shown: str) -> bytes:
    """Return the bytes of a spec file.

    Parameters
    ----------
    path
        The file.
    shown
        What to call it in a message.

    Raises
    ------
    UnreadableError
        If there is no such file, if it is not a plain file, or if it is too large.
    """
    wanted = f"a text file of at most {LARGEST // 1024} kB"
    try:
        # Opened without blocking: a named pipe must not make us wait for its other end.
        handle = os.open(path, os.O_RDONLY | _UNTRANSLATED | _UNBLOCKED)
        with os.fdopen(handle, "rb") as file:
            if not stat.S_ISREG(os.fstat(handle).st_mode):
                raise UnreadableError([whole(shown, "this is not a plain file", wanted)])
            data = file.read(LARGEST + 1)
    except FileNotFoundError:
        lost = whole(shown, "there is no such file", wanted, _near(path))
        raise UnreadableError([lost]) from None
    except IsADirectoryError:
        raise UnreadableError([whole(shown, "this is a folder", wanted)]) from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise UnreadableError([whole(shown, f"it cannot be read: {reason}", wanted)]) from None
    if len(data) > LARGEST:
        raise UnreadableError([whole(shown, "the file is too large for a spec", wanted)])
    return data


def _near(path: Path) -> str:
    """Return which file may have been meant by one that is not there."""
    try:
        beside = sorted(other.name for other in path.parent.glob("*.y*ml"))
    except OSError:
        return ""
    near = nearest(path.name, beside)
    return f"did you mean {near}?" if near else ""


def odd(text: str) -> int | None:
    """Return where a text holds a character that does not print, apart from blanks and line ends.

    Such characters are typing accidents at best; at worst they turn a line round, or steer the
    terminal that shows it.
    """
    if text.isprintable() or text.replace("\n", "").replace("\t", "").isprintable():
        return None
    for at, char in enumerate(text):
        if not char.isprintable() and char not in "\n\t" and unicodedata.category(char) != "Zs":
            return at
    return None


def decoded(data: bytes, shown: str) -> str:
    """Return the text of a spec file, or raise :class:`UnreadableError` at what is not text."""
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        before = data[: error.start].decode("utf-8", "replace")
        line, column = before.count("\n"), len(before) - before.rfind("\n") - 1
        source = data.split(b"\n")[line].decode("utf-8", "replace").rstrip("\r")
        place = Place(shown, line + 1, column + 1, source)
        found = f"byte {data[error.start]:#04x} is not UTF-8 text"
        raise UnreadableError(
            [Problem(place, "", found, "text in UTF-8", "save the file as UTF-8")]
        ) from None
    text = text.removeprefix("\ufeff").replace("\r\n", "\n")
    at = odd(text)
    at = _tab(text) if at is None else at
    if at is not None:
        line, column = text.count("\n", 0, at), at - (text.rfind("\n", 0, at) + 1)
        place = Place(shown, line + 1, column + 1, text.split("\n")[line])
        raise UnreadableError([unprintable(place, text[at])])
    return text


_COMMENT = re.compile(r"(?:^|(?<=\s))#")


def _tab(text: str) -> int | None:
    """Return where a tab stands that is not surely in a comment.

    Parsers differ on what else a tab may mean. Where there is a quote on the line, a number sign
    may stand in a text and begin nothing.
    """
    start = 0
    while (at := text.find("\t", start)) >= 0:
        first = text.rfind("\n", 0, at) + 1
        before = text[first:at]
        if "'" in before or '"' in before or not _COMMENT.search(before):
            return at
        # The rest of a comment says no more.
        start = text.find("\n", at)
        if start < 0:
            break
    return None


def unprintable(place: Place, char: str) -> Problem:
    """Return the fault of a character that does not print."""
    if char == "\t":
        return Problem(place, "", "here is a tab", "blanks", "write blanks in its place")
    name = unicodedata.name(char, "a control character").lower()
    found = f"here is a character that does not print, U+{ord(char):04X} ({name})"
    return Problem(place, "", found, "printable text", "delete it")


def whole(shown: str, found: str, allowed: str, mend: str = "") -> Problem:
    """Return a fault of a file as a whole."""
    return Problem(Place(shown, 1, 1), "", found, allowed, mend)
