"""Marks to the operators of a page: the only code that knows how the page description is written.

The marks are few and simple, so that their operators are written straight into the page stream.
Same marks, same bytes: no clock, no locale and no order of a hash has a say.
"""

from __future__ import annotations

from functools import lru_cache
from itertools import groupby
from math import cos, radians, sin

from reportlab.pdfbase.pdfdoc import PDFDocument

from cardgen.card.pen import (
    BLACK,
    POINT,
    Arc,
    Cells,
    Disc,
    Ink,
    Mark,
    Page,
    Path,
    Span,
    Symbol,
    Text,
    Weight,
)
from cardgen.pdf.fonts import font, metrics
from cardgen.pdf.structure import Element, Told

_K = 1 / POINT
_CIRCLE = 0.5522847498307936
"""Length of a control arm for a quarter of a unit circle: 4/3 (sqrt 2 - 1)."""


def content(page: Page, codes: Codes, mono: bool, told: Told | None = None) -> bytes:
    """Return the operators of one page, y turned up, lengths in points.

    Parameters
    ----------
    told
        The page as a tree, if its marks are to be tagged; its elements are given the numbers of
        their runs of marks.
    """
    stream = _Stream(page.height, codes, mono)
    spans = {number: span for span in page.spans for number in range(span.first, span.last)}
    apart = told.apart if told else frozenset()
    begun: tuple[object, object] | None = None
    for number, mark in enumerate(page.marks):
        owner, span = told.owners[number] if told else None, spans.get(number)
        if begun != (owner, span):
            stream.begin(_run(told, owner, span, apart))
            begun = owner, span
        stream.put(mark, spaced=number in apart)
    stream.begin("")
    return stream.bytes()


def _run(told: Told | None, owner: Element | None, span: Span | None, apart: frozenset[int]) -> str:
    """Return the operator that begins a run of marks, and number the run."""
    words: list[str] = []
    if told is not None and owner is not None:
        words.append(f"/MCID {len(told.runs)}")
        owner.kids.append(len(told.runs))
        told.runs.append(owner)
    if span is not None:
        # Some of its characters are drawn: this is how the line reads.
        space = " " if apart.intersection(range(span.first, span.last)) else ""
        text = (span.text + space).encode("utf-16-be").hex()
        words.append(f"/ActualText <feff{text}>")
    if told is not None and owner is None:
        return f"/Artifact <<{' '.join(words)}>> BDC" if words else "/Artifact BMC"
    role = owner.role if owner and not span else "Span"
    return f"/{role} <<{' '.join(words)}>> BDC" if words else ""


class Codes:
    """How the characters of one document are coded in its subset fonts."""

    def __init__(self, document: PDFDocument) -> None:
        self._document = document
        self._known: dict[Weight, dict[str, str]] = {"regular": {}, "bold": {}}
        self._names: dict[Weight, str] = {}

    def runs(self, text: str, weight: Weight) -> list[tuple[str, str]]:
        """Return a text as runs of one subset font each: the font's name and codes in hex."""
        known = self._known[weight]
        try:
            return [(self._names[weight], "".join([known[char] for char in text]))]
        except KeyError:
            # A character that is new to this document, or one beyond the first subset of 256.
            face = font(weight)
            runs = face.splitString(text, self._document)
        self._names[weight] = face.getSubsetInternalName(0, self._document)
        assigned = face.state[self._document].assignments
        for char in text:
            code = assigned.get(ord(char))
            if code is not None and code < 256:
                known[char] = f"{code:02x}"
        return [
            (face.getSubsetInternalName(subset, self._document), codes.hex())
            for subset, codes in runs
        ]


class _Stream:
    """Operators of one page; what is already set is not set again."""

    def __init__(self, height: float, codes: Codes, mono: bool) -> None:
        self._height = height * _K
        self._mono = mono
        self._ops: list[str] = ["1 j"]  # round joins: a wide outline has no spikes
        self._in_text = self._in_run = False
        self._font = ""
        self._codes = codes
        self._stroke: Ink | None = None
        self._fill: Ink | None = None
        self._width = -1.0
        self._dash: tuple[float, ...] = ()

    def put(self, mark: Mark, *, spaced: bool) -> None:
        """Write a mark; a text with a space after it, for those who do not see where it ends."""
        if isinstance(mark, Text):
            self._text(mark, " " if spaced else "")
            return
        self._leave_text()
        if isinstance(mark, Path):
            self._path(mark)
        elif isinstance(mark, Disc):
            self._disc(mark)
        elif isinstance(mark, Symbol):
            self._symbol(mark)
        else:
            self._arc(mark)

    def begin(self, run: str) -> None:
        """End the run of marks that was begun, and begin the next one, if there is any.

        Runs and blocks of text may not overlap.
        """
        self._leave_text()
        if self._in_run:
            self._ops.append("EMC")
        if run:
            self._ops.append(run)
        self._in_run = bool(run)

    def bytes(self) -> bytes:
        self._leave_text()
        return "\n".join(self._ops).encode("ascii")

    def _leave_text(self) -> None:
        if self._in_text:
            self._ops.append("ET")
            self._in_text = False

    def _text(self, mark: Text, after: str) -> None:
        ops = self._ops
        if not self._in_text:
            ops.append("BT")
            self._in_text = True
        if mark.ink is not self._fill:
            self._set_fill(mark.ink)
        x, y = mark.x * _K, self._height - mark.y * _K
        if mark.anchor != "start":
            width = metrics().width(mark.text, mark.size, mark.weight) * _K
            back = width * (0.5 if mark.anchor == "middle" else 1.0)
        else:
            back = 0.0
        if mark.angle:
            turn = radians(mark.angle)
            c, s = cos(turn), sin(turn)
            ops.append(f"{c:.5f} {s:.5f} {-s:.5f} {c:.5f} {x - back * c:.2f} {y - back * s:.2f} Tm")
        else:
            ops.append(f"1 0 0 1 {x - back:.2f} {y:.2f} Tm")
        for name, codes in self._codes.runs(mark.text + after, mark.weight):
            chosen = f"{name} {mark.size:g} Tf"
            if chosen != self._font:
                ops.append(chosen)
                self._font = chosen
            ops.append(f"<{codes}> Tj")

    def _path(self, mark: Path) -> None:
        self._inks(mark.stroke, mark.fill, mark.width, mark.dash)
        h = self._height
        step = "m"
        for x, y in mark.points:
            self._ops.append(f"{x * _K:.2f} {h - y * _K:.2f} {step}")
            step = "l"
        self._paint(mark.stroke, mark.fill, mark.closed)

    def _disc(self, mark: Disc) -> None:
        self._inks(mark.stroke, mark.fill, mark.width, mark.dash)
        self._curve(mark.x, mark.y, mark.radius, 0.0, 360.0)
        self._paint(mark.stroke, mark.fill, True)

    def _symbol(self, mark: Symbol) -> None:
        """Fill the runs of dark cells as one shape: no seams show between them."""
        if self._fill is not BLACK:
            self._set_fill(BLACK)
        side = mark.cell * _K
        left, top = mark.x * _K, self._height - mark.y * _K
        # A unit is a cell, y down from the symbol's top left corner.
        self._ops.append(f"q {side:.4f} 0 0 {-side:.4f} {left:.2f} {top:.2f} cm")
        self._ops += [_dark(mark.cells), "f Q"]

    def _arc(self, mark: Arc) -> None:
        self._inks(mark.stroke, None, mark.width, mark.dash)
        self._curve(mark.x, mark.y, mark.radius, mark.start, mark.extent)
        self._paint(mark.stroke, None, False)

    def _curve(self, x: float, y: float, radius: float, start: float, extent: float) -> None:
        """Add Bézier pieces of a quarter turn or less; off a true circle by under 0.03 %."""
        pieces = max(1, -(-int(abs(extent) + 0.999) // 90))
        cx, cy, r = x * _K, self._height - y * _K, radius * _K
        step = radians(extent / pieces)
        arm = _CIRCLE if abs(extent) == 90 * pieces else 4 / 3 * _tan_quarter(abs(step))
        arm = arm if step > 0 else -arm
        a = radians(start)
        px, py = cos(a), sin(a)
        self._ops.append(f"{cx + r * px:.2f} {cy + r * py:.2f} m")
        for _ in range(pieces):
            a += step
            qx, qy = cos(a), sin(a)
            self._ops.append(
                f"{cx + r * (px - arm * py):.2f} {cy + r * (py + arm * px):.2f} "
                f"{cx + r * (qx + arm * qy):.2f} {cy + r * (qy - arm * qx):.2f} "
                f"{cx + r * qx:.2f} {cy + r * qy:.2f} c"
            )
            px, py = qx, qy

    def _inks(
        self, stroke: Ink | None, fill: Ink | None, width: float, dash: tuple[float, ...]
    ) -> None:
        if fill is not None and fill is not self._fill:
            self._set_fill(fill)
        if stroke is None:
            return
        if stroke is not self._stroke:
            self._stroke = stroke
            self._ops.append(self._colour(stroke, "G", "RG"))
        if width != self._width:
            self._width = width
            self._ops.append(f"{width * _K:.3f} w")
        if dash != self._dash:
            self._dash = dash
            lengths = " ".join(f"{part * _K:.2f}" for part in dash)
            self._ops.append(f"[{lengths}] 0 d")

    def _set_fill(self, ink: Ink) -> None:
        self._fill = ink
        self._ops.append(self._colour(ink, "g", "rg"))

    def _colour(self, ink: Ink, grey: str, colour: str) -> str:
        if self._mono:
            return f"{ink.grey:.3g} {grey}"
        if ink.red == ink.green == ink.blue:
            return f"{ink.red:.3g} {grey}"
        return f"{ink.red:.3g} {ink.green:.3g} {ink.blue:.3g} {colour}"

    def _paint(self, stroke: Ink | None, fill: Ink | None, closed: bool) -> None:
        if stroke is not None and fill is not None:
            self._ops.append("b*" if closed else "B*")
        elif fill is not None:
            self._ops.append("f*")
        elif stroke is not None:
            self._ops.append("s" if closed else "S")
        else:
            self._ops.append("n")


@lru_cache(maxsize=4)
def _dark(cells: Cells) -> str:
    """Return the runs of dark cells as rectangles; all cards of a job bear the same symbol."""
    ops: list[str] = []
    for row, line in enumerate(cells.rows):
        first = 0
        for dark, run in groupby(line):
            after = first + len(list(run))
            if dark:
                ops.append(f"{first} {row} {after - first} 1 re")
            first = after
    return "\n".join(ops)


def _tan_quarter(angle: float) -> float:
    """Return the tangent of a quarter of an angle [rad], as a Bézier arm needs it."""
    return sin(angle / 4) / cos(angle / 4)
