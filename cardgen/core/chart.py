"""A machine's chart: which standard pitches its wheels cut, one line for each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, slots=True)
class Line:
    """One pitch on a chart.

    Attributes
    ----------
    pitch
        As it is written: millimetres, or threads per inch.
    wheels
        Teeth from the spindle to the leadscrew; empty if none comes near.
    lever
        How the gearbox is set; empty where there is none.
    error_ppm
        Of the lead, positive for too coarse; ``None`` if no train comes near.
    drift
        How the error shows over a usual nut: ``none``, ``some`` or ``too-much``.
    marks
        Marks of the thread dial, or that the half-nut stays closed.
    """

    pitch: str
    wheels: str
    lever: str
    error_ppm: float | None
    drift: Literal["none", "some", "too-much"]
    marks: str


@dataclass(frozen=True, slots=True)
class Chart:
    """What a machine can cut.

    Attributes
    ----------
    metric, inch
        Lines by pitch in millimetres, and by threads per inch, the finest last.
    inch_first
        Whether the machine's leadscrew is of inch pitch, so that the inch lines lead.
    sources
        The standards whose pitches are listed, each once.
    """

    metric: Sequence[Line]
    inch: Sequence[Line]
    inch_first: bool
    sources: tuple[str, ...]
