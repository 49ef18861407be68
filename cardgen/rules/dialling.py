"""What will the dial show? Depths in whole divisions, counted up from zero.

Divisions are whole numbers and their travel an exact fraction of a millimetre, so that no error
adds up from pass to pass.
"""

from __future__ import annotations

from fractions import Fraction
from math import ceil, floor

from cardgen.core.words import told

_GRAIN = 1e-6
"""Part of a division below which a depth counts as standing on the line."""


def reading(divisions: int, per_turn: int) -> str:
    """Return what the dial shows as turns and divisions from zero.

    Examples
    --------
    >>> reading(135, 100)
    '1 turn + 35'
    >>> reading(15, 100)
    '0 turns + 15'
    """
    turns, rest = divmod(divisions, per_turn)
    return told(
        "{turns} turn + {rest}" if turns == 1 else "{turns} turns + {rest}", turns=turns, rest=rest
    )


def reading_outwards(divisions: int, per_turn: int) -> str:
    """Return what the dial shows when the slide is wound out from zero: its numbers run down.

    Examples
    --------
    >>> reading_outwards(135, 100)
    '1 turn, at 65'
    >>> reading_outwards(15, 100)
    '0 turns, at 85'
    >>> reading_outwards(200, 100)
    '2 turns, at 0'
    """
    turns, rest = divmod(divisions, per_turn)
    shown = (per_turn - rest) % per_turn
    return told(
        "{turns} turn, at {shown}" if turns == 1 else "{turns} turns, at {shown}",
        turns=turns,
        shown=shown,
    )


def travel(divisions: int, step: Fraction) -> Fraction:
    """Return the slide's travel for a number of divisions, exact [mm]."""
    return divisions * step


def divisions_within(length: float, step: float) -> int:
    """Return the whole divisions that do not go beyond a length.

    Examples
    --------
    >>> divisions_within(0.15, 0.05)
    3
    """
    return floor(length / step + _GRAIN)


def divisions_reaching(length: float, step: float) -> int:
    """Return the fewest whole divisions that reach a length.

    Examples
    --------
    >>> divisions_reaching(0.1501, 0.05)
    4
    """
    return ceil(length / step - _GRAIN)


def full_depth(
    depth: float, step: float, shallowest: float | None, deepest: float | None
) -> tuple[int, bool]:
    """Return the division to stop at, and whether it keeps the limits.

    The nearest division is taken; if it lies outside the limits, the one on the other side; if
    that is outside too, the nearest after all, for the dial is too coarse to keep the limits.

    Parameters
    ----------
    depth
        Wanted radial depth [mm].
    step
        Radial depth of one division [mm].
    shallowest, deepest
        Limits of the radial depth [mm], where there are any.

    Examples
    --------
    Nearest is 2.74; but a depth of less than 2.75 leaves the core too thick:

    >>> full_depth(2.7513, 0.02, 2.75, 2.85)
    (138, True)
    """
    below, above = divisions_within(depth, step), divisions_reaching(depth, step)
    order = sorted({below, above}, key=lambda count: (abs(count * step - depth), -count))
    for count in order:
        reached, slack = count * step, _GRAIN * step
        shallow = shallowest is not None and reached < shallowest - slack
        deep = deepest is not None and reached > deepest + slack
        if count > 0 and not shallow and not deep:
            return count, True
    return max(order[0], 1), False
