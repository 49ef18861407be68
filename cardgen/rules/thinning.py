"""How stiff and how strong is the bar as its core gets thinner? Known depths answer for others.

Working out a bar in its holding takes by far the most of the time of a pass, and a search asks for
hundreds of depths. A thinner core never bends less nor is strained less by the same force, so that
a force that is safe on a thinner core is safe, and one that is unsafe on a thicker core is unsafe:
only what lies between is worked out.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right, insort
from collections.abc import Callable
from dataclasses import dataclass, field

Per = Callable[[float], float]
"""Something for 1 N of force at a core diameter [mm]; it never falls as the core gets thinner."""


@dataclass(slots=True)
class _Curve:
    """What is known of one quantity: rising core diameters, and the values there."""

    per: Per
    cores: list[float] = field(default_factory=list)
    known: dict[float, float] = field(default_factory=dict)

    def keeps(self, core: float, most: float) -> bool:
        """Whether the quantity at a core is no more than ``most``."""
        thinner = bisect_right(self.cores, core) - 1
        if thinner >= 0 and self.known[self.cores[thinner]] <= most:
            return True
        thicker = bisect_left(self.cores, core)
        if thicker < len(self.cores) and self.known[self.cores[thicker]] > most:
            return False
        if core not in self.known:
            self.known[core] = self.per(core)
            insort(self.cores, core)
        return self.known[core] <= most


class Thinning:
    """A bar whose core gets thinner from pass to pass.

    Parameters
    ----------
    give
        Deflection under the tool for 1 N at a core diameter [mm/N].
    strain
        Stress for 1 N at a core diameter [MPa/N].
    """

    def __init__(self, give: Per, strain: Per) -> None:
        self._give, self._strain = _Curve(give), _Curve(strain)

    def gives(self, core: float, most: float) -> bool:
        """Whether the bar gives way by no more than this for 1 N [mm/N]."""
        return self._give.keeps(core, most)

    def bears(self, core: float, most: float) -> bool:
        """Whether the bar is strained by no more than this for 1 N [MPa/N]."""
        return self._strain.keeps(core, most)
