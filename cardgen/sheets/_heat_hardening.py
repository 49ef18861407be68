"""The quench: from which heat, how long a soak, in what, how hard, and through how much steel."""

from __future__ import annotations

from math import floor

from cardgen.core.figure import Input
from cardgen.core.words import sentence, told
from cardgen.rules import heat
from cardgen.sheets._constants import constant, source, value
from cardgen.sheets._heat_conflict import spoils
from cardgen.sheets._heat_depth import (
    as_quenched,
    medium,
    published_limit,
    record_depth,
    record_hardness,
)
from cardgen.sheets._heat_glow import glow, glow_source
from cardgen.sheets._heat_soak import record_heating
from cardgen.sheets._heat_treatment import (
    TABLE,
    Treatment,
    degrees,
    duration,
    hrc,
    material_input,
    sentences,
)
from cardgen.spec.job import HeatStep
from cardgen.spec.substance import Heat, Sourced


def harden(t: Treatment, index: int, step: HeatStep) -> None:
    """Work out one quench."""
    steel = t.heat
    if steel is None or steel.harden is None:
        t.sheet.refuse(
            "heat.not_hardenable",
            sentences(
                told("{title} does not harden by quenching.", title=t.title),
                t.job.work.material.heat_note,
                "Take a steel that does, such as c45 or 42crmo4, or leave the harden step out.",
            ),
        )
        return
    at = _temperature(t, index, step, steel.harden)
    if at is None:
        return
    t.hardened, t.asked, t.warmths = True, step.hardness, []
    t.quench = step.quench or steel.quench
    spoils(t, step, float(at.value))
    _record_quench(t, steel, steel.harden, at, step.furnace or "muffle")
    _check_bath(t, steel)
    _check_section(t, steel)
    _check_hardness(t, steel, step)
    _tell(t, steel, float(at.value))


def _temperature(t: Treatment, index: int, step: HeatStep, published: Sourced) -> Input | None:
    if step.temperature is None:
        return material_input(published, "degC", "heat.harden")
    asked, sheet = step.temperature, t.sheet
    low = published.value if published.low is None else published.low
    high = published.value if published.high is None else published.high
    if "heat.a1" in sheet and asked <= sheet.number("heat.a1"):
        sheet.refuse(
            "heat.too_cold_to_harden",
            told(
                "{title} cannot harden from {asked}: it must be above Ac1, {a1}. Harden "
                "from {published}.",
                title=t.title,
                asked=degrees(asked),
                a1=degrees(sheet.number("heat.a1")),
                published=degrees(published.value),
            ),
        )
        return None
    if asked < low:
        sheet.warn(
            "heat.cool_hardening",
            told(
                "Hardening from {asked} is below the published {low} to {high}: soft spots.",
                asked=degrees(asked),
                low=degrees(low),
                high=degrees(high),
            ),
        )
    if asked > high + value(TABLE, "grain-margin"):
        sheet.warn(
            "heat.coarse_grain",
            told(
                "Hardening from {asked} is well above the published {low} to {high}: coarse, "
                "brittle grain and quench cracks.",
                asked=degrees(asked),
                low=degrees(low),
                high=degrees(high),
            ),
        )
    return Input(asked, "degC", f"spec:heat.{index}.temperature", "read")


def _record_quench(t: Treatment, steel: Heat, published: Sourced, at: Input, furnace: str) -> None:
    sheet = t.sheet
    own = at.origin.startswith("spec:")
    temperature = float(at.value)
    sheet.add(
        "heat.harden_temperature",
        temperature,
        low=None if own else published.low,
        high=None if own else published.high,
        formula="T",
        inputs={"T": at},
        source="the job" if own else published.source,
        basis="data",
        evidence="read" if own else published.evidence,
    )
    name = glow(temperature)
    if name:
        sheet.add(
            "heat.harden_colour",
            name,
            inputs={"T": sheet.ref("heat.harden_temperature")},
            source=glow_source(),
            basis="data",
            evidence="read",
            note="books differ by 100 °C in the names of glow colours; judge in shade",
        )
    record_heating(t, temperature, furnace)
    usual = t.quench == steel.quench
    sheet.add(
        "heat.quench",
        t.quench,
        source=steel.quench_source if usual else "the job",
        basis="data",
        evidence="read",
        note="" if usual else told("the steel's data say {quench}", quench=steel.quench),
    )
    record_depth(t, steel)
    reached = as_quenched(t)
    if reached is not None:
        record_hardness(t, reached)
    _record_austenite(t)


def _record_austenite(t: Treatment) -> None:
    sheet = t.sheet
    if "heat.ms" not in sheet:
        return
    cold = value(TABLE, "quench-temperature")
    left = heat.retained_austenite(
        sheet.number("heat.ms"), cold, value(TABLE, "koistinen-marburger")
    )
    sheet.add(
        "heat.retained_austenite",
        left,
        formula="exp(-k (Ms - T))",
        inputs={
            "k": constant(TABLE, "koistinen-marburger"),
            "Ms": sheet.ref("heat.ms"),
            "T": constant(TABLE, "quench-temperature"),
        },
        source=source(TABLE, "koistinen-marburger"),
        basis="handbook",
    )
    if left > value(TABLE, "austenite-warning"):
        sheet.warn(
            "heat.retained_austenite",
            told(
                "The quench leaves about {share} % austenite: the part may grow and crack "
                "later. Cool it to hand warm and temper at once.",
                share=f"{100 * left:.0f}",
            ),
        )


def _check_bath(t: Treatment, steel: Heat) -> None:
    """Say what comes of another bath than the steel's own."""
    own, asked = (float(medium(name)["severity"]) for name in (steel.quench, t.quench))
    if asked > own:
        t.sheet.warn(
            "heat.fierce_quench",
            sentence(
                told(
                    "{bath} quenches {title} harder than the {own} that its data name: "
                    "it may crack and warp. Use it for plain, even sections only",
                    bath=t.quench,
                    title=t.title,
                    own=steel.quench,
                )
            ),
        )
    elif asked < own:
        t.sheet.warn(
            "heat.mild_quench",
            sentence(
                told(
                    "{bath} quenches {title} more mildly than the {own} that its data "
                    "name: it may stay soft. Try a piece with a file",
                    bath=t.quench,
                    title=t.title,
                    own=steel.quench,
                )
            ),
        )


def _check_section(t: Treatment, steel: Heat) -> None:
    sheet = t.sheet
    if "heat.section_limit" not in sheet:
        return
    section, limit = sheet.number("heat.section"), sheet["heat.section_limit"]
    through, end = limit.number, limit.number if limit.high is None else limit.high
    if section <= through:
        return
    said = told(
        "{quench} hardens {title} through to {through} mm",
        quench=t.quench,
        title=t.title,
        through=floor(through),
    )
    if published_limit(t, steel) is not None:
        if section > end:
            if end > through:
                said = told("{said}, and the skin up to {end} mm", said=said, end=f"{end:g}")
            _refuse_section(t, section, said)
        else:
            sheet.warn(
                "heat.hard_skin",
                sentence(
                    told(
                        "{said}; of {section} mm only a skin is hard, the core stays soft and "
                        "tough",
                        said=said,
                        section=f"{section:.1f}",
                    )
                ),
            )
    elif section > max(end, sheet.number("heat.ideal_diameter")):
        _refuse_section(
            t,
            section,
            told("{said}, and to {end} mm if it is well stirred", said=said, end=floor(end)),
        )
    else:
        sheet.warn(
            "heat.hard_skin",
            sentence(
                told(
                    "{said} in a still bath and to {end} mm in one that is well stirred: "
                    "the core of {section} mm may stay soft and tough",
                    said=said,
                    end=floor(end),
                    section=f"{section:.1f}",
                )
            ),
        )


def _refuse_section(t: Treatment, section: float, said: str) -> None:
    t.sheet.refuse(
        "heat.section_too_thick",
        told(
            "The section of {section} mm is too thick: {said}. Take a steel that hardens "
            "deeper, such as 42crmo4, s7 or o1, or use the part as supplied.",
            section=f"{section:.1f}",
            said=said,
        ),
    )


def _check_hardness(t: Treatment, steel: Heat, step: HeatStep) -> None:
    reached = as_quenched(t)
    if step.hardness is None or reached is None:
        return
    scatter = value(TABLE, "hardness-scatter")
    computed = steel.as_quenched is None
    top = reached.value + scatter if computed else reached.high or reached.value
    if step.hardness > top:
        t.sheet.refuse(
            "heat.hardness_not_reached",
            told(
                "{hardness} is asked; {title} quenched in {quench} reaches {reached} at "
                "best. Ask for less, or take a steel with more carbon, such as o1 or w1.",
                hardness=hrc(step.hardness),
                title=t.title,
                quench=t.quench,
                reached=_range(reached),
            ),
        )
    elif step.hardness > reached.value:
        t.sheet.warn(
            "heat.hardness_at_best",
            told(
                "{hardness} is at the top of what {title} reaches as quenched, {reached}.",
                hardness=hrc(step.hardness),
                title=t.title,
                reached=_range(reached),
            ),
        )


def _range(reached: Sourced) -> str:
    if reached.low is None or reached.high is None:
        return hrc(reached.value)
    return told("{low} to {high}", low=f"{reached.low:g}", high=hrc(reached.high))


def _tell(t: Treatment, steel: Heat, temperature: float) -> None:
    sheet = t.sheet
    found = as_quenched(t)
    stir = {
        "air": "Cool in still air.",
        "oil": "Quench under the oil's surface and keep moving.",
        "water": "Quench upright in water at room temperature and keep moving.",
        "brine": "Quench upright in brine and keep moving.",
    }
    t.tell(
        sentences(
            told(
                "Harden {temperature}, {quench}.",
                temperature=degrees(temperature),
                quench=t.quench,
            ),
            sentence(glow(temperature)),
            told(
                "A furnace brings it to heat in about {warm}; soak {soak}.",
                warm=duration(sheet.number("heat.heating_time")),
                soak=duration(sheet.number("heat.soak")),
            ),
            stir[t.quench],
            "" if found is None else told("File-hard: {found}.", found=_range(found)),
            t.job.work.material.heat_note,
        ),
        "harden",
        steel.quench_source,
    )
