"""A train of change wheels: its ratio, the lead that it cuts, and what must be changed for it.

Driver is the wheel nearer the spindle. The lead cut in one turn of the spindle is

    leadscrew lead x fixed ratio x (drivers / driven) x gearbox ratio

in exact fractions of a millimetre: wheels are counted, not measured.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import prod

from cardgen.rules.meshing import Pair

PAIRS: Mapping[str, int] = {"single": 1, "compound": 2, "double-compound": 3}
"""Arrangement to the number of pairs that it changes the ratio with."""


@dataclass(frozen=True, slots=True)
class Fixed:
    """What stays on the machine whatever is cut.

    Attributes
    ----------
    first, last
        Teeth of a first driver, and of a last driven wheel, that cannot be taken off; ``None``
        where the place takes any wheel. They are not among the wheels owned.
    ratio
        Turns of the first driver for one turn of the spindle.
    """

    first: int | None = None
    last: int | None = None
    ratio: Fraction = Fraction(1)


@dataclass(frozen=True, slots=True)
class Train:
    """Wheels on the machine.

    Attributes
    ----------
    pairs
        (driver, driven) from the spindle to the leadscrew.
    lever
        Name of the gearbox step; empty where there is no gearbox.
    lever_ratio
        Leadscrew turns for one turn of the last driven wheel.
    fixed_ratio
        Turns of the first driver for one turn of the spindle.
    """

    pairs: tuple[Pair, ...]
    lever: str = ""
    lever_ratio: Fraction = Fraction(1)
    fixed_ratio: Fraction = Fraction(1)

    @property
    def ratio(self) -> Fraction:
        """Leadscrew turns for one turn of the spindle."""
        start = self.lever_ratio * self.fixed_ratio
        return prod((Fraction(*pair) for pair in self.pairs), start=start)

    @property
    def wheels(self) -> tuple[int, ...]:
        """Teeth from the spindle to the leadscrew: driver, driven, driver, driven."""
        return tuple(teeth for pair in self.pairs for teeth in pair)

    def __str__(self) -> str:
        """Return the pairs from the spindle to the leadscrew, each ``driver/driven``.

        Examples
        --------
        >>> str(Train(((40, 60), (30, 45))))
        '40/60 x 30/45'
        """
        return " x ".join(f"{driver}/{driven}" for driver, driven in self.pairs)


def lead_error(train: Train, leadscrew: Fraction, lead: Fraction) -> Fraction:
    """Error of the lead that a train cuts, as a signed part of the lead wanted.

    Parameters
    ----------
    leadscrew, lead
        Travel for one turn of the leadscrew, and lead wanted [mm].

    Returns
    -------
    Fraction
        (lead cut - lead) / lead: positive for a thread that is too coarse. An error counted in
        threads per inch has the opposite sign.
    """
    return leadscrew * train.ratio / lead - 1


def wheels_to_change(wheels: Sequence[int], now: Sequence[int], fixed: Fixed | None = None) -> int:
    """Count the wheels of a train that are not where they must be.

    Parameters
    ----------
    wheels
        Of the train, from the spindle to the leadscrew.
    now
        On the machine today, in the same order; empty where nobody has said: then only what is
        fixed is there, and every other wheel must be put on.
    fixed
        What stays on the machine.

    Returns
    -------
    int
        Places are the spindle, each side of each stud, counted from the spindle, and the
        leadscrew.

    Examples
    --------
    >>> wheels_to_change((40, 60), (40, 80))
    1
    >>> wheels_to_change((40, 60, 30, 80), (40, 80))  # 40 and 80 stay at the two ends
    2
    >>> wheels_to_change((40, 60), ())
    2
    """
    there = _places(now)
    if not now and fixed is not None:
        ends = {"spindle": fixed.first, "leadscrew": fixed.last}
        there = {place: teeth for place, teeth in ends.items() if teeth is not None}
    return sum(there.get(place) != teeth for place, teeth in _places(wheels).items())


def _places(wheels: Sequence[int]) -> dict[str, int]:
    if not wheels:
        return {}
    studs = {f"stud {number}": teeth for number, teeth in enumerate(wheels[1:-1])}
    return {"spindle": wheels[0], **studs, "leadscrew": wheels[-1]}
