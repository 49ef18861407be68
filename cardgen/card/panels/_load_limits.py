"""The diagram of what gives first: each limit a bar, measured in loads."""

from __future__ import annotations

from cardgen.card.panel import Block
from cardgen.card.pen import BLACK, HAIR, NARROW, TINT, WHITE, WIDE, Pen, Weight
from cardgen.card.piece import first_base, lines_height
from cardgen.card.table import Kit
from cardgen.core.words import joined

_LIMITS = (
    "load.limit_core",
    "load.limit_thread",
    "load.limit_thread_bending",
    "load.limit_nut",
    "load.limit_nut_bending",
    "load.limit_tooth",
    "load.limit_bearing",
    "load.limit_buckling",
    "load.limit_hand",
)
_LOADS = 6
"""Loads that the diagram is wide."""
_BAR = 1.6
"""Height of a bar [mm]."""
_APART = 0.8
"""Clear under a bar [mm]."""


def limits_diagram(kit: Kit) -> list[Block]:
    """Return the diagram, the limit that is reached first on top; nothing where none is known."""
    view = kit.view
    found = sorted((id for id in _LIMITS if view.has(id)), key=view.number)
    if not found:
        return []
    load, size = view.number("load.load"), kit.body
    row = lines_height(1, size) + _BAR + _APART
    foot = lines_height(1, size) + 0.6
    height = row * len(found) + foot

    def draw(pen: Pen, x: float, y: float, width: float) -> None:
        each = width / _LOADS
        low = y + row * len(found)
        under = low + 0.6 + first_base(pen, size)
        for count in range(1, _LOADS):
            at = x + each * count
            words = "the load" if count == 1 else f"{count}\u00a0×"
            pen.text(at, under, words, size, anchor="middle")
        for number, id in enumerate(found):
            top = y + number * row
            base = top + first_base(pen, size)
            weight: Weight = "regular" if number else "bold"
            label = joined([view.label(id), view.mark(id)], "")
            pen.text(x, base, label, size, weight=weight)
            pen.text(x + width, base, view.written(id), size, weight=weight, anchor="end")
            bar = top + lines_height(1, size)
            loads = view.number(id) / load
            right = x + each * min(loads, _LOADS)
            fill = TINT if number else BLACK
            pen.rect(x, bar, right, bar + _BAR, width=NARROW, fill=fill)
            # Across the bars only, so that no line runs through a word.
            for count in range(1, _LOADS):
                _tick(pen, x + each * count, bar, WIDE if count == 1 else HAIR)
            if loads > _LOADS:
                _run_on(pen, right, bar)

    return [kit.heading("What gives first, and at which load"), kit.sketch(height, draw)]


def _tick(pen: Pen, at: float, bar: float, wide: float) -> None:
    """Draw a line of the scale across a bar, clear of it on either side."""
    ends = (bar - 0.4, bar + _BAR + 0.4)
    pen.line(at, ends[0], at, ends[1], stroke=WHITE, width=3 * wide)
    pen.line(at, ends[0], at, ends[1], width=wide)


def _run_on(pen: Pen, right: float, bar: float) -> None:
    """Break a bar off that is longer than the diagram."""
    for back in (1.6, 2.6):
        pen.line(right - back - 0.5, bar + _BAR + 0.3, right - back + 0.5, bar - 0.3, width=NARROW)
