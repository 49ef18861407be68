"""How a blank is held to the wheel for each face: protractor, table, and what is left of it.

The blank lies face up on a table before the flat face of a wheel that stands upright. The
protractor turns the blank on the table; the table tilts about a line along the wheel. Angles in
rad, lengths in mm.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import atan, cos, sqrt, tan

from cardgen.rules.tool import Side


@dataclass(frozen=True, slots=True)
class Rest:
    """How the blank is set for one face.

    Attributes
    ----------
    protractor
        Between the shank and the wheel's face; positive widens the blade towards the shank [rad].
    table
        By which the table slopes down away from the wheel, so that the face is relieved under its
        edge; negative slopes down to the wheel [rad].
    """

    protractor: float
    table: float


def rest_for_side(side: Side, rake: float = 0.0) -> Rest:
    """Return how a side is set: its two angles are one compound angle.

    Parameters
    ----------
    side
        Its edge in plan, and its relief in the section square to the shank.
    rake
        Of the face that is ground later, so that the edge moves down with it.

    Notes
    -----
    At one height the side runs at ``tan(p) = tan(b) + tan(g) tan(k)`` to the shank; square to that
    line it leans by ``tan(t) = tan(k) cos(p)``. Exact.

    Examples
    --------
    >>> from math import degrees, radians
    >>> rest = rest_for_side(Side(radians(30), radians(8)))
    >>> round(degrees(rest.protractor), 2), round(degrees(rest.table), 2)
    (30.0, 6.94)
    """
    protractor = atan(tan(side.angle) + tan(rake) * tan(side.relief))
    return Rest(protractor, atan(tan(side.relief) * cos(protractor)))


def section_left(width: float, height: float, leading: float, trailing: float) -> float:
    """Return the area of blade that is left where it joins the shank [mm^2].

    Parameters
    ----------
    width, height
        Of the face there, and from the face to the foot [mm].
    leading, trailing
        Reliefs of both sides [rad].
    """
    return height * (width - height * (tan(leading) + tan(trailing)) / 2)


def heel_gap(height: float, end_relief: float, bore: float) -> float:
    """Return how far the heel under the point stands off a bore at the first touch [mm].

    Examples
    --------
    >>> from math import radians
    >>> round(heel_gap(5.0, radians(18.0), 20.0), 3)
    0.246
    """
    return bore / 2 - sqrt((bore / 2 - height * tan(end_relief)) ** 2 + height**2)
