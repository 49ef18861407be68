"""A round pin laid into a square thread: what still goes in, and what it then reads.

The walls of a square groove stand square to the axis and wind round it. A straight pin that lies
on the root meets them not where it crosses the axis's plane but to either side of it, so the
largest that goes in is thinner than the groove is wide: a tight pin reads the groove too small.

Lengths in mm, angles in rad.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import acos, cos, hypot, pi, sin, sqrt

from cardgen.rules.helix import lead_angle

_PLACES = 16
_GOLDEN = (sqrt(5.0) - 1.0) / 2.0
_NARROWINGS = 22
_LENGTH_ERROR = 1e-6
_MOST_STEPS = 20


@dataclass(frozen=True, slots=True)
class SquareGroove:
    """A groove with walls square to the axis.

    Attributes
    ----------
    lead
        Axial travel in one turn [mm].
    width
        Axial [mm].
    root, crest
        Radii [mm].
    """

    lead: float
    width: float
    root: float
    crest: float


def largest_pin(groove: SquareGroove) -> float:
    """Return the largest round pin that lies on the bottom of a square groove [mm].

    The pin may turn to the slant at which it has most room.

    Notes
    -----
    Solved numerically to a hundredth of a micrometre; half a per cent to one and a half per cent
    less than the groove's width square to the helix, the more the steeper the helix.
    """
    last = groove.width * cos(lead_angle(groove.lead, 2 * groove.root))
    pin, before = 0.99 * last, _room(groove, last) - last / 2
    for _ in range(_MOST_STEPS):
        now = _room(groove, pin) - pin / 2
        if abs(now) < _LENGTH_ERROR or now == before:
            break
        last, pin, before = pin, pin - now * (pin - last) / (now - before), now
    return pin


def shift_half_a_turn(pitch: float, starts: int) -> float:
    """Return how far along the axis the nearest groove lies half a turn on [mm].

    Examples
    --------
    >>> shift_half_a_turn(5.0, 1), shift_half_a_turn(5.0, 2), shift_half_a_turn(5.0, 3)
    (2.5, 0.0, 2.5)
    """
    return pitch / 2 if starts % 2 else 0.0


def over_two(centres: float, wire: float, shift: float) -> float:
    """Return the size over two wires on opposite sides, taken in line with both [mm].

    Parameters
    ----------
    centres
        Distance of their centres square to the axis [mm].
    wire
        Diameter [mm].
    shift
        Distance of their centres along the axis [mm].

    Examples
    --------
    >>> over_two(20.0, 3.0, 0.0)
    23.0
    """
    return hypot(centres, shift) + wire


def _room(groove: SquareGroove, pin: float) -> float:
    """Return the distance of the walls from the pin's axis at its best slant [mm]."""
    flat, steep = (
        lead_angle(groove.lead, 2 * groove.crest),
        lead_angle(groove.lead, 2 * groove.root),
    )
    low, high = flat - (steep - flat), steep + (steep - flat)
    for _ in range(_NARROWINGS):
        inner, outer = high - _GOLDEN * (high - low), low + _GOLDEN * (high - low)
        if _wall(groove, pin, inner) > _wall(groove, pin, outer):
            high = outer
        else:
            low = inner
    return _wall(groove, pin, (low + high) / 2)


def _wall(groove: SquareGroove, pin: float, slant: float) -> float:
    """Return the least distance of one wall from the pin's axis; the other's is the same [mm]."""
    far = acos(groove.root / groove.crest)
    step = 2 * far / _PLACES

    def at(turn: float) -> float:
        return _distance(groove, pin, slant, turn)

    # The wall comes near on either side of the middle: where the pin goes best, as near on both.
    return min(_least(at, -far, 0.0, step), _least(at, 0.0, far, step))


def _least(at: Callable[[float], float], start: float, end: float, step: float) -> float:
    """Return the least value between two turns, found by steps and narrowed down."""
    places = [start + step * place for place in range(round((end - start) / step) + 1)]
    best = min(places, key=at)
    low, high = max(start, best - step), min(end, best + step)
    for _ in range(_NARROWINGS):
        inner, outer = high - _GOLDEN * (high - low), low + _GOLDEN * (high - low)
        if at(inner) < at(outer):
            high = outer
        else:
            low = inner
    return at((low + high) / 2)


def _distance(groove: SquareGroove, pin: float, slant: float, turn: float) -> float:
    """Return the distance from the pin's axis of the nearest point of a wall's radial line [mm]."""
    c, s, lean = cos(turn), sin(turn), sin(slant)
    centre = groove.root + pin / 2
    along = (groove.lead / (2 * pi) * turn + groove.width / 2) * cos(slant)
    radius = (c * centre + s * lean * along) / (c * c + s * s * lean * lean)
    radius = min(max(radius, groove.root), groove.crest)
    return hypot(radius * c - centre, along - radius * s * lean)
