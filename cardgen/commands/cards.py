"""``stale`` and ``recover``: what a finished card tells."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from cardgen.core.problems import SpecError
from cardgen.terminal import DONE, FAULTY, JOBS, MACHINES, STALE, USAGE, put, say

if TYPE_CHECKING:
    from cardgen.shelf import Moved


def stale(arguments: argparse.Namespace) -> int:
    """Print whether printed cards still hold, and which figures moved."""
    from cardgen import shelf

    worst = DONE
    for word in arguments.cards:
        path = Path(word)
        if not _stands(word):
            worst = max(worst, _stale_code(word))
            continue
        for card in sorted(path.rglob("*.pdf")) if path.is_dir() else [path]:
            try:
                moved = _moved_since(card)
            except shelf.NoCardError as error:
                say(f"{card}: {error}")
                # A binder beside the cards of a folder is no fault of theirs.
                beside = path.is_dir() and isinstance(error, shelf.BinderError)
                worst = max(worst, DONE if beside else FAULTY)
            except SpecError as error:
                say(f"{card}: its job or machine can no longer be read")
                say(str(error))
                worst = max(worst, FAULTY)
            else:
                put(f"{card}: {'stale' if moved else 'holds'}")
                for line in moved:
                    put(f"  {line}")
                worst = max(worst, STALE if moved else DONE)
    return worst


def _stands(word: str) -> bool:
    """Whether a word leads to a file or folder; one that cannot, such as a blank, does not."""
    try:
        return bool(word) and Path(word).exists()
    except (OSError, ValueError):
        return False


def _moved_since(card: Path) -> tuple[Moved, ...]:
    """Return what moved on a card, or on a chart."""
    from cardgen import shelf

    # What works charts out is loaded for charts alone: most files are cards.
    try:
        return shelf.moved_since(card, JOBS)
    except shelf.ChartError as chart:
        from cardgen import machine_chart

        return machine_chart.moved_since(chart, MACHINES)
    except shelf.ColoursError as colours:
        from cardgen import colour_chart

        return colour_chart.moved_since(colours)


def _stale_code(word: str) -> int:
    from cardgen import shelf

    if not shelf.is_code(word):
        say(f"{word[:80]}: neither a file, a folder, nor a card's code (a sign may be misread)")
        return FAULTY
    job = shelf.job_of_code(word, JOBS)
    put(f"{word}: {f'holds, {job}' if job else 'stale: no job gives this code today'}")
    return DONE if job else STALE


def recover(arguments: argparse.Namespace) -> int:
    """Write out the spec files embedded in a card."""
    from cardgen import shelf

    try:
        files = shelf.recover(arguments.card, arguments.out)
    except shelf.NoCardError as error:
        say(f"{arguments.card}: {error}")
        return FAULTY
    except FileExistsError as error:
        say(f"{error.filename}: exists already with other content; choose another folder")
        return USAGE
    except OSError as error:
        say(f"{error.filename}: {error.strerror}")
        return FAULTY
    for file in files:
        put(str(file))
    say(f"To make it again, in {arguments.out}: {shelf.remade_by(files, arguments.out)}")
    return DONE
