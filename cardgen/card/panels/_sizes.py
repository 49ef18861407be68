"""The table of sizes: what is measured, the larger limit first."""

from __future__ import annotations

from collections.abc import Sequence

from cardgen.card.panel import Block
from cardgen.card.table import Column, Kit
from cardgen.card.view import View

_OPEN = "open"


def sizes_table(view: View, kit: Kit, ids: Sequence[str]) -> list[Block]:
    """Return a table of those of the sizes that have limits, with their symbols.

    In a wide column it says the basic sizes too.

    A limit that the standard leaves open says so.
    """
    wide = kit.wide
    columns = [Column("Size", stretch=True)]
    if wide:
        columns.append(Column("basic", align="end"))
    columns += [Column("largest", align="end", bold=True), Column("least", align="end", bold=True)]
    rows = []
    for id in ids:
        figure = view.figures[id]
        if figure.low is None and figure.high is None:
            continue
        limits = [part.split()[0] for part in view.limits(id).split(" / ")]
        if figure.high is None:
            limits.insert(0, _OPEN)
        if figure.low is None:
            limits.append(_OPEN)
        rows.append([view.lettered(id), *([view.bare(id)] if wide else []), *limits])
    return kit.table(columns, rows)
