"""``binder``: all cards in one file to print."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from cardgen.terminal import (
    DONE,
    FAULTY,
    REFUSED,
    USAGE,
    NoFileError,
    each,
    job_files,
    put,
    say,
    tell,
)

if TYPE_CHECKING:
    from cardgen.machine_change import Change
    from cardgen.spec.job import Job


def bind(arguments: argparse.Namespace) -> int:
    """Bind the cards of the jobs named, and print the file if it was written.

    A job that is refused or faulty is left out and named; the exit code is the worst of all.
    """
    from cardgen import bindery
    from cardgen.machine_change import compare, report
    from cardgen.make import fingerprint as mark_of
    from cardgen.spec.load import load

    try:
        files = job_files(arguments.paths)
    except NoFileError as error:
        say(str(error))
        return FAULTY
    style = bindery.Style(
        by=arguments.by,
        sheet=bindery.sheet(arguments.sheet) if arguments.sheet else None,
        both=not arguments.one_sided,
        notes=arguments.notes,
        charts=not arguments.no_charts,
    )
    fingerprint = bindery.mark(files, style, machine=arguments.machine, template=arguments.template)
    before = bindery.known(arguments.out, fingerprint)
    binder = bindery.begin(style)
    changes: list[Change] = []
    told: dict[str, bindery.Told] = {}
    tray = bindery.Tray(arguments.out)
    show_progress = sys.stderr.isatty()
    count = 0

    def worked_out(file: Path, job: Job) -> bindery.Kept:
        worked = bindery.worked_out(job)
        if arguments.machine and (change := compare(file, worked, template=arguments.template)):
            changes.append(change)
        if before is not None:
            return bindery.Kept(worked.sheets.findings)
        kept = bindery.drawn(worked)
        tray.add(job, kept)
        return kept

    def bound(job: Job, kept: bindery.Kept) -> bindery.Told:
        try:
            bindery.bind(binder, job, kept, tray)
        except bindery.ImposeError as error:
            return bindery.Told(kept.findings, str(error))
        return bindery.Told(kept.findings)

    def one(file: Path) -> int:
        nonlocal count
        count += 1
        job = load(file, machine=arguments.machine, template=arguments.template)
        mark = mark_of(job)
        held = None if before is None else before.get(mark)
        # For another machine all jobs are worked out, to tell what moved.
        kept = None if held or arguments.machine else tray.find(job)
        anew = kept is None and (held is None or arguments.machine is not None)
        if show_progress:
            say(f"[{count}/{len(files)}] {file.name}{': worked out anew' if anew else ''}")
        again = bound(job, kept or worked_out(file, job)) if anew or not held else held
        now = held or again
        told[mark] = now
        tell(now.findings, file)
        if now.refused:
            say(f"{file}: left out of the binder")
            return REFUSED
        if now.too_large:
            say(f"{file}: left out of the binder: {now.too_large}")
            return USAGE
        return DONE

    worst = each(files, one)
    for line in report(changes):
        say(line)
    binder.tell(changes)
    if before is not None:
        return worst
    if not len(binder):
        say("no binder is written: there is no card to put into it")
        return worst
    try:
        bindery.put_away(arguments.out, bindery.finish(binder, fingerprint), fingerprint, told)
        tray.put_away()
    except OSError as error:
        say(f"{arguments.out}: {error.strerror or error}")
        return max(worst, FAULTY)
    put(str(arguments.out))
    return worst
