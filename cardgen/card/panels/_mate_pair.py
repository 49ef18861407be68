"""Nut and screw in one section, to scale: what is left clear between them, dimensioned."""

from __future__ import annotations

from cardgen.card.drawing import Drawing
from cardgen.card.panel import Block
from cardgen.card.panels._window import cropped
from cardgen.card.scale import fitting_scale
from cardgen.card.table import Kit
from cardgen.card.view import View

_TALLEST = 42.0
_CLEAR = (8.5, 6.5, 12.5, 1.5)
"""Room for dimensions and words: left, top, right, bottom [mm]."""
_BODY = 0.35
"""How much of bar and nut is drawn beyond the roots, in depths of the thread."""
_PITCHES = (0, 1, 2)
"""How many pitches may be shown beyond half a ridge and half a groove."""


def pair(kit: Kit, view: View) -> list[Block]:
    """Return the drawing of the pair in the middle of its limits, the play on one side."""
    if "mate.pair.screw" not in view.outlines:
        return []
    screw, nut, play, over_crest, under_bore = (
        view.outlines[f"mate.pair.{name}"].points
        for name in ("screw", "nut", "play", "over_crest", "under_bore")
    )
    (crest, nut_root), (root, bore) = ([y for _, y in ends] for ends in (over_crest, under_bore))
    bottom, top = root - _BODY * (crest - root), nut_root + _BODY * (crest - root)
    # From the middle of a crest to the middle of a root: both clearances lie on the edges. What is
    # left clear is small, so a larger scale counts for more than another pitch.
    first, pitch = under_bore[0][0], view.number("thread.pitch")
    end = max(
        (first + number * pitch for number in _PITCHES),
        key=lambda end: (fitting_scale((0.0, bottom, end, top), kit.width, _TALLEST, _CLEAR), end),
    )
    lower, upper = cropped(screw, end), cropped(nut, end)

    def draw(drawing: Drawing) -> None:
        drawing.hatch([[*lower, (end, bottom), (0.0, bottom)]], spacing=1.5)
        drawing.hatch([[*upper, (end, top), (0.0, top)]], spacing=1.5, angle=135.0)
        for level, line in ((bottom, lower), (top, upper)):
            # A play of tenths would drown in wide lines.
            drawing.thin(line)
            # The zigzag stands beside the lines that the play is dimensioned from.
            drawing.thin([(0.0, level), (play[1][0], level)])
            drawing.break_line((play[1][0], level), (end, level))
            drawing.thin([line[0], (0.0, level)])
            drawing.thin([line[-1], (end, level)])
        drawing.vertical((0.0, crest), (0.0, nut_root), _symbol(view, "crest_clearance"), -3.0)
        drawing.vertical((end, root), (end, bore), _symbol(view, "root_clearance"), 4.5)
        above = (top - play[0][1]) * float(drawing.scale) + 2.5
        drawing.horizontal(play[0], play[1], _symbol(view, "backlash"), above)
        drawing.label((end, top), "nut", sides=(0.0, 315.0))
        drawing.label((end, bottom), "screw", sides=(0.0, 45.0))
        drawing.label((0.0, bottom), drawing.scale_text, sides=(180.0, 135.0))

    picture = kit.drawing(
        (0.0, bottom, end, top), draw, tallest=_TALLEST, clear=_CLEAR, size=kit.body, keep=True
    )
    return [
        picture,
        kit.note("Both in the middle of their limits, the nut pushed to the right."),
    ]


def clearances(kit: Kit, view: View) -> list[Block]:
    """Return what is left clear as rows, each with its letter in the picture."""
    rows: list[Block] = []
    for name in ("engagement_least", "crest_clearance", "root_clearance"):
        id = f"mate.{name}"
        if not view.has(id):
            continue
        figure = view.figures[id]
        label = f"{figure.name.label} {figure.name.symbol}".rstrip() + view.mark(id)
        open_end = figure.low is not None and figure.high is None
        rows.append(kit.pair(label, ("≥ " if open_end else "") + view.limits(id)))
    return rows


def _symbol(view: View, name: str) -> str:
    return view.figures[f"mate.{name}"].name.symbol
