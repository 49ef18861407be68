"""What a shape lets through, in words for a message."""

from __future__ import annotations

from cardgen.core.unit_table import KINDS
from cardgen.spec.shape import (
    Either,
    Items,
    Line,
    Measure,
    Number,
    Row,
    Shape,
    Switch,
    Whole,
    Word,
)


def allowed(shape: Shape) -> str:
    """Return in words what a shape lets through."""
    if isinstance(shape, Measure):
        kind = KINDS[shape.dimension]
        span = f"{shape.low:.10g} to {shape.high:.10g} {kind.house}".strip()
        return f"{span}, written such as {' or '.join(kind.examples)}"
    if isinstance(shape, Number):
        return f"a plain number from {shape.low:g} to {shape.high:g}"
    if isinstance(shape, Whole):
        if shape.low == shape.high:
            return str(shape.low)
        return f"a whole number from {shape.low} to {shape.high}"
    if isinstance(shape, Switch):
        return "true or false"
    if isinstance(shape, Word):
        return "one of " + ", ".join(shape.words)
    if isinstance(shape, Line):
        return f"{shape.meaning}, at most {shape.longest} characters"
    if isinstance(shape, (Items, Row)):
        return "a list in brackets"
    if isinstance(shape, Either):
        return allowed(shape.scalar)
    return "a table of keys"
