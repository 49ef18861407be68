"""A machine's chart as a card: a table to pin on the headstock."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from cardgen.card.panel import Block, Panel
from cardgen.card.pen import Pen
from cardgen.card.table import Column, Kit
from cardgen.card.view import View
from cardgen.core.chart import Chart, Line
from cardgen.core.rounding import rounded
from cardgen.core.words import joined, told

_OFF: Mapping[str, str] = {"none": "", "some": "!", "too-much": "‼"}


def panels(chart: Chart, dial: bool) -> tuple[Panel, ...]:
    """Return the panels of a chart, the machine's own measure first.

    Parameters
    ----------
    dial
        Whether the machine has a thread dial.
    """
    metric = _panel("chart-metric", "Pitch in mm", "mm", chart.metric, dial)
    inch = _panel("chart-inch", "Threads per inch", "tpi", chart.inch, dial)
    first, second = (inch, metric) if chart.inch_first else (metric, inch)
    return (first, second, _notes(chart, dial))


def _panel(name: str, title: str, unit: str, lines: Sequence[Line], dial: bool) -> Panel:
    def blocks(view: View, pen: Pen, width: float) -> Sequence[Block]:
        kit = Kit(view, pen, width)
        levers = any(line.lever for line in lines)
        columns = [
            Column(unit, "end", bold=True),
            Column("Wheels", stretch=True),
            *([Column("Lever")] if levers else []),
            Column("ppm", "end"),
            *([Column("Dial", "end")] if dial else []),
        ]
        return kit.table(columns, [_row(line, levers, dial) for line in lines])

    return Panel(name, title, (), blocks)


def _row(line: Line, levers: bool, dial: bool) -> Sequence[str]:
    off = "exact" if line.error_ppm == 0 else ""
    if line.error_ppm:
        off = f"{_OFF[line.drift]} {rounded(line.error_ppm, 0)}".strip().replace("-", "−")
    return (
        line.pitch,
        line.wheels.replace(" x ", " × ") or "—",
        *([_short(line.lever)] if levers else []),
        off,
        *([line.marks] if dial else []),
    )


def _short(lever: str) -> str:
    """Return only the positions of the levers: ``A 2`` for ``letter A, number 2``."""
    return " ".join(each.split()[-1] for each in lever.split(", ") if each)


def _notes(chart: Chart, dial: bool) -> Panel:
    notes = [
        "Wheels: driver/driven, from the spindle to the leadscrew.",
        "Right hand: one idler in a single train, none or two in a compound one; left hand: one "
        "more or one less.",
        "ppm: error of the lead, in millionths; − is too fine.",
        "!: over a nut of eight pitches the lead drifts by more than a hundredth of the pitch.",
        "‼: by more than a twentieth; do not cut a nut's thread with it.",
        "—: no train of these wheels comes near.",
    ]
    if dial:
        notes.append(
            "Dial: marks that serve, every line counted; closed: the half-nut stays closed."
        )

    def blocks(view: View, pen: Pen, width: float) -> Sequence[Block]:
        kit = Kit(view, pen, width)
        listed = told("Pitches of {sources}.", sources=joined(chart.sources, ", "))
        return [*(kit.item(text) for text in notes), kit.note(listed)]

    return Panel("chart-notes", "How to read it", (), blocks)
