"""How large must type be to be read from a distance? By a published rule, named in the data."""

from __future__ import annotations

from functools import cache
from math import ceil, pi

from cardgen.library import table

_POINT = 25.4 / 72
_MINUTES_IN_TURN = 360 * 60


@cache
def _rule() -> dict[str, float]:
    return {row["name"]: float(row["value"]) for row in table("card/legibility")}


@cache
def rule_source() -> str:
    """Return what the rule rests on, for a message."""
    row = next(row for row in table("card/legibility") if row["name"] == "angle")
    return f"{row['value']} {row['unit']} ({row['source'].partition(': ')[0]})"


def capital_height(distance: float) -> float:
    """Return the least height of a capital that is read from a distance [mm].

    The arc that the rule's visual angle cuts at the distance, ``D 2 pi a / 21600`` with ``a`` in
    minutes, as NUREG-0700 converts it.

    Parameters
    ----------
    distance
        From the eye to the card [mm].

    Examples
    --------
    >>> round(capital_height(700.0), 2)
    3.26
    """
    return distance * 2 * pi * _rule()["angle"] / _MINUTES_IN_TURN


def least_type(kind: str, distance: float) -> float:
    """Return the least type size, to the next tenth of a point, for a card's reading distance.

    Parameters
    ----------
    kind
        ``dial``, ``body``, ``head`` or ``small``: each is read from a share of the distance.
    distance
        From which the numbers that are dialled in are read [mm].

    Examples
    --------
    >>> [least_type(kind, 700.0) for kind in ("dial", "body", "small")]
    [14.0, 9.0, 7.0]
    >>> least_type("dial", 1000.0)
    20.0
    """
    rule = _rule()
    size = capital_height(distance * rule[kind]) / rule["capital"] / _POINT
    return ceil(round(size * 10, 6)) / 10
