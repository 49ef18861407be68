"""Lengths in the sentences of the schedule, in the unit that the card shows first."""

from __future__ import annotations

from cardgen.core.names import Side
from cardgen.core.rounding import MM_PER_INCH, with_unit


def length(value: float, *, inch: bool, decimals: int = 2, side: Side = "nearest") -> str:
    """Return a length with its unit; inches have one decimal more.

    Examples
    --------
    >>> length(2.75, inch=False)
    '2.75 mm'
    >>> length(25.4, inch=True)
    '1.000 in'
    """
    if inch:
        return with_unit(value / MM_PER_INCH, "in", decimals + 1, side)
    return with_unit(value, "mm", decimals, side)
