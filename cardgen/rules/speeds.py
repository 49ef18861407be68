"""Spindle speeds: what cutting speed and power allow, and the choice from the machine's list."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import ceil, floor, pi


def cutting_speed(diameter: float, speed: float) -> float:
    """Speed of the work's surface.

    Parameters
    ----------
    diameter
        Of the work [mm].
    speed
        Of the spindle [1/min].

    Returns
    -------
    float
        [m/min]
    """
    return pi * diameter * speed / 1000.0


def speed_for_cutting_speed(surface: float, diameter: float) -> float:
    """Spindle speed that gives a cutting speed.

    Parameters
    ----------
    surface
        Cutting speed [m/min].
    diameter
        Of the work [mm].

    Returns
    -------
    float
        [1/min]: 1000 v / (pi d), often written 318 v / d.

    Examples
    --------
    >>> round(speed_for_cutting_speed(120 * 0.3048, 25.4))
    458
    """
    return 1000.0 * surface / (pi * diameter)


def speed_for_power(power: float, force: float, diameter: float) -> float:
    """Spindle speed at which a force at the work's surface takes all the power.

    Parameters
    ----------
    power
        At the spindle [W].
    force
        Tangential [N].
    diameter
        Of the work [mm].

    Returns
    -------
    float
        [1/min]

    Examples
    --------
    >>> round(speed_for_power(35.8, 380.0, 30.0))
    60
    """
    return 60.0 * 1000.0 * power / (pi * diameter * force)


def power_at_speed(
    power: float,
    speed: float,
    *,
    torque: float | None = None,
    full_power_from: float | None = None,
) -> float:
    """Power that a spindle has at a speed.

    Parameters
    ----------
    power
        At the spindle, where the motor gives all that it has [W].
    speed
        Of the spindle [1/min].
    torque
        Most that the spindle can turn, by belt or gear [N m]; ``None`` for no such limit.
    full_power_from
        Speed below which the motor's torque stays the same, so that its power falls with the
        speed [1/min]; ``None`` for a motor that has its power at every speed.

    Returns
    -------
    float
        [W]: the least of P, P n / n0 and 2 pi n T / 60.

    Examples
    --------
    >>> power_at_speed(400.0, 100.0, full_power_from=500.0)
    80.0
    >>> round(power_at_speed(400.0, 100.0, torque=5.0), 1)
    52.4
    """
    able = [power]
    if full_power_from is not None:
        able.append(power * speed / full_power_from)
    if torque is not None:
        able.append(2.0 * pi * speed * torque / 60.0)
    return min(able)


def settings(slowest: float, fastest: float, step: float) -> tuple[float, ...]:
    """Return what a variable speed can be set to: its two ends, and whole steps between them.

    Examples
    --------
    >>> settings(50.0, 120.0, 20.0)
    (50.0, 60.0, 80.0, 100.0, 120.0)
    """
    first, last = floor(slowest / step) + 1, ceil(fastest / step) - 1
    between = (number * step for number in range(first, last + 1))
    return tuple(sorted({slowest, *between, fastest}))


@dataclass(frozen=True, slots=True)
class Choice:
    """A speed from the machine's list.

    Attributes
    ----------
    speed
        Chosen [1/min].
    ruled_by
        The lowest limit; empty if even the fastest speed breaks none.
    broken
        Limits that the chosen speed breaks, because the machine has none that is slower.
    faster
        The next faster speed [1/min]; ``None`` if the chosen one is the fastest.
    """

    speed: float
    ruled_by: str
    broken: tuple[str, ...]
    faster: float | None


def choose_speed(speeds: Sequence[float], limits: Mapping[str, float]) -> Choice:
    """Return the fastest speed that every limit allows, or the slowest there is.

    Parameters
    ----------
    speeds
        The machine's own [1/min].
    limits
        Name to the fastest speed that it allows [1/min].

    Returns
    -------
    Choice
        With the reason.

    Examples
    --------
    >>> choose_speed([60, 110, 200], {"cutting speed": 130.0, "stopping": 96.0})
    Choice(speed=60, ruled_by='stopping', broken=(), faster=110)
    """
    rising = sorted(speeds)
    lowest = min(limits, key=lambda name: limits[name], default="")
    allowed = [speed for speed in rising if all(speed <= limit for limit in limits.values())]
    speed = allowed[-1] if allowed else rising[0]
    faster = next((other for other in rising if other > speed), None)
    broken = tuple(name for name, limit in limits.items() if speed > limit)
    return Choice(speed, "" if faster is None and not broken else lowest, broken, faster)
