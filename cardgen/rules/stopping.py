"""How far the carriage runs while a hand answers, and how long there is to be ready."""

from __future__ import annotations


def carriage_speed(lead: float, speed: float) -> float:
    """Speed of the carriage under the half-nut.

    Parameters
    ----------
    lead
        Of the thread [mm].
    speed
        Of the spindle [1/min].

    Returns
    -------
    float
        [mm/s]

    Examples
    --------
    >>> carriage_speed(6.0, 60.0)
    6.0
    """
    return lead * speed / 60.0


def run_out(lead: float, speed: float, reaction: float) -> float:
    """Distance that the carriage covers in the reaction time.

    Parameters
    ----------
    lead, speed
        As for :func:`carriage_speed`.
    reaction
        Of the hand at the lever [s].

    Returns
    -------
    float
        [mm]; the work makes ``speed * reaction / 60`` turns meanwhile, whatever the lead.

    Examples
    --------
    >>> run_out(6.0, 60.0, 1.5)
    9.0
    """
    return carriage_speed(lead, speed) * reaction


def time_over(length: float, lead: float, speed: float) -> float:
    """Time in which the carriage covers a length [s]."""
    return length / carriage_speed(lead, speed)


def speed_for_run_out(free: float, lead: float, reaction: float) -> float:
    """Fastest spindle speed at which the carriage stops within a free distance.

    Parameters
    ----------
    free
        Run-out that there is [mm]; none or less leaves no speed but 0.
    lead
        Of the thread [mm].
    reaction
        Of the hand at the lever [s].

    Returns
    -------
    float
        [1/min]

    Examples
    --------
    >>> round(speed_for_run_out(3.0, 4.0, 0.7))
    64
    """
    return max(0.0, 60.0 * free / (lead * reaction))
