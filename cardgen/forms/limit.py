"""What limits of size are, whichever standard's rule gave them."""

from __future__ import annotations

from dataclasses import dataclass

from cardgen.core.figure import Evidence


@dataclass(frozen=True, slots=True)
class Limit:
    """A least and a greatest size [mm]; ``None`` where the standard leaves a side open."""

    low: float | None
    high: float | None


@dataclass(frozen=True, slots=True)
class Band:
    """A least and a greatest size, both fixed [mm]."""

    low: float
    high: float


@dataclass(frozen=True, slots=True)
class ScrewLimits:
    """Limits of the screw [mm].

    Attributes
    ----------
    major, minor
        Crest and root diameters.
    pitch
        Pitch diameter; ``None`` for a form whose flanks are square to the axis, where the groove's
        width is what is limited.
    groove
        Axial width of the groove at the basic pitch line.
    allowance
        By which the largest pitch diameter is smaller than basic.
    crest_allowance
        By which the largest crest is smaller than nominal.
    pitch_tolerance
        Of the pitch diameter.
    source, evidence
        Of the whole.
    crest_evidence
        Of the crest's limits alone.
    note
        How the tolerance came about, in one sentence.
    """

    major: Band
    pitch: Band | None
    minor: Band
    groove: Band
    allowance: float
    crest_allowance: float
    pitch_tolerance: float | None
    source: str
    evidence: Evidence
    crest_evidence: Evidence
    note: str


@dataclass(frozen=True, slots=True)
class NutLimits:
    """Limits of the nut [mm].

    Attributes
    ----------
    major
        Bottom of the nut's groove; the standard may leave its greatest size open.
    pitch
        Pitch diameter; ``None`` as for the screw.
    minor
        Bore.
    groove
        Axial width of the nut's groove at the basic pitch line.
    source, evidence, note
        As for the screw.
    """

    major: Limit
    pitch: Band | None
    minor: Band
    groove: Band
    source: str
    evidence: Evidence
    note: str
