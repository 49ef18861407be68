"""Rows of a label and its value, and the numbers that are dialled in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from cardgen.card.panel import Block
from cardgen.card.pen import HAIR, SOFT, TINT, WIDE, Pen
from cardgen.card.piece import AIR, GAP, Draw, Piece, first_base, lines_height, put_lines
from cardgen.core.words import Said, joined

_LEAST_LABEL = 0.35
"""Share of a row's width that a label must keep, or it stands above its value."""
PAD = 1.6
"""Clear space between the edges of a dial number's plate and what stands on it [mm]."""
_BETWEEN = 4.0
"""Between two rows of label and value that stand side by side [mm]."""
_LEAST_HALF = 28.0
"""Width from which a row of label and value reads well beside another one [mm]."""
_APART = 0.8
"""Clear space under the plate of a dial number [mm]."""


def pair_row(
    pen: Pen, width: float, size: float, label: str, value: str, limits: str, keep: bool
) -> Piece:
    """Return a ruled row: label left; right, in bold, the limits or else the value."""
    row = _pair_row(pen, width, size, label, value, limits, keep)
    return replace(row, at=lambda room: _pair_row(pen, room, size, label, value, limits, keep))


def abreast(blocks: Sequence[Block], width: float, size: float) -> list[Block]:
    """Return blocks with rows of label and value two by two, where a column has room for that.

    Parameters
    ----------
    width
        Of the column [mm].
    size
        Of the rows' type [pt].
    """
    half = (width - _BETWEEN) / 2
    one_line = lines_height(1, size) + 2 * AIR + 1e-6
    made: list[Block] = []
    waiting: Piece | None = None
    for block in blocks:
        fits = None
        if half >= _LEAST_HALF and isinstance(block, Piece) and block.at is not None:
            fits = block.at(half)
            fits = fits if fits.height <= one_line else None
        if fits and waiting:
            made[-1] = _side_by_side(waiting, fits, half)
            waiting = None
            continue
        made.append(block)
        waiting = fits
    return made


def _side_by_side(left: Piece, right: Piece, half: float) -> Piece:
    def draw(pen: Pen, x: float, y: float, width: float) -> None:
        left.draw(pen, x, y, half)
        right.draw(pen, x + half + _BETWEEN, y, half)

    return Piece(max(left.height, right.height), draw, right.keep)


def _pair_row(
    pen: Pen, width: float, size: float, label: str, value: str, limits: str, keep: bool
) -> Piece:
    bold = limits or value
    soft = value if limits else ""
    bold_width = pen.width(bold, size, "bold")
    soft_width = pen.width(soft, size)
    beside = bold_width + (soft_width + GAP if soft else 0.0)
    if pen.width(label, size) + GAP + beside <= width:
        return _ruled(1, size, keep, _one_line(size, [label], soft, bold, bold_width))
    if soft and max(pen.width(label, size) + GAP + soft_width, bold_width) <= width:
        # The limits go to a line of their own, under the value.
        def two(pen: Pen, x: float, y: float, width: float) -> None:
            put_lines(pen, [label], x, y, size)
            put_lines(pen, [soft], x + width, y, size, anchor="end", ink=SOFT)
            under = y + lines_height(1, size)
            put_lines(pen, [bold], x + width, under, size, weight="bold", anchor="end")

        return _ruled(2, size, keep, two)
    room = width - beside - GAP
    if room >= max(_LEAST_LABEL * width, _widest_word(pen, label, size)):
        lines = pen.wrap(label, size, room)
        return _ruled(len(lines), size, keep, _one_line(size, lines, soft, bold, bold_width))
    return _stacked(pen, width, size, label, joined([soft, bold], "   ") if soft else bold, keep)


def _widest_word(pen: Pen, text: str, size: float) -> float:
    """Return the width of the longest word of a text [mm]: narrower, it would be broken."""
    return max((pen.width(Said(word), size) for word in pen.words.say(text).split()), default=0.0)


def _one_line(size: float, labels: Sequence[str], soft: str, bold: str, bold_width: float) -> Draw:
    def draw(pen: Pen, x: float, y: float, width: float) -> None:
        put_lines(pen, labels, x, y, size)
        if soft:
            before = x + width - bold_width - GAP
            put_lines(pen, [soft], before, y, size, anchor="end", ink=SOFT)
        put_lines(pen, [bold], x + width, y, size, weight="bold", anchor="end")

    return draw


def _stacked(pen: Pen, width: float, size: float, label: str, value: str, keep: bool) -> Piece:
    indent = 4.0
    above = pen.wrap(label, size, width)
    under = pen.wrap(value, size, width - indent, "bold")

    def draw(pen: Pen, x: float, y: float, width: float) -> None:
        put_lines(pen, above, x, y, size)
        top = y + lines_height(len(above), size)
        put_lines(pen, under, x + indent, top, size, weight="bold")

    return _ruled(len(above) + len(under), size, keep, draw)


def _ruled(lines: int, size: float, keep: bool, inner: Draw) -> Piece:
    height = lines_height(lines, size) + 2 * AIR

    def draw(pen: Pen, x: float, y: float, width: float) -> None:
        inner(pen, x, y + AIR, width)
        pen.line(x, y + height, x + width, y + height, stroke=SOFT, width=HAIR)

    return Piece(height, draw, keep)


def dial_row(
    pen: Pen,
    width: float,
    body: float,
    sizes: tuple[float, float],
    cells: Sequence[tuple[str, str, str]],
    keep: bool,
) -> Piece:
    """Return dial numbers side by side, each ``(label, value, under)``, or in several rows.

    Parameters
    ----------
    sizes
        Of the numbers [pt]: the least, and the one that is wished where they stay on their lines.
    """
    least, _ = sizes
    if len(cells) == 1:
        label, value, _ = cells[0]
        room = width - pen.width(label, body) - GAP - 2 * PAD
        if pen.width(value, least, "bold") <= room:
            dial = _size(pen, [value], room, sizes)
            return _dial_beside(pen, width, body, dial, cells[0], keep)
    each = (width - GAP * (len(cells) - 1)) / len(cells)
    inner = each - 2 * PAD
    widest = max(
        max(pen.width(value, least, "bold"), pen.width(label, body)) for label, value, _ in cells
    )
    if len(cells) > 1 and widest > inner:
        half = (len(cells) + 1) // 2
        upper = dial_row(pen, width, body, sizes, cells[:half], keep)
        lower = dial_row(pen, width, body, sizes, cells[half:], keep)

        def both(pen: Pen, x: float, y: float, width: float) -> None:
            upper.draw(pen, x, y, width)
            lower.draw(pen, x, y + upper.height, width)

        def parts(room: float) -> tuple[Piece, Piece] | None:
            return (upper, lower) if upper.height <= room else None

        return Piece(upper.height + lower.height, both, keep, parts=parts)
    dial = _size(pen, [value for _, value, _ in cells], inner, sizes)
    made = [
        (
            pen.wrap(label, body, inner),
            pen.wrap(value, dial, inner, "bold"),
            pen.wrap(under, body, inner),
        )
        for label, value, under in cells
    ]
    labels = max(lines_height(len(parts[0]), body) for parts in made)
    values = max(lines_height(len(parts[1]), dial) for parts in made)
    unders = max(lines_height(len(parts[2]), body) for parts in made)
    height = labels + values + unders + 2 * AIR

    def draw(pen: Pen, x: float, y: float, width: float) -> None:
        for place, (above, numbers, below) in enumerate(made):
            left = x + place * (each + GAP)
            _plate(pen, left, y, each, height)
            left += PAD
            put_lines(pen, above, left, y + AIR, body)
            put_lines(pen, numbers, left, y + AIR + labels, dial, weight="bold")
            put_lines(pen, below, left, y + AIR + labels + values, body)

    return Piece(height + _APART, draw, keep)


def _size(pen: Pen, values: Sequence[str], room: float, sizes: tuple[float, float]) -> float:
    """Return the largest size up to the one wished at which values stay on one line [pt]."""
    least, wished = sizes
    widest = max(pen.width(value, least, "bold") for value in values)
    if widest > room:
        return least
    # Whole points, so that numbers of one card differ little in size.
    return max(least, min(wished, float(int(least * room / widest)))) if widest else wished


def _dial_beside(
    pen: Pen, width: float, body: float, dial: float, cell: tuple[str, str, str], keep: bool
) -> Piece:
    """Return a single dial number with its label before it on the same base line."""
    label, value, under = cell
    remarks = pen.wrap(under, body, width - 2 * PAD)
    first = lines_height(1, dial)
    height = first + lines_height(len(remarks), body) + 2 * AIR

    def draw(pen: Pen, x: float, y: float, width: float) -> None:
        _plate(pen, x, y, width, height)
        base = y + AIR + first_base(pen, dial)
        right = x + width - PAD
        pen.text(x + PAD, base, label, body)
        pen.text(right, base, value, dial, weight="bold", anchor="end")
        put_lines(pen, remarks, right, y + AIR + first, body, anchor="end")

    return Piece(height + _APART, draw, keep)


def _plate(pen: Pen, x: float, y: float, width: float, height: float) -> None:
    """Draw the ground that a dial number stands on: a tint with a strong edge on its left."""
    pen.rect(x, y, x + width, y + height, stroke=None, fill=TINT)
    pen.line(x + WIDE / 2, y, x + WIDE / 2, y + height, width=WIDE)
