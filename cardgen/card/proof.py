"""The proof that a drawn card is whole: nothing overlaps, nothing is cut off."""

from __future__ import annotations

from collections.abc import Sequence

from cardgen.card.pen import Box, Pen, Text, reach
from cardgen.card.stack import LayoutError

_LINE = 0.3
"""How far the middle of a line may lie outside its part: half of a wide line, and a little [mm]."""


def prove(pen: Pen, live: Box) -> None:
    """Check one card from what its pen recorded.

    Parameters
    ----------
    pen
        Every mark of the card was drawn within one of its parts.
    live
        The card less its margins.

    Raises
    ------
    LayoutError
        If a part leaves the live area or overlaps another part; if a text or a line leaves its
        part; if a text overlaps another one. The message names the owner.
    """
    _apart([part for part, _, _ in pen.parts])
    drawn = 0
    for part, marks, boxes in pen.parts:
        if not part.inside(live):
            _fail(part, "leaves the card")
        prove_part(pen, part, marks, boxes)
        drawn += marks.stop - marks.start
    if drawn != len(pen.marks):
        msg = f"{len(pen.marks) - drawn} marks of {live.owner} belong to no part, or to two"
        raise LayoutError(msg)


def prove_part(pen: Pen, part: Box, marks: slice, boxes: slice) -> None:
    """Check one part: what was drawn in it stays in it, and its texts are apart.

    Raises
    ------
    LayoutError
        If not. The message names the owner.
    """
    texts = pen.boxes[boxes]
    for text in texts:
        if not text.inside(part):
            _fail(text, f"leaves its part, {part.owner}")
    _apart(texts)
    for mark in pen.marks[marks]:
        if isinstance(mark, Text):
            continue
        left, top, right, bottom = reach(mark)
        if (
            left < part.left - _LINE
            or right > part.right + _LINE
            or top < part.top - _LINE
            or bottom > part.bottom + _LINE
        ):
            kind = type(mark).__name__.lower()
            box = Box(left, top, right, bottom, "part", f"{part.owner}: a {kind}")
            _fail(box, f"leaves its part, {part.owner}")


def _apart(boxes: Sequence[Box]) -> None:
    """Check that no two boxes overlap, comparing only those that share a height."""
    waiting = sorted(boxes, key=lambda box: box.top)
    for number, box in enumerate(waiting):
        for other in waiting[number + 1 :]:
            if other.top >= box.bottom:
                break
            if box.overlaps(other):
                _fail(box, f"overlaps {other.owner}")


def _fail(box: Box, what: str) -> None:
    place = f"({box.left:.1f}, {box.top:.1f}) to ({box.right:.1f}, {box.bottom:.1f})"
    msg = f"{box.owner} {what}; it is at {place}"
    raise LayoutError(msg)
