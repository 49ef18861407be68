"""The helix: how steeply a thread climbs."""

from __future__ import annotations

from math import atan, pi, tan


def lead_angle(lead: float, diameter: float) -> float:
    """Return the angle between a helix and the plane square to its axis.

    Parameters
    ----------
    lead
        Axial travel in one turn [mm].
    diameter
        Of the cylinder on which the helix lies [mm].

    Returns
    -------
    float
        Lead angle [rad].

    Notes
    -----
    ``tan(phi) = L / (pi d)``, Machinery's Handbook 27th ed. p.1831: 1-5 Acme, lead angle at the
    pitch line 4 deg 3 min.

    Examples
    --------
    >>> from math import degrees
    >>> round(degrees(lead_angle(25.4 / 5, 0.9 * 25.4)), 2)
    4.05
    """
    return atan(lead / (pi * diameter))


def lead_of_angle(angle: float, diameter: float) -> float:
    """Return the lead [mm] of a helix of a given angle [rad] on a diameter [mm]."""
    return pi * diameter * tan(angle)
