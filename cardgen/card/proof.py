"""The proof that a drawn card is whole: nothing overlaps, nothing is cut off."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from cardgen.card.flow import LayoutError
from cardgen.card.pen import Arc, Box, Disc, Mark, Path, Text


def prove(boxes: Sequence[Box], marks: Iterable[Mark], live: Box) -> None:
    """Check one card from what its pen recorded.

    Parameters
    ----------
    boxes
        In drawing order: each part's box, then the boxes of its texts.
    marks
        What was drawn.
    live
        The card less its margins.

    Raises
    ------
    LayoutError
        If a part leaves the live area or overlaps another part; if a text leaves its part or
        overlaps another text; if a line leaves the live area. The message names the owner.
    """
    parts: list[tuple[Box, list[Box]]] = []
    for box in boxes:
        if box.kind == "part":
            parts.append((box, []))
            if not box.inside(live):
                _fail(box, "leaves the card")
        elif box.kind == "text":
            if not parts:
                _fail(box, "belongs to no part")
            parts[-1][1].append(box)
    for part, texts in parts:
        for text in texts:
            if not text.inside(part):
                _fail(text, f"leaves its part, {part.owner}")
        _apart(texts)
    _apart([part for part, _ in parts])
    _within(marks, live)


def _apart(boxes: Sequence[Box]) -> None:
    """Check that no two boxes overlap, comparing only those that share a height."""
    waiting = sorted(boxes, key=lambda box: box.top)
    for number, box in enumerate(waiting):
        for other in waiting[number + 1 :]:
            if other.top >= box.bottom:
                break
            if box.overlaps(other):
                _fail(box, f"overlaps {other.owner}")


def _within(marks: Iterable[Mark], live: Box) -> None:
    for mark in marks:
        if isinstance(mark, Text):
            continue
        if isinstance(mark, Path):
            across = [x for x, _ in mark.points]
            along = [y for _, y in mark.points]
        else:
            across = [mark.x - mark.radius, mark.x + mark.radius]
            along = [mark.y - mark.radius, mark.y + mark.radius]
            if isinstance(mark, Arc):
                # An arc's whole circle may be larger than the card; its text boxes speak for it.
                continue
        box = Box(min(across), min(along), max(across), max(along), "part", _kind(mark))
        if not box.inside(live, 0.3):
            _fail(box, "leaves the card")


def _kind(mark: Path | Disc | Arc) -> str:
    return f"a {type(mark).__name__.lower()}"


def _fail(box: Box, what: str) -> None:
    place = f"({box.left:.1f}, {box.top:.1f}) to ({box.right:.1f}, {box.bottom:.1f})"
    msg = f"{box.owner} {what}; it is at {place}"
    raise LayoutError(msg)
