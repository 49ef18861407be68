"""The whole flow, one short function for each thing that is made. Open this first.

    spec file -> job -> sheets of figures -> picture -> PDF -> shelf

Every step is a pure function of the one before; only :func:`keep` writes, and what it writes is
whole or not there.
"""

from __future__ import annotations

import hashlib
import os
import tempfile
from dataclasses import dataclass
from errno import ELOOP
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from cardgen import __version__, library
from cardgen.binder.code import code, digest
from cardgen.binder.record import attachments
from cardgen.core.figure import Finding, Sheets
from cardgen.core.problems import Place, Problem, SpecError
from cardgen.core.words import Said, Words, joined
from cardgen.explain import as_json
from cardgen.sheets import every
from cardgen.spec.job import Job
from cardgen.spec.load import load

if TYPE_CHECKING:
    from cardgen.card.pen import Picture

Status = Literal["made", "unchanged", "refused"]


@dataclass(frozen=True, slots=True)
class Worked:
    """A job and all that was worked out for it.

    Attributes
    ----------
    fingerprint
        Of the files behind the job and of cardgen's version.
    """

    job: Job
    sheets: Sheets
    fingerprint: str

    @property
    def code(self) -> str:
        """The short code printed on the card."""
        return code(self.fingerprint)


@dataclass(frozen=True, slots=True)
class Made:
    """What became of one job.

    Attributes
    ----------
    file
        The card; ``None`` if the job was refused.
    findings
        Warnings, or the reasons for the refusal.
    """

    status: Status
    file: Path | None
    findings: tuple[Finding, ...]


def fingerprint(job: Job) -> str:
    """Return the fingerprint of everything that the job's card depends on."""
    return digest(((source.role, source.content) for source in job.sources), __version__)


def work(path: Path, *, machine: Path | None = None, template: str | None = None) -> Worked:
    """Read a job and work out its figures.

    Parameters
    ----------
    path
        The job file.
    machine, template
        To use instead of what the job names.

    Raises
    ------
    SpecError
        If any file behind the job is faulty; all faults together.
    """
    return worked_out(load(path, machine=machine, template=template))


def worked_out(job: Job) -> Worked:
    """Return a job that was read with its figures."""
    return Worked(job, every.work_out(job), fingerprint(job))


def picture(worked: Worked) -> Picture:
    """Return the cards of a worked-out job, drawn.

    Raises
    ------
    SpecError
        If the template's cards are too small for what its type makes of a panel.
    """
    # Loaded here, so that `check` and `figures` do not pay for paper.
    from cardgen.card import place
    from cardgen.card.stack import NoRoomError
    from cardgen.pdf import fonts, symbol

    job = worked.job
    try:
        return place.lay_out(
            worked.sheets,
            facts(worked),
            job.template,
            fonts.metrics(),
            inch=job.inch,
            show=job.show,
            symbol=partial(symbol.identity, worked.code, __version__),
            words=words(job),
        )
    except NoRoomError as fault:
        raise SpecError([_too_small(job, str(fault))]) from fault


def _too_small(job: Job, why: str) -> Problem:
    file = next(source.name for source in job.sources if source.role == "template")
    allowed = "a larger page, fewer columns, smaller margins or smaller type"
    return Problem(Place(file, 1, 1), "", f"the cards of {job.name} do not fit: {why}", allowed)


def draw(worked: Worked) -> bytes:
    """Return the card of a worked-out job as PDF bytes."""
    from cardgen.pdf import write

    job = worked.job
    told = as_json(worked.sheets, job=job.name, version=__version__, code=worked.code)
    return write.to_pdf(
        picture(worked),
        attachments=attachments(
            told, ((source.role, source.name, source.content) for source in job.sources)
        ),
        words=words(job),
    )


def words(job: Job) -> Words:
    """Return the words in which a job's cards are put."""
    return Words(library.words(job.language), job.comma, job.language)


def facts(worked: Worked) -> dict[str, str]:
    """Return the words of a job that the card prints and that are not figures.

    What the maker wrote is said in his words; of materials only the shipped ones are translated.
    """
    job = worked.job
    material = job.work.material.title
    return {
        "job": Said(job.name),
        "title": Said(job.title),
        "note": Said(job.note),
        "date": Said(job.date),
        "machine": Said(job.machine.title),
        "material": material if material in words(job).catalogue else Said(material),
        "code": worked.code,
        "version": __version__,
        "file": Said(Path(job.file).name),
        "assumed": joined((assumed.text for assumed in job.assumed), "; "),
    }


def make_card(
    path: Path,
    out: Path,
    *,
    machine: Path | None = None,
    template: str | None = None,
) -> Made:
    """Make the card of one job, unless the card on the shelf is already of these files.

    Parameters
    ----------
    path
        The job file.
    out
        Folder for the card; it is made if need be.
    machine, template
        To use instead of what the job names.

    Raises
    ------
    SpecError
        If any file behind the job is faulty.
    OSError
        If the folder cannot be written.
    """
    job = load(path, machine=machine, template=template)
    mark, card = fingerprint(job), shelved(job, out)
    return Made("unchanged", card, ()) if holds(card, mark) else make_anew(job, mark, card)


def shelved(job: Job, out: Path) -> Path:
    """Return where the card of a job belongs."""
    return out / f"{job.name}.pdf"


def make_anew(job: Job, mark: str, card: Path) -> Made:
    """Make the card of a job with a fingerprint, whatever stands on the shelf."""
    worked = Worked(job, every.work_out(job), mark)
    if worked.sheets.refused:
        return Made("refused", None, worked.sheets.findings)
    shelve(card, draw(worked), mark)
    return Made("made", card, worked.sheets.findings)


def _shelf_note(card: Path) -> Path:
    return card.parent / ".cardgen" / f"{card.stem}.txt"


def holds(card: Path, mark: str) -> bool:
    """Whether a card on the shelf was made from the files with this fingerprint.

    The note beside the shelf holds the fingerprint and the card's own checksum, so a card that
    was torn, edited or swapped does not hold; neither does one whose note is damaged.
    """
    try:
        return _shelf_note(card).read_text("utf-8") == _note(mark, card.read_bytes())
    except (OSError, UnicodeDecodeError):
        return False


def shelve(card: Path, content: bytes, mark: str) -> None:
    """Put a card on the shelf with a note of what it was made from.

    The card goes first: should the work be cut short in between, the card is made again.

    Raises
    ------
    OSError
        If either cannot be written, or if a link would lead the note out of the folder.
    """
    note = _shelf_note(card)
    if note.parent.is_symlink():
        raise OSError(ELOOP, "a link stands where our own folder should; delete it", note.parent)
    keep(card, content)
    keep(note, _note(mark, content).encode())


def _note(mark: str, content: bytes) -> str:
    return f"{mark}\n{hashlib.sha256(content).hexdigest()}\n"


def keep(target: Path, content: bytes) -> None:
    """Write a file so that a reader sees the old one or the new one, never a part."""
    target.parent.mkdir(parents=True, exist_ok=True)
    handle, name = tempfile.mkstemp(prefix=f".{target.name}.", dir=target.parent)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
        Path(name).chmod(0o644)
        Path(name).replace(target)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise
