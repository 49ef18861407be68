"""What the load does to the metal: stress in the core, in the thread and nut, and buckling."""

from __future__ import annotations

from cardgen import library
from cardgen.core.figure import Input, Sheet
from cardgen.core.rounding import with_unit
from cardgen.rules import buckling, screw
from cardgen.sheets._constants import constant, value
from cardgen.spec.job import Job
from cardgen.spec.substance import Material

_TABLE = "load/constants"


def family(material: Material | None) -> str:
    """Return the family in which friction is tabled; empty for an unknown or untabled material."""
    if material is None:
        return ""
    rows = library.table("load/families")
    return next((row["family"] for row in rows if row["group"] == material.group), "")


def _core(sheet: Sheet) -> Input:
    """Return the core diameter: the smallest that the thread's class allows, where it is known."""
    figure = sheet["thread.minor_diameter"]
    return sheet.ref("thread.minor_diameter") if figure.low is None else sheet.low(figure.id)


def record_core(job: Job, sheet: Sheet) -> None:
    if "load.torque_raise" not in sheet:
        return
    core, torque = _core(sheet), sheet["load.torque_raise"]
    load, d = sheet.number("load.load"), float(core.value)
    assert torque.low is not None and torque.high is not None  # noqa: S101, PT018
    low, stress, high = (
        screw.combined_core_stress(load, each * 1000, d)
        for each in (torque.low, torque.number, torque.high)
    )
    sheet.add(
        "load.core_stress",
        stress,
        low=low,
        high=high,
        formula="sqrt((4 F / (pi d3^2))^2 + 3 (16000 T / (pi d3^3))^2)",
        inputs={
            "F": sheet.ref("load.load"),
            "d3": core,
            "T": sheet.ref("load.torque_raise"),
        },
        source="Shigley's Mechanical Engineering Design 9th ed., ch. 5 and 8 (distortion energy)",
        basis="handbook",
        note="axial load and thread torque together, in the core",
    )
    _judge(
        sheet,
        "load.core_stress",
        job.work.material.yield_.value,
        f"the yield strength of {job.work.material.title}",
        high,
    )


def _judge(sheet: Sheet, id: str, limit: float, of: str, worst: float) -> None:
    """Refuse a stress at or above what the material bears; warn where the margin is thin."""
    stress, margin = sheet.number(id), value(_TABLE, "stress-margin")
    label, load = sheet[id].name.label, sheet.number("load.load")
    mild = load * limit / margin / worst
    help_ = f"Within half of that the screw carries {with_unit(mild, 'N', 0, 'down')}."
    if stress >= limit:
        sheet.refuse(
            f"{id}_too_high",
            f"{label} is {stress:.0f} MPa and {of} is {limit:.0f} MPa. {help_} Take a larger "
            "screw, a longer nut or a stronger metal.",
        )
    elif worst * margin > limit:
        sheet.warn(
            f"{id}_high",
            f"{label} reaches {worst:.0f} MPa of {limit:.0f} MPa, {of}. {help_}",
        )


def _turns(job: Job, sheet: Sheet) -> dict[str, Input]:
    """Return nut length and pitch, whose quotient is the ridges in engagement; empty if unknown."""
    if "mate.length" in sheet:
        length = sheet.ref("mate.length")
    elif job.mate is not None and job.mate.length is not None:
        length = Input(job.mate.length, "mm", "spec:mate.length", "read")
    else:
        return {}
    return {"l": length, "P": sheet.ref("thread.pitch")}


def record_thread(job: Job, sheet: Sheet) -> None:
    if job.mate is not None and job.mate.kind == "rack":
        sheet.warn(
            "load.rack",
            "The pressure on a rack's teeth is not worked out: straight teeth touch the screw along"
            " a line each, not all round as a nut does. Keep the load far below a nut's.",
        )
        return
    turns = _turns(job, sheet)
    if not turns:
        sheet.warn(
            "load.no_nut_length",
            "Shear and bearing pressure of the thread are not worked out: state mate.length.",
        )
        return
    count = float(turns["l"].value) / float(turns["P"].value)
    load = sheet.number("load.load")
    _record_shear(job, sheet, turns, count)
    if "thread.engagement" in sheet and sheet.number("thread.engagement") > 0:
        sheet.add(
            "load.bearing_pressure",
            screw.bearing_pressure(
                load,
                sheet.number("thread.pitch_diameter"),
                sheet.number("thread.engagement"),
                count,
            ),
            formula="F P / (pi d2 H1 l)",
            inputs={
                "F": sheet.ref("load.load"),
                "d2": sheet.ref("thread.pitch_diameter"),
                "H1": sheet.ref("thread.engagement"),
                **turns,
            },
            source="Shigley's Mechanical Engineering Design 9th ed., ch. 8 (bearing stress)",
            basis="handbook",
            note="mean over the nut; the first turns carry most of it",
        )
        _check_bearing(job, sheet)


def _record_shear(job: Job, sheet: Sheet, turns: dict[str, Input], count: float) -> None:
    load, share = sheet.number("load.load"), value(_TABLE, "shear-yield")
    said = "Mott, Machine Elements in Mechanical Design 4th ed., ch. 17 (mean shear)"
    pitch = sheet.number("thread.pitch")
    sides = (
        ("load.thread_shear", _core(sheet), "thread.root_flat", job.work.material),
        (
            "load.nut_shear",
            sheet.ref("thread.major_diameter") if "thread.major_diameter" in sheet else None,
            "thread.crest_flat",
            None if job.mate is None else job.mate.material,
        ),
    )
    for id, diameter, flat, material in sides:
        if diameter is None or material is None or flat not in sheet:
            continue
        thick = pitch - sheet.number(flat)
        if thick <= 0:
            continue
        shear = screw.thread_shear(load, float(diameter.value), thick, count)
        sheet.add(
            id,
            shear,
            formula="F P / (pi d (P - w) l)",
            inputs={"F": sheet.ref("load.load"), "d": diameter, "w": sheet.ref(flat), **turns},
            source=said,
            basis="handbook",
            note="mean over the nut; the first turns carry most of it",
        )
        _judge(
            sheet,
            id,
            share * material.yield_.value,
            f"the shear yield of {material.title}",
            shear,
        )


def _check_bearing(job: Job, sheet: Sheet) -> None:
    screw_, nut = (
        family(job.work.material),
        family(None if job.mate is None else job.mate.material),
    )
    pressure = sheet.number("load.bearing_pressure")
    for row in library.table("load/bearing_pressure"):
        if row["screw"] == screw_ and row["nut"] == nut and pressure > float(row["high"]):
            longer = float(sheet["load.bearing_pressure"].inputs["l"].value) * pressure
            sheet.warn(
                "load.bearing_pressure_high",
                f"The flanks bear {pressure:.1f} MPa; {float(row['low']):g} to "
                f"{float(row['high']):g} MPa is usual for {row['use']} (from memory). A nut of "
                f"{with_unit(longer / float(row['high']), 'mm', 0, 'up')} comes within it.",
            )


# --- buckling ---------------------------------------------------------------------------------


def record_buckling(job: Job, sheet: Sheet) -> None:
    core, length, material = _core(sheet), job.thread.length, job.work.material
    modulus, yield_ = material.modulus, material.yield_
    d = float(core.value)
    loads = {
        end: buckling.buckling_load(
            d, length, value(_TABLE, f"end-{end}"), modulus.value, yield_.value
        )
        for end in ("free", "pinned", "fixed")
    }
    slender = buckling.slenderness(length, d) > buckling.limit_slenderness(
        value(_TABLE, "end-pinned"), modulus.value, yield_.value
    )
    inputs = {
        "C": constant(_TABLE, "end-pinned"),
        "E": Input(modulus.value, "MPa", "material:modulus", modulus.evidence),
        "d3": core,
        "l": Input(length, "mm", "spec:thread.length", "read"),
    }
    if not slender:
        inputs["S"] = Input(yield_.value, "MPa", "material:yield", yield_.evidence)
    sheet.add(
        "load.buckling_load",
        loads["pinned"],
        low=loads["free"],
        high=loads["fixed"],
        formula="C pi^2 E (pi d3^2 / 4) / (4 l / d3)^2"
        if slender
        else "(pi d3^2 / 4) (S - (S 4 l / (2 pi d3))^2 / (C E))",
        inputs=inputs,
        source=f"Shigley's Mechanical Engineering Design 9th ed., ch. 4 "
        f"({'Euler' if slender else 'J. B. Johnson'})",
        basis="handbook",
        note="whole thread unsupported, both ends pivoted; limits: one end free, both ends fixed",
    )
    load, margin = sheet.number("load.load"), value(_TABLE, "buckling-margin")
    if load >= loads["pinned"]:
        sheet.refuse(
            "load.buckles",
            f"{length:g} mm of this screw buckles at {with_unit(loads['pinned'], 'N', 0, 'down')}"
            f" and is to carry {with_unit(load, 'N', 0)}. A third of that load, a shorter screw "
            "or a thicker core would be safe.",
        )
    elif load * margin > loads["free"]:
        sheet.warn(
            "load.buckling_near",
            f"With a free end {length:g} mm of this screw buckles at "
            f"{with_unit(loads['free'], 'N', 0, 'down')}, less than {margin:g} times the load of "
            f"{with_unit(load, 'N', 0)}: guide its end"
            + (
                "."
                if load * margin <= loads["pinned"]
                else f"; even guided it is {with_unit(loads['pinned'], 'N', 0, 'down')}."
            ),
        )
