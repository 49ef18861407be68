"""Rows of figures whose limits are a spread to know of, not limits to measure."""

from __future__ import annotations

from cardgen.card.panel import Block
from cardgen.card.table import Kit
from cardgen.core.rounding import spread_written


def span(kit: Kit, id: str) -> Block:
    """Return the row of a figure: the value in bold, before it the spread in which it may lie."""
    view = kit.view
    figure = view.figures[id]
    label = view.marked(id)
    if figure.low is None or figure.high is None:
        return kit.pair(label, view.written(id))
    return kit.pair(label, spread_written(figure), view.written(id))
