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
_BODY = 0.35
"""How much of bar and nut is drawn beyond the roots, in depths of the thread."""
_WHICH = ("major", "pitch", "minor")


def pair(kit: Kit, view: View) -> list[Block]:
    """Return the drawing of the pair, if there are outlines to draw.

    At the middle of both tolerances, with the play on one side, where that can be drawn; else at
    the basic sizes.
    """
    outlines = view.outlines
    if "thread.mate_profile" not in outlines:
        return []
    played = "mate.pair.play" in outlines
    names = ("thread.mate_profile", "thread.profile")
    if played:
        names = ("mate.pair.nut", "mate.pair.screw")
    elif view.internal:
        names = ("thread.profile", "thread.mate_profile")
    nut, screw = (outlines[name].points for name in names)
    crest, root = max(y for _, y in screw), min(y for _, y in screw)
    bottom = root - _BODY * (crest - root)
    top = max(y for _, y in nut) + _BODY * (crest - root)
    end = shown_length(kit, screw[-1][0], bottom, top, _TALLEST, _CLEAR)
    lower, upper = cropped(screw, end), cropped(nut, end)

    def draw(drawing: Drawing) -> None:
        drawing.hatch([[*lower, (end, bottom), (0.0, bottom)]], spacing=1.5)
        drawing.hatch([[*upper, (end, top), (0.0, top)]], spacing=1.5, angle=135.0)
        for line in (lower, upper):
            # A play of tenths would drown in wide lines.
            (drawing.thin if played else drawing.outline)(line)
        for level, line in ((bottom, lower), (top, upper)):
            drawing.break_line((0.0, level), (end, level))
            drawing.thin([line[0], (0.0, level)])
            drawing.thin([line[-1], (end, level)])
        reach = 3.0 / float(drawing.scale)
        owner = "thread" if view.internal else "mate"
        for which in _WHICH:
            figure = view.figures[f"{owner}.{which}_diameter"]
            radius = figure.number / 2
            drawing.thin([(-reach, radius), (0.0, radius)])
            drawing.label((-reach, radius), figure.name.symbol, sides=(180.0,))
        drawing.label((end, (top + crest) / 2), "nut", sides=(0.0,))
        drawing.label((end, (bottom + root) / 2), "screw", sides=(0.0,))

    picture = kit.drawing(
        (0.0, bottom, end, top), draw, tallest=_TALLEST, clear=_CLEAR, size=kit.body
    )
    if not played:
        return [picture, kit.note("Both at their basic sizes, to scale.")]
    words = "To scale, both in the middle of their limits, the nut pushed to the left: the play"
    return [picture, kit.note(f"{words} lies on the right of its ridges.")]
