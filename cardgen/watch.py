"""Cards made again whenever a file behind them is saved.

job files -> cards -> Snapshot -> page, again after each change
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Sequence
from pathlib import Path

from cardgen.core.problems import SpecError
from cardgen.make import Made, make_card
from cardgen.preview.page import Shown, Snapshot

Seen = dict[str, tuple[int, int, int]]


def seen(folders: Iterable[Path], files: Iterable[Path]) -> Seen:
    """Return how all files that a card may depend on look now: time of change, size, number.

    Parameters
    ----------
    folders
        Searched for spec files of all kinds, as deep as they go.
    files
        Looked at besides.
    """
    found: Seen = {}
    for folder in folders:
        for above, _, names in os.walk(folder):
            for name in names:
                if name.endswith((".yaml", ".yml")):
                    _look(Path(above) / name, found)
    for file in files:
        _look(file, found)
    return found


def _look(file: Path, found: Seen) -> None:
    try:
        state = file.stat()
    except OSError:
        return  # gone between listing and looking: the next look tells
    found[str(file)] = (state.st_mtime_ns, state.st_size, state.st_ino)


def rebuild(files: Sequence[Path], out: Path, before: Snapshot) -> Snapshot:
    """Make what is no longer up to date, and return what is to be shown.

    Parameters
    ----------
    files
        The jobs.
    out
        Folder of the cards.
    before
        What was shown until now.
    """
    return Snapshot(before.revision + 1, tuple(_shown(file, out) for file in files))


def _shown(file: Path, out: Path) -> Shown:
    name = str(file)
    try:
        made = make_card(file, out)
        if made.status == "refused" or made.file is None:
            reasons = tuple(finding.text for finding in made.findings if finding.refuses)
            return Shown(name, "refused", reasons, None)
        return Shown(name, "good", _notes(made), made.file.read_bytes())
    except SpecError as error:
        return Shown(name, "faulty", tuple(str(problem) for problem in error.problems), None)
    except OSError as error:
        return Shown(name, "faulty", (f"{error.filename or file}: {error.strerror}",), None)
    except Exception as fault:  # the last net: the watch goes on, and says whose fault it is
        told = f"This is a fault in cardgen, not in your file: {type(fault).__name__}: {fault}"
        return Shown(name, "faulty", (told,), None)


def _notes(made: Made) -> tuple[str, ...]:
    return tuple(finding.text for finding in made.findings)
