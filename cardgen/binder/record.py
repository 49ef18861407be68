"""What a card was made from, and every number on it: the files that are embedded in its PDF."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from typing import Any

from cardgen.core.problems import CardgenError

RECORD = "record.json"
BINDER = "binder.json"
"""Embedded in a binder: its jobs and their codes."""
CHART = "chart.json"
"""Embedded in a machine's chart: its name and its lines."""
COLOURS = "colours.json"
"""Embedded in the chart of colours: what it says."""
_FOLDERS = {
    "job": "specs/jobs",
    "machine": "specs/machines",
    "shop": "specs",
    "material": "specs/materials",
    "template": "templates",
}

_NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9-]{0,99}")
"""The name of a job."""
_FILE = re.compile(
    rf"(?:{'|'.join(sorted(set(_FOLDERS.values())))})/(?!\.)[^/\\:*?\"<>|]{{1,100}}\.ya?ml"
)
"""The path of a spec file below a project folder."""


class NoRecordError(CardgenError, ValueError):
    """A file that is not a card of ours, or one whose record is damaged."""


class BinderError(NoRecordError):
    """A binder in place of a card: its cards bear codes of their own."""


class ChartError(NoRecordError):
    """A machine's chart in place of a card.

    Attributes
    ----------
    machine
        Name of the machine.
    lines
        What the chart says of each pitch.
    """

    def __init__(self, machine: str, lines: Mapping[str, str]) -> None:
        super().__init__(f"this is the chart of a machine, {machine[:60]}")
        self.machine, self.lines = machine, lines


class ColoursError(NoRecordError):
    """The chart of colours in place of a card.

    Attributes
    ----------
    lines
        What the chart says, line by line.
    """

    def __init__(self, lines: Mapping[str, str]) -> None:
        super().__init__("this is the chart of colours")
        self.lines = lines


@dataclass(frozen=True, slots=True)
class Record:
    """What an existing card says of itself.

    Attributes
    ----------
    job
        Name of the job.
    version
        Of the cardgen that made it.
    code
        The short code printed on it.
    figures
        As ``cardgen figures --json`` printed them, by id.
    files
        The spec files behind it, by path below a project folder.
    schedule, warnings
        As ``cardgen figures --json`` printed them.
    """

    job: str
    version: str
    code: str
    figures: Mapping[str, Mapping[str, Any]]
    files: Mapping[str, bytes]
    schedule: tuple[Mapping[str, Any], ...] = ()
    warnings: tuple[Mapping[str, Any], ...] = ()


def attachments(
    told: Mapping[str, Any], files: Iterable[tuple[str, str, bytes]]
) -> dict[str, bytes]:
    """Return what is embedded in a card, by name.

    Parameters
    ----------
    told
        The job's figures as :func:`cardgen.explain.as_json` tells them.
    files
        Role, name and content of each spec file.
    """
    packed = {RECORD: json.dumps(told, ensure_ascii=False, separators=(",", ":")).encode()}
    for role, name, content in files:
        packed[f"{_FOLDERS[role]}/{PurePosixPath(Path(name).as_posix()).name}"] = content
    return packed


def listed(codes: Mapping[str, str]) -> dict[str, bytes]:
    """Return what is embedded in a binder: the code of each job's cards, by the job's name."""
    return {BINDER: json.dumps(codes, ensure_ascii=False).encode()}


def charted(machine: str, lines: Mapping[str, str]) -> dict[str, bytes]:
    """Return what is embedded in a machine's chart."""
    return {CHART: json.dumps({"machine": machine, "lines": lines}, ensure_ascii=False).encode()}


def coloured(lines: Mapping[str, str]) -> dict[str, bytes]:
    """Return what is embedded in the chart of colours."""
    return {COLOURS: json.dumps(lines, ensure_ascii=False).encode()}


def read(embedded: Mapping[str, bytes]) -> Record:
    """Return the record of a card from the files embedded in it.

    Raises
    ------
    NoRecordError
        If there is no record, or it is not one of ours; ``BinderError`` for a binder,
        ``ChartError`` for a machine's chart and ``ColoursError`` for the chart of colours. Its
        text is never trusted: paths that lead outside a project's folders are refused.
    """
    if BINDER in embedded:
        msg = "this is a binder; its cards are checked by their codes, or bound again"
        raise BinderError(msg)
    try:
        if CHART in embedded:
            chart = json.loads(embedded[CHART])
            lines = {str(pitch): str(said) for pitch, said in chart["lines"].items()}
            raise ChartError(str(chart["machine"]), lines)
        if COLOURS in embedded:
            told = json.loads(embedded[COLOURS])
            raise ColoursError({str(line): str(said) for line, said in told.items()})
        told = json.loads(embedded[RECORD])
        figures = {str(figure["id"]): figure for figure in told["figures"]}
        record = Record(
            job=str(told["job"]),
            version=str(told["version"]),
            code=str(told["code"]),
            figures=figures,
            files={name: content for name, content in embedded.items() if name != RECORD},
            schedule=tuple(dict(line) for line in told.get("schedule", ())),
            warnings=tuple(dict(each) for each in told.get("warnings", ())),
        )
    except (ChartError, ColoursError):
        raise
    except (AttributeError, KeyError, TypeError, ValueError, RecursionError) as fault:
        msg = "this PDF holds no record of a card"
        raise NoRecordError(msg) from fault
    if not _NAME.fullmatch(record.job):
        msg = f"the card's record names a job that cannot be: {record.job[:80]!r}"
        raise NoRecordError(msg)
    for name in record.files:
        if not _FILE.fullmatch(name) or not name.isprintable():
            msg = f"the card's record names a file outside a project's folders: {name[:80]!r}"
            raise NoRecordError(msg)
    return record
