"""The cutter: the grinding diagram, its numbers, the order of grinding and the check by hand."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from math import fsum

from cardgen.card.drawing import Drawing
from cardgen.card.panel import Block, Panel
from cardgen.card.panels._tool_bore import bore
from cardgen.card.panels._tool_grinder import grinder
from cardgen.card.panels._tool_views import relief_ids, views
from cardgen.card.pen import BLACK, XY, Pen
from cardgen.card.piece import lines_height, put_lines
from cardgen.card.table import Kit
from cardgen.card.view import View
from cardgen.core.words import told

_ROWS = (
    "tool.blank",
    "tool.tip_width",
    "tool.shank_width",
    "tool.foot_width",
    "tool.section_left",
)
"""Rows under the drawings; the other figures stand on them, in the table and in the steps."""
_RAKED = ("tool.height_left", "tool.flank_leading", "tool.flank_trailing")
"""On a face that falls away the edges do not stand as swung, nor is the blade as high."""
_AT_THE_EDGE = 0.05
"""Depth below the edge that is called at the edge [mm]."""
_NO_ERROR = 0.0005
"""Form error that is not told [mm]."""
_APART = 3.0
"""Between the true-size shapes, and between them and their words [mm]."""

_LEAST_WORDS = 18.0
"""Least width of the words beside the true-size shapes [mm]."""


def blocks(view: View, pen: Pen, width: float) -> Sequence[Block]:
    """Return the diagram, the reliefs in large figures, the true-size outline, and the steps."""
    kit = Kit(view, pen, width)
    made: list[Block] = []
    if "tool.front" in view.outlines:
        made += views(kit)
    # Never on two cards: one relief read alone is ground on either side.
    made.append(replace(kit.bigs(_reliefs(view)), parts=None))
    if view.has("tool.tilt"):
        made.append(kit.big("Tip the tool", view.written("tool.tilt"), _low_side(view)))
    if "tool.silhouette" in view.outlines:
        made += _true_size(kit)
    if view.has("tool.protractor_leading"):
        made += grinder(kit)
    made += kit.figures(*_ROWS)
    if view.number("tool.rake") > 0:
        made += kit.figures(*_RAKED)
    if view.has("tool.point_off_centre") and view.number("tool.point_off_centre") != 0:
        made += kit.figures("tool.point_off_centre")
    if view.has("tool.clearance_place"):
        made += _swept(kit)
    if view.internal:
        made += bore(kit)
    made.append(kit.space())
    number = 0
    for step in view.steps.get("tool", ()):
        if step.kind == "check":
            made.append(kit.item(step.text, "□", weight="bold"))
            continue
        if step.kind == "caution":
            made.append(kit.item(step.text, "⚠"))
            continue
        number += 1
        made.append(kit.item(step.text, str(number)))
    return made


def _reliefs(view: View) -> list[tuple[str, str, str]]:
    """Return the reliefs as they stand in the front view: a screw's tool, chuck side right."""
    roles = [id.rpartition("_")[2] for id in relief_ids(view)]
    chuck = {"leading": "Chuck side, leads", "trailing": "Chuck side, trails"}
    tailstock = {"leading": "Tailstock side, leads", "trailing": "Tailstock side, trails"}
    sides = (chuck, tailstock) if view.internal else (tailstock, chuck)
    return [
        (
            words[role],
            f"{view.written(f'tool.relief_{role}')}{view.mark(f'tool.relief_{role}')}",
            "",
        )
        for words, role in zip(sides, roles, strict=True)
    ]


def _low_side(view: View) -> str:
    chuck = view.figures["tool.leading_side"].value == "chuck"
    return "chuck side of the face low" if chuck else "tailstock side of the face low"


def _swept(kit: Kit) -> list[Block]:
    """Say what the sweep along the helix found: the least clearance, where, and the form."""
    view = kit.view
    parts = {
        "clearance": view.written("tool.clearance_least"),
        "place": str(view.figures["tool.clearance_place"].value),
        "diameter": view.written("tool.clearance_diameter"),
    }
    if view.number("tool.clearance_below") < _AT_THE_EDGE:
        words = told("Clears by {clearance} at least: {place}, ⌀ {diameter}, at its edge.", **parts)
    else:
        words = told(
            "Clears by {clearance} at least: {place}, ⌀ {diameter}, {below} below its edge.",
            **parts,
            below=view.written("tool.clearance_below"),
        )
    made: list[Block] = [kit.note(words)]
    if view.number("tool.form_error") >= _NO_ERROR:
        error = view.written("tool.form_error")
        made.append(kit.note(told("Straight edges keep the form within {error}.", error=error)))
    return made


def _true_size(kit: Kit) -> list[Block]:
    """Return face and end at true size, the blade filled, to hold the ground tool against."""
    view = kit.view
    face = view.outlines["tool.silhouette"].points
    end = view.outlines["tool.front.blank"].points
    blade = view.outlines["tool.silhouette.end"].points
    shapes = [(face, face), (end, blade)]
    words = "1:1. Lay the face on the first shape; hold the end beside the second."
    across = fsum(_size(outer)[0] + _APART for outer, _ in shapes)
    room = kit.width - across - 1.0
    if room < _LEAST_WORDS:
        rows = [shapes] if room > 0 else [[shape] for shape in shapes]
        return [kit.note(words, keep=True), *(_shapes(kit, row) for row in rows)]
    return [_shapes(kit, shapes, kit.pen.wrap(words, kit.small, room))]


def _shapes(
    kit: Kit, shapes: Sequence[tuple[Sequence[XY], Sequence[XY]]], words: Sequence[str] = ()
) -> Block:
    """Return shapes side by side at true size, words beside them."""
    tallest = max(_size(outer)[1] for outer, _ in shapes)
    height = max(tallest, lines_height(len(words), kit.small)) + 2.0

    def draw(pen: Pen, x: float, y: float, width: float) -> None:
        del width
        left = x + 1.0
        for outer, filled in shapes:
            wide, tall = _size(outer)
            box = (left, y + 1.0, wide, tall)
            with Drawing(pen, box, _extent(outer), size=kit.small, scale=Fraction(1)) as d:
                d.shade(filled, BLACK)
                d.thin(outer, closed=True)
            left += wide + _APART
        put_lines(pen, words, left, y + 1.0, kit.small)

    return kit.sketch(height, draw)


def _extent(points: Sequence[XY]) -> tuple[float, float, float, float]:
    across, up = [x for x, _ in points], [y for _, y in points]
    return min(across), min(up), max(across), max(up)


def _size(points: Sequence[XY]) -> tuple[float, float]:
    left, bottom, right, top = _extent(points)
    return right - left, top - bottom


PANEL = Panel(
    name="tool",
    title="Cutter",
    needs=("tool.tip_width", "tool.relief_leading", "tool.relief_trailing"),
    blocks=blocks,
)
