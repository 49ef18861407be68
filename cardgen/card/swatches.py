"""Charts of named colours that are read in colour and in one ink alike.

Each colour is a patch with its name and temperature beside it. On a card of one ink the patch is
a pattern instead of a colour. The one to work to carries a pointer, a wide frame and bold type.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import fsum

from cardgen.card.hatch import hatching
from cardgen.card.pen import BLACK, HAIR, NARROW, WIDE, Ink, Pen, Weight
from cardgen.card.piece import Piece, first_base, lines_height
from cardgen.core.swatch import Swatch
from cardgen.core.words import joined

PATCH = 7.0
"""Width of a patch [mm]."""
_POINTER = 2.2
"""Room for the pointer before a patch [mm]."""
_BESIDE = 1.2
"""Between a patch and its name [mm]."""
_APART = 0.9
"""Between rows [mm]."""

# Spacing [mm] and angle [deg] of the runs of lines that make up each pattern.
_PATTERNS: dict[str, tuple[tuple[float, float], ...]] = {
    "blank": (),
    "level": ((0.8, 0.0),),
    "upright": ((0.8, 90.0),),
    "rising": ((0.9, 45.0),),
    "falling": ((0.9, 135.0),),
    "cross": ((0.9, 45.0), (0.9, 135.0)),
    "grid": ((1.1, 0.0), (1.1, 90.0)),
    "close": ((0.45, 45.0),),
}


def chart(
    pen: Pen,
    width: float,
    size: float,
    swatches: Sequence[Swatch],
    mono: bool,
    *,
    spread: bool = False,
) -> list[Piece]:
    """Return a chart in as many columns as there is room for, row by row.

    Parameters
    ----------
    size
        Of the type [pt].
    swatches
        In order; they run down the columns.
    mono
        Whether patches are patterns instead of colours.
    spread
        Whether the limits of each colour are written after its name.
    """
    entries = {swatch.name: _entry(swatch, spread) for swatch in swatches}
    columns = _columns(pen, width, size, swatches, entries)
    spare = (width - fsum(wide for wide, _ in columns)) / len(columns)
    lefts = [fsum(wide + spare for wide, _ in columns[:k]) for k in range(len(columns))]
    high = max(lines_height(1, size), 4.0)

    def row(number: int) -> Piece:
        cells = [
            (left, column[number])
            for left, (_, column) in zip(lefts, columns, strict=True)
            if number < len(column)
        ]

        def draw(pen: Pen, x: float, y: float, width: float) -> None:
            for left, swatch in cells:
                _cell(pen, (x + left, y), high, size, swatch, mono, entries[swatch.name])

        return Piece(high + _APART, draw)

    return [row(number) for number in range(len(columns[0][1]))]


def _columns(
    pen: Pen,
    width: float,
    size: float,
    swatches: Sequence[Swatch],
    entries: Mapping[str, str],
) -> list[tuple[float, Sequence[Swatch]]]:
    """Return the columns of the chart with the width that each needs [mm]."""
    frame = _POINTER + PATCH + _BESIDE
    for count in range(len(swatches), 0, -1):
        rows = -(-len(swatches) // count)
        split = [swatches[k : k + rows] for k in range(0, len(swatches), rows)]
        wide = [
            frame + max(pen.width(entries[s.name], size, "bold") for s in part) for part in split
        ]
        if fsum(wide) + _BESIDE * (len(split) - 1) <= width:
            return list(zip(wide, split, strict=True))
    msg = f"{pen.owner}: a chart of colours does not fit {width:.1f} mm"
    raise ValueError(msg)


def _cell(
    pen: Pen,
    corner: tuple[float, float],
    high: float,
    size: float,
    swatch: Swatch,
    mono: bool,
    entry: str,
) -> None:
    x, y = corner
    left, right = x + _POINTER, x + _POINTER + PATCH
    patch(pen, (left, y, right, y + high), swatch, mono)
    if swatch.chosen:
        middle, tip = y + high / 2, left - 0.4
        arrow = ((x, middle - 1.1), (tip, middle), (x, middle + 1.1))
        pen.path(arrow, closed=True, stroke=None, fill=BLACK)
    base = y + (high - lines_height(1, size)) / 2 + first_base(pen, size)
    weight: Weight = "bold" if swatch.chosen else "regular"
    pen.text(right + _BESIDE, base, entry, size, weight=weight)


def _entry(swatch: Swatch, spread: bool) -> str:
    spreads = [f"({swatch.low:.0f}–{swatch.high:.0f})"] if spread else []
    return joined([f"{swatch.temperature:.0f}", swatch.name, *spreads])


def patch(pen: Pen, box: tuple[float, float, float, float], swatch: Swatch, mono: bool) -> None:
    """Draw a patch of a colour in a box: its colour, or its pattern where there is one ink."""
    left, top, right, bottom = box
    if mono:
        _pattern(pen, box, swatch.hatch)
    else:
        red, green, blue = swatch.rgb
        # The grey by which a printer without colour shows it (luma of ITU-R BT.601).
        ink = Ink(red, green, blue, 0.299 * red + 0.587 * green + 0.114 * blue)
        pen.rect(left, top, right, bottom, stroke=None, fill=ink)
    pen.rect(left, top, right, bottom, width=WIDE if swatch.chosen else NARROW)


def _pattern(pen: Pen, box: tuple[float, float, float, float], name: str) -> None:
    left, top, right, bottom = box
    if name == "solid":
        pen.rect(left, top, right, bottom, stroke=None, fill=BLACK)
        return
    if name == "dots":
        _dots(pen, box)
        return
    ring = ((left, top), (right, top), (right, bottom), (left, bottom))
    for spacing, angle in _PATTERNS[name]:
        for start, end in hatching([ring], spacing, angle):
            pen.path((start, end), width=HAIR)


def _dots(pen: Pen, box: tuple[float, float, float, float]) -> None:
    left, top, right, bottom = box
    across, down = 7, 3
    for row in range(down):
        for column in range(across):
            pen.disc(
                left + (column + 0.5) * (right - left) / across,
                top + (row + 0.5) * (bottom - top) / down,
                0.16,
                stroke=None,
                fill=BLACK,
            )
