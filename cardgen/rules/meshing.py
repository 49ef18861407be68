"""Whether a train of change wheels goes together on the quadrant, and where its axles then stand.

Teeth count as ``z``; a wheel of module m has the pitch radius m z / 2 and the tip radius
m (z + 2) / 2. A train is a run of pairs (driver, driven) from the spindle to the leadscrew; the
driven wheel of one pair and the driver of the next share a stud.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise
from math import atan2, cos, fsum, hypot, pi, sin

Pair = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Quadrant:
    """What the arm that carries the studs lets through.

    Attributes
    ----------
    module
        Of the wheels [mm].
    shaft_radius
        Radius about an axle that the tips of a wheel in the next plane must pass: stud, nut or
        screw head [mm].
    centre_min, centre_max
        Between which the distance of spindle gear and leadscrew gear can be set [mm]; ``None``
        where nobody has measured it.
    stud_min, stud_max
        Between which a stud can stand from the leadscrew's axle, along the slot of the arm [mm];
        ``None`` where nobody has measured it.
    """

    module: float
    shaft_radius: float
    centre_min: float | None = None
    centre_max: float | None = None
    stud_min: float | None = None
    stud_max: float | None = None


def teeth_to_pass(module: float, radius: float) -> float:
    """Teeth k by which a pair must outnumber the wheel that stands beside it on the stud.

    The centre distance m (A + B) / 2 must exceed the tip radius m (C + 2) / 2 of the neighbour C
    and the radius r of A's own shaft, so that A + B >= C + k with k = 2 + 2 r / m.

    Parameters
    ----------
    module
        Of the wheels [mm].
    radius
        Of the shaft, nut or screw head to be passed [mm].

    Returns
    -------
    float
        k, in teeth.

    Examples
    --------
    >>> teeth_to_pass(1.0, 6.5)
    15.0
    """
    return 2.0 + 2.0 * radius / module


def teeth_to_spare(pairs: Sequence[Pair]) -> int | None:
    """Least count of teeth by which a pair outnumbers a wheel beside it.

    Parameters
    ----------
    pairs
        From the spindle to the leadscrew.

    Returns
    -------
    int or None
        The least of A + B - C and C + D - B over all studs; ``None`` for a single pair, which
        has no neighbour.
    """
    return min(
        (min(a + b - c, c + d - b) for (a, b), (c, d) in pairwise(pairs)),
        default=None,
    )


def links(pairs: Sequence[Pair], idlers: Sequence[int], module: float) -> tuple[float, ...]:
    """Distances from axle to axle along a train [mm]; idlers stand within the first pair."""
    (first, last), *others = pairs
    chain = (first, *idlers, last)
    meshes = [*pairwise(chain), *others]
    return tuple(module * (a + b) / 2.0 for a, b in meshes)


def span_range(
    pairs: Sequence[Pair], idlers: Sequence[int], quadrant: Quadrant
) -> tuple[float, float]:
    """Least and greatest distance from spindle gear to leadscrew gear that a train can bridge [mm].

    Stretched, the train reaches the sum of its centre distances. Folded, it stops where the
    longest link cannot be folded further (the triangle rule), and before that where the first
    and the last wheel touch: tip to tip if they run in one plane, tip to shaft otherwise. Where
    the slot of the arm is known, all studs stand in its one line, and only the link to the
    spindle folds.
    """
    lengths = links(pairs, idlers, quadrant.module)
    reach = fsum(lengths)
    if len(lengths) == 1:
        return reach, reach
    m = quadrant.module
    first, last = pairs[0][0], pairs[-1][1]
    if len(pairs) == 1:
        apart = m * (first + last + 4) / 2.0
    else:
        apart = m * (max(first, last) + 2) / 2.0 + quadrant.shaft_radius
    folding = lengths if quadrant.stud_max is None else (lengths[0], reach - lengths[0])
    return max(apart, 2.0 * max(folding) - reach), reach


def fits_slot(lengths: Sequence[float], quadrant: Quadrant) -> bool:
    """Whether the studs of a train find their places in the slot of the arm.

    The arm swings about the leadscrew's axle, so that a stud stands from it as far as all the
    links behind it are long together.

    Parameters
    ----------
    lengths
        Of the links, from the spindle on [mm].
    quadrant
        With the slot's two ends.
    """
    if quadrant.stud_min is None or quadrant.stud_max is None:
        return True
    nearest, furthest = lengths[-1], fsum(lengths[1:])
    return len(lengths) == 1 or (nearest >= quadrant.stud_min and furthest <= quadrant.stud_max)


def bridges(pairs: Sequence[Pair], idlers: Sequence[int], quadrant: Quadrant) -> bool:
    """Whether a train with these idlers reaches from the spindle to the leadscrew."""
    if not fits_slot(links(pairs, idlers, quadrant.module), quadrant):
        return False
    if quadrant.centre_min is None or quadrant.centre_max is None:
        return True
    least, reach = span_range(pairs, idlers, quadrant)
    return least <= quadrant.centre_max and reach >= quadrant.centre_min


def may_bridge(drivers: Sequence[int], driven: Sequence[int], quadrant: Quadrant) -> bool:
    """Whether some order of these wheels might bridge the machine's distances.

    A quick test that spares the orders one by one: stretched, a compound train reaches as far in
    any order; folded, it comes no nearer than the smallest wheels at its ends let it. Of a single
    train it says nothing, for idlers may help.
    """
    if len(drivers) == 1 or quadrant.centre_min is None or quadrant.centre_max is None:
        return True
    m = quadrant.module
    reach = m * (sum(drivers) + sum(driven)) / 2.0
    nearest = m * (max(min(drivers), min(driven)) + 2) / 2.0 + quadrant.shaft_radius
    return reach >= quadrant.centre_min and nearest <= quadrant.centre_max


def goes_together(pairs: Sequence[Pair], spare: Sequence[int], quadrant: Quadrant) -> bool:
    """Whether a train can be put on the quadrant.

    Parameters
    ----------
    pairs
        From the spindle to the leadscrew.
    spare
        Wheels that are owned and not in the train, for idlers, smallest first.
    quadrant
        What the machine lets through.

    Returns
    -------
    bool
        Compound: every stud has room and the train reaches as it is. Single: it meshes directly,
        or one or two spare wheels bridge the gap.
    """
    spared = teeth_to_spare(pairs)
    if spared is not None:
        needed = teeth_to_pass(quadrant.module, quadrant.shaft_radius)
        return spared >= needed and bridges(pairs, (), quadrant)
    largest_first = spare[::-1]
    # The largest wheels reach furthest, and that is all that is asked where no slot ends.
    if quadrant.stud_max is None:
        return any(bridges(pairs, largest_first[:count], quadrant) for count in range(3))
    return any(
        bridges(pairs, idlers, quadrant)
        for count in range(3)
        for idlers in combinations(largest_first, count)
    )


def idler_clears(pairs: Sequence[Pair], idlers: Sequence[int], quadrant: Quadrant) -> bool:
    """Whether the second wheel on the first stud passes the axle of the idler beside it.

    Parameters
    ----------
    pairs
        From the spindle to the leadscrew.
    idlers
        Between the first driver and its driven wheel.
    quadrant
        What the machine lets through.

    Examples
    --------
    An idler of 30 beside a 45 stands 37.5 mm off; an 80 on the same stud reaches 41 mm.

    >>> arm = Quadrant(1.0, 4.5)
    >>> idler_clears(((65, 45), (80, 60)), (30,), arm)
    False
    >>> idler_clears(((65, 45), (60, 80)), (30,), arm)
    True
    """
    if not idlers or len(pairs) == 1:
        return True
    beside = pairs[1][0]
    apart = idlers[-1] + pairs[0][1] - beside
    return apart >= teeth_to_pass(quadrant.module, quadrant.shaft_radius)


def idlers_for(
    pairs: Sequence[Pair], *, same_way: bool, spare: Sequence[int], quadrant: Quadrant | None
) -> tuple[int, ...] | None:
    """Idlers that make the leadscrew turn the way it must and bridge the gap.

    Each mesh turns the motion round, so the leadscrew turns with the spindle if meshes and idlers
    together are even in number.

    Parameters
    ----------
    pairs
        From the spindle to the leadscrew.
    same_way
        Whether the leadscrew must turn the same way as the spindle.
    spare
        Wheels owned and not in the train.
    quadrant
        ``None`` where nothing is known of it: a single train then gets one idler, or two.

    Returns
    -------
    tuple of int or None
        Teeth of the fewest idlers that do it, and among those the smallest whose train covers the
        middle of the machine's range of centre distances, else the longest; ``None`` if the
        wheels left over cannot do it.
    """
    odd = (len(pairs) % 2 == 1) == same_way
    choices = [1] if odd else [0, 2]
    for count in choices:
        if count == 0 and len(pairs) == 1 and (quadrant is None or quadrant.centre_min is None):
            continue  # whether the two mesh directly is not known; an idler is the usual way
        options = sorted(
            set(combinations(sorted(spare), count)), key=lambda some: (sum(some), some)
        )
        if quadrant is not None:
            options = [
                option
                for option in options
                if bridges(pairs, option, quadrant) and idler_clears(pairs, option, quadrant)
            ]
        if not options:
            continue
        if quadrant is None or quadrant.centre_min is None or quadrant.centre_max is None:
            return options[len(options) // 2]
        middle = (quadrant.centre_min + quadrant.centre_max) / 2.0
        far = (option for option in options if span_range(pairs, option, quadrant)[1] >= middle)
        return next(far, options[-1])
    return None


def axles(lengths: Sequence[float], span: float) -> tuple[tuple[float, float], ...]:
    """Places of the axles of a chain of links that is curled evenly until it spans a distance.

    Parameters
    ----------
    lengths
        Of the links, from the spindle on [mm].
    span
        Distance from the first axle to the last [mm].

    Returns
    -------
    tuple of (x, y)
        The first at (0, 0), the last at (span, 0), the others above the line between them [mm].

    Raises
    ------
    ValueError
        If the chain cannot be curled so, or not stretched so far.
    """
    reach = fsum(lengths)
    if span > reach * (1 + 1e-9):
        msg = f"links of {reach:g} mm in all cannot span {span:g} mm"
        raise ValueError(msg)

    def curled(turn: float) -> list[tuple[float, float]]:
        places = [(0.0, 0.0)]
        for number, length in enumerate(lengths):
            x, y = places[-1]
            places.append((x + length * cos(number * turn), y - length * sin(number * turn)))
        return places

    loose, tight = 0.0, pi if len(lengths) == 2 else 2.0 * pi / len(lengths)
    if len(lengths) > 1 and hypot(*curled(tight)[-1]) > span * (1 + 1e-9):
        msg = f"links of {reach:g} mm in all cannot be folded to {span:g} mm"
        raise ValueError(msg)
    for _ in range(60):
        turn = (loose + tight) / 2.0
        loose, tight = (turn, tight) if hypot(*curled(turn)[-1]) > span else (loose, turn)
    places = curled(loose)
    lift = -atan2(places[-1][1], places[-1][0])
    return tuple((x * cos(lift) - y * sin(lift), x * sin(lift) + y * cos(lift)) for x, y in places)
