"""Nut and screw in one section, to scale: where they overlap, and what is left clear."""

from __future__ import annotations

from cardgen.card.drawing import Drawing
from cardgen.card.panel import Block
from cardgen.card.panels._window import cropped, shown_length
from cardgen.card.table import Kit
from cardgen.card.view import View

_TALLEST = 34.0
_CLEAR = (7.4, 2.0, 9.8, 2.0)
"""Room for dimensions: left, top, right, bottom [mm]."""
_BODY = 0.6
"""How much of bar and nut is drawn beyond the roots, in depths of the thread."""
_LEVELS = (("D4", "major"), ("D2", "pitch"), ("D1", "minor"))


def pair(kit: Kit, view: View) -> list[Block]:
    """Return the drawing of the pair at its basic sizes, if there are outlines to draw."""
    if "thread.mate_profile" not in view.outlines:
        return []
    screw = view.outlines["thread.profile"].points
    nut = view.outlines["thread.mate_profile"].points
    crest, root = max(y for _, y in screw), min(y for _, y in screw)
    bottom = root - _BODY * (crest - root)
    top = max(y for _, y in nut) + _BODY * (crest - root)
    end = shown_length(kit, screw[-1][0], bottom, top, _TALLEST, _CLEAR)
    lower, upper = cropped(screw, end), cropped(nut, end)

    def draw(drawing: Drawing) -> None:
        drawing.hatch([[*lower, (end, bottom), (0.0, bottom)]], spacing=1.5)
        drawing.hatch([[*upper, (end, top), (0.0, top)]], spacing=1.5, angle=135.0)
        drawing.outline(lower)
        drawing.outline(upper)
        for level, line in ((bottom, lower), (top, upper)):
            drawing.break_line((0.0, level), (end, level))
            drawing.thin([line[0], (0.0, level)])
            drawing.thin([line[-1], (end, level)])
        reach = 3.0 / float(drawing.scale)
        for symbol, which in _LEVELS:
            radius = view.number(f"mate.{which}_diameter") / 2
            drawing.thin([(-reach, radius), (0.0, radius)])
            drawing.label((-reach, radius), symbol, sides=(180.0,))
        drawing.label((end, (top + crest) / 2), "nut", sides=(0.0,))
        drawing.label((end, (bottom + root) / 2), "screw", sides=(0.0,))

    return [
        kit.drawing((0.0, bottom, end, top), draw, tallest=_TALLEST, clear=_CLEAR, size=kit.body)
    ]
