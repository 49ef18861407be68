"""The grinder's table: in which order the faces are ground, and how the blank is set for each."""

from __future__ import annotations

from cardgen.card.panel import Block
from cardgen.card.table import Column, Kit

_SQUARE = "90.0°"
_NONE = "–"


def grinder(kit: Kit) -> list[Block]:
    """Return a row for each face, and how the settings are meant."""
    view = kit.view
    chuck_leads = view.figures["tool.leading_side"].value == "chuck"
    sides = {
        "leading": "chuck side, leads" if chuck_leads else "tailstock side, leads",
        "trailing": "tailstock side, trails" if chuck_leads else "chuck side, trails",
    }
    rows = [["1", "end", _SQUARE, view.written("tool.end_relief"), _NONE]]
    for number, (name, words) in enumerate(sides.items(), 2):
        rows.append(
            [
                str(number),
                words,
                view.written(f"tool.protractor_{name}"),
                view.written(f"tool.rest_{name}"),
                view.bare(f"tool.stock_{name}"),
            ]
        )
    if view.number("tool.rake") > 0:
        rows.append(["4", "top, blank on its side", view.written("tool.rake"), "0.0°", _NONE])
    columns = [
        Column(""),
        Column("Face", stretch=True),
        Column("swing", align="end", bold=True),
        Column("table", align="end", bold=True),
        Column("off", align="end"),
    ]
    words = (
        "Blank face up at an upright wheel. Swing: shank to wheel, minus if the blade narrows"
        " behind its point. Table: slopes down from the wheel, minus: down to it. Off: at the"
        " point. Swung, a side leans more, seen from the end, than the table slopes."
    )
    return [*kit.table(columns, rows), kit.note(words)]
