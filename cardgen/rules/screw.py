"""A power screw under load: torque, efficiency, self-locking and the stresses in its thread.

Lengths in mm, forces in N, torques in N mm, stresses in MPa, angles in rad. Friction at a collar
or pad is a torque of its own.
"""

from __future__ import annotations

from math import atan, cos, pi, sqrt, tan


def normal_flank(flank: float, lead_angle: float) -> float:
    """Return the flank angle in the plane square to the helix [rad].

    References
    ----------
    R. L. Mott, Machine Elements in Mechanical Design 4th ed., ch. 17.
    """
    return atan(tan(flank) * cos(lead_angle))


def torque_raise(
    load: float, diameter: float, lead_angle: float, flank_normal: float, friction: float
) -> float:
    """Return the torque that drives the nut against the load [N mm].

    Parameters
    ----------
    load
        Axial [N].
    diameter
        Pitch diameter [mm].
    lead_angle
        At the pitch diameter [rad].
    flank_normal
        Flank angle square to the helix [rad].
    friction
        Coefficient in the thread.

    Raises
    ------
    ValueError
        If the friction is so high that no torque moves the nut.

    References
    ----------
    R. L. Mott, Machine Elements in Mechanical Design 4th ed., eq. 17-10 (exact form).

    Examples
    --------
    >>> from cardgen.rules.helix import lead_angle
    >>> round(torque_raise(10000, 2, lead_angle(0.5, 2), 0.0, 0.2))
    2841
    """
    grip = cos(flank_normal) - friction * tan(lead_angle)
    if grip <= 0:
        msg = f"friction {friction:g} locks the thread against every torque"
        raise ValueError(msg)
    return load * diameter / 2 * (cos(flank_normal) * tan(lead_angle) + friction) / grip


def torque_lower(
    load: float, diameter: float, lead_angle: float, flank_normal: float, friction: float
) -> float:
    """Return the torque that lets the load down [N mm]; negative if the load runs down by itself.

    Parameters as for :func:`torque_raise`.
    """
    grip = cos(flank_normal) + friction * tan(lead_angle)
    return load * diameter / 2 * (friction - cos(flank_normal) * tan(lead_angle)) / grip


def locking_friction(lead_angle: float, flank_normal: float) -> float:
    """Return the friction at and above which the load does not run down by itself.

    Examples
    --------
    >>> from cardgen.rules.helix import lead_angle
    >>> round(locking_friction(lead_angle(0.25, 1.0), 0.0), 4)
    0.0796
    """
    return cos(flank_normal) * tan(lead_angle)


def efficiency(load: float, lead: float, torque: float) -> float:
    """Return the work done on the load over the work put in, 0 to 1; torque in N mm."""
    return load * lead / (2 * pi * torque)


def combined_core_stress(load: float, torque: float, core: float) -> float:
    """Return the equivalent stress in the core from axial load and torque [MPa].

    Parameters
    ----------
    torque
        [N mm]
    core
        Core diameter [mm].
    """
    axial = 4 * load / (pi * core**2)
    shear = 16 * torque / (pi * core**3)
    return sqrt(axial**2 + 3 * shear**2)


def thread_shear(load: float, diameter: float, thickness: float, turns: float) -> float:
    """Return the mean shear in the thread where it joins the body [MPa].

    Parameters
    ----------
    diameter
        Of the cylinder that is sheared: the core for a screw, the major for a nut [mm].
    thickness
        Of the thread there, along the axis [mm].
    turns
        Thread ridges in engagement, counted along the axis.
    """
    return load / (pi * diameter * thickness * turns)


def thread_bending(
    load: float, diameter: float, arm: float, thickness: float, turns: float
) -> float:
    """Return the mean bending stress where the thread joins the body [MPa].

    The ridge, unwound, is a cantilever as broad as its turns are long.

    Parameters
    ----------
    diameter
        Of the cylinder that it stands on: the core for a screw, the major for a nut [mm].
    arm
        From there to the middle of the flank, radially [mm].
    thickness
        Of the thread there, along the axis [mm].
    turns
        Thread ridges in engagement, counted along the axis.

    References
    ----------
    Shigley's Mechanical Engineering Design 9th ed., eq. 8-11, here for any thickness and depth.

    Examples
    --------
    A square thread of 28 mm core and 4 mm pitch under 0.38 of 6.4 kN:

    >>> round(thread_bending(0.38 * 6400, 28, 1, 2, 1), 1)
    41.5
    """
    return 6 * load * arm / (pi * diameter * thickness**2 * turns)


def root_stress(bending: float, axial: float, shear: float) -> float:
    """Return the equivalent stress at the root of a turn, from three that act there [MPa].

    Parameters
    ----------
    bending
        Radial, of the turn as a cantilever.
    axial
        In the core, of the opposite sign.
    shear
        In the core, from torque.

    References
    ----------
    Shigley's Mechanical Engineering Design 9th ed. p. 419 with eq. 5-14 (distortion energy).
    """
    return sqrt(bending**2 + bending * axial + axial**2 + 3 * shear**2)


def collar_torque(load: float, friction: float, diameter: float) -> float:
    """Return the torque that a collar takes up [N mm]; diameter is its mean [mm].

    References
    ----------
    Shigley's Mechanical Engineering Design 9th ed., eq. 8-6.
    """
    return load * friction * diameter / 2


def rubbing_ratio(diameter: float, lead: float) -> float:
    """Return how far the flanks rub for each unit of travel, along the helix."""
    return sqrt((pi * diameter / lead) ** 2 + 1)


def bearing_pressure(load: float, diameter: float, overlap: float, turns: float) -> float:
    """Return the mean pressure between the flanks, on the area seen along the axis [MPa].

    Parameters
    ----------
    diameter
        Pitch diameter [mm].
    overlap
        Radial overlap of screw and nut [mm].
    turns
        Thread ridges in engagement, counted along the axis.
    """
    return load / (pi * diameter * overlap * turns)
