"""The passes as a chart: how large each bite is, how hard it cuts, and which limit ruled it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby, pairwise
from math import fsum

from cardgen.card.panel import Block
from cardgen.card.pen import BLACK, HAIR, NARROW, SOFT, TINT, WHITE, WIDE, XY, Pen
from cardgen.card.piece import first_base, lines_height
from cardgen.card.table import Kit
from cardgen.core.figure import Pass
from cardgen.core.rounding import MM_PER_INCH, rounded
from cardgen.core.words import told

LETTERS: Mapping[str, str] = {
    "chip": "C",
    "force": "F",
    "deflection": "B",
    "work stress": "S",
    "blade": "T",
    "power": "P",
    "remaining": "R",
    "finish": "L",
}
"""What stands on the chart for each limit; the list of limits below it says what they mean."""

_BITES = 13.0
"""Height of the tallest bite [mm]."""
_FORCES = 8.0
_LEAST = 0.5
"""Part of these heights that is enough on a low card."""
_AIR = 1.0
_DASH = (1.5, 1.0)
_NUMBERS = (1, 2, 5, 10, 20, 50)
"""Steps in which passes are numbered."""


def chart(kit: Kit) -> Iterator[Block]:
    """Give the chart of the cutting passes; nothing for fewer than two, or where it has no room."""
    lines = [line for line in kit.view.passes if line.step != "spring"]
    row = lines_height(1, kit.small)
    words = 4 * row + 2 * _AIR
    share = min((kit.view.tallest - words) / (_BITES + _FORCES), 1.0)
    if len(lines) < 2 or share < _LEAST:
        return
    heights = (_BITES * share, _FORCES * share)
    yield kit.sketch(
        words + fsum(heights),
        lambda pen, x, y, width: _draw(_Chart(kit, lines, pen, x, y, width, heights)),
    )


class _Chart:
    """Where things stand: one step along for each pass."""

    def __init__(
        self,
        kit: Kit,
        lines: Sequence[Pass],
        pen: Pen,
        x: float,
        y: float,
        width: float,
        heights: tuple[float, float],
    ) -> None:
        self.kit, self.lines, self.pen = kit, lines, pen
        self.x, self.width = x, width
        self.each = width / len(lines)
        self.row = lines_height(1, kit.small)
        self.bites, self.forces = heights
        self.title = y
        self.ground = y + self.row + self.bites
        self.letters = self.ground
        self.second = self.ground + self.row + _AIR
        self.floor = self.second + self.row + self.forces
        self.numbers = self.floor

    def at(self, number: int) -> float:
        """Return where the pass of an index begins."""
        return self.x + number * self.each

    def words(self, text: str, top: float) -> None:
        size = self.kit.small
        self.pen.text(self.x, top + first_base(self.pen, size), text, size)


def _draw(chart: _Chart) -> None:
    _bites(chart)
    _forces(chart)
    for number, (before, line) in enumerate(pairwise(chart.lines), start=1):
        if line.depth < before.depth:
            # Another tool, or another place, begins at the surface again.
            at = chart.at(number)
            for top, bottom in (
                (chart.ground - chart.bites, chart.ground),
                (chart.floor - chart.forces, chart.floor),
            ):
                chart.pen.line(at, top, at, bottom, width=NARROW, dash=_DASH)
    _numbers(chart)


def _bites(chart: _Chart) -> None:
    """Draw the bites as bars, the runs that one limit rules shaded in turn, a letter under each."""
    view, pen, size = chart.kit.view, chart.pen, chart.kit.small
    most = max(line.increment for line in chart.lines)
    if view.inch:
        size_told, unit = rounded(most / MM_PER_INCH, 4), "in"
    else:
        size_told, unit = rounded(most, 3), "mm"
    chart.words(told("Bite on the radius, at most {bite}", bite=f"{size_told} {unit}"), chart.title)
    start, taken = 0, chart.x - 1.0
    runs = groupby(chart.lines, key=lambda line: line.limited_by)
    for shade, (limit, run) in enumerate(runs):
        lines = list(run)
        outline: list[XY] = [(chart.at(start), chart.ground)]
        for number, line in enumerate(lines, start=start):
            top = chart.ground - chart.bites * line.increment / most
            outline += [(chart.at(number), top), (chart.at(number + 1), top)]
        outline.append((chart.at(start + len(lines)), chart.ground))
        pen.path(outline, closed=True, width=HAIR, fill=WHITE if shade % 2 else TINT)
        letter = LETTERS.get(limit, "")
        half = pen.width(letter, size) / 2
        middle = chart.at(start) + chart.each * len(lines) / 2
        middle = min(max(middle, chart.x + half), chart.x + chart.width - half)
        if letter and middle - half > taken:
            base = chart.letters + first_base(pen, size)
            pen.text(middle, base, letter, size, weight="bold", anchor="middle")
            taken = middle + half + 0.6
        start += len(lines)
    pen.line(chart.x, chart.ground, chart.x + chart.width, chart.ground, width=NARROW)


def _forces(chart: _Chart) -> None:
    """Draw the force of each pass as steps, below the most that is allowed."""
    view, pen = chart.kit.view, chart.pen
    most = max(line.force for line in chart.lines)
    allowed = view.number("cutting.force_allowed") if view.has("cutting.force_allowed") else most
    full = max(most, allowed)
    steps: list[XY] = []
    for number, line in enumerate(chart.lines):
        level = chart.floor - chart.forces * line.force / full
        steps += [(chart.at(number), level), (chart.at(number + 1), level)]
    pen.path(steps, width=WIDE, stroke=BLACK)
    line_at = chart.floor - chart.forces * allowed / full
    pen.line(chart.x, line_at, chart.x + chart.width, line_at, stroke=SOFT, dash=_DASH)
    pen.line(chart.x, chart.floor, chart.x + chart.width, chart.floor, width=NARROW)
    force = view.written("cutting.force_max")
    if view.has("cutting.force_allowed"):
        text = told(
            "Force, at most {force}; broken line: {allowed} allowed",
            force=force,
            allowed=view.written("cutting.force_allowed"),
        )
    else:
        text = told("Force, at most {force}", force=force)
    chart.words(text, chart.second)


def _numbers(chart: _Chart) -> None:
    """Put numbers to the passes, as closely as there is room for."""
    pen, size, count = chart.pen, chart.kit.small, len(chart.lines)
    wide = pen.width("00", size) + 1.5
    step = next((each for each in _NUMBERS if each * chart.each >= wide), _NUMBERS[-1])
    base = chart.numbers + first_base(pen, size)
    for number in range(step, count + 1, step):
        at = chart.at(number) - chart.each / 2
        pen.line(at, chart.floor, at, chart.floor + 0.5, width=HAIR)
        if at + pen.width(str(number), size) / 2 <= chart.x + chart.width:
            pen.text(at, base, str(number), size, anchor="middle")
