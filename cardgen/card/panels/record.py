"""The record strip: lines to write on, with a marker, what was measured at each stop."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from cardgen.card.panel import Block, Panel
from cardgen.card.pen import NARROW, SOFT, Pen
from cardgen.card.piece import AIR, Piece, lines_height, put_lines
from cardgen.card.table import Kit
from cardgen.card.view import View
from cardgen.core.words import joined, told

_MEASURED = ("measure.over_wires", "measure.between_balls", "thread.groove_width")
"""What tells whether the groove is wide enough, best first."""
_READ = ("measure.over_wires", "measure.between_balls", "measure.caliper_root")
"""What is read at the stops, best first."""
_STOPS = (1, 2, 3)
"""The stops, as they are counted in the figures' names."""
_MOST_LABEL = 0.55
"""Share of a line that its label may take."""
_REMARKS = 2
"""Lines for remarks."""


@dataclass(frozen=True, slots=True)
class _Line:
    """A line to write on: what is asked, and within which limits it should be."""

    label: str
    limits: str = ""


def blocks(view: View, pen: Pen, width: float) -> Sequence[Block]:
    """Return the strip: a line for each measuring stop, for the date, and for remarks."""
    kit = Kit(view, pen, width)
    return [_piece(kit, line) for line in _lines(view)]


def _lines(view: View) -> Iterator[_Line]:
    """Yield the lines in the order in which they are written."""
    blank = "thread.blank_diameter"
    yield _Line(view.label(blank), view.limits(blank))
    stops = list(_stops(view))
    yield from stops
    measured = next((id for id in _MEASURED if view.has(id)), None)
    if measured is not None:
        wanted = joined([view.label(measured), view.limits(measured)], ": ")
        cut = [line.number for line in view.passes if line.step != "spring"]
        if cut and not stops:
            yield _Line(told("After pass {number}", number=str(cut[-1])), wanted)
        yield _Line("Finished", wanted)
    bore = "mate.minor_diameter"
    if view.has(bore) and not view.internal:
        yield _Line(view.label(bore), view.limits(bore))
    yield _Line("Date, by")
    yield _Line("Remarks")
    for _ in range(_REMARKS - 1):
        yield _Line("")


def _stops(view: View) -> Iterator[_Line]:
    """Yield a line for each stop at which the cut is measured, with what it should read."""
    read = next((id for id in _READ if view.has(id)), None)
    for count in _STOPS:
        after, reading = f"cutting.stop_{count}_pass", f"measure.stop_{count}"
        if read is not None and view.has(after, reading):
            wanted = joined([view.label(read), view.written(reading)], ": ")
            yield _Line(told("After pass {number}", number=view.written(after)), wanted)


def _piece(kit: Kit, line: _Line) -> Piece:
    """Return a ruled line, its label and limits on the left, the rest left free to write on."""
    pen, body, small = kit.pen, kit.body, kit.small
    room = kit.width * _MOST_LABEL
    labels = pen.wrap(line.label, body, room)
    limits = pen.wrap(line.limits, small, room)
    words = lines_height(len(labels), body) + lines_height(len(limits), small)
    height = max(kit.view.style.record_line, words + 2 * AIR)

    def draw(pen: Pen, x: float, y: float, width: float) -> None:
        base = y + height
        top = base - AIR - words
        put_lines(pen, labels, x, top, body)
        put_lines(pen, limits, x, top + lines_height(len(labels), body), small, ink=SOFT)
        pen.line(x, base, x + width, base, width=NARROW)

    return Piece(height, draw)


PANEL = Panel("record", "Record", ("thread.blank_diameter",), blocks)
