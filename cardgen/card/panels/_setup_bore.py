"""The way of the tool through a nut, from start to stop, with the seconds there are."""

from __future__ import annotations

from cardgen.card.pen import BLACK, HAIR, NARROW, TINT, WHITE, WIDE, Pen
from cardgen.card.piece import lines_height
from cardgen.card.table import Kit, Piece
from cardgen.card.view import View

_WALL = 2.6
"""Thickness of the nut's wall as it is drawn [mm]."""
_BORE = 6.0
_JAWS = 6.0
_RECESS = 4.5
_BAR = 3.0
_BIT = 1.2


def bore_run(kit: Kit, view: View) -> Piece:
    """Return a picture, not to scale: the nut cut open, chuck on the left, as one stands."""
    small, dial = kit.small, kit.dial
    end = str(view.figures["setup.stop"].inputs["end"].value)
    right_hand = view.figures["setup.direction"].inputs["hand"].value == "right"
    seconds = view.written("setup.time_to_stop")
    above, words = lines_height(1, dial), lines_height(1, small)
    tall = _BORE + 2 * _WALL
    height = above + 2.0 + tall + 2.4 + words

    def draw(pen: Pen, x: float, y: float, width: float) -> None:
        top = y + above + 2.0
        high, low, bottom = top + _WALL, top + _WALL + _BORE, top + tall
        # A through hole needs room between the nut and the chuck's face.
        left = x + _JAWS + (3.0 if end == "open" else 0.0)
        right = x + width - 16.0
        inner = left if end == "open" else left + 3.0
        thread = inner + (_RECESS if end == "groove" else 3.0 if end == "shoulder" else 0.0)
        pen.rect(x, top - 1.0, x + _JAWS, bottom + 1.0, width=NARROW, fill=TINT)
        pen.rect(x + _JAWS, top - 1.0, left + 5.0, top, width=NARROW, fill=TINT)
        pen.rect(x + _JAWS, bottom, left + 5.0, bottom + 1.0, width=NARROW, fill=TINT)
        pen.rect(left, top, right, bottom, width=WIDE, fill=TINT)
        pen.rect(inner, high, right, low, width=WIDE, fill=WHITE)
        if end == "groove":
            pen.rect(inner, high - 1.2, thread, low + 1.2, width=WIDE, fill=WHITE)
        _threads(pen, thread, right, high, low, right_hand)
        _bar(pen, thread, x + width, (high + low) / 2, low)
        start, stop = (right + 2.0, thread - 1.5) if right_hand else (thread - 1.5, right + 2.0)
        if end == "open":
            start, stop = (start, left - 2.0) if right_hand else (left - 2.0, stop)
        way, sense = top - 2.4, 1.0 if stop > start else -1.0
        pen.line(start, way, stop - sense * 1.5, way, width=WIDE)
        pen.line(start, way - 1.2, start, way + 1.2, width=WIDE)
        head = [(stop, way), (stop - sense * 3, way - 1.1), (stop - sense * 3, way + 1.1)]
        pen.path(head, closed=True, stroke=None, fill=BLACK)
        middle = (thread + right) / 2
        base = y + pen.metrics.ascent(dial) + 0.6
        pen.text(middle, base, seconds, dial, weight="bold", anchor="middle")
        under = bottom + 2.4 + 0.8 * words
        pen.text(x, under, "chuck", small)
        pen.text(x + width, under, "boring bar", small, anchor="end")
        pen.text(middle, under, "from start to stop", small, anchor="middle")

    return Piece(height, draw, picture=True)


def _bar(pen: Pen, thread: float, end: float, axis: float, wall: float) -> None:
    """Draw the bar from the tailstock's side, its bit against the wall towards the operator."""
    tip = thread + 6.0
    pen.rect(tip, axis - _BAR / 2, end, axis + _BAR / 2, width=NARROW, fill=WHITE)
    pen.rect(tip + 0.8, axis + _BAR / 2, tip + 0.8 + _BIT, wall + 0.6, stroke=None, fill=BLACK)


def _threads(
    pen: Pen, left: float, right: float, top: float, bottom: float, right_hand: bool
) -> None:
    """Draw the far half of the thread: its lines lean the other way from a screw's near half."""
    lean = -1.1 if right_hand else 1.1
    x = left + 2.0
    while x < right - 1.4:
        pen.line(x - lean / 2, top, x + lean / 2, bottom, width=HAIR)
        x += 2.0
