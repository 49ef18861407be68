"""A part on its way through the fire: what its heats have made of it so far.

The state that the heat sheet passes from step to step, and the words it writes numbers with.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from cardgen.core.figure import Basis, Evidence, Input, Sheet, Step
from cardgen.core.rounding import rounded, with_unit
from cardgen.core.words import joined, told
from cardgen.rules.temper import (
    OutsideRowsError,
    Row,
    bracket,
    equivalent_temperature,
    hardness_between,
    parameter_temperature,
)
from cardgen.sheets._constants import constant, value
from cardgen.spec.job import HeatStep, Job
from cardgen.spec.substance import Heat, Sourced

TABLE = "heat/constants"


def degrees(temperature: float) -> str:
    """Return a temperature as the card writes it."""
    return with_unit(temperature, "degC", 0)


def hrc(hardness: float) -> str:
    """Return a hardness as the card writes it."""
    return with_unit(hardness, "HRC", 0)


def duration(seconds: float) -> str:
    """Return a time in hours and minutes, to the nearest minute.

    Examples
    --------
    >>> duration(4250)
    '1 h 11 min'
    >>> duration(30)
    '30 s'
    """
    if seconds < 60:
        return f"{rounded(seconds, 0)} s"
    hours, minutes = divmod(round(seconds / 60), 60)
    if not hours:
        return told("{minutes} min", minutes=minutes)
    return (
        told("{hours} h {minutes} min", hours=hours, minutes=minutes) if minutes else f"{hours} h"
    )


def sentences(*texts: str) -> str:
    """Return sentences in a row, without the empty ones."""
    return joined(filter(None, texts))


def material_input(of: Sourced, unit: str, key: str) -> Input:
    """Return a value of the material's file as an input."""
    return Input(of.value, unit, f"material:{key}", of.evidence)


@dataclass(frozen=True, slots=True)
class Warmth:
    """One heat below red that the hardened part has had.

    Attributes
    ----------
    kind
        The step's word.
    temperature, time
        As inputs [degC], [s].
    formula, inputs, source, basis, evidence, note
        How the temperature came about, for the figure that records it.
    furnace
        What the part is heated in.
    """

    kind: str
    temperature: Input
    time: Input
    formula: str = ""
    inputs: Mapping[str, Input] = field(default_factory=dict)
    source: str = ""
    basis: Basis = "data"
    evidence: Evidence = "read"
    note: str = ""
    furnace: str = "oven"

    @property
    def degrees(self) -> float:
        """Temperature [degC]."""
        return float(self.temperature.value)

    @property
    def seconds(self) -> float:
        """Time at temperature [s]."""
        return float(self.time.value)


@dataclass(slots=True)
class Treatment:
    """The part between two steps.

    Attributes
    ----------
    section
        Thickest part of the work, by which it soaks [mm].
    hardened
        Whether it has been quenched and not been undone.
    asked
        Hardness that the last quench was asked to give [HRC].
    warmths
        Heats below red since the last quench.
    quench
        Bath of the last quench; empty before there is one.
    finishes
        Finishes put on so far, each with the heat that it stands [degC].
    """

    job: Job
    sheet: Sheet
    section: float
    hardened: bool = False
    asked: float | None = None
    warmths: list[Warmth] = field(default_factory=list)
    quench: str = ""
    finishes: list[tuple[str, float]] = field(default_factory=list)

    @property
    def title(self) -> str:
        """The material in words, without the condition that its title may add after a comma."""
        return self.job.work.material.title.partition(",")[0]

    @property
    def heat(self) -> Heat | None:
        """How the steel takes heat; ``None`` if nothing is known or nothing is to be had."""
        return self.job.work.material.heat

    @property
    def published(self) -> tuple[Row, ...]:
        """Published tempering rows; those of the parameter as temperatures for its time."""
        heat = self.heat
        if heat is None or heat.temper:
            return () if heat is None else heat.temper
        constant, kelvin = value(TABLE, "hollomon-jaffe"), value(TABLE, "kelvin")
        return tuple(
            (parameter_temperature(parameter, heat.temper_time, constant, kelvin), hardness)
            for parameter, hardness in heat.temper_parameter
        )

    @property
    def rows(self) -> tuple[Row, ...]:
        """Published rows, begun with the hardness as quenched where they begin soon enough."""
        rows, heat = self.published, self.heat
        if heat is None or not rows or heat.as_quenched is None:
            return rows
        first, harder = rows[0], heat.as_quenched.value >= rows[0][1]
        if harder and first[0] <= value(TABLE, "rows-begin"):
            return ((value(TABLE, "room"), heat.as_quenched.value), *rows)
        return rows

    def equivalent(self, temperature: float, seconds: float) -> float:
        """Return the temperature that tempers as much in the time of the published rows [degC]."""
        heat = self.heat
        other = heat.temper_time if heat is not None and heat.temper_time > 0 else seconds
        return equivalent_temperature(
            temperature,
            seconds,
            other,
            value(TABLE, "hollomon-jaffe"),
            value(TABLE, "kelvin"),
        )

    def hardness_after(self, temperature: float, seconds: float) -> float | None:
        """Return the hardness after a temper [HRC], ``None`` where nobody has published rows."""
        rows, at = self.rows, self.equivalent(temperature, seconds)
        if rows and at < rows[0][0]:
            return rows[0][1]
        try:
            return hardness_between(*bracket(rows, at), at)
        except OutsideRowsError:
            return None

    def hardness_words(self, temperature: float, seconds: float) -> str:
        """Return in words what a temper leaves: a number, or on which side of the rows it lies."""
        found = self.hardness_after(temperature, seconds)
        if found is not None:
            return told("about {found}", found=hrc(found))
        if not self.rows:
            return "an unknown hardness (no tempering rows are published for it)"
        hottest, softest = self.rows[-1]
        return told(
            "less than {softest}, that of the last published row at {hottest}",
            softest=hrc(softest),
            hottest=degrees(hottest),
        )

    @property
    def ruling(self) -> Warmth | None:
        """The heat that has softened the part most."""
        return max(
            self.warmths,
            key=lambda warmth: self.equivalent(warmth.degrees, warmth.seconds),
            default=None,
        )

    @property
    def hardness_now(self) -> str:
        """What the part's hardness is at this point, in words."""
        ruling = self.ruling
        if ruling is not None:
            return self.hardness_words(ruling.degrees, ruling.seconds)
        heat = self.heat
        if heat is None or heat.as_quenched is None:
            return "its hardness as quenched"
        return told("about {value}", value=hrc(heat.as_quenched.value))

    def hold(self, index: int, step: HeatStep) -> Input:
        """Return the time at heat: the maker's, else by the section."""
        if step.time is not None:
            return Input(step.time, "s", f"spec:heat.{index}.time", "read")
        least = value(TABLE, "temper-least") * 60
        by_section = value(TABLE, "temper-usual") * 60 * self.section / 25.4
        rule = constant(TABLE, "temper-usual")
        return Input(max(least, by_section), "s", rule.origin, rule.evidence)

    def tell(self, text: str, kind: str, source: str) -> None:
        """Add a line to the order of work."""
        self.sheet.steps.append(Step(text, kind, source))


def record_once(t: Treatment, id: str, at: Input, said: str, basis: Basis, kind: Evidence) -> None:
    """Record the temperature of a step, unless an earlier step of the kind has one."""
    if id in t.sheet:
        return
    t.sheet.add(
        id,
        float(at.value),
        formula="T",
        inputs={"T": at},
        source=said,
        basis=basis,
        evidence=kind,
    )
