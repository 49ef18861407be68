"""Screw and mate in one section, to scale: what is left clear between them, dimensioned."""

from __future__ import annotations

from cardgen.card.drawing import Drawing
from cardgen.card.panel import Block
from cardgen.card.panels._window import cropped
from cardgen.card.scale import fitting_scale
from cardgen.card.table import Kit
from cardgen.card.view import View

_TALLEST = 42.0
_CLEAR = (10.5, 6.5, 10.5, 1.5)
"""Room for dimensions and words: left, top, right, bottom [mm]."""
_BODY = 0.35
"""How much of both parts is drawn beyond the roots, in depths of the thread."""
_PITCHES = (0, 1, 2)
"""How many pitches may be shown beyond half a ridge and half a groove."""


def pair(kit: Kit, view: View) -> list[Block]:
    """Return the drawing of a nut on its screw, dimensioned by the letters of the rows."""
    words = "Both in the middle of their limits, the nut pushed to the right."
    return section(kit, view, ("nut", "screw"), ("crest_clearance", "root_clearance"), words)


def section(
    kit: Kit, view: View, parts: tuple[str, str], gaps: tuple[str, str], words: str
) -> list[Block]:
    """Return the section through both parts, if there is one, with a note under it.

    Parameters
    ----------
    parts
        What the upper and the lower part are called.
    gaps
        Figures of what is clear at the screw's crest and at its root.
    """
    if "mate.pair.play" not in view.outlines:
        return []
    above, below, play, crest, root = (
        view.outlines[f"mate.pair.{name}"].points
        for name in ("above", "below", "play", "crest", "root")
    )
    levels = [y for _, y in (*crest, *root)]
    body = _BODY * (max(levels) - min(levels))
    bottom, top = min(levels) - body, max(levels) + body
    # From the middle of a crest to the middle of a root: both clearances lie on the edges. What is
    # left clear is small, so a larger scale counts for more than another pitch.
    first, pitch = root[0][0], view.number("thread.pitch")
    end = max(
        (first + number * pitch for number in _PITCHES),
        key=lambda end: (fitting_scale((0.0, bottom, end, top), kit.width, _TALLEST, _CLEAR), end),
    )
    symbols = [view.figures[f"mate.{name}"].name.symbol for name in (*gaps, "backlash")]

    def draw(drawing: Drawing) -> None:
        for level, line, angle in ((top, above, 135.0), (bottom, below, 45.0)):
            face = cropped(line, end)
            drawing.hatch([[*face, (end, level), (0.0, level)]], spacing=1.5, angle=angle)
            # A play of tenths would drown in wide lines.
            drawing.thin(face)
            drawing.thin([face[0], (0.0, level)])
            drawing.thin([face[-1], (end, level)])
            # The zigzag stands beside the lines that the play is dimensioned from.
            drawing.thin([(0.0, level), (play[1][0], level)])
            drawing.break_line((play[1][0], level), (end, level))
        drawing.vertical((0.0, crest[0][1]), (0.0, crest[1][1]), symbols[0], -3.0)
        drawing.vertical((end, root[0][1]), (end, root[1][1]), symbols[1], 4.5)
        up = (top - play[0][1]) * float(drawing.scale) + 2.5
        drawing.horizontal(play[0], play[1], symbols[2], up)
        # Each name stands where no gap is dimensioned, the scale between them.
        right, left = (top, bottom) if crest[0][1] > root[0][1] else (bottom, top)
        names = dict(zip((top, bottom), parts, strict=True))
        drawing.label((end, right), names[right], sides=(0.0, 315.0, 45.0))
        drawing.label((0.0, left), names[left], sides=(180.0, 135.0, 225.0))
        drawing.label((0.0, (top + bottom) / 2), drawing.scale_text, sides=(180.0,))

    extent = (0.0, bottom, end, top)
    picture = kit.drawing(extent, draw, tallest=_TALLEST, clear=_CLEAR, size=kit.body, keep=True)
    return [picture, kit.note(words)]


def lettered(kit: Kit, view: View, *ids: str) -> list[Block]:
    """Return the rows of those figures that were worked out, each with its letter in a picture."""
    rows: list[Block] = []
    for id in ids:
        if not view.has(id):
            continue
        figure = view.figures[id]
        open_end = figure.low is not None and figure.high is None
        rows.append(kit.pair(view.lettered(id), ("≥ " if open_end else "") + view.limits(id)))
    return rows
