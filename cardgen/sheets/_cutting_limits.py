"""What is known before a schedule: the material's law, the limits, the free length."""

from __future__ import annotations

from cardgen.core.figure import Input, Sheet
from cardgen.core.words import told
from cardgen.rules.holding import Work
from cardgen.sheets._cutting_safe import record_holding
from cardgen.sheets._cutting_tables import chip_thickness, practice, tool_strength
from cardgen.spec.job import Job


def limits(job: Job, sheet: Sheet) -> None:
    """Record what is known before a plan: the dial, the material's law and all limits."""
    dial = job.machine.cross_slide
    sheet.add(
        "setup.cross_division",
        dial.division,
        source="machine file",
        basis="data",
        evidence="read",
        note=told(
            "the dial reads {reads}, {divisions} divisions to the turn",
            reads=dial.reads,
            divisions=dial.divisions_per_turn,
        ),
    )
    material = job.work.material
    for id, value in (
        ("cutting.specific_force", material.cutting.kc11),
        ("cutting.exponent", material.cutting.mc),
    ):
        sheet.add(
            id,
            value.value,
            low=value.low,
            high=value.high,
            source=value.source,
            basis="data",
            evidence=value.evidence,
        )
    dig_in = practice("dig-in")
    sheet.add(
        "cutting.dig_in_factor",
        dig_in.value,
        source=dig_in.source,
        basis="practice",
        evidence=dig_in.evidence,
        note="the tool digs in, or the chip jams",
    )
    for id, entry in zip(
        ("cutting.bite_min", "cutting.bite_max"),
        chip_thickness(job.tool.material, material.group),
        strict=True,
    ):
        sheet.add(id, entry.value, source=entry.source, basis="practice", evidence=entry.evidence)
    _allowances(job, sheet)


def _allowances(job: Job, sheet: Sheet) -> None:
    most, share = practice("bend-most"), practice("bend-share")
    if "thread.pitch_tolerance" in sheet:
        sheet.add(
            "cutting.deflection_allowed",
            min(most.value, share.value * sheet.number("thread.pitch_tolerance")),
            formula="min(c, q T)",
            inputs={
                "c": most.input,
                "q": share.input,
                "T": sheet.ref("thread.pitch_tolerance"),
            },
            source=share.source,
            basis="practice",
            evidence="practice",
            note="it counts twice on the diameter: half the tolerance is left for the rest",
        )
    else:
        sheet.add(
            "cutting.deflection_allowed",
            most.value,
            source=most.source,
            basis="practice",
            evidence=most.evidence,
        )
    if sheet.internal:
        _bar_stress(sheet)
    else:
        _work_stress(job, sheet)
    bending, portion = tool_strength(job.tool.material)
    sheet.add(
        "cutting.tool_stress_allowed",
        bending.value * portion.value,
        formula="q s",
        inputs={"q": portion.input, "s": bending.input},
        source=bending.source,
        basis="practice",
        evidence=bending.evidence,
    )
    machine = job.machine
    full = {
        "P": Input(machine.power, "W", "machine:spindle.power", "read"),
        "e": Input(machine.efficiency, "", "machine:spindle.efficiency", "read"),
    }
    in_range = "setup.power" in sheet
    sheet.add(
        "cutting.power_allowed",
        sheet.number("setup.power") if in_range else machine.power * machine.efficiency,
        formula="Pn" if in_range else "P e",
        inputs={"Pn": sheet.ref("setup.power")} if in_range else full,
        source="definition of efficiency",
        basis="computed",
    )
    meant = practice("lathe-speed")
    sheet.add(
        "cutting.force_allowed",
        60 * machine.power * machine.efficiency / meant.value,
        formula="60 P e / v",
        inputs={**full, "v": meant.input},
        source=meant.source,
        basis="practice",
        evidence=meant.evidence,
        note="at threading speed the motor could force far more than slides and bed stand",
    )


def _work_stress(job: Job, sheet: Sheet) -> None:
    part, strength = practice("work-share"), job.work.material.yield_
    lowest = strength.value if strength.low is None else strength.low
    sheet.add(
        "cutting.work_stress_allowed",
        part.value * lowest,
        formula="q s",
        inputs={
            "q": part.input,
            "s": Input(lowest, "MPa", "material:yield", strength.evidence),
        },
        source=part.source,
        basis="practice",
        evidence="practice",
        note="lowest yield strength of the published range",
    )


def _bar_stress(sheet: Sheet) -> None:
    """Record what the boring bar may bear: of a nut it is the part that gives way."""
    part, strength = practice("work-share"), practice("bar-yield")
    sheet.add(
        "cutting.work_stress_allowed",
        part.value * strength.value,
        formula="q s",
        inputs={"q": part.input, "s": strength.input},
        source=f"{part.source}; {strength.source}",
        basis="practice",
        evidence=strength.evidence,
        note="a bar of heat-treated steel",
    )


def bar_length(sheet: Sheet) -> None:
    """Record the boring bar's free length."""
    sheet.add(
        "cutting.unsupported_length",
        sheet.number("tool.bar_overhang"),
        formula="Lb",
        inputs={"Lb": sheet.ref("tool.bar_overhang")},
        source="geometry",
        basis="computed",
        note="of the boring bar, from its holder to the point",
    )


def free_length(job: Job, sheet: Sheet, work: Work) -> None:
    """Record how the bar is held and its longest length without support."""
    record_holding(job, sheet, work)
    length = Input(work.stickout, "mm", "spec:work.stickout", "read")
    note = "a follow rest goes along with the tool" if work.rest == "follow" else ""
    if work.rest == "steady" and work.steady_at is not None:
        sheet.add(
            "cutting.unsupported_length",
            work.free_length,
            formula="max(l - t - g - w/2, t + g + w/2)",
            inputs={
                "l": length,
                "t": Input(work.thread, "mm", "spec:thread.length", "read"),
                "g": Input(work.groove, "mm", "spec:work.groove", "read"),
                "w": practice("steady-width").input,
            },
            source="geometry",
            basis="computed",
            note="steady rest on the plain part, beside the thread",
        )
        return
    sheet.add(
        "cutting.unsupported_length",
        work.free_length,
        formula="l",
        inputs={"l": length},
        source="geometry",
        basis="computed",
        note=note,
    )
