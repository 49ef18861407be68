"""``make`` and ``check``: the cards, or only whether there could be cards."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from cardgen.terminal import (
    DONE,
    FAULTY,
    REFUSED,
    NoFileError,
    each,
    job_files,
    put,
    say,
    tell,
    with_files,
)

if TYPE_CHECKING:
    from cardgen.make import Made


def make_cards(arguments: argparse.Namespace) -> int:
    """Make the cards of the jobs named and print each file that was written."""
    from cardgen.make import make_card

    try:
        files = job_files(arguments.paths)
    except NoFileError as error:
        say(str(error))
        return FAULTY
    show_progress = sys.stderr.isatty()
    total = len(files)
    count = 0

    def report(file: Path, made: Made) -> int:
        nonlocal count
        count += 1
        if show_progress:
            say(f"[{count}/{total}] {file.name}: {made.status}")
        tell(made.findings, file)
        if made.status == "refused":
            old = arguments.out / f"{file.stem}.pdf"
            if old.exists():
                say(f"{old}: is of an earlier state of this job; take it down")
            return REFUSED
        if made.status == "made":
            put(str(made.file))
        return DONE

    def one(file: Path) -> Made:
        return make_card(
            file, arguments.out, machine=arguments.machine, template=arguments.template
        )

    if arguments.jobs > 1 and total > 1:
        return _make_together(arguments, files, report)
    return each(files, lambda file: report(file, one(file)))


def _make_together(
    arguments: argparse.Namespace, files: Sequence[Path], report: Callable[[Path, Made], int]
) -> int:
    from concurrent.futures import ProcessPoolExecutor
    from functools import partial

    from cardgen.make import make_card

    work = partial(
        make_card, out=arguments.out, machine=arguments.machine, template=arguments.template
    )
    with ProcessPoolExecutor(max_workers=min(arguments.jobs, len(files))) as pool:
        waiting = {file: pool.submit(work, file) for file in files}
        return each(files, lambda file: report(file, waiting[file].result()))


def check(arguments: argparse.Namespace) -> int:
    """Work the jobs out, write nothing, and print which are good."""
    from cardgen.make import work

    def run(file: Path) -> int:
        worked = work(file)
        tell(worked.sheets.findings, file)
        put(f"{file}: {'refused' if worked.sheets.refused else 'good'}")
        return REFUSED if worked.sheets.refused else DONE

    return with_files(arguments.paths, run)
