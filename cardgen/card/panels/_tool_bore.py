"""The boring bar in the nut's bore, at full depth and withdrawn, to scale."""

from __future__ import annotations

from cardgen.card.drawing import Drawing
from cardgen.card.panel import Block
from cardgen.card.table import Kit
from cardgen.core.words import told

_ROWS = (
    "tool.bar",
    "tool.bar_largest",
    "tool.bar_overhang",
    "tool.bar_below",
    "tool.heel_clearance",
)
_TALLEST = 48.0
_CLEAR = (7.0, 1.5, 8.0, 1.5)
"""Room for words: left, top, right, bottom [mm]."""


def bore(kit: Kit) -> list[Block]:
    """Return the section through the bore, and what the bar must be."""
    view = kit.view
    rows = kit.figures(*_ROWS)
    if "tool.bore" not in view.outlines:
        return list(rows)
    shapes = {
        name: view.outlines[f"tool.{name}"].points
        for name in ("bore", "bore.root", "bore.bar", "bore.back", "bore.bit")
    }
    root = max(x for x, _ in shapes["bore.root"])
    low = min(y for _, y in shapes["bore.root"])

    def draw(drawing: Drawing) -> None:
        drawing.thin(shapes["bore.root"], closed=True)
        drawing.outline(shapes["bore"], closed=True)
        drawing.hidden(shapes["bore.back"], closed=True)
        drawing.shade(shapes["bore.bar"])
        drawing.outline(shapes["bore.bar"], closed=True)
        drawing.outline(shapes["bore.bit"], closed=True)
        drawing.centre_line((-root, 0.0), (root, 0.0))
        drawing.centre_line((0.0, low), (0.0, -low))
        # Infeed goes towards the operator, on the left.
        start = max(x for x, _ in shapes["bore.bar"])
        drawing.arrow((start * 0.2, -low * 0.62), (-root * 0.75, -low * 0.62))
        drawing.label((-root, 0.0), "you", sides=(180.0,))
        drawing.label((root, 0.0), "back", sides=(0.0,))

    words = told(
        "Seen from the tailstock, at full depth; the arrow is the infeed, dashed the "
        "bar withdrawn by {withdraw}.",
        withdraw=view.written("tool.withdraw"),
    )
    drawing = kit.drawing((-root, low, root, -low), draw, tallest=_TALLEST, clear=_CLEAR)
    return [drawing, kit.note(words), *rows]
