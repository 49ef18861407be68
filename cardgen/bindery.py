"""Worked-out jobs into one binder: the flow of ``make`` once more, with many cards at its end.

job files -> works -> Binder -> PDF -> shelf
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from errno import ELOOP
from pathlib import Path
from typing import Literal

from cardgen import __version__, library, machine_chart
from cardgen.binder import kept as kept_job
from cardgen.binder import told as told_of_jobs
from cardgen.binder.bind import Binder, Style
from cardgen.binder.code import code, digest
from cardgen.binder.entry import By, entry
from cardgen.binder.impose import ImposeError
from cardgen.binder.kept import Kept
from cardgen.binder.told import Told
from cardgen.core.problems import SpecError
from cardgen.make import (
    Worked,
    facts,
    fingerprint,
    holds,
    keep,
    picture,
    shelve,
    words,
    work,
    worked_out,
)
from cardgen.pdf import fonts
from cardgen.sheets.chart import work_out
from cardgen.spec.job import Job
from cardgen.spec.load import load

__all__ = [
    "Binder",
    "By",
    "ImposeError",
    "Kept",
    "Style",
    "Told",
    "Tray",
    "begin",
    "bind",
    "drawn",
    "finish",
    "known",
    "make_binder",
    "mark",
    "put_away",
    "sheet",
    "take",
    "worked_out",
]


What = Literal["cards", "chart"]
_USUAL = Style()
_KEPT = re.compile(r"[0-9a-f]{64}\.job")
"""The name of a kept job; nothing else is ever removed."""


def sheet(name: str) -> tuple[float, float]:
    """Return width and height [mm] of a sheet that cards are printed on.

    Raises
    ------
    ValueError
        If no sheet of that name is known; the message names those that are.
    """
    known = {row["name"]: row for row in library.table("card/sheet_sizes")}
    try:
        row = known[name.lower()]
    except KeyError:
        msg = f"{name} is no sheet that is known: {', '.join(known)}"
        raise ValueError(msg) from None
    return float(row["width_mm"]), float(row["height_mm"])


def begin(style: Style) -> Binder:
    """Return an empty binder."""
    return Binder(style, fonts.metrics())


def take(binder: Binder, worked: Worked) -> None:
    """Put the cards of a worked-out job into a binder, and its machine's chart with the first.

    Raises
    ------
    ImposeError
        If a card is larger than the binder's sheets.
    """
    bind(binder, worked.job, drawn(worked))


def drawn(worked: Worked) -> Kept:
    """Return what binding a worked-out job needs: of one that is refused only the reasons."""
    findings = worked.sheets.findings
    if worked.sheets.refused:
        return Kept(findings)
    told = entry(worked.sheets, facts(worked), inch=worked.job.inch)
    return Kept(findings, told, picture(worked))


def bind(binder: Binder, job: Job, kept: Kept, tray: Tray | None = None) -> None:
    """Put the cards of a job into a binder, and its machine's chart with the first.

    Parameters
    ----------
    tray
        Where charts are kept.

    Raises
    ------
    ImposeError
        If a card is larger than the binder's sheets.
    """
    told, cards = kept.entry, kept.picture
    if told is None or cards is None:
        return
    binder.take(told, cards, job.template, words(job))
    content = next(source.content for source in job.sources if source.role == "machine")
    mark = code(digest([("machine", content)], __version__))
    if binder.lacks_chart(told.machine, mark):
        held = tray.find(job, "chart") if tray else None
        chart = held.picture if held else None
        if chart is None:
            of = machine_chart.Read(job.machine, content, job.assumed)
            chart = machine_chart.picture(of, work_out(job.machine), job.template, words(job))
            if tray:
                tray.add(job, Kept((), picture=chart), "chart")
        binder.put_chart(told.machine, mark, chart, job.template)


def finish(binder: Binder, fingerprint: str) -> bytes:
    """Return a binder as a file that bears the code of its fingerprint."""
    count = len(binder)
    title = f"Binder of {count} job{'' if count == 1 else 's'}"
    return binder.to_bytes(title, f"binder {code(fingerprint)}")


def make_binder(
    paths: Iterable[Path],
    target: Path,
    style: Style = _USUAL,
    *,
    machine: Path | None = None,
    template: str | None = None,
) -> tuple[Path, ...]:
    """Bind the cards of jobs into one file, and return the jobs that are refused and left out.

    Parameters
    ----------
    paths
        The job files, in the order of no account: the style sorts them.
    target
        The file; its folder is made if need be.
    style
        How it is put together.
    machine, template
        To use instead of what the jobs name.

    Raises
    ------
    SpecError
        If any file behind a job is faulty.
    ImposeError
        If a card is larger than the style's sheets.
    ValueError
        If no job is left to bind.
    OSError
        If the file cannot be written.
    """
    files = tuple(paths)
    binder = begin(style)
    refused = []
    for file in files:
        worked = work(file, machine=machine, template=template)
        if worked.sheets.refused:
            refused.append(file)
        else:
            take(binder, worked)
    if not len(binder):
        msg = "there is no card to bind"
        raise ValueError(msg)
    keep(target, finish(binder, mark(files, style, machine=machine, template=template)))
    return tuple(refused)


def mark(files: Iterable[Path], style: Style, *, machine: Path | None, template: str | None) -> str:
    """Return the fingerprint of a binder: of all files behind its jobs, and of its style.

    What is faulty has no card, and so no part in it.
    """
    parts: list[tuple[str, bytes]] = [("style", repr(style).encode())]
    # With another machine the binder tells what moved, so that the jobs' own have a part in it.
    for used in (machine, None) if machine else (None,):
        for file in files:
            try:
                job = load(file, machine=used, template=template)
            except (SpecError, OSError):
                continue
            parts.append((job.name, fingerprint(job).encode()))
    return digest(parts, __version__)


def known(target: Path, fingerprint: str) -> dict[str, Told] | None:
    """Return what was said of each job, by its fingerprint, if the binder is there, unchanged."""
    if not holds(target, fingerprint):
        return None
    try:
        return told_of_jobs.unpacked(_told_file(target).read_bytes(), fingerprint)
    except OSError:
        return None


def put_away(target: Path, content: bytes, fingerprint: str, told: Mapping[str, Told]) -> None:
    """Put a binder on the shelf, and beside it what was said of its jobs."""
    shelve(target, content, fingerprint)
    keep(_told_file(target), told_of_jobs.packed(fingerprint, told))


def _told_file(target: Path) -> Path:
    return target.parent / ".cardgen" / f"{target.stem}.json"


class Tray:
    """The jobs of a binder, each in a file of its own beside it, by what it was made from.

    The chart of a machine is kept with the job that brought it, whose files are more than it needs.
    Pages are written as soon as they are drawn: memory stays free of them, and a binder that was
    cut short goes on from there.

    Parameters
    ----------
    target
        The binder.
    """

    def __init__(self, target: Path) -> None:
        self._target = target
        self._folder = target.parent / ".cardgen" / f"{target.stem}.jobs"
        self._later: dict[str, bytes] = {}
        self._used: set[str] = set()

    def find(self, job: Job, what: What = "cards") -> Kept | None:
        """Return a job as it was kept, if it still holds; the file is then kept on."""
        mark = _mark_of_pages(job, what)
        try:
            kept = kept_job.unpacked(self._file(mark).read_bytes(), mark)
        except OSError:
            return None
        if kept is not None:
            self._used.add(mark)
        return kept

    def add(self, job: Job, kept: Kept, what: What = "cards") -> None:
        """Keep what was made anew; what cannot be written is tried again at the end."""
        mark = _mark_of_pages(job, what)
        content = kept_job.packed(kept, mark)
        self._used.add(mark)
        # Where there is no binder in the end, nothing is left behind.
        if kept.picture is None or self._target.is_dir():
            self._later[mark] = content
            return
        try:
            self._write(mark, content)
        except OSError:
            self._later[mark] = content

    def put_away(self) -> None:
        """Write what is left, and remove the jobs that the binder has no more.

        Raises
        ------
        OSError
            If they cannot be written, or if a link would lead them out of the folder.
        """
        for mark, content in self._later.items():
            self._write(mark, content)
        if self._folder.is_symlink():
            return
        for file in self._folder.glob("*.job"):
            if _KEPT.fullmatch(file.name) and file.stem not in self._used:
                file.unlink(missing_ok=True)

    def _file(self, mark: str) -> Path:
        return self._folder / f"{mark}.job"

    def _write(self, mark: str, content: bytes) -> None:
        for folder in (self._folder.parent, self._folder):
            if folder.is_symlink():
                raise OSError(ELOOP, "a link stands where our own folder should; delete it", folder)
        keep(self._file(mark), content)


def _mark_of_pages(job: Job, what: What) -> str:
    """Return the fingerprint of all that a job's pages show: the file's name stands on the card."""
    how = repr((Path(job.file).name, job.language, job.comma))
    return digest([(what, fingerprint(job).encode()), ("how", how.encode())], __version__)
