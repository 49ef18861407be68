"""Allowances and tolerances of Acme general purpose threads (ASME B1.5). All lengths in inches."""

from __future__ import annotations

from math import sqrt


def acme_allowance(factor: float, mean_diameter: float) -> float:
    """Return the pitch-diameter allowance ``k sqrt(D)`` [in].

    Parameters
    ----------
    factor
        k of the class.
    mean_diameter
        Middle of the diameter range in which the thread lies [in]: the published allowances hold
        for every size of a range (Machinery's Handbook 27th ed. p.1841).

    Examples
    --------
    >>> round(acme_allowance(0.008, 1.5), 4)
    0.0098
    """
    return factor * sqrt(mean_diameter)


def acme_pitch_tolerance(a: float, b: float, diameter: float, pitch: float) -> float:
    """Return the pitch-diameter tolerance ``a sqrt(D) + b sqrt(P)`` [in].

    Parameters
    ----------
    a, b
        Diameter and pitch increments of the class.
    diameter
        Nominal diameter [in].
    pitch
        [in].

    Examples
    --------
    >>> round(acme_pitch_tolerance(0.006, 0.030, 0.25, 1 / 16), 4)
    0.0105
    """
    return a * sqrt(diameter) + b * sqrt(pitch)


def crest_tolerance(pitch: float, share: float, least: float) -> float:
    """Return the crest tolerance: a share of the pitch, but no less than ``least`` [in].

    Examples
    --------
    >>> round(crest_tolerance(0.2, 0.05, 0.005), 4)
    0.01
    """
    return max(share * pitch, least)
