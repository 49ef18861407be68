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


def run_out(lead: float, speed: float, reaction: float, coast: float = 0.0) -> float:
    """Distance that the carriage covers until it stands.

    The spindle is taken to keep its speed. Under the cut it slows down a little, which leaves more
    time than is reckoned with.

    Parameters
    ----------
    lead, speed
        As for :func:`carriage_speed`.
    reaction
        Of the hand at the lever [s].
    coast
        Turns that the spindle makes once it is switched off, where it is the spindle that stops
        the carriage and not the half-nut.

    Returns
    -------
    float
        [mm]; the work makes ``speed * reaction / 60 + coast`` turns meanwhile, whatever the lead.

    Examples
    --------
    >>> run_out(6.0, 60.0, 1.5)
    9.0
    >>> run_out(6.0, 60.0, 1.5, coast=2.0)
    21.0
    """
    return carriage_speed(lead, speed) * reaction + coast * lead


def time_to_spare(
    free: float, lead: float, speed: float, reaction: float, coast: float = 0.0
) -> float:
    """Time that is left of a free distance once hand and spindle have stopped the carriage.

    Parameters
    ----------
    free
        Distance from where the hand may act first to where the tool must stand [mm].
    lead, speed, reaction, coast
        As for :func:`run_out`.

    Returns
    -------
    float
        [s]; negative if the tool runs too far.

    Examples
    --------
    >>> round(time_to_spare(6.0, 5.0, 60.0, 0.8), 3)
    0.4
    """
    return time_over(free - coast * lead, lead, speed) - reaction


def time_over(length: float, lead: float, speed: float) -> float:
    """Time in which the carriage covers a length [s]."""
    return length / carriage_speed(lead, speed)


def speed_for_run_out(free: float, lead: float, reaction: float, coast: float = 0.0) -> float:
    """Fastest spindle speed at which the carriage stops within a free distance.

    Parameters
    ----------
    free
        Run-out that there is [mm]; none or less leaves no speed but 0.
    lead
        Of the thread [mm].
    reaction
        Of the hand at the lever [s].
    coast
        As for :func:`run_out`.

    Returns
    -------
    float
        [1/min]

    Examples
    --------
    >>> round(speed_for_run_out(3.0, 4.0, 0.7))
    64
    """
    return max(0.0, 60.0 * (free - coast * lead) / (lead * reaction))
