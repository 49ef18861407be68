"""When the half-nut may be closed again: the marks of a thread dial, in exact fractions.

The nut and the groove stand as before whenever the carriage has been shifted by a common multiple
of the leadscrew's lead and the thread's *lead*; for a thread of several starts this keeps the
start too.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from math import lcm


def repeat_distance(leadscrew: Fraction, lead: Fraction) -> Fraction:
    """Least shift of the carriage after which half-nut and groove both fit again.

    Parameters
    ----------
    leadscrew, lead
        Travel for one turn of the leadscrew and of the work [mm, or any one unit].

    Returns
    -------
    Fraction
        Least common multiple of the two.

    Examples
    --------
    >>> repeat_distance(Fraction(3), Fraction(5))
    Fraction(15, 1)
    >>> repeat_distance(Fraction(1, 16), Fraction(1, 19))  # inches
    Fraction(1, 1)
    """
    common = lcm(leadscrew.denominator, lead.denominator)
    return Fraction(lcm(int(leadscrew * common), int(lead * common)), common)


def closes_anywhere(leadscrew: Fraction, lead: Fraction) -> bool:
    """Whether the half-nut finds the groove wherever it goes in.

    It does if the leadscrew's lead is a whole multiple of the thread's.
    """
    return (leadscrew / lead).denominator == 1


def usable_marks(leadscrew: Fraction, lead: Fraction, gear: int, marks: int) -> tuple[int, ...]:
    """Return the marks at which the half-nut may be closed, once it was first closed at mark 1.

    Parameters
    ----------
    leadscrew, lead
        As for :func:`repeat_distance`.
    gear
        Teeth of the dial's wheel, one for each turn of the leadscrew.
    marks
        Evenly spaced on the dial, all counted, from 1.

    Returns
    -------
    tuple of int
        Empty if a whole turn of the dial does not bring the groove back: then the half-nut stays
        closed. The marks halfway, a third of the way and so on serve as well as mark 1, and any
        set shifted by the same count of marks is as good.

    Examples
    --------
    >>> usable_marks(Fraction(1, 16), Fraction(1, 18), 16, 8)
    (1, 5)
    """
    return start_marks(leadscrew, lead, 1, gear, marks)[1]


def start_marks(
    leadscrew: Fraction, lead: Fraction, starts: int, gear: int, marks: int
) -> Mapping[int, tuple[int, ...]]:
    """Return the marks at which the half-nut finds each start; start 1 is cut from mark 1.

    Parameters
    ----------
    leadscrew, lead, gear, marks
        As for :func:`usable_marks`.
    starts
        Number of starts.

    Returns
    -------
    mapping of int to tuple of int
        Start number to marks; a start that no mark finds has none.
    """
    repeat = repeat_distance(leadscrew, lead)
    turn = gear * leadscrew
    found: dict[int, tuple[int, ...]] = {start: () for start in range(1, starts + 1)}
    if (turn / repeat).denominator != 1:
        return found
    for mark in range(1, marks + 1):
        shift = (mark - 1) * turn / marks
        start = 1 + (shift % lead) * starts / lead
        if (shift / leadscrew).denominator == 1 and start.denominator == 1:
            found[int(start)] += (mark,)
    return found


def dial_gear_divisor(leadscrew: Fraction, lead: Fraction) -> int:
    """Return the number that must divide the teeth of the dial's wheel for any mark to be of use.

    Examples
    --------
    >>> dial_gear_divisor(Fraction(3), Fraction(5))  # a wheel of 15 or 20 teeth
    5
    """
    return int(repeat_distance(leadscrew, lead) / leadscrew)
