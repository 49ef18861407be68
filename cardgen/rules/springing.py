"""What the bend leaves on the work, and how many spring passes take it off again.

A tool that is set ``h`` deeper moves the work away by ``g F`` and so takes only ``a = h - g F``,
where ``g`` is how far the work gives under 1 N and ``F = K a`` is the radial force of the bite
that is really taken. Of what was set there stays, on the radius,

    h - a = h K g / (1 + K g)

and the next pass finds it on top of its own bite. A spring pass sets nothing deeper: it leaves the
part ``K g / (1 + K g)`` of what it finds. ``K`` is the secant of the force over the bite. Below
the least bite a tool rubs more than it cuts, so its force is taken to fall in a straight line from
there: for spring passes ``K`` is the secant at the least bite, which is the safe side.

Equal bites come to rest where each leaves as much as it finds: then ``g F`` is left, the bend that
a pass at full force shows.

Lengths in mm, forces in N.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import count
from math import inf


def part_left(stiffness: float, give: float) -> float:
    """Return the part of an error that a pass leaves, K g / (1 + K g).

    Parameters
    ----------
    stiffness
        Radial force over the depth of the bite, K [N/mm].
    give
        Of the work under the tool, g [mm/N].

    Examples
    --------
    A bar as stiff as the cut takes half of what is left each time:

    >>> part_left(5000.0, 1 / 5000.0)
    0.5
    """
    return stiffness * give / (1 + stiffness * give)


def left_over(bites: Sequence[tuple[float, float]], give: float) -> float:
    """Return what is left on the radius after passes one upon another [mm].

    Parameters
    ----------
    bites
        Of each pass, how much deeper it is set [mm] and its radial force [N].
    give
        Of the work under the tool [mm/N].

    Examples
    --------
    After many equal bites the bend itself is left:

    >>> round(left_over([(0.05, 200.0)] * 50, 1e-4), 6)
    0.02
    """
    left = 0.0
    for bite, force in bites:
        left = (left + bite) * part_left(force / bite, give)
    return left


def passes_needed(left: float, part: float, allowed: float, most: int) -> int | None:
    """Return the spring passes after which no more than ``allowed`` is left.

    Parameters
    ----------
    left
        Before them [mm].
    part
        That each leaves, see :func:`part_left`.
    most
        Passes that are thought sensible.

    Returns
    -------
    int or None
        ``None`` if more than ``most`` would be needed.

    Examples
    --------
    >>> passes_needed(0.02, 0.5, 0.004, 10)
    3
    >>> passes_needed(0.02, 0.99, 0.004, 10) is None
    True
    """
    for done in count():
        if left <= allowed * (1 + 1e-9):
            return done
        if done == most:
            return None
        left *= part
    raise AssertionError  # pragma: no cover - the count has no end


def taper(sizes: Sequence[float]) -> float:
    """Return how much thicker the last of some sizes along a bar is than the first [mm].

    Examples
    --------
    >>> taper([1.0, 3.0, 1.5])
    0.5
    """
    return sizes[-1] - sizes[0]


def barrel(sizes: Sequence[float]) -> float:
    """Return how far sizes along a bar, evenly spaced, bulge over the line from end to end [mm].

    Negative for a bar that is hollow all along.

    Examples
    --------
    >>> barrel([1.0, 3.0, 1.5])
    1.75
    >>> barrel([1.0, 1.1, 1.4])
    -0.1
    """
    last = len(sizes) - 1
    bulges = [size - (sizes[0] + (sizes[-1] - sizes[0]) * k / last) for k, size in enumerate(sizes)]
    inner = bulges[1:-1]
    most = max(inner, default=-inf)
    least = min(inner, default=inf)
    found = most if most >= -least else least
    return round(found, 12)
