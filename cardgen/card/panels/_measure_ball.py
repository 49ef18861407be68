"""A ball in the nut's groove, to scale: the gap is taken from it to the one opposite."""

from __future__ import annotations

from math import fsum

from cardgen.card.drawing import Drawing
from cardgen.card.panels._window import cropped, shown_length
from cardgen.card.piece import Piece
from cardgen.card.table import Kit
from cardgen.card.view import View

_TALLEST = 34.0
_CLEAR = (2.0, 1.5, 9.0, 8.0)
"""Room for words: left, top, right, bottom [mm]."""
_BODY = 0.5
"""How much of the nut is drawn outside the root, in depths of the thread."""


def ball(kit: Kit, view: View) -> Piece:
    """Return the drawing of one ball in its groove; the other lies opposite, below."""
    whole = view.outlines["thread.profile"].points
    ring = view.outlines["measure.ball"].points
    crest, root = min(y for _, y in whole), max(y for _, y in whole)
    top = root + _BODY * (root - crest)
    low = min(y for _, y in ring)
    end = shown_length(kit, whole[-1][0], low, top, _TALLEST, _CLEAR)
    nut = cropped(whole, end)
    middle = (fsum(x for x, _ in ring) / len(ring), fsum(y for _, y in ring) / len(ring))

    def draw(drawing: Drawing) -> None:
        drawing.hatch([[*nut, (end, top), (0.0, top)]], spacing=1.5, angle=135.0)
        drawing.outline(nut)
        drawing.break_line((0.0, top), (end, top))
        drawing.thin([nut[0], (0.0, top)])
        drawing.thin([nut[-1], (end, top)])
        drawing.circle(middle, max(x for x, _ in ring) - middle[0])
        drawing.label(middle, "b", sides=(90.0,))
        drawing.thin([(0.0, low), (end, low)])
        drawing.arrow((middle[0], low - 7.0 / float(drawing.scale)), (middle[0], low), width=0.25)
        drawing.label((middle[0], low - 4.0 / float(drawing.scale)), "Mb", sides=(0.0,))
        drawing.state_scale()

    return kit.drawing((0.0, low, end, top), draw, tallest=_TALLEST, clear=_CLEAR, size=kit.body)
