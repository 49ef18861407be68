"""Heat treatment: the order of the heats, what each needs, and where one undoes another.

The steps are walked in the order of the job. The part carries along whether it is hard and which
heats below red it has had; a heat hotter than the temper of a hard part is refused, with what it
would leave of the hardness.
"""

from __future__ import annotations

from cardgen import library
from cardgen.core.figure import Input, Sheet
from cardgen.sheets._constants import constant, evidence, source, value
from cardgen.sheets._heat_hardening import glow, glow_chart, harden, steel_note
from cardgen.sheets._heat_steel import record_critical, record_section
from cardgen.sheets._heat_tempering import chart, record_final, record_temper, temper
from cardgen.sheets._heat_treatment import TABLE, Treatment, Warmth, degrees, duration
from cardgen.spec.job import HeatStep, Job

_COLDEST, _SHORTEST = "room", 1.0
_FERROUS = ("carbon-steel", "alloy-steel", "tool-steel", "free-cutting-steel", "cast-iron")


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
    if "heat.harden_temperature" in sheet:
        glow_chart(t)
    if "heat.temper_temperature" in sheet:
        chart(t)


def _possible(t: Treatment, step: HeatStep) -> bool:
    """Refuse a heat that no part of this material, or no part at all, can be given."""
    if step.time is not None and step.time < _SHORTEST:
        t.sheet.refuse("heat.no_time", f"A {step.step} step of less than 1 s is no heat.")
        return False
    if step.temperature is None:
        return True
    if step.temperature <= value(TABLE, _COLDEST):
        t.sheet.refuse(
            "heat.no_heat",
            f"A {step.step} step at {degrees(step.temperature)} is not above room temperature.",
        )
        return False
    group = t.job.work.material.group
    row = next((r for r in library.table("heat/group_limits") if r["group"] == group), None)
    if row is not None and step.temperature >= float(row["limit"]):
        t.sheet.refuse(
            "heat.too_hot_for_material",
            f"{t.title} cannot be heated to {degrees(step.temperature)}: from "
            f"{degrees(float(row['limit']))} {row['reason']}.",
        )
        return False
    return True


def _normalise(t: Treatment, index: int, step: HeatStep) -> None:
    known = None if t.heat is None else t.heat.normalise
    if step.temperature is None and known is None:
        remark = t.job.work.material.heat_note
        t.sheet.refuse(
            "heat.no_normalising",
            f"No normalising temperature is published for {t.title}. {remark} "
            "State the temperature, or leave the step out.".replace("  ", " "),
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
    _record_once(t, "heat.normalise_temperature", at, said, "data" if known else "practice", kind)
    name = glow(temperature)
    t.tell(
        f"Normalise {degrees(temperature)}. {name.capitalize() + '. ' if name else ''}"
        "Soak it even, then cool in still, dry air, off cold metal.",
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
    if _undoes(t, index, step, temperature):
        return
    time = t.hold(index, step)
    if t.hardened:
        t.warmths.append(Warmth("stress-relieve", at, time))
    _record_once(t, "heat.stress_relieve_temperature", at, said, "practice", at.evidence)
    t.tell(
        f"Stress-relieve {degrees(temperature)}, {duration(float(time.value))}. "
        "Rough-turn first; cool slowly, in the furnace or in dry ash.",
        "stress-relieve",
        said,
    )


def _blacken(t: Treatment, index: int, step: HeatStep) -> None:
    if t.job.work.material.group not in _FERROUS:
        t.sheet.refuse(
            "heat.no_black",
            f"{t.title} takes no black oxide by heat; leave the blacken step out.",
        )
        return
    low, high = value(TABLE, "blacken-soft-low"), value(TABLE, "blacken-soft-high")
    scale = Input((low + high) / 2, "degC", "table:heat/constants blacken-soft-low", "practice")
    at = (
        scale
        if step.temperature is None
        else Input(step.temperature, "degC", f"spec:heat.{index}.temperature", "read")
    )
    temperature = float(at.value)
    said = source(TABLE, "blacken-soft-low")
    # Recorded even where it is refused: the hardness that it would leave must be explained.
    _record_once(t, "heat.blacken_temperature", at, said, "practice", "practice")
    if _undoes(t, index, step, temperature):
        return
    if t.hardened:
        t.warmths.append(Warmth("blacken", at, _hold(index, step)))
        left = f"It stays below the temper and leaves {t.hardness_now}."
    else:
        left = f"The part is used as it is cut, not hardened.{steel_note(t)}"
        if temperature >= low:
            left += " Scale grows on the flanks: run the nut over the thread afterwards."
    t.tell(
        f"Blacken {degrees(temperature)}. Degrease and polish first, heat evenly, oil or wax "
        f"while warm. {left}",
        "blacken",
        said,
    )


def _hold(index: int, step: HeatStep) -> Input:
    """Return how long a part is held when blackened: as the job says, else by practice [s]."""
    if step.time is not None:
        return Input(step.time, "s", f"spec:heat.{index}.time", "read")
    rule = constant(TABLE, "blacken-hold")
    return Input(float(rule.value) * 60, "s", rule.origin, rule.evidence)


def _undoes(t: Treatment, index: int, step: HeatStep, temperature: float) -> bool:
    """Refuse a heat that takes the hardness from a hard part; return whether it does.

    On a part that was quenched and never tempered every heat is its temper, and must be written
    as one.
    """
    if not t.hardened:
        return False
    ceiling = max((warmth.degrees for warmth in t.warmths), default=None)
    if ceiling is not None and temperature <= ceiling:
        return False
    hold = _hold(index, step) if step.step == "blacken" else t.hold(index, step)
    seconds = float(hold.value)
    verb = _VERBS[step.step]
    before = t.hardness_now
    after = _after(t, temperature, seconds)
    if ceiling is None:
        text = (
            f"{verb} at {degrees(temperature)} would be the first temper of the hardened part: "
            f"{before} becomes {after}. Write a temper step before it, at "
            f"{degrees(temperature)} or hotter if that hardness is wanted."
        )
    else:
        text = (
            f"{verb} at {degrees(temperature)} is hotter than the temper of "
            f"{degrees(ceiling)} and undoes it: {before} becomes {after}. {_mend(step, ceiling)}"
        )
    t.sheet.refuse(f"heat.{step.step.replace('-', '_')}_undoes_temper", text)
    if temperature < _a1(t):
        at = Input(temperature, "degC", f"spec:heat.{index}.temperature", "read")
        t.warmths.append(Warmth(step.step, at, hold))
    else:
        t.hardened = False
    return True


def _a1(t: Treatment) -> float:
    """Return Ac1 where it is known, else a temperature that no temper reaches [degC]."""
    return t.sheet.number("heat.a1") if "heat.a1" in t.sheet else value(TABLE, "blacken-soft-high")


def _after(t: Treatment, temperature: float, seconds: float) -> str:
    if temperature >= _a1(t):
        return "soft, for it is above the tempering range"
    return t.hardness_words(temperature, seconds)


def _mend(step: HeatStep, ceiling: float) -> str:
    if step.step == "blacken":
        return (
            f"Blacken at {degrees(ceiling)} or below, use a cold chemical black, or leave the "
            "part soft and blacken that."
        )
    return f"Stay at {degrees(ceiling)} or below, or relieve the stress before hardening."


_VERBS = {
    "blacken": "Blackening",
    "stress-relieve": "Stress-relieving",
}


def _record_once(t: Treatment, id: str, at: Input, said: str, basis: str, kind: str) -> None:
    if id in t.sheet:
        return
    t.sheet.add(
        id,
        float(at.value),
        formula="T",
        inputs={"T": at},
        source=said,
        basis="data" if basis == "data" else "practice",
        evidence=evidence(kind),
    )


_WORK = {
    "normalise": _normalise,
    "harden": harden,
    "temper": temper,
    "stress-relieve": _stress_relieve,
    "blacken": _blacken,
}
