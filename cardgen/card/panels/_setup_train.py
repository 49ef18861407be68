"""The change wheels as they stand on the machine: pitch circles to scale, seen from the gear end.

Drivers are shaded, idlers dashed; each wheel carries its count of teeth, and two arrows show which
way spindle and leadscrew turn. From the gear end a spindle that runs forward turns clockwise.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import cos, degrees, hypot, radians, sin

from cardgen.card.dimension import leader
from cardgen.card.labels import Labels, Place
from cardgen.card.pen import BLACK, NARROW, TINT, WIDE, XY, Box, Ink, Pen, Weight
from cardgen.card.piece import lines_height
from cardgen.card.table import Kit, Piece
from cardgen.card.view import View

TALLEST = 26.0
"""Of the circles [mm on the card]."""
_AIR = 3.0
"""Above and beside the circles, for the arrows [mm]."""
_DASHES = (1.6, 0.9)
_HEAD = 2.8
"""Length of an arrowhead [mm]."""
_CLEAR_RIM = 0.6
"""Least room between a text and the rims beside it [mm]."""
_TURNS = (90.0, 60.0, 120.0, 30.0, 150.0, 270.0, 240.0, 300.0)
"""Directions of a leader from the wheel that it tells of, best first [deg]."""


@dataclass(frozen=True, slots=True)
class _Wheel:
    """A pitch circle [mm], y down, with its count of teeth; no teeth for an idler."""

    x: float
    y: float
    radius: float
    teeth: str
    drives: bool

    @property
    def idle(self) -> bool:
        """Whether its teeth do not matter."""
        return not self.teeth


def train(kit: Kit, view: View) -> Piece:
    """Return the drawing of the train, its two ends named."""
    small, body = kit.small, kit.body
    wheels, width, height = _placed(view, kit.width)
    words = lines_height(1, small)

    def draw(pen: Pen, x: float, y: float, room: float) -> None:
        left = x + (room - width) / 2
        here = [replace(wheel, x=left + wheel.x, y=y + wheel.y) for wheel in wheels]
        labels = Labels(pen, Box(x, y, x + room, y + height, "part", pen.owner))
        for wheel in sorted(here, key=lambda wheel: -wheel.radius):
            _draw(pen, wheel, TINT if wheel.drives else None)
        for wheel in here:
            # Once more without their fill, for a shaded wheel may lie over its neighbour's rim.
            _draw(pen, wheel, None)
            labels.avoid(_rim(wheel), closed=True)
            _write_teeth(pen, labels, wheel, here, body)
        first, last = here[0], here[-1]
        same = str(view.figures["setup.leadscrew_turns"].value).startswith("the same")
        labels.avoid(_turn(pen, first, clockwise=True))
        labels.avoid(_turn(pen, last, clockwise=same))
        labels.put()
        base = y + height + 0.8 * words
        names = ("first stud" if view.has("setup.fixed_ratio") else "spindle", "leadscrew")
        _name_ends(pen, names, (first.x, last.x), (x, x + room), base, small)

    return Piece(height + words + 0.5, draw, picture=True)


def _placed(view: View, width: float) -> tuple[Sequence[_Wheel], float, float]:
    """Return the wheels at the largest scale that fits, and the size they take [mm]."""
    counts = [part for pair in view.written("setup.train").split(" x ") for part in pair.split("/")]
    full = [
        _circle(view, f"setup.wheel.{number}", teeth, drives=number % 2 == 1)
        for number, teeth in enumerate(counts, 1)
    ]
    # Idlers stand between the first wheel and the second.
    idlers = sorted(name for name in view.outlines if name.startswith("setup.idler."))
    full[1:1] = [_circle(view, name, "", drives=False) for name in idlers]
    left = min(wheel.x - wheel.radius for wheel in full)
    right = max(wheel.x + wheel.radius for wheel in full)
    top = min(wheel.y - wheel.radius for wheel in full)
    bottom = max(wheel.y + wheel.radius for wheel in full)
    tallest = min(TALLEST, view.tallest - _AIR - lines_height(1, view.style.small) - 0.5)
    scale = min((width - 2 * _AIR) / (right - left), tallest / (bottom - top))
    wheels = [
        replace(
            wheel,
            x=_AIR + scale * (wheel.x - left),
            y=_AIR + scale * (wheel.y - top),
            radius=scale * wheel.radius,
        )
        for wheel in full
    ]
    return wheels, scale * (right - left) + 2 * _AIR, scale * (bottom - top) + _AIR


def _circle(view: View, name: str, teeth: str, *, drives: bool) -> _Wheel:
    """Return a wheel at its own size, y turned down the page."""
    (x, y), rim = view.outlines[name].points
    return _Wheel(x, -y, hypot(rim[0] - x, rim[1] - y), teeth, drives)


def _write_teeth(
    pen: Pen, labels: Labels, wheel: _Wheel, wheels: Sequence[_Wheel], size: float
) -> None:
    """Ask for a wheel's teeth at its centre, or in its rim where a smaller wheel covers that."""
    text = wheel.teeth or "idler"
    weight: Weight = "bold" if wheel.teeth else "regular"
    width, up = pen.width(text, size, weight), pen.metrics.ascent(size)
    if wheel.idle and (width > 2 * wheel.radius - 1.0 or _crowded(wheel, width, wheels)):
        return  # the dashes say it, and the caption says what dashes mean
    covered = max(
        (other.radius for other in wheels if _covers(other, wheel, wheels)),
        default=0.0,
    )
    turns: tuple[float, ...]
    if covered:
        # Digits that fill the rim read as part of its lines.
        roomy = wheel.radius - covered >= up + 2 * _CLEAR_RIM
        reaches = [(wheel.radius + covered) / 2] if roomy else []
        turns = (90, 60, 120, 270, 240, 300, 30, 150)
    else:
        reaches = [0.0, 0.3 * wheel.radius, 0.5 * wheel.radius]
        turns = (0, 180, 270, 90, 225, 315, 45, 135)
    places = [
        Place(
            wheel.x + reach * cos(radians(turn)),
            wheel.y - reach * sin(radians(turn)) + (up - lift) / 2,
        )
        for reach in reaches
        for lift in (0.0, pen.metrics.descent(size))
        for turn in (turns if reach else turns[:1])
    ]
    # Last, beside the train on a leader; within another wheel they would be taken for its teeth.
    reached = [factor * wheel.radius + 2.0 for factor in (0.5, 1.0, 1.6)]
    beside = [
        place
        for turn in _TURNS
        for place in leader(
            _on_circle(wheel, (wheel.radius + covered) / 2, turn),
            _TURNS,
            reached,
            up,
            0.0,
            pointed=False,
        )
    ]
    places += sorted(beside, key=lambda place: _within_any(place, width, up, wheels))
    labels.want(text, places, size, weight)


def _crowded(wheel: _Wheel, width: float, wheels: Sequence[_Wheel]) -> bool:
    """Whether a word in the middle of a wheel would be taken for that of another."""
    return any(
        hypot(other.x - wheel.x, other.y - wheel.y) < other.radius + width / 2
        for other in wheels
        if other is not wheel
    )


def _within_any(place: Place, width: float, up: float, wheels: Sequence[_Wheel]) -> bool:
    """Whether a text on a leader would stand in a wheel, or partly."""
    far = place.x + (width if place.anchor == "start" else -width)
    middle = place.y - up / 2
    return any(
        hypot(x - wheel.x, middle - wheel.y) < wheel.radius + _CLEAR_RIM
        for wheel in wheels
        for x in (place.x, far)
    )


def _covers(other: _Wheel, wheel: _Wheel, wheels: Sequence[_Wheel]) -> bool:
    """Whether another wheel stands before a wheel on the same stud: the smaller does."""
    if other is wheel or (other.x, other.y) != (wheel.x, wheel.y):
        return False
    return (other.radius, wheels.index(other)) < (wheel.radius, wheels.index(wheel))


def _name_ends(
    pen: Pen,
    words: tuple[str, str],
    ends: tuple[float, float],
    room: tuple[float, float],
    base: float,
    size: float,
) -> None:
    """Write under the first and the last wheel what they stand on, clear of one another."""
    middle = (ends[0] + ends[1]) / 2
    for word, end, side, edge in zip(words, ends, (-1.0, 1.0), room, strict=True):
        half = pen.width(word, size) / 2
        # Not nearer to the middle than half a word, nor beyond the edge of the drawing.
        out = max(side * (end - middle), half + 1.0)
        at = middle + side * min(out, side * (edge - middle) - half)
        pen.text(at, base, word, size, anchor="middle")


def _draw(pen: Pen, wheel: _Wheel, fill: Ink | None) -> None:
    width, dash = (NARROW, _DASHES) if wheel.idle else (WIDE, ())
    pen.disc(wheel.x, wheel.y, wheel.radius, width=width, dash=dash, fill=fill)


def _rim(wheel: _Wheel) -> list[XY]:
    return [_on_circle(wheel, wheel.radius, 7.5 * step) for step in range(48)]


def _on_circle(wheel: _Wheel, radius: float, turn: float) -> XY:
    """Return a point around a wheel's axle, anticlockwise from the right [deg]."""
    return wheel.x + radius * cos(radians(turn)), wheel.y - radius * sin(radians(turn))


def _turn(pen: Pen, wheel: _Wheel, *, clockwise: bool) -> Sequence[XY]:
    """Draw an arrow around the top of a wheel; return its run."""
    reach = wheel.radius + 1.4
    half = min(50.0, 300.0 / reach)  # about 10 mm long, less on a small wheel [deg]
    sense = -1.0 if clockwise else 1.0
    pen.arc(wheel.x, wheel.y, reach, 90.0 - sense * half, 2 * sense * half, width=WIDE)
    lean = degrees(_HEAD / 2 / reach)
    tip = _on_circle(wheel, reach, 90.0 + sense * (half + lean))
    back = 90.0 + sense * (half - lean)
    feet = [_on_circle(wheel, reach + side * _HEAD / 3.4, back) for side in (-1.0, 1.0)]
    pen.path([tip, *feet], closed=True, stroke=None, fill=BLACK)
    return [_on_circle(wheel, reach, 90.0 + sense * half * step / 4) for step in range(-4, 5)]
