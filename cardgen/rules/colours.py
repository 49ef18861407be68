"""Which colour steel shows at a temperature: oxide films when tempering, glow when hardening."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise


def edges(marks: Sequence[float], first: float, last: float) -> list[tuple[float, float]]:
    """Return the band of temperatures that belongs to each of several named marks [degC].

    Neighbours meet half way between their marks: published charts give one temperature for a
    colour, and a temperature between two is called by the nearer.

    Parameters
    ----------
    marks
        Rising temperatures, one a colour.
    first, last
        Where the first band begins and the last ends.

    Examples
    --------
    >>> edges([220, 230, 241], 177, 249)
    [(177, 225.0), (225.0, 235.5), (235.5, 249)]
    """
    inner = [(low + high) / 2 for low, high in pairwise(marks)]
    bounds = [first, *inner, last]
    return list(pairwise(bounds))


def band(bands: Sequence[tuple[float, float]], temperature: float) -> int | None:
    """Return the index of the band in which a temperature lies, ``None`` outside them all."""
    for index, (low, high) in enumerate(bands):
        if low <= temperature < high:
            return index
    return None
