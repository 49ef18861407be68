"""What the load does to the metal: stress in the core, in the thread and in the nut."""

from __future__ import annotations

from collections.abc import Mapping
from math import hypot, pi

from cardgen import library
from cardgen.core.figure import Input, Sheet
from cardgen.core.rounding import with_unit
from cardgen.core.words import told
from cardgen.rules import screw
from cardgen.sheets._constants import constant, evidence, source, value
from cardgen.spec.job import Job
from cardgen.spec.substance import Material

_TABLE = "load/constants"


def family(material: Material | None) -> str:
    """Return the family in which friction is tabled; empty for an unknown or untabled material."""
    if material is None:
        return ""
    rows = library.table("load/families")
    return next((row["family"] for row in rows if row["group"] == material.group), "")


def core(sheet: Sheet) -> Input:
    """Return the core diameter: the smallest that the thread's class allows, where it is known."""
    figure = sheet["thread.minor_diameter"]
    return sheet.ref("thread.minor_diameter") if figure.low is None else sheet.low(figure.id)


def record_core(job: Job, sheet: Sheet) -> None:
    """Record the stress in the core from load and torque together."""
    if "load.torque_raise" not in sheet:
        return
    inner, torque = core(sheet), sheet["load.torque_raise"]
    load, d = sheet.number("load.load"), float(inner.value)
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
            "d3": inner,
            "T": sheet.ref("load.torque_raise"),
        },
        source="Shigley's Mechanical Engineering Design 9th ed., ch. 5 and 8 (distortion energy)",
        basis="handbook",
        note="axial load and thread torque together, in the core",
    )
    judge(
        sheet,
        "load.core_stress",
        job.work.material.yield_.value,
        told("the yield strength of {title}", title=job.work.material.title),
        high,
    )


def judge(sheet: Sheet, id: str, limit: float, of: str, worst: float) -> None:
    """Refuse a stress at or above what the material bears; warn where the margin is thin."""
    stress, margin = sheet.number(id), value(_TABLE, "stress-margin")
    label, load = sheet[id].name.label, sheet.number("load.load")
    mild = load * limit / margin / worst
    help_ = told(
        "Within half of that the screw carries {mild}.", mild=with_unit(mild, "N", 0, "down")
    )
    if stress >= limit:
        sheet.refuse(
            f"{id}_too_high",
            told(
                "{label} is {stress} MPa and {of} is {limit} MPa. {help} Take a larger "
                "screw, a longer nut or a stronger metal.",
                label=label,
                stress=f"{stress:.0f}",
                of=of,
                limit=f"{limit:.0f}",
                help=help_,
            ),
        )
    elif worst * margin > limit:
        sheet.warn(
            f"{id}_high",
            told(
                "{label} reaches {worst} MPa of {limit} MPa, {of}. {help}",
                label=label,
                worst=f"{worst:.0f}",
                limit=f"{limit:.0f}",
                of=of,
                help=help_,
            ),
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
    """Record shear, bending and pressure in the thread of screw and nut."""
    turns = _turns(job, sheet)
    if not turns:
        sheet.warn(
            "load.no_nut_length",
            "Shear, bending and bearing pressure of the thread are not worked out: state "
            "mate.length.",
        )
        return
    count = float(turns["l"].value) / float(turns["P"].value)
    _record_ridges(job, sheet, turns, count)
    if "thread.engagement" in sheet and sheet.number("thread.engagement") > 0:
        _record_pressure(job, sheet, turns, count)


def _record_ridges(job: Job, sheet: Sheet, turns: dict[str, Input], count: float) -> None:
    """Record shear and bending where the ridges of screw and nut join their bodies."""
    share = constant(_TABLE, "first-turn")
    sheet.add(
        "load.first_share",
        max(float(share.value), 1 / count),
        formula="max(s, P / l)",
        inputs={"s": share, **turns},
        source=source(_TABLE, "first-turn"),
        basis="handbook",
    )
    nut = None if job.mate is None else job.mate.material
    _record_ridge(sheet, "thread", core(sheet), "thread.root_flat", job.work.material, turns)
    if nut is not None and "thread.major_diameter" in sheet:
        outer = sheet.ref("thread.major_diameter")
        _record_ridge(sheet, "nut", outer, "thread.crest_flat", nut, turns)
    if "load.thread_bending" in sheet and "load.torque_raise" in sheet:
        _record_root(job, sheet, count)


def _record_ridge(
    sheet: Sheet,
    part: str,
    body: Input,
    flat: str,
    material: Material,
    turns: dict[str, Input],
) -> None:
    """Record shear and bending of one part's ridge; nothing where a round form has no flat."""
    if flat not in sheet or sheet.number("thread.pitch") <= sheet.number(flat):
        return
    load, d = sheet.number("load.load"), float(body.value)
    count = float(turns["l"].value) / float(turns["P"].value)
    thick = sheet.number("thread.pitch") - sheet.number(flat)
    common = {"F": sheet.ref("load.load"), "d": body, "w": sheet.ref(flat), **turns}
    mean = "mean over the nut; the first turns carry most of it"
    yields = material.yield_.value
    shear = screw.thread_shear(load, d, thick, count)
    sheet.add(
        f"load.{part}_shear",
        shear,
        formula="F P / (pi d (P - w) l)",
        inputs=common,
        source="Mott, Machine Elements in Mechanical Design 4th ed., ch. 17 (mean shear)",
        basis="handbook",
        note=mean,
    )
    sheared = value(_TABLE, "shear-yield") * yields
    judge(
        sheet,
        f"load.{part}_shear",
        sheared,
        told("the shear yield of {title}", title=material.title),
        shear,
    )
    arm = abs(sheet.number("thread.pitch_diameter") - d) / 2
    bending = screw.thread_bending(load, d, arm, thick, count)
    sheet.add(
        f"load.{part}_bending",
        bending,
        formula="3 F abs(d2 - d) P / (pi d (P - w)^2 l)",
        inputs={**common, "d2": sheet.ref("thread.pitch_diameter")},
        source="Shigley's Mechanical Engineering Design 9th ed., eq. 8-11, for this thread's depth",
        basis="handbook",
        note=mean,
    )
    judge(
        sheet,
        f"load.{part}_bending",
        yields,
        told("the yield strength of {title}", title=material.title),
        bending,
    )


def _record_root(job: Job, sheet: Sheet, count: float) -> None:
    """Record the stress at the root of the turn that carries most."""
    inner = core(sheet)
    d, load = float(inner.value), sheet.number("load.load")
    bending = sheet.number("load.thread_bending") * sheet.number("load.first_share") * count
    axial = 4 * load / (pi * d**2)
    shear = 16000 * sheet.number("load.torque_raise") / (pi * d**3)
    stress = screw.root_stress(bending, axial, shear)
    turns = sheet["load.thread_bending"].inputs
    sheet.add(
        "load.root_stress",
        stress,
        formula="sqrt((sb s l / P)^2 + (sb s l / P) 4 F / (pi d^2) + (4 F / (pi d^2))^2 "
        "+ 3 (16000 T / (pi d^3))^2)",
        inputs={
            "sb": sheet.ref("load.thread_bending"),
            "s": sheet.ref("load.first_share"),
            "l": turns["l"],
            "P": turns["P"],
            "F": sheet.ref("load.load"),
            "d": inner,
            "T": sheet.ref("load.torque_raise"),
        },
        source="Shigley's Mechanical Engineering Design 9th ed. p. 419 and eq. 5-14",
        basis="handbook",
        note="bending, axial load and torque together; above the yield strength the first turn "
        "gives a little and the next ones take more",
    )
    yields = job.work.material.yield_.value
    if stress >= yields:
        sheet.warn(
            "load.first_turn_yields",
            told(
                "The root of the first turn reaches {stress} MPa of {yields} MPa: it will "
                "give a little at the first full load. Look at the nut's mouth after that, "
                "or keep to {mild}.",
                stress=f"{stress:.0f}",
                yields=f"{yields:.0f}",
                mild=with_unit(load * yields / stress, "N", 0, "down"),
            ),
        )


def _record_pressure(job: Job, sheet: Sheet, turns: dict[str, Input], count: float) -> None:
    """Record the mean pressure between the flanks, and what is usual for the pair."""
    pressure = screw.bearing_pressure(
        sheet.number("load.load"),
        sheet.number("thread.pitch_diameter"),
        sheet.number("thread.engagement"),
        count,
    )
    sheet.add(
        "load.bearing_pressure",
        pressure,
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
    row = _usual(job, sheet)
    if row is None:
        return
    low, high = float(row["low"]), float(row["high"])
    origin = f"table:load/bearing_pressure {row['screw']} {row['nut']}"
    sheet.add(
        "load.bearing_allowed",
        high,
        formula="p",
        inputs={"p": Input(high, "MPa", origin, "memory")},
        source=row["source"],
        basis="handbook",
        evidence=evidence(row["evidence"]),
        note=told(
            "{low} to {high} MPa for {use}", low=f"{low:g}", high=f"{high:g}", use=row["use"]
        ),
    )
    if pressure > high:
        longer = float(turns["l"].value) * pressure / high
        sheet.warn(
            "load.bearing_pressure_high",
            told(
                "The flanks bear {pressure} MPa; {low} to {high} MPa is usual for {use} "
                "(from memory). A nut of {longer} comes within it.",
                pressure=f"{pressure:.1f}",
                low=f"{low:g}",
                high=f"{high:g}",
                use=row["use"],
                longer=with_unit(longer, "mm", 0, "up"),
            ),
        )


def _usual(job: Job, sheet: Sheet) -> Mapping[str, str] | None:
    """Return the row of usual pressures for this pair at this speed, if there is one.

    Without a stated speed the screw is taken to be turned slowly by hand.
    """
    assert job.duty is not None  # noqa: S101  (looked at before)
    pair = family(job.work.material), family(None if job.mate is None else job.mate.material)
    rows = [
        row for row in library.table("load/bearing_pressure") if (row["screw"], row["nut"]) == pair
    ]
    turns = job.duty.turns
    if turns is None:
        return next((row for row in rows if not row["speed_high"]), None)
    diameter, lead = sheet.ref("thread.pitch_diameter"), sheet.ref("thread.lead")
    speed = turns * hypot(pi * float(diameter.value), float(lead.value)) / 1000
    sheet.add(
        "load.rubbing_speed",
        speed,
        formula="n sqrt((pi d2)^2 + L^2) / 1000",
        inputs={"n": Input(turns, "1/min", "spec:duty.turns", "read"), "d2": diameter, "L": lead},
        source="geometry of the helix",
        basis="computed",
    )
    ranged = [row for row in rows if row["speed_high"]]
    return next((row for row in ranged if speed < float(row["speed_high"])), None)
