"""Cards that exist: what they were made from, and whether they still hold."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from shlex import quote

from cardgen import __version__
from cardgen.binder.code import is_code
from cardgen.binder.record import (
    BinderError,
    ChartError,
    ColoursError,
    NoRecordError,
    Record,
    read,
)
from cardgen.binder.stale import Moved, moved, moved_lines
from cardgen.core.problems import SpecError
from cardgen.explain import as_json
from cardgen.make import keep, work

__all__ = [
    "BinderError",
    "ChartError",
    "ColoursError",
    "Moved",
    "NoCardError",
    "is_code",
    "job_of_code",
    "moved_since",
    "record_of",
    "recover",
    "remade_by",
]

NoCardError = NoRecordError
_LARGEST = 50_000_000


def record_of(card: Path) -> Record:
    """Return what a card says of itself.

    Raises
    ------
    NoCardError
        If the file is no card of ours.
    """
    from cardgen.pdf.finish import attachments

    try:
        if card.stat().st_size > _LARGEST:
            msg = "too large to be a card"
            raise NoRecordError(msg)
        return read(attachments(card.read_bytes()))
    except OSError as error:
        msg = f"cannot be read: {error.strerror}"
        raise NoRecordError(msg) from error
    except NoRecordError:
        raise
    except ValueError as error:
        raise NoRecordError(str(error)) from error


def moved_since(card: Path, jobs: Path) -> tuple[Moved, ...]:
    """Return the figures of a card that differ from those of today's files.

    Parameters
    ----------
    card
        A PDF that cardgen made.
    jobs
        Folder in which the job of the same name is looked for.

    Raises
    ------
    NoCardError
        If the file is no card, or its job is no longer there.
    SpecError
        If the job's files are faulty today.
    """
    record = record_of(card)
    job = jobs / f"{record.job}.yaml"
    if not job.is_file():
        msg = f"its job {record.job} is not under {jobs}"
        raise NoRecordError(msg)
    worked = work(job)
    told = as_json(worked.sheets, job=record.job, version=__version__, code=worked.code)
    return (
        *moved(record.figures, {figure["id"]: figure for figure in told["figures"]}),
        *moved_lines(record.schedule, told["schedule"]),
    )


def job_of_code(code: str, jobs: Path) -> Path | None:
    """Return the job under a folder whose card bears this code today, or ``None``."""
    for job in sorted(jobs.rglob("*.yaml")):
        try:
            if work(job).code.replace("-", "") == code.strip().upper().replace("-", ""):
                return job
        except SpecError:
            continue  # a faulty job has no card to compare with
    return None


def recover(card: Path, out: Path) -> tuple[Path, ...]:
    """Write the spec files embedded in a card below a folder, and return their paths.

    Raises
    ------
    NoCardError
        If the file is no card.
    FileExistsError
        If a file of other content stands in the way; nothing is overwritten.
    """
    record = record_of(card)
    targets = {out / name: content for name, content in record.files.items()}
    for target, content in targets.items():
        if target.exists() and target.read_bytes() != content:
            raise FileExistsError(17, "exists", str(target))
    for target, content in targets.items():
        keep(target, content)
    return tuple(targets)


def remade_by(files: Sequence[Path], out: Path) -> str:
    """Return the command that makes a card again from its recovered files, in their folder.

    Machine and template are named, because the card may have been made with others than its job
    and its shop name; those are not among the files.

    Parameters
    ----------
    files
        As :func:`recover` gave them.
    out
        The folder that they are below.
    """
    words = ["cardgen make"]
    for folder, option in (("jobs", ""), ("machines", "--machine "), ("templates", "--template ")):
        for file in files:
            if file.parent.name == folder:
                shown = file.stem if folder == "templates" else file.relative_to(out).as_posix()
                words.append(option + quote(shown))
    return " ".join(words)
