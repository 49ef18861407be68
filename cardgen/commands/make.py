"""``make`` and ``check``: the cards, or only whether there could be cards."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Sequence
from functools import partial
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
    from cardgen.machine_change import Change
    from cardgen.make import Made

    Done = tuple[Made, Change | None]


def make_cards(arguments: argparse.Namespace) -> int:
    """Make the cards of the jobs named and print each file that was written."""
    from cardgen.machine_change import make_and_compare, report

    try:
        files = job_files(arguments.paths)
    except NoFileError as error:
        say(str(error))
        return FAULTY
    changes: list[Change] = []
    show_progress = sys.stderr.isatty()
    total = len(files)
    count = 0

    def tell_of(file: Path, done: Done) -> int:
        nonlocal count
        count += 1
        made, change = done
        if change is not None:
            changes.append(change)
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

    one = partial(
        make_and_compare,
        out=arguments.out,
        machine=arguments.machine,
        template=arguments.template,
    )
    if arguments.jobs > 1 and total > 1:
        worst = _make_together(arguments.jobs, files, one, tell_of)
    else:
        worst = each(files, lambda file: tell_of(file, one(file)))
    for line in report(changes):
        say(line)
    return worst


def _make_together(
    jobs: int,
    files: Sequence[Path],
    one: Callable[[Path], Done],
    tell_of: Callable[[Path, Done], int],
) -> int:
    from concurrent.futures import ProcessPoolExecutor

    with ProcessPoolExecutor(max_workers=min(jobs, len(files))) as pool:
        waiting = {file: pool.submit(one, file) for file in files}
        return each(files, lambda file: tell_of(file, waiting[file].result()))


def check(arguments: argparse.Namespace) -> int:
    """Work the jobs out, write nothing, and print which are good."""
    from cardgen.make import work

    def run(file: Path) -> int:
        worked = work(file)
        tell(worked.sheets.findings, file)
        if worked.sheets.refused:
            # What nobody said may be what stands in the way.
            for assumed in worked.job.assumed:
                say(f"{file}: assumed: {assumed.text}  [{assumed.key}]")
        put(f"{file}: {'refused' if worked.sheets.refused else 'good'}")
        return REFUSED if worked.sheets.refused else DONE

    return with_files(arguments.paths, run)
