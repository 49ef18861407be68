"""What a change of the machine does to the cards: which figures moved, and which jobs are lost.

A card that hangs on the wall is compared with the one that takes its place. Where there is none
yet, the job on its own machine stands for it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from cardgen import __version__
from cardgen.core.figure import Finding
from cardgen.core.problems import SpecError
from cardgen.explain import as_json
from cardgen.make import Made, Worked, fingerprint, holds, make_anew, shelved, work
from cardgen.spec.job import Job
from cardgen.spec.load import load

if TYPE_CHECKING:
    from cardgen.binder.change import Change as Change
    from cardgen.binder.record import Record

Told = Mapping[str, Any]
"""A job as ``cardgen figures --json`` prints it."""

__all__ = ["compare", "make_and_compare", "report"]


def make_and_compare(
    path: Path, out: Path, *, machine: Path | None = None, template: str | None = None
) -> tuple[Made, Change | None]:
    """Make a card, and say what a change of its machine did to it.

    Parameters
    ----------
    path, out, machine, template
        As for :func:`cardgen.make.make_card`.

    Returns
    -------
    tuple
        What became of the job, and of its card; the second is ``None`` where the machine is the
        same as before, or where there was no card and no other machine was asked for.

    Raises
    ------
    SpecError, OSError
        As :func:`cardgen.make.make_card` does.
    """
    job = load(path, machine=machine, template=template)
    card = shelved(job, out)
    held = card.exists()
    mark = fingerprint(job)
    if held and holds(card, mark):
        return Made("unchanged", card, ()), None
    before = _on_the_wall(card, job) if held else None
    made = make_anew(job, mark, card)
    if before is None and machine is not None and not held:
        before = _on_its_own(path, job, template)
    if before is None:
        return made, None
    # Most cards are not compared with another: what reads and compares them is loaded late.
    from cardgen.shelf import record_of

    now = None if made.file is None else _told(record_of(made.file))
    return made, _compared(job.name, before, now, made.findings)


def compare(path: Path, worked: Worked, *, template: str | None = None) -> Change | None:
    """Return what another machine does to a job, against the job on its own machine.

    Parameters
    ----------
    path
        The job file.
    worked
        The job on the other machine.
    template
        To use instead of what the job names.
    """
    before = _on_its_own(path, worked.job, template)
    if before is None:
        return None
    sheets = worked.sheets
    now = None if sheets.refused else _as_told(worked)
    return _compared(worked.job.name, before, now, sheets.findings)


def _compared(name: str, before: Told, now: Told | None, findings: Sequence[Finding]) -> Change:
    from cardgen.binder.change import Change
    from cardgen.binder.stale import moved, moved_lines, moved_warnings

    refused = any(each["refuses"] for each in before["warnings"])
    if now is None:
        reasons = tuple(finding.text for finding in findings if finding.refuses)
        return Change(name, "lost", reasons=reasons)
    if refused:
        return Change(name, "won")
    shifted = (
        *moved(_by_id(before), _by_id(now)),
        *moved_lines(before["schedule"], now["schedule"]),
        *moved_warnings(before["warnings"], now["warnings"]),
    )
    return Change(name, "moved" if shifted else "valid", shifted)


def _by_id(told: Told) -> Mapping[str, Mapping[str, Any]]:
    return {str(figure["id"]): figure for figure in told["figures"]}


def _told(record: Record) -> Told:
    return {
        "figures": list(record.figures.values()),
        "schedule": record.schedule,
        "warnings": record.warnings,
    }


def _as_told(worked: Worked) -> Told:
    return as_json(worked.sheets, job=worked.job.name, version=__version__, code=worked.code)


def _machine_of(job: Job) -> bytes:
    return next(source.content for source in job.sources if source.role == "machine")


def _on_the_wall(card: Path, job: Job) -> Told | None:
    """Return what the card on the shelf says, if it was made for another machine or file."""
    from cardgen.shelf import NoCardError, record_of

    try:
        record = record_of(card)
    except NoCardError:
        return None
    machines = [text for name, text in record.files.items() if name.startswith("specs/machines/")]
    return None if _machine_of(job) in machines else _told(record)


def _on_its_own(path: Path, job: Job, template: str | None) -> Told | None:
    """Return the job on the machine that its file names, if that is another one."""
    try:
        own = load(path, template=template)
        if _machine_of(own) == _machine_of(job):
            return None
        return _as_told(work(path, template=template))
    except (SpecError, OSError):
        return None


def report(changes: Sequence[Change]) -> Iterator[str]:
    """Yield the lines of the report: moved figures card by card, then what is lost and what holds.

    Parameters
    ----------
    changes
        In the order of the jobs.
    """
    if not changes:
        return
    count = Counter(change.status for change in changes)
    yield (
        f"The machine changed. Cards that moved: {count['moved']}; that hold as they are: "
        f"{count['valid']}. Jobs that can no longer be cut: {count['lost']}."
    )
    for change in changes:
        if change.status == "moved":
            yield f"{change.job}: {len(change.moved)} moved"
            yield from (f"  {line}" for line in change.moved)
        elif change.status == "lost":
            yield f"{change.job}: can no longer be cut"
            yield from (f"  {reason}" for reason in change.reasons)
        elif change.status == "won":
            yield f"{change.job}: can be cut now; it could not before"
    valid = [change.job for change in changes if change.status == "valid"]
    if valid:
        yield f"Cards that hold as they are: {', '.join(valid)}"
