"""Three wires, or slips, in the grooves, seen along the bar, to scale; its middle is left out."""

from __future__ import annotations

from collections.abc import Sequence

from cardgen.card.drawing import Drawing
from cardgen.card.pen import XY
from cardgen.card.piece import Piece
from cardgen.card.table import Kit
from cardgen.card.view import View

_TALLEST = 34.0
_CLEAR = (2.0, 1.5, 12.0, 1.5)
"""Room for dimensions: left, top, right, bottom [mm]."""
_BODY = 0.5
"""How much of the bar is drawn on each side of the break, in depths of the thread."""
_BREAK = 0.35
"""Gap of the break, in depths of the thread."""
_HALF_LETTER = 1.6
"""How far under the wire's middle its letter is hung, to stand in the middle [mm on the card]."""


def wires(kit: Kit, view: View) -> Piece:
    """Return the drawing of a micrometer's faces over three wires, or over three slips."""
    slips = "measure.slip_1" in view.outlines
    upper, lower = (view.outlines[f"measure.{side}"].points for side in ("upper", "lower"))
    crest, root = max(y for _, y in upper), min(y for _, y in upper)
    depth = crest - root
    inner = root - _BODY * depth
    gap = _BREAK * depth / 2

    def above(points: Sequence[XY]) -> list[XY]:
        return [(x, y - inner + gap) for x, y in points]

    def below(points: Sequence[XY]) -> list[XY]:
        return [(x, inner - gap - y) for x, y in points]

    name = "measure.slip" if slips else "measure.wire"
    one = above(view.outlines[f"{name}_1"].points)
    pair = [below(view.outlines[f"{name}_{number}"].points) for number in (2, 3)]
    high, low = max(y for _, y in one), min(y for _, y in pair[0])
    end = upper[-1][0]

    def draw(drawing: Drawing) -> None:
        for line, edge in ((above(upper), gap), (below(lower), -gap)):
            drawing.hatch([[*line, (end, edge), (0.0, edge)]], spacing=1.5)
            drawing.outline(line)
            drawing.break_line((0.0, edge), (end, edge))
            drawing.thin([line[0], (0.0, edge)])
            drawing.thin([line[-1], (end, edge)])
        for piece in (one, *pair):
            if slips:
                drawing.outline(piece, closed=True)
                continue
            x, y = _centre(piece)
            drawing.circle((x, y), max(px for px, _ in piece) - x)
        for level in (high, low):
            drawing.outline([(0.0, level), (end, level)])
        drawing.vertical((end, low), (end, high), "M", 5.0)
        drawing.state_scale()
        if not slips:
            x, y = _centre(one)
            drawing.label((x, y - _HALF_LETTER / float(drawing.scale)), "w", sides=(90.0,))

    return kit.drawing((0.0, low, end, high), draw, tallest=_TALLEST, clear=_CLEAR, size=kit.body)


def _centre(ring: Sequence[XY]) -> XY:
    across, up = [x for x, _ in ring], [y for _, y in ring]
    return (min(across) + max(across)) / 2, (min(up) + max(up)) / 2
