"""What binding a job needs, kept beside the binder: an unchanged job is not worked out again.

The form is packed JSON, because a file of a build folder must never be able to run code. A checksum
over it and the job's fingerprint stands first: what is damaged, or of another job, is not read.
Numbers come back to the last bit and inks as the same objects, so that the pages drawn from them
are the same bytes.
"""

from __future__ import annotations

import json
import zlib
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, fields
from hashlib import sha256
from typing import Any

from cardgen.binder.entry import Entry
from cardgen.card.pen import (
    BLACK,
    Arc,
    Box,
    Cells,
    Disc,
    Ink,
    Mark,
    Page,
    Path,
    Picture,
    Span,
    Symbol,
    Text,
)
from cardgen.core.figure import Figure, Finding
from cardgen.core.words import Said, Sentence, Told

_SUM = 32
"""Bytes of the checksum."""
_MOST = 64_000_000
"""Unpacked bytes beyond which no job is believed; the largest take a hundredth of it."""

# By number, and nothing for no ink.
Inks = Mapping[int | None, Any]


@dataclass(frozen=True, slots=True)
class Kept:
    """What binding a job needs.

    Attributes
    ----------
    findings
        Its warnings and refusals.
    entry, picture
        What the binder lists of it, and its cards; ``None`` if it is refused. A machine's chart
        is a picture alone. Of a kept picture only what a binder uses comes back: no tags, no title,
        and of the boxes those of panels.
    """

    findings: tuple[Finding, ...]
    entry: Entry | None = None
    picture: Picture | None = None


def packed(kept: Kept, fingerprint: str) -> bytes:
    """Return a job as it is kept under the fingerprint of all that it was made from."""
    inks: dict[int, int] = {}
    table: list[tuple[float, ...]] = []

    def number(ink: object) -> int:
        # By identity, as the page streams tell them apart.
        if not isinstance(ink, Ink):
            msg = f"{type(ink).__name__} is no part of a mark"
            raise TypeError(msg)
        if id(ink) not in inks:
            inks[id(ink)] = len(table)
            table.append((ink.red, ink.green, ink.blue, ink.grey))
        return inks[id(ink)]

    entry, picture = kept.entry, kept.picture
    drawn = [_page_out(page) for page in picture.pages] if picture else []
    pages = json.dumps(drawn, default=number, check_circular=False, separators=(",", ":"))
    told = {
        "findings": [(one.id, one.text, one.refuses) for one in kept.findings],
        "entry": entry and _record_out(entry, "figures"),
        "figures": [_record_out(one, "inputs") for one in entry.figures.values()] if entry else [],
        "mono": picture and picture.mono,
        "inks": table,
    }
    # The quickest: a quarter larger than the smallest, for less than half of the time.
    content = zlib.compress(f"{json.dumps(told)}\n{pages}".encode(), 1)
    return _checksum(content, fingerprint) + content


def unpacked(content: bytes, fingerprint: str) -> Kept | None:
    """Return a kept job; ``None`` if it is damaged, or was not kept under this fingerprint."""
    checksum, content = content[:_SUM], content[_SUM:]
    if checksum != _checksum(content, fingerprint):
        return None
    try:
        unpacker = zlib.decompressobj()
        lines = unpacker.decompress(content, _MOST)
        if not unpacker.eof:
            return None
        told, pages = (json.loads(line) for line in lines.split(b"\n"))
        findings = tuple(Finding(*finding) for finding in told["findings"])
        if told["mono"] is None:
            return Kept(findings)
        inks: dict[int | None, Any] = {None: None}
        inks |= {at: _ink(ink) for at, ink in enumerate(told["inks"])}
        figures = [Figure(**_record_in(one), inputs={}) for one in told["figures"]]
        said, by_id = told["entry"], {one.id: one for one in figures}
        entry = None if said is None else Entry(**_record_in(said), figures=by_id)
        drawn = tuple(_page_in(page, inks) for page in pages)
        return Kept(findings, entry, Picture(drawn, "", "", told["mono"]))
    except (zlib.error, LookupError, TypeError, ValueError, AttributeError, RecursionError):
        return None


def _checksum(content: bytes, fingerprint: str) -> bytes:
    return sha256(fingerprint.encode() + b"\0" + content).digest()


def _record_out(record: Entry | Figure, without: str) -> dict[str, object]:
    names = (field.name for field in fields(record) if field.name != without)
    return {name: _text_out(getattr(record, name)) for name in names}


def _record_in(record: Mapping[str, object]) -> dict[str, Any]:
    return {name: _text_in(value) for name, value in record.items()}


def _text_out(value: object) -> object:
    """Return a text with what a translation needs of it; numbers as they are."""
    if isinstance(value, Told):
        parts = {name: _text_out(part) for name, part in value.parts.items()}
        kind = "sentence" if isinstance(value, Sentence) else "told"
        return {kind: value, "pattern": value.pattern, "parts": parts}
    if isinstance(value, Said):
        return {"said": value}
    return value if value is None or isinstance(value, str | int | float) else str(value)


def _text_in(value: object) -> object:
    if not isinstance(value, dict):
        return value
    if "said" in value:
        return Said(value["said"])
    text = Sentence(value["sentence"]) if "sentence" in value else Told(value["told"])
    text.pattern, text.parts = value["pattern"], _record_in(value["parts"])
    return text


def _page_out(page: Page) -> tuple[object, ...]:
    marks = [(type(mark).__name__, *mark) for mark in page.marks]
    panels = [box for box in page.boxes if box.kind == "panel"]
    return page.width, page.height, marks, panels, page.spans


def _page_in(page: Sequence[Any], inks: Inks) -> Page:
    width, height, marks, panels, spans = page
    return Page(
        width,
        height,
        tuple([_MADE[kind](mark, inks) for kind, *mark in marks]),
        tuple(Box(*box) for box in panels),
        spans=tuple(Span(*span) for span in spans),
    )


def _ink(shades: Iterable[float]) -> Ink:
    ink = Ink(*shades)
    return BLACK if ink == BLACK else ink


def _text(mark: Sequence[Any], inks: Inks) -> Text:
    x, y, text, size, weight, anchor, ink, angle = mark
    return Text(x, y, text, size, weight, anchor, inks[ink], angle)


def _path(mark: Sequence[Any], inks: Inks) -> Path:
    points, closed, stroke, width, dash, fill = mark
    return Path(tuple(map(tuple, points)), closed, inks[stroke], width, tuple(dash), inks[fill])


def _disc(mark: Sequence[Any], inks: Inks) -> Disc:
    x, y, radius, stroke, width, dash, fill = mark
    return Disc(x, y, radius, inks[stroke], width, tuple(dash), inks[fill])


def _arc(mark: Sequence[Any], inks: Inks) -> Arc:
    x, y, radius, start, extent, stroke, width, dash = mark
    return Arc(x, y, radius, start, extent, inks[stroke], width, tuple(dash))


def _symbol(mark: Sequence[Any], _inks: Inks) -> Symbol:
    x, y, cell, (text, rows) = mark
    return Symbol(x, y, cell, Cells(text, tuple(map(tuple, rows))))


_MADE: Mapping[str, Callable[[Sequence[Any], Inks], Mark]] = {
    "Text": _text,
    "Path": _path,
    "Disc": _disc,
    "Arc": _arc,
    "Symbol": _symbol,
}
