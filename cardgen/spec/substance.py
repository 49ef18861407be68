"""What a material is, once its file has passed the door: frozen records, a source on each value.

Strengths in MPa, densities in kg/m3, temperatures in degC, times in s, angles in degrees.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from cardgen.core.figure import Evidence


@dataclass(frozen=True, slots=True)
class Sourced:
    """One value of a material with its limits and source.

    Attributes
    ----------
    value
        In the unit that its record names; middle of the range if only a range is published.
    """

    value: float
    low: float | None
    high: float | None
    source: str
    evidence: Evidence


@dataclass(frozen=True, slots=True)
class Cutting:
    """How a material cuts.

    Attributes
    ----------
    kc11
        Specific cutting force at 1 mm chip thickness and width, rake 0 [MPa].
    mc
        Exponent of chip thickness.
    speed
        Screw-cutting speed for high-speed steel [m/min].
    rake_deg
        Rake for a high-speed-steel form tool [deg].
    """

    kc11: Sourced
    mc: Sourced
    speed: Sourced
    rake_deg: Sourced


@dataclass(frozen=True, slots=True)
class Heat:
    """How a steel takes heat.

    Attributes
    ----------
    normalise, harden
        Temperatures [degC]; ``None`` where nobody has published one.
    quench
        ``water``, ``brine``, ``oil`` or ``air``.
    section_limit
        Largest section that hardens through in that quench [mm].
    as_quenched
        [HRC].
    temper
        Pairs of tempering temperature [degC] and hardness [HRC], rising temperature; empty where
        nobody has published them.
    temper_parameter
        Pairs of tempering parameter (kelvin and hours, C 20, in thousands) and hardness [HRC],
        where the steel is published in that way instead.
    temper_time
        For which the pairs of temperatures hold [s].
    temper_source, temper_evidence
        Of the pairs.
    a1, ac3, ms
        Critical temperatures from a data sheet [degC]; ``None`` to work them out.
    embrittlement
        Tempering range to avoid [degC]; ``None`` if there is none.
    embrittlement_evidence
        Of that range.
    double_temper
        Whether practice tempers this steel twice.
    """

    normalise: Sourced | None
    harden: Sourced | None
    quench: str
    quench_source: str
    section_limit: Sourced | None
    as_quenched: Sourced | None
    temper: tuple[tuple[float, float], ...]
    temper_time: float
    temper_source: str
    temper_evidence: Evidence
    a1: Sourced | None
    ac3: Sourced | None
    ms: Sourced | None
    embrittlement: tuple[float, float] | None
    embrittlement_source: str
    double_temper: bool
    temper_parameter: tuple[tuple[float, float], ...] = ()
    embrittlement_evidence: Evidence = "practice"


@dataclass(frozen=True, slots=True)
class Material:
    """A material and what is known of it.

    Attributes
    ----------
    name
        The word used in a spec.
    group
        ``carbon-steel``, ``alloy-steel``, ``tool-steel``, ``free-cutting-steel``, ``stainless``,
        ``cast-iron``, ``bronze``, ``brass``, ``aluminium`` or ``plastic``.
    yield_, strength
        Yield and tensile strength [MPa] in the condition in which it is cut.
    modulus
        Young's modulus [MPa].
    density
        [kg/m3].
    composition
        Element symbol to mass per cent, middle of the published range.
    hardness
        In the condition in which it is cut, as published text.
    heat
        ``None`` for a material that is not hardened by heat.
    """

    name: str
    title: str
    group: str
    yield_: Sourced
    strength: Sourced
    hardness: str
    modulus: Sourced
    density: Sourced
    composition: Mapping[str, float]
    composition_source: str
    cutting: Cutting
    heat: Heat | None
    heat_note: str
    source: str
    composition_evidence: Evidence = "practice"
