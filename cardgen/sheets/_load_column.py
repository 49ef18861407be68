"""When a pushed screw gives way sideways."""

from __future__ import annotations

from cardgen.core.figure import Input, Sheet
from cardgen.core.rounding import with_unit
from cardgen.core.words import told
from cardgen.rules import buckling
from cardgen.sheets._constants import constant, value
from cardgen.sheets._load_strength import core
from cardgen.spec.job import Job

_TABLE = "load/constants"
_HELD = {"free": "one end free", "pinned": "both ends pivoted", "fixed": "both ends fixed"}


def record_buckling(job: Job, sheet: Sheet) -> None:
    """Record the load at which the screw buckles, held as the job says."""
    duty, material, inner = job.duty, job.work.material, core(sheet)
    assert duty is not None  # noqa: S101  (looked at before)
    length = job.thread.length if duty.free_length is None else duty.free_length
    modulus, yield_ = material.modulus, material.yield_
    d, ends = float(inner.value), duty.ends
    loads = {
        end: buckling.buckling_load(
            d, length, value(_TABLE, f"end-{end}"), modulus.value, yield_.value
        )
        for end in _HELD
    }
    slender = buckling.slenderness(length, d) > buckling.limit_slenderness(
        value(_TABLE, f"end-{ends}"), modulus.value, yield_.value
    )
    key = "spec:thread.length" if duty.free_length is None else "spec:duty.free-length"
    inputs = {
        "C": constant(_TABLE, f"end-{ends}"),
        "E": Input(modulus.value, "MPa", "material:modulus", modulus.evidence),
        "d3": inner,
        "l": Input(length, "mm", key, "read"),
    }
    if not slender:
        inputs["S"] = Input(yield_.value, "MPa", "material:yield", yield_.evidence)
    least = loads["free"]
    sheet.add(
        "load.buckling_load",
        loads[ends],
        low=least,
        high=loads["fixed"],
        formula="C pi^2 E (pi d3^2 / 4) / (4 l / d3)^2"
        if slender
        else "(pi d3^2 / 4) (S - (S 4 l / (2 pi d3))^2 / (C E))",
        inputs=inputs,
        source=f"Shigley's Mechanical Engineering Design 9th ed., ch. 4 "
        f"({'Euler' if slender else 'J. B. Johnson'})",
        basis="handbook",
        note=told(
            "{length} mm unsupported, {held}; limits: {least}, {most}",
            length=f"{length:g}",
            held=_HELD[ends],
            least=_HELD["free"],
            most=_HELD["fixed"],
        ),
    )
    load, margin = sheet.number("load.load"), value(_TABLE, "buckling-margin")
    if load >= loads[ends]:
        sheet.refuse(
            "load.buckles",
            told(
                "{length} mm of this screw buckles at {least} and is to carry {load}. A "
                "third of that load, a shorter screw or a thicker core would be safe.",
                length=f"{length:g}",
                least=with_unit(loads[ends], "N", 0, "down"),
                load=with_unit(load, "N", 0),
            ),
        )
    elif load * margin > loads[ends]:
        sheet.warn(
            "load.buckling_near",
            told(
                "{length} mm of this screw, {held}, buckles at {least}, less than "
                "{margin} times the load of {load}: guide it, or take a shorter or thicker "
                "screw.",
                length=f"{length:g}",
                held=_HELD[ends],
                least=with_unit(loads[ends], "N", 0, "down"),
                margin=f"{margin:g}",
                load=with_unit(load, "N", 0),
            ),
        )
    elif load * margin > least and ends != "free":
        sheet.warn(
            "load.buckling_near",
            told(
                "With a free end {length} mm of this screw buckles at {least}, less than "
                "{margin} times the load of {load}: guide its end.",
                length=f"{length:g}",
                least=with_unit(least, "N", 0, "down"),
                margin=f"{margin:g}",
                load=with_unit(load, "N", 0),
            ),
        )
