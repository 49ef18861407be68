"""Heat treatment: the order of the heats, what each needs, and where one undoes another.

The steps are walked in the order of the job. The part carries along whether it is hard and which
heats below red it has had; a heat hotter than the temper of a hard part is refused, with what it
would leave of the hardness.
"""

from __future__ import annotations

from cardgen import library
from cardgen.core.figure import Input, Sheet
from cardgen.core.words import sentence, told
from cardgen.sheets._constants import constant, evidence, source, value
from cardgen.sheets._heat_change import record_order
from cardgen.sheets._heat_conflict import spoils, undoes
from cardgen.sheets._heat_films import chart
from cardgen.sheets._heat_finish import finish, record_finish
from cardgen.sheets._heat_glow import glow, glow_chart
from cardgen.sheets._heat_hardening import harden
from cardgen.sheets._heat_steel import record_critical, record_section
from cardgen.sheets._heat_tempered import curve, record_final, record_temper
from cardgen.sheets._heat_tempering import temper
from cardgen.sheets._heat_treatment import (
    TABLE,
    Treatment,
    Warmth,
    degrees,
    duration,
    record_once,
    sentences,
)
from cardgen.spec.job import HeatStep, Job

_COLDEST, _SHORTEST = "room", 1.0


def work_out(job: Job, sheet: Sheet) -> None:
    """Record the heat treatment that the job asks for; nothing where it asks for none."""
    if not job.heat:
        return
    t = Treatment(job, sheet, section=job.work.stock)
    record_section(t)
    record_critical(t)
    # Counted as the spec's places are.
    for index, step in enumerate(job.heat, start=1):
        if _possible(t, step):
            _WORK[step.step](t, index, step)
    if t.hardened and not t.warmths:
        sheet.warn(
            "heat.untempered",
            "The part is left hard and untempered: it may crack on the bench or burst in use. "
            "Add a temper step.",
        )
    record_temper(t)
    record_final(t)
    record_order(t)
    record_finish(t)
    if "heat.harden_temperature" in sheet:
        glow_chart(t)
    chart(t)
    if "heat.temper_temperature" in sheet:
        curve(t)


def _possible(t: Treatment, step: HeatStep) -> bool:
    """Refuse a heat that no part of this material, or no part at all, can be given."""
    if step.time is not None and step.time < _SHORTEST:
        t.sheet.refuse(
            "heat.no_time", told("A {step} step of less than 1 s is no heat.", step=step.step)
        )
        return False
    if step.temperature is None:
        return True
    if step.temperature <= value(TABLE, _COLDEST):
        t.sheet.refuse(
            "heat.no_heat",
            told(
                "A {step} step at {temperature} is not above room temperature.",
                step=step.step,
                temperature=degrees(step.temperature),
            ),
        )
        return False
    group = t.job.work.material.group
    row = next((r for r in library.table("heat/group_limits") if r["group"] == group), None)
    if row is not None and step.temperature >= float(row["limit"]):
        t.sheet.refuse(
            "heat.too_hot_for_material",
            told(
                "{title} cannot be heated to {temperature}: from {limit} {reason}.",
                title=t.title,
                temperature=degrees(step.temperature),
                limit=degrees(float(row["limit"])),
                reason=row["reason"],
            ),
        )
        return False
    return True


def _normalise(t: Treatment, index: int, step: HeatStep) -> None:
    known = None if t.heat is None else t.heat.normalise
    if step.temperature is None and known is None:
        t.sheet.refuse(
            "heat.no_normalising",
            sentences(
                told("No normalising temperature is published for {title}.", title=t.title),
                t.job.work.material.heat_note,
                "State the temperature, or leave the step out.",
            ),
        )
        return
    if step.temperature is not None:
        at = Input(step.temperature, "degC", f"spec:heat.{index}.temperature", "read")
        said, kind = "the job", evidence("read")
    else:
        assert known is not None  # noqa: S101  (refused above)
        at = Input(known.value, "degC", "material:heat.normalise", known.evidence)
        said, kind = known.source, known.evidence
    temperature = float(at.value)
    spoils(t, step, temperature)
    record_once(t, "heat.normalise_temperature", at, said, "data" if known else "practice", kind)
    t.tell(
        sentences(
            told("Normalise {temperature}.", temperature=degrees(temperature)),
            sentence(glow(temperature)),
            "Soak it even, then cool in still, dry air, off cold metal.",
        ),
        "normalise",
        said,
    )


def _stress_relieve(t: Treatment, index: int, step: HeatStep) -> None:
    ruling = t.ruling
    if step.temperature is not None:
        at = Input(step.temperature, "degC", f"spec:heat.{index}.temperature", "read")
        said = "the job"
    elif t.hardened and ruling is not None:
        below = constant(TABLE, "stress-relieve-below-temper")
        at = Input(ruling.degrees - float(below.value), "degC", below.origin, below.evidence)
        said = source(TABLE, "stress-relieve-below-temper")
    else:
        at, said = constant(TABLE, "stress-relieve-soft"), source(TABLE, "stress-relieve-soft")
    temperature = float(at.value)
    time = t.hold(index, step)
    spoils(t, step, temperature)
    if undoes(t, index, step, temperature, time):
        return
    if t.hardened:
        t.warmths.append(Warmth("stress-relieve", at, time))
    record_once(t, "heat.stress_relieve_temperature", at, said, "practice", at.evidence)
    t.tell(
        told(
            "Stress-relieve {temperature}, {duration}. Rough-turn first; cool slowly, in "
            "the furnace or in dry ash.",
            temperature=degrees(temperature),
            duration=duration(float(time.value)),
        ),
        "stress-relieve",
        said,
    )


_WORK = {
    "normalise": _normalise,
    "harden": harden,
    "temper": temper,
    "stress-relieve": _stress_relieve,
    "blacken": finish,
    "oil-black": finish,
    "cold-blue": finish,
    "wax": finish,
}
