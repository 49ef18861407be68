"""What force does a form tool need in a groove? The Kienzle law, edge by edge.

The tool's point and its two flanks each cut a chip of their own thickness. The tool goes inwards
by the bite and, where the compound slide feeds it, sideways too: by the tangent of the feed angle.
Thread grooves are looked at in the axial plane; along the helix the chip is narrower by the cosine
of the lead angle, which is left out and errs to the safe side (1 % at 8 deg).

Lengths in mm, forces in N, stresses in MPa, angles in rad, torque in N m, power in W.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, pi, tan
from typing import NamedTuple


class Edge(NamedTuple):
    """A straight piece of cutting edge at work; a tuple, because a search makes thousands.

    Attributes
    ----------
    width
        Length of edge in the cut, so that width times thickness is the chip's area [mm].
    thickness
        Of the uncut chip, square to the edge [mm].
    """

    width: float
    thickness: float


@dataclass(frozen=True, slots=True)
class Law:
    """How a material resists cutting: ``Fc = correction kc11 b h^(1 - mc)``.

    Attributes
    ----------
    kc11
        Specific cutting force at 1 mm chip thickness and 1 mm width [MPa].
    mc
        Exponent of the chip thickness.
    correction
        Product of the factors for rake, wear, tool material and confined chip.
    """

    kc11: float
    mc: float
    correction: float = 1.0

    def force(self, edge: Edge) -> float:
        """Return the cutting force on an edge [N].

        The law was measured at chips of about 0.1 to 1.4 mm. Thinner ones, as in threading,
        are taken on the same curve, which rises steeply there.

        Examples
        --------
        Kienzle's law for annealed low-alloy steel, 1 mm wide, 0.1 mm thick:

        >>> round(Law(1775, 0.24).force(Edge(1.0, 0.1)))
        308
        """
        if edge.thickness <= 0:
            return 0.0
        thinning: float = edge.thickness ** (1 - self.mc)
        return self.correction * self.kc11 * edge.width * thinning


@dataclass(frozen=True, slots=True)
class Groove:
    """The shape that the tool leaves, in the axial plane.

    Attributes
    ----------
    leading, trailing
        Flank angles from square to the axis [rad]; zero for a square thread.
    """

    leading: float
    trailing: float

    def area(self, depth: float, point: float) -> float:
        """Return the area of the groove at a depth, cut by a tool with a flat point [mm^2]."""
        return depth * point + depth**2 * (tan(self.leading) + tan(self.trailing)) / 2

    def edges(
        self, before: float, bite: float, point: float, feed: float = 0.0
    ) -> tuple[Edge, Edge, Edge]:
        """Return the edges at work in one pass: point, leading flank, trailing flank.

        Parameters
        ----------
        before
            Depth of the groove before the pass [mm].
        bite
            Radial increment of the pass [mm].
        point
            Width that the flat point cuts [mm].
        feed
            Angle of the feed from straight in, towards the leading side [rad]. At the trailing
            flank's own angle that flank does not cut.

        Notes
        -----
        A flank at angle a moves into the metal by ``bite cos(a) (tan(a) + tan(feed))``, and the
        part of it in the metal grows from ``before / cos(a)`` to ``(before + bite) / cos(a)``.
        Together the three chips are what the groove grows by.
        """
        middle, aside = before + bite / 2, tan(feed)
        a, b = self.leading, self.trailing
        return (
            Edge(point, bite),
            Edge(middle / cos(a), max(bite * cos(a) * (tan(a) + aside), 0.0)),
            Edge(middle / cos(b), max(bite * cos(b) * (tan(b) - aside), 0.0)),
        )


def side_force(groove: Groove, leading: float, trailing: float, share: float) -> float:
    """Return the force along the axis that bends the blade sideways [N].

    Each edge is pressed square to itself with a share of its cutting force; on a plunge the two
    flanks balance.

    Parameters
    ----------
    leading, trailing
        Cutting forces on the two flanks [N].
    share
        Force square to an edge as a share of its cutting force.
    """
    return share * abs(leading * cos(groove.leading) - trailing * cos(groove.trailing))


def rake_factor(rake_deg: float, per_degree: float) -> float:
    """Return the factor for a rake that differs from the table's, which is 0 deg.

    Examples
    --------
    >>> rake_factor(8.0, 0.01)
    0.92
    """
    return 1 - per_degree * rake_deg


def spindle_torque(force: float, diameter: float) -> float:
    """Return the torque of a tangential force at a diameter [N m].

    Examples
    --------
    >>> spindle_torque(380.0, 30.0)
    5.7
    """
    return force * diameter / 2000


def rim_speed(diameter: float, speed: float) -> float:
    """Return the cutting speed at a diameter [m/s] for a spindle speed [1/min]."""
    return pi * diameter * speed / 60000


def spindle_power(force: float, diameter: float, speed: float) -> float:
    """Return the power at the spindle [W] for a spindle speed [1/min].

    Examples
    --------
    >>> round(spindle_power(380.0, 30.0, 60.0), 1)
    35.8
    """
    return force * rim_speed(diameter, speed)
