"""The card as a piece of paper: its size, where it is punched, how its corners are cut."""

from __future__ import annotations

from functools import cache
from math import sqrt

from cardgen import library
from cardgen.spec.fit import Answers
from cardgen.spec.job import Hole
from cardgen.spec.outcome import default

_GUTTER = 4.0
"""Between two columns, as the layout keeps it clear [mm]."""

Sides = tuple[float, float, float, float]
"""Left, top, right, bottom [mm]."""
NO_SIDES: Sides = (0.0, 0.0, 0.0, 0.0)


def length(said: Answers, key: str) -> float:
    """Return a length of a template, or its default [mm]."""
    value = said.number(key)
    return default(f"template.{key}", "length").value if value is None else value


def page(said: Answers) -> tuple[float, float] | None:
    """Return the card's width and height [mm], if the file says what they are."""
    word = said.text("page")
    turned = said.text("orientation")
    if word is not None:
        row = next(
            row for row in library.table("card/page_sizes") if row["name"].lower() == word.lower()
        )
        short, long = sorted((float(row["width_mm"]), float(row["height_mm"])))
        return (long, short) if turned == "landscape" else (short, long)
    width, height = said.number("page.width"), said.number("page.height")
    if width is None or height is None:
        return None
    if turned is not None and (turned == "landscape") != (width > height):
        said.fault(
            "orientation",
            f"{width:g} mm wide and {height:g} mm high is not {turned}",
            "an orientation that fits width and height, or none",
        )
    return width, height


@cache
def hole_words() -> tuple[str, ...]:
    """Return the ways of punching that have a name."""
    return ("none", *(row["name"] for row in library.table("card/holes")))


def punched(said: Answers, size: tuple[float, float]) -> tuple[tuple[Hole, ...], Sides]:
    """Return the holes of a card, and the room that they take on each side [mm].

    A file's holes are where the film has its edge, which stands over the card's by the seal edge.
    Notes a fault if the edge is too short for them.
    """
    word = said.text("holes") or "none"
    if word == "none":
        return (), NO_SIDES
    row = next(row for row in library.table("card/holes") if row["name"] == word)
    upright = row["edge"] == "left"
    along = size[1] if upright else size[0]
    count, pitch, least = int(row["count"]), float(row["pitch_mm"]), float(row["least_edge_mm"])
    if along < least:
        side = "high" if upright else "wide"
        fit = [
            other["name"]
            for other in library.table("card/holes")
            if float(other["least_edge_mm"]) <= (size[1] if other["edge"] == "left" else size[0])
        ]
        said.fault(
            "holes",
            f"a card {along:g} mm {side} is too short for {word} holes ({row['source']})",
            f"a card {least:g} mm {side} or more, or one of {', '.join(['none', *fit])}",
        )
        return (), NO_SIDES
    film = length(said, "seal-edge") if row["edge_of"] == "film" else 0.0
    deep, diameter = float(row["from_edge_mm"]) - film, float(row["diameter_mm"])
    if deep < diameter / 2:
        said.fault(
            "seal-edge",
            f"a seal edge of {film:g} mm leaves {word} holes no room on the card",
            f"{float(row['from_edge_mm']) - diameter / 2:g} mm or less",
        )
        return (), NO_SIDES
    first = along / 2 - pitch * (count - 1) / 2
    places = [first + pitch * number for number in range(count)]
    holes = tuple(
        Hole(deep, place, diameter) if upright else Hole(place, deep, diameter) for place in places
    )
    room = deep + diameter / 2 + float(row["clear_mm"])
    return holes, ((room, 0.0, 0.0, 0.0) if upright else (0.0, room, 0.0, 0.0))


def corners(said: Answers, size: tuple[float, float] | None) -> float:
    """Return the radius of the corners [mm]; note a fault if it would cut into the print."""
    radius, margin = length(said, "corners"), length(said, "margin")
    # The live area's corner must lie within the arc.
    least = radius * (1 - 1 / sqrt(2))
    if margin < least - 1e-9:
        said.fault(
            "corners",
            f"corners of {radius:g} mm cut into print that begins {margin:g} mm from the edge",
            f"{margin / (1 - 1 / sqrt(2)):.1f} mm or less, or a margin of {least:.1f} mm or more",
        )
    if size is not None and 2 * radius > min(size):
        said.fault(
            "corners",
            f"corners of {radius:g} mm do not fit a card {min(size):g} mm wide",
            f"{min(size) / 2:g} mm or less",
        )
    return radius


def room(said: Answers, size: tuple[float, float], taken: Sides, body: float, dial: float) -> None:
    """Note a fault if a card has no room for its columns, or for anything under its head.

    Parameters
    ----------
    taken
        By punched holes, from each edge [mm].
    body, dial
        Type sizes; a column that is wide enough for one is too narrow for a larger one [pt].
    """
    margin = length(said, "margin")
    left, top, right, bottom = (max(margin, side) for side in taken)
    columns = said.whole("columns") or 1
    usual = default("template.body", "length").value * 72 / 25.4
    each = default("template.least-column", "length").value * body / usual
    across = left + right + columns * each + (columns - 1) * _GUTTER
    if size[0] < across - 1e-6:
        said.fault(
            "page",
            f"a card {size[0]:g} mm wide leaves no room for its columns",
            f"{across:.0f} mm or more for these columns, margins, holes and type of {body:g} pt,"
            " or fewer columns, or smaller type",
        )
    large = default("template.dial", "length").value * 72 / 25.4
    up = default("template.least-height", "length").value * max(body / usual, dial / large)
    if size[1] < top + bottom + up - 1e-6:
        said.fault(
            "page",
            f"a card {size[1]:g} mm high leaves no room under its head",
            f"{top + bottom + up:.0f} mm or more for these margins, holes and type sizes",
        )
