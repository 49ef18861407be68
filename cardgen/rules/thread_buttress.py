"""Pitch-diameter tolerance of 7/45 inch buttress threads (ANSI B1.9). All lengths in inches."""

from __future__ import annotations

from math import sqrt


def buttress_pitch_tolerance(
    diameter: float,
    engagement: float,
    pitch: float,
    *,
    by_diameter: float,
    by_engagement: float,
    by_pitch: float,
) -> float:
    """Return the tolerance of class 2: ``a cbrt(D) + b sqrt(Le) + c sqrt(P)`` [in].

    Parameters
    ----------
    diameter, engagement, pitch
        Nominal diameter, length of engagement and pitch [in].
    by_diameter, by_engagement, by_pitch
        a, b and c of the standard.

    Examples
    --------
    With an engagement of ten pitches it is 0.002 cbrt(D) + 0.0173 sqrt(P):

    >>> round(buttress_pitch_tolerance(
    ...     1.0, 1.0, 0.1, by_diameter=0.002, by_engagement=0.00278, by_pitch=0.00854), 4)
    0.0075
    """
    by_size: float = by_diameter * diameter ** (1 / 3)
    return by_size + by_engagement * sqrt(engagement) + by_pitch * sqrt(pitch)
