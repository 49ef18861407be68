"""How far the bar could stick out, and how thin its core could be, before a cut is unsafe.

Both are found by halving on a grid that a rule or a caliper shows: whole millimetres of stick-out,
tenths of a millimetre of core. Lengths in mm, forces in N, stresses in MPa.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from math import floor

from cardgen.rules.holding import Work

_CORE_STEP = 0.1


@dataclass(frozen=True, slots=True)
class Pull:
    """What a pass does to the bar.

    Attributes
    ----------
    core
        Diameter that is left of the bar [mm].
    radial
        Force that bends it away [N].
    tangential
        Force that turns it [N].
    """

    core: float
    radial: float
    tangential: float


@dataclass(frozen=True, slots=True)
class Bearable:
    """What the bar may do.

    Attributes
    ----------
    bend
        Furthest that it may move away [mm].
    stress
        In a dig-in [MPa].
    dig_in
        Factor on all forces then.
    radial_share
        Radial force as a share of the tangential one.
    """

    bend: float
    stress: float
    dig_in: float
    radial_share: float

    def holds(self, work: Work, pull: Pull) -> bool:
        """Whether the bar neither bends nor is strained too far by a pass."""
        if pull.radial * work.give(pull.core) > self.bend * (1 + 1e-9):
            return False
        strained = self.dig_in * pull.tangential * work.strain(pull.core, self.radial_share)
        return strained <= self.stress * (1 + 1e-9)


def safe_stickout(work: Work, pulls: Sequence[Pull], may: Bearable, most: float) -> float | None:
    """Return how far the bar may stick out for passes as they are, in whole millimetres.

    Thread and groove stay as long as they are; only the plain part between them and the jaws
    grows or shrinks.

    Parameters
    ----------
    most
        No further than this is looked [mm].

    Returns
    -------
    float or None
        ``None`` if even the shortest bar that holds the thread is too long.
    """
    shortest = work.thread + work.groove

    def safe(stickout: float) -> bool:
        longer = replace(work, stickout=stickout)
        return all(may.holds(longer, pull) for pull in pulls)

    return furthest(shortest, floor(most - shortest), 1.0, safe)


def least_core(work: Work, pull: Pull, may: Bearable) -> float | None:
    """Return the thinnest core on which a cut like this one is still safe, in tenths of a mm.

    Parameters
    ----------
    pull
        Its forces; its own core is not looked at.

    Returns
    -------
    float or None
        ``None`` if not even the blank bears it.
    """
    steps = floor(work.blank / _CORE_STEP)

    def safe(removed: float) -> bool:
        core = (steps - round(removed)) * _CORE_STEP
        thinner = replace(work, root=core)
        return may.holds(thinner, replace(pull, core=core))

    removed = furthest(0.0, steps - 1, 1.0, safe)
    return None if removed is None else round((steps - removed) * _CORE_STEP, 6)


def furthest(start: float, count: int, step: float, safe: Callable[[float], bool]) -> float | None:
    """Return the last of ``start + k step``, k up to ``count``, that is safe, by halving.

    ``None`` if not even ``start`` is. Each must be no safer than the one before it.

    Examples
    --------
    >>> furthest(10.0, 100, 1.0, lambda x: x**2 < 200)
    14.0
    """
    if not safe(start):
        return None
    low, high = 0, count + 1
    while high - low > 1:
        middle = (low + high) // 2
        if safe(start + middle * step):
            low = middle
        else:
            high = middle
    return start + low * step
