"""The pair in one section, for a panel to draw: a nut over its screw, or a screw over its rack."""

from __future__ import annotations

from cardgen.core.figure import Outline, Sheet
from cardgen.rules.pair import Pair

_SHOWN = 3.0
"""Length of the picture, in pitches."""


def record_picture(sheet: Sheet, pair: Pair, *, rack: bool = False) -> None:
    """Give the two sections and the gaps between them [mm].

    Outlines: ``mate.pair.above`` and ``mate.pair.below`` are the sections, x along the axis from
    the middle of a crest of the screw; ``mate.pair.play``, ``mate.pair.crest`` and
    ``mate.pair.root`` the ends of what lies between them. A rack lies under its screw, and the
    axis over both at y = 0; a nut lies over its screw, and y is the radius.
    """
    if not pair.stands:
        return
    length = _SHOWN * pair.pitch
    screw, other = ("above", "below") if rack else ("below", "above")
    for name, points in (
        (screw, pair.screw(length)),
        (other, pair.nut(length)),
        ("play", pair.gap()),
        ("crest", pair.over_crest()),
        ("root", pair.under_bore()),
    ):
        shown = tuple((x, -y) for x, y in points) if rack else points
        sheet.outlines[f"mate.pair.{name}"] = Outline(shown)


def mean_size(sheet: Sheet, id: str) -> float:
    """Return the middle of a size's limits; where one is open, the other [mm]."""
    figure = sheet[id]
    low = figure.number if figure.low is None else figure.low
    return (low + figure.high) / 2 if figure.high is not None else low
