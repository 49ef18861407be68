"""The groove as a helicoid: its axial section carried round and along, and cut by a tool's face.

Axes: x along the tool's shank (radial at the middle of its point), y down from the lathe's axis, z
along that axis towards the tool's trailing side. Below the face of a tool of either hand the
groove runs towards the trailing side. ``sign`` is -1 for the leading side, 1 for the trailing one.
Lengths in mm, angles in rad.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, cos, hypot, pi, sin, sqrt, tan

_PLACES = 9
"""Radii at which a section is taken, from root to crest."""
_NEAR_ENOUGH = 1e-13
_TURNS = 60


@dataclass(frozen=True, slots=True)
class Groove:
    """What the tool must cut; leading and trailing as the tool's sides.

    Attributes
    ----------
    lead
        Axial travel in one turn [mm].
    root, crest
        Radii to which the point and the surface of the work reach; in a nut the root is the
        larger [mm].
    leading, trailing
        Flank angles in the axial section [rad].
    width
        Of the bottom in the axial section, its corners sharp [mm].
    """

    lead: float
    root: float
    crest: float
    leading: float
    trailing: float
    width: float = 0.0

    @property
    def internal(self) -> bool:
        """Whether it is a nut's."""
        return self.root > self.crest

    @property
    def outwards(self) -> float:
        """1 where the shank lies beyond the crest, -1 in a nut, where it lies towards the axis."""
        return -1.0 if self.internal else 1.0

    @property
    def parallel(self) -> bool:
        """Whether both flanks stand square to the axis."""
        return self.leading == 0 and self.trailing == 0

    @property
    def steepest(self) -> float:
        """The larger flank angle [rad]."""
        return max(self.leading, self.trailing)

    def flank(self, sign: float) -> float:
        """Return the flank angle of a side [rad]."""
        return self.leading if sign < 0 else self.trailing

    def wall(self, sign: float, radius: float) -> float:
        """Return the axial place of a wall at a radius, in the section y = 0."""
        rise = self.outwards * (radius - self.root)
        return sign * (self.width / 2 + rise * tan(self.flank(sign)))


def carried(x: float, across: float, down: float, tilt: float, lead: float) -> tuple[float, float]:
    """Return radius and axial place of a point of the tool, carried along the helix to y = 0.

    Parameters
    ----------
    x, across, down
        Of the point in the tool's own axes: along the shank, across the blank's top towards the
        trailing side, square to the blank's top [mm].
    tilt
        Of the whole tool about its shank [rad].
    lead
        Of the helix [mm].
    """
    return turned(x, across, down, sin(tilt), cos(tilt), lead / (2 * pi))


def turned(
    x: float, across: float, down: float, sine: float, cosine: float, p: float
) -> tuple[float, float]:
    """Return what :func:`carried` does, from the tilt's sine and cosine and the lead per radian."""
    y = down * cosine - across * sine
    z = across * cosine + down * sine
    return hypot(x, y), z - p * atan2(y, x)


def on_face(
    groove: Groove, sign: float, radius: float, rake: float, tilt: float
) -> tuple[float, float]:
    """Return where a wall of the groove cuts the tool's face at a radius.

    Parameters
    ----------
    radius
        Of the wall [mm].
    rake
        Of the face, which falls away behind the point; the point's middle is level with the axis.
    tilt
        Of the tool about its shank.

    Returns
    -------
    tuple of float
        Along the shank from the root's radius, and across the face [mm].

    Raises
    ------
    ValueError
        If the face does not reach the radius.
    """
    fall, out, p = tan(rake), groove.outwards, groove.lead / (2 * pi)
    aim = groove.wall(sign, radius)
    across = aim * cos(tilt)
    for _ in range(_TURNS):
        along = _along(groove, radius, fall * cos(tilt), -across * sin(tilt))
        x, down = groove.root + out * along, along * fall
        off = carried(x, across, down, tilt, groove.lead)[1] - aim
        across -= off / (cos(tilt) + p * sin(tilt) / x)
        if abs(off) < _NEAR_ENOUGH * groove.root:
            break
    return along, across


def _along(groove: Groove, radius: float, fall: float, level: float) -> float:
    """Return where along the shank a line that starts at a level and falls reaches a radius."""
    b = groove.outwards * groove.root + level * fall
    c = groove.root**2 + level**2 - radius**2
    under = b * b - (1 + fall * fall) * c
    if under < 0:
        msg = f"the face does not reach the radius {radius:g} mm"
        raise ValueError(msg)
    return (groove.outwards * sqrt(under) - b) / (1 + fall * fall)


@dataclass(frozen=True, slots=True)
class Straight:
    """The straight edge that stands for a wall's section on the face.

    Attributes
    ----------
    half
        Distance across from the middle of the point to the edge, level with the point [mm].
    slope
        How much it widens for each mm along the shank, seen square to the blank's top.
    """

    half: float
    slope: float


def straight_edge(groove: Groove, sign: float, rake: float, tilt: float) -> Straight:
    """Return the straight edge to grind for one wall.

    A level tool's edge joins the section's ends, so that the width of its point is the groove's
    own. A tipped tool's lies between the section's bulges, as near to both as can be: the least
    error that a straight edge can have.
    """
    step = (groove.crest - groove.root) / (_PLACES - 1)
    section = [on_face(groove, sign, groove.root + step * k, rake, tilt) for k in range(_PLACES)]
    (first, start), (last, end) = section[0], section[-1]
    slope = (end - start) / (last - first)
    bulges = [across - start - slope * (along - first) for along, across in section]
    shift = (max(bulges) + min(bulges)) / 2 if tilt else 0.0
    return Straight(sign * (start + shift - slope * first), sign * slope)
