"""How the next start of a thread is found: by teeth that are counted, or by a slide.

What is moved stands in exact fractions; whether a way is exact is a question of whole numbers.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction


def spindle_teeth(teeth: int, starts: int, ratio: Fraction = Fraction(1)) -> int | None:
    """Teeth by which the first driver passes its neighbour while the spindle goes on a start.

    Parameters
    ----------
    teeth
        Of the first driver.
    starts
        Number of starts.
    ratio
        Turns of the first driver for one turn of the spindle.

    Returns
    -------
    int or None
        ``None`` if they are not a whole number: then the wheels do not mesh again.

    Examples
    --------
    >>> [spindle_teeth(96, starts) for starts in (2, 3, 4, 5)]
    [48, 32, 24, None]
    """
    moved = teeth * ratio / starts
    return int(moved) if moved.denominator == 1 else None


def leadscrew_teeth(teeth: int, pitch: Fraction, travel: Fraction) -> int | None:
    """Teeth by which the last wheel is turned on, out of mesh, to shift the carriage a pitch.

    Parameters
    ----------
    teeth
        Of the last driven wheel.
    pitch
        Of the thread, from one start to the next [mm].
    travel
        Of the carriage for one turn of that wheel, through the gearbox [mm].

    Returns
    -------
    int or None
        ``None`` if they are not a whole number.

    Examples
    --------
    >>> leadscrew_teeth(45, Fraction(4), Fraction(3))
    60
    """
    moved = teeth * pitch / travel
    return int(moved) if moved.denominator == 1 else None


@dataclass(frozen=True, slots=True)
class Advance:
    """How a slide that lies parallel to the axis is set for each start after the first.

    Attributes
    ----------
    divisions
        For start 2, 3 ..., counted from where start 1 was cut.
    worst
        Start that stands furthest from its place, counted from 1.
    error
        Of that start, positive for too far [mm].
    """

    divisions: Sequence[int]
    worst: int
    error: Fraction


def slide_advance(pitch: Fraction, step: Fraction, starts: int) -> Advance:
    """Return the settings of a slide that come nearest to each start.

    Each is the nearest whole division to its own place, so that no error adds up.

    Parameters
    ----------
    pitch
        From one start to the next [mm].
    step
        Travel of one division [mm].
    starts
        Number of starts, two or more.

    Examples
    --------
    >>> slide_advance(Fraction(127, 60), Fraction(1, 50), 3)
    Advance(divisions=(106, 212), worst=3, error=Fraction(1, 150))
    """
    places = range(1, starts)
    divisions = tuple(round(place * pitch / step) for place in places)
    errors = [count * step - place * pitch for place, count in zip(places, divisions, strict=True)]
    worst = max(range(len(errors)), key=lambda number: abs(errors[number]))
    return Advance(divisions, worst + 2, errors[worst])
