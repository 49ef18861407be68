"""A cutter in a nut's bore: the bar that passes, the bit's reach, the heel that clears the curve.

Seen from the tailstock the cutter's point stands at the front, on the lathe's axis and level with
it; x runs from the axis to the operator, y down. The bit goes square through the bar's middle,
its face at centre height, so that the bar's own axis lies half the bit below it. Lengths in mm,
angles in rad, forces in N, stresses in MPa.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import asin, hypot, sqrt

from cardgen.rules.beam import bending_stress, combined_stress, second_moment, torsion_stress


def largest_bar(bore: float, room: float, travel: float, bit: float) -> float:
    """Return the largest bar that clears the bore at full depth and withdrawn [mm].

    The bar's middle moves along a chord, ``bit / 2`` below the bore's axis and ``travel`` long,
    and its surface stays ``room`` away from the bore all the way.

    Parameters
    ----------
    bore
        Diameter of the bore, the thread's crest [mm].
    room
        For chips, between bar and bore [mm].
    travel
        From full depth to withdrawn [mm].
    bit
        Side of the square bit [mm].

    Examples
    --------
    >>> round(largest_bar(23.0, 1.0, 3.0, 4.0), 6)
    16.0
    """
    return bore - 2 * room - hypot(travel, bit)


def bit_reach(bore: float, root: float, room: float, bar: float, bit: float) -> float:
    """Return how far the point stands out of the bar that is as near the front as it may be [mm].

    Parameters
    ----------
    bore, root
        Diameters of the bore and of the bottom of the groove [mm].
    room, bar, bit
        As for :func:`largest_bar`, and the bar's diameter [mm].
    """
    middle = sqrt(max((bore / 2 - room - bar / 2) ** 2 - (bit / 2) ** 2, 0.0))
    return root / 2 - middle - bar / 2


def heel_angle(height: float, bore: float) -> float:
    """Return how far round the bore a blade's foot can lie below its face [rad].

    Examples
    --------
    >>> from math import degrees
    >>> round(degrees(heel_angle(5.0, 20.0)), 6)
    30.0
    """
    return asin(min(2 * height / bore, 1.0))


def heel_relief(heel: float) -> float:
    """Return the end relief that a blade needs to lie on the bore's chord [rad].

    Between the point and a place on the same circle at an angle ``heel`` below it, the chord
    leans by half of it; any less relief and the heel touches before the edge does.
    """
    return heel / 2


@dataclass(frozen=True, slots=True)
class Bar:
    """A boring bar as a cantilever, which takes the place of the work: the nut itself is stiff.

    Attributes
    ----------
    blank
        Largest diameter that is cut, the bottom of the groove: the arm of torque and power [mm].
    bar
        Diameter of the bar [mm].
    overhang
        From its holder to the point [mm].
    reach
        From the bar's surface to the point [mm].
    modulus
        Young's modulus [MPa].
    """

    blank: float
    bar: float
    overhang: float
    reach: float
    modulus: float

    def give(self, core: float) -> float:
        """Return the deflection at the point for 1 N across the bar, ``L^3 / 3 E I`` [mm/N]."""
        del core
        return self.overhang**3 / (3 * self.modulus * second_moment(self.bar))

    def strain(self, core: float, radial_share: float) -> float:
        """Return the stress at the holder for 1 N of tangential force [MPa/N]."""
        del core
        bending = bending_stress(self.overhang * sqrt(1 + radial_share**2), self.bar)
        return combined_stress(bending, torsion_stress(self.reach + self.bar / 2, self.bar))
