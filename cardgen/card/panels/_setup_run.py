"""The way of the tool along the work, from start to stop, with the seconds there are."""

from __future__ import annotations

from cardgen.card.pen import BLACK, NARROW, TINT, WHITE, WIDE, Pen
from cardgen.card.piece import lines_height
from cardgen.card.screw import screw
from cardgen.card.table import Kit, Piece
from cardgen.card.view import View

_BAR = 6.0
"""Height of the work as it is drawn [mm]."""
_JAWS = 6.0
_GROOVE = 5.0
_CENTRE = 7.0


def run(kit: Kit, view: View) -> Piece:
    """Return a picture, not to scale: chuck on the left, tailstock on the right, as one stands."""
    small, dial = kit.small, kit.dial
    holding = _holding(view)
    end = str(view.figures["setup.stop"].inputs["end"].value)
    direction = view.figures["setup.direction"].inputs
    inwards = direction["towards"].value == "chuck"
    seconds = view.written("setup.time_to_stop")
    above, words = lines_height(1, dial), lines_height(1, small)
    height = above + 2.0 + _BAR + 2.4 + words

    def draw(pen: Pen, x: float, y: float, width: float) -> None:
        top = y + above + 2.0
        axis, bottom = top + _BAR / 2, top + _BAR
        jaw, free = x + _JAWS, x + width - _CENTRE
        thread = jaw + 3.0 + (_GROOVE if end == "groove" else 4.0 if end == "shoulder" else 3.0)
        # What holds the work, shaded: a free end has no centre, for the tool may run past it.
        if holding == "between-centres":
            _centre(pen, jaw, x, axis)
        else:
            pen.rect(x, top - 2.0, jaw, bottom + 2.0, width=NARROW, fill=TINT)
        if holding != "chuck":
            _centre(pen, free, x + width, axis)
        rise = 1.6 if end == "shoulder" else 0.0
        pen.rect(jaw, top - rise, thread, bottom + rise, width=WIDE, fill=WHITE)
        pen.rect(thread, top, free, bottom, width=WIDE, fill=WHITE)
        if end == "groove":
            gap = thread - _GROOVE
            pen.rect(gap, top - 0.4, thread, top + 1.4, stroke=None, fill=WHITE)
            pen.rect(gap, bottom - 1.4, thread, bottom + 0.4, stroke=None, fill=WHITE)
            for level in (top + 1.4, bottom - 1.4):
                pen.line(gap, level, thread, level, width=WIDE)
            for side in (gap, thread):
                pen.line(side, top, side, bottom, width=WIDE)
        last = free
        if not inwards:
            # The free end that the tool runs off to is turned down.
            last = free - _GROOVE
            pen.rect(last, top - 0.4, free + 0.4, bottom + 0.4, stroke=None, fill=WHITE)
            pen.rect(last, top + 1.4, free, bottom - 1.4, width=WIDE)
            pen.line(last, top, last, bottom, width=WIDE)
        screw(pen, thread, last, top, bottom)
        # With the spindle forward a right hand goes towards the chuck, a left hand away from it.
        start, stop = (free + 2.0, thread - 1.5) if inwards else (thread - 1.5, free - 1.0)
        way = top - 2.4
        sense = 1.0 if stop > start else -1.0
        pen.line(start, way, stop - sense * 1.5, way, width=WIDE)
        pen.line(start, way - 1.2, start, way + 1.2, width=WIDE)
        head = [(stop, way), (stop - sense * 3, way - 1.1), (stop - sense * 3, way + 1.1)]
        pen.path(head, closed=True, stroke=None, fill=BLACK)
        middle = (thread + free) / 2
        base = y + pen.metrics.ascent(dial) + 0.6
        pen.text(middle, base, seconds, dial, weight="bold", anchor="middle")
        under = bottom + 2.4 + 0.8 * words
        pen.text(x, under, "headstock" if holding == "between-centres" else "chuck", small)
        pen.text(x + width, under, "tailstock", small, anchor="end")
        pen.text(middle, under, "from start to stop", small, anchor="middle")

    return Piece(height, draw, picture=True)


def _holding(view: View) -> str:
    """Return how the work is held; by a chuck and a centre where no cut was worked out."""
    if not view.has("cutting.holding"):
        return "chuck-and-centre"
    return str(view.figures["cutting.holding"].inputs["holding"].value)


def _centre(pen: Pen, tip: float, base: float, axis: float) -> None:
    """Draw a centre, shaded, its point in the end of the work."""
    point = [(tip, axis), (base, axis - 2.4), (base, axis + 2.4)]
    pen.path(point, closed=True, width=NARROW, fill=TINT)
