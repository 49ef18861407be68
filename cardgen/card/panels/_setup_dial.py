"""The thread dial as one looks down on it: every line, and those at which the half-nut may close.

The lines that serve are long and numbered; a ring within them says which start of the thread each
finds, where there are several.
"""

from __future__ import annotations

from itertools import pairwise

from cardgen.card.pen import BLACK, NARROW, TINT, WIDE, Pen
from cardgen.card.piece import GAP, lines_height, put_lines
from cardgen.card.table import Kit, Piece
from cardgen.card.view import View

_RADIUS = 9.0
"""Of the dial as it is drawn [mm]."""
_SHORT, _LONG = 1.5, 2.8
"""Lengths of a line that does not serve and of one that does [mm]."""
_LEAST_WORDS = 20.0
"""Width below which the words stand under the dial and not beside it [mm]."""
_CLOSE = 36.0
"""Angle between two lines that serve below which only the first is numbered [deg]."""
PREFIX = "setup.dial."
_TOLD = "Long lines serve; the others do not. Line 1 is where the half-nut was first closed."
_STARTS_TOLD = (
    "Long lines serve; the others do not. Line 1 is where the half-nut was first closed. Inside "
    "the ring: the start that a line finds."
)


def thread_dial(kit: Kit, view: View) -> Piece:
    """Return the picture of the dial with what its numbers mean beside it."""
    lines = sorted(_line(name, view) for name in view.outlines if name.startswith(PREFIX))
    serving = [number for number, start, _ in lines if start]
    once_more = [*serving, serving[0] + len(lines)]
    apart = 360.0 / len(lines) * min(after - before for before, after in pairwise(once_more))
    several = len({start for _, start, _ in lines if start}) > 1 and apart >= _CLOSE
    small, body = kit.small, kit.body
    row = lines_height(1, body)
    side = 2 * (_RADIUS + row)
    told = _STARTS_TOLD if several else _TOLD
    beside = kit.width >= side + GAP + _LEAST_WORDS
    words = kit.pen.wrap(told, small, kit.width - (side + GAP if beside else 0.0))
    tall = lines_height(len(words), small)
    height = (max(side, tall) if beside else side + tall) + 1.0

    def draw(pen: Pen, x: float, y: float, width: float) -> None:
        middle = y + (height / 2 if beside else side / 2)
        centre = x + (side if beside else width) / 2
        pen.disc(centre, middle, _RADIUS, width=WIDE, fill=TINT)
        # The mark beside the dial that its lines are read against.
        top = middle - _RADIUS
        pen.path(
            [(centre, top), (centre - 1.0, top - 1.8), (centre + 1.0, top - 1.8)],
            closed=True, stroke=None, fill=BLACK,
        )  # fmt: skip
        for number, start, (u, v) in lines:
            serves = start > 0
            reach = _RADIUS - (_LONG if serves else _SHORT)
            pen.line(
                centre + u * reach, middle - v * reach, centre + u * _RADIUS,
                middle - v * _RADIUS, width=WIDE if serves else NARROW,
            )  # fmt: skip
            if serves and (apart >= _CLOSE or number == 1):
                out = _RADIUS + 0.5 * row
                lift = pen.metrics.ascent(body) / 2
                shift = 3.2 if number == 1 else 0.0
                pen.text(
                    centre + u * out + shift, middle - v * out + lift, f"{number}", body,
                    weight="bold", anchor="middle",
                )  # fmt: skip
            if serves and several:
                within = _RADIUS - _LONG - 1.4
                lift = pen.metrics.ascent(small) / 2
                pen.text(
                    centre + u * within, middle - v * within + lift, f"{start}", small,
                    anchor="middle",
                )  # fmt: skip
        pen.disc(centre, middle, 0.8, width=NARROW)
        if beside:
            put_lines(pen, words, x + side + GAP, middle - tall / 2, small)
        else:
            put_lines(pen, words, x, y + side, small)

    return Piece(height, draw, picture=True)


def _line(name: str, view: View) -> tuple[int, int, tuple[float, float]]:
    """Return a line's number, the start that it finds (0 for none), and its direction."""
    number, start = name.removeprefix(PREFIX).split(".")
    return int(number), int(start), view.outlines[name].points[0]
