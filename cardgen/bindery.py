"""Worked-out jobs into one binder: the flow of ``make`` once more, with many cards at its end.

job files -> works -> Binder -> PDF -> shelf
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path

from cardgen import __version__, library, machine_chart
from cardgen.binder.bind import Binder, Style
from cardgen.binder.code import code, digest
from cardgen.binder.entry import By, entry
from cardgen.binder.impose import ImposeError
from cardgen.binder.told import Told, packed, unpacked
from cardgen.core.problems import SpecError
from cardgen.make import Worked, facts, fingerprint, holds, keep, picture, shelve, words, work
from cardgen.pdf import fonts
from cardgen.sheets.chart import work_out
from cardgen.spec.load import load

__all__ = [
    "Binder",
    "By",
    "ImposeError",
    "Style",
    "Told",
    "begin",
    "finish",
    "known",
    "make_binder",
    "mark",
    "mark_of_job",
    "put_away",
    "sheet",
    "take",
]


_USUAL = Style()


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
    job = worked.job
    told = entry(worked.sheets, facts(worked), inch=job.inch)
    binder.take(told, picture(worked), job.template, words(job))
    content = next(source.content for source in job.sources if source.role == "machine")
    mark = code(digest([("machine", content)], __version__))
    if binder.lacks_chart(told.machine, mark):
        of = machine_chart.Read(job.machine, content, job.assumed)
        chart = machine_chart.picture(of, work_out(job.machine), job.template, words(job))
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


def mark_of_job(file: Path, *, machine: Path | None, template: str | None) -> str:
    """Return the fingerprint of one job of a binder.

    Raises
    ------
    SpecError
        If any file behind it is faulty.
    """
    return fingerprint(load(file, machine=machine, template=template))


def known(target: Path, fingerprint: str) -> dict[str, Told] | None:
    """Return what was said of each job, by its fingerprint, if the binder is there, unchanged."""
    if not holds(target, fingerprint):
        return None
    try:
        return unpacked(_told_file(target).read_bytes(), fingerprint)
    except OSError:
        return None


def put_away(target: Path, content: bytes, fingerprint: str, told: Mapping[str, Told]) -> None:
    """Put a binder on the shelf, and beside it what was said of its jobs."""
    shelve(target, content, fingerprint)
    keep(_told_file(target), packed(fingerprint, told))


def _told_file(target: Path) -> Path:
    return target.parent / ".cardgen" / f"{target.stem}.json"
