"""A rack driven by a screw: pitch, slope of the teeth, and what a straight tooth cuts into.

Frame: x from the screw's axis straight to the rack, z along the axis, y across the rack's face;
y = z = 0 is the middle of one flank on the pitch cylinder. Lengths in mm, angles in rad.

A screw that turns about an axis parallel to the rack's travel moves, seen from the rack, in its
own helix: what fits it all over is a piece of its nut. Straight planed teeth touch it along the
flank's line under the axis only. Beside that line the flank of the screw both falls back, because
the ridge is round, and swings across the tooth, because the lead angle is not the same at all
diameters. The second makes straight teeth bind by a little; so much must be left free.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import atan, cos, hypot, pi, sqrt, tan

_LEVELS = 24
_PLACES = 48
_GOLDEN = (sqrt(5.0) - 1.0) / 2.0
_NARROWINGS = 40


@dataclass(frozen=True, slots=True)
class Mesh:
    """How deep and how far across a screw's thread reaches into a rack.

    Attributes
    ----------
    lead
        Axial travel of the screw in one turn [mm].
    pitch_radius
        Of the screw [mm].
    crest
        Radius of the screw's crest [mm].
    tips
        Distance of the rack's tooth tips from the screw's axis [mm].
    width
        Face of the rack, the axis over its middle [mm].
    """

    lead: float
    pitch_radius: float
    crest: float
    tips: float
    width: float


def pitch_along_travel(pitch: float, axis_angle: float) -> float:
    """Return the rack's pitch along its travel [mm].

    The pitches square to the teeth are the same in both parts. Teeth that slope by the lead angle
    under an axis parallel to the travel repeat at the screw's axial pitch; square teeth under an
    axis that is set over by the lead angle repeat at the screw's normal pitch.

    Parameters
    ----------
    pitch
        Axial pitch of the screw [mm].
    axis_angle
        Between the screw's axis and the travel [rad]: 0, or the lead angle.

    Examples
    --------
    >>> from math import radians
    >>> round(pitch_along_travel(3.0, radians(6.06)), 4)
    2.9832
    """
    return pitch * cos(axis_angle)


def normal_angle(flank: float, lead: float) -> float:
    """Return a flank's angle square to the tooth from that in the axial section [rad].

    Parameters
    ----------
    flank
        In the axial section [rad].
    lead
        Lead angle at the pitch diameter [rad].
    """
    return atan(tan(flank) * cos(lead))


def reach_across(crest: float, tips: float) -> float:
    """Return how wide the screw's crest stands in the rack at the tips' level: a chord [mm].

    Examples
    --------
    >>> reach_across(5.0, 4.0)
    6.0
    """
    return 2.0 * sqrt(max(0.0, crest * crest - tips * tips))


def straight_tooth_excess(mesh: Mesh, flank: float) -> float:
    """Return by how much a straight flank would stand in the screw's, at worst [mm, axial].

    The rack's flank is the plane that touches the screw's at the pitch diameter under the axis.

    Parameters
    ----------
    mesh
        How far the two reach into one another.
    flank
        Angle of the flank in the axial section [rad].

    Returns
    -------
    float
        Axial, 0 where the plane clears the screw everywhere.
    """
    worst = 0.0
    for step in range(_LEVELS + 1):
        x = mesh.tips + (mesh.crest - mesh.tips) * step / _LEVELS
        half = min(mesh.width / 2.0, sqrt(max(0.0, mesh.crest**2 - x * x)))
        if half > 0:
            worst = max(worst, -_least(_gap(mesh, flank, x), half))
    return worst


def axial_gap(mesh: Mesh, flank: float, x: float, y: float) -> float:
    """Return the axial gap between a straight tooth and the screw's flank at a place [mm].

    Both touch at ``x = pitch_radius, y = 0``; negative where the tooth would stand in the screw.
    """
    p = mesh.lead / (2.0 * pi)
    return p * (y / mesh.pitch_radius - atan(y / x)) + tan(flank) * (hypot(x, y) - x)


def axis_over_face(width: float, axis_angle: float) -> float:
    """Return the length along the travel on which a set-over axis lies over the face [mm].

    Parameters
    ----------
    width
        Of the face [mm].
    axis_angle
        Between axis and travel [rad], over 0.

    Examples
    --------
    >>> from math import radians
    >>> round(axis_over_face(10.0, radians(30)), 6)
    17.320508
    """
    return width / tan(axis_angle)


def _gap(mesh: Mesh, flank: float, x: float) -> Callable[[float], float]:
    return lambda y: axial_gap(mesh, flank, x, y)


def _least(of: Callable[[float], float], half: float) -> float:
    """Return the least value of a smooth function between -half and half."""
    step = 2.0 * half / _PLACES
    best = min((-half + step * place for place in range(_PLACES + 1)), key=of)
    low, high = max(-half, best - step), min(half, best + step)
    for _ in range(_NARROWINGS):
        inner, outer = high - _GOLDEN * (high - low), low + _GOLDEN * (high - low)
        if of(inner) < of(outer):
            high = outer
        else:
            low = inner
    return min(of(best), of((low + high) / 2.0))
