"""What the other ways of feeding would have taken, and what would ease the cut most."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import ceil

from cardgen.card.panel import Block
from cardgen.card.table import Column, Kit
from cardgen.core.words import part, told

WAYS: Mapping[str, str] = {
    "plunge": "straight in",
    "flank": "along the flank",
    "alternate": "flanks in turn",
    "rough-then-form": "rough first",
    "widen": "rough in steps side by side",
}
"""Way of feeding to its words in a list; it gives their order."""
_PLACES = ("first", "second")
_MINUTE = 60
_LONG = 90
"""Minutes from which hours are told."""


def compared(kit: Kit) -> Iterator[Block]:
    """Give passes and time of each way that is safe, the one that is taken first and bold."""
    view = kit.view
    taken = str(view.figures["cutting.method"].value)
    order = sorted(WAYS, key=lambda way: way != taken)
    rows = []
    for way in order:
        word = way.replace("-", "_")
        if view.has(f"cutting.passes_{word}"):
            passes, time = f"cutting.passes_{word}", f"cutting.time_{word}"
            name = WAYS[way]
            rows.append(
                (
                    told("{way} – this card", way=name) if way == taken else name,
                    view.written(passes),
                    _time(view.number(time)) if view.has(time) else "",
                )
            )
    if len(rows) > 1:
        columns = (Column("Way", stretch=True), Column("Passes", "end"), Column("Time", "end"))
        yield from kit.table(columns, rows)
    if view.has("cutting.pass_time", "cutting.return_time"):
        note = view.figures["cutting.return_time"].note
        yield kit.note(
            told(
                "Times with returns and settings, to compare by: a pass takes {run}, its return "
                "{back} ({how}).",
                run=view.written("cutting.pass_time"),
                back=view.written("cutting.return_time"),
                how=note,
            )
        )


def easing(kit: Kit) -> Iterator[Block]:
    """Give the two changes that would ease the cut most, with what they would do."""
    view = kit.view
    found = [place for place in _PLACES if view.has(f"cutting.ease_{place}")]
    if not found or not view.has("cutting.limit_used"):
        return
    yield kit.heading("What would ease it most")
    nearest = part(view.figures["cutting.limit_used"].note, "limit")
    yield kit.paragraph(
        told(
            "The hardest pass uses {used} of a limit ({limit}).",
            used=view.written("cutting.limit_used"),
            limit=nearest,
        ),
        keep=True,
    )
    for place in found:
        id = f"cutting.ease_{place}"
        change, used = view.written(id), view.written(f"{id}_used")
        if view.has(f"{id}_passes"):
            text = told(
                "{change}: the same bites use {used}, or {passes} passes are enough.",
                change=change,
                used=used,
                passes=view.written(f"{id}_passes"),
            )
        else:
            text = told("{change}: the same bites use {used}.", change=change, used=used)
        yield kit.item(text)


def _time(seconds: float) -> str:
    """Write a time as the shop tells it.

    Examples
    --------
    >>> _time(2280.0), _time(10860.0)
    ('38 min', '3 h 1 min')
    """
    minutes = ceil(seconds / _MINUTE - 1e-9)
    if minutes < _LONG:
        return told("{minutes} min", minutes=minutes)
    hours, rest = divmod(minutes, _MINUTE)
    return told("{hours} h {rest} min", hours=hours, rest=rest)
