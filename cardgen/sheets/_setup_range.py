"""Which range the spindle runs in, and what power it has there."""

from __future__ import annotations

from cardgen.core.figure import Sheet
from cardgen.core.words import told
from cardgen.sheets._setup_words import given, setting
from cardgen.spec.job import Job


def record_range(job: Job, sheet: Sheet, speed: float) -> None:
    """Record the range of a chosen speed, for a machine that has several, and its power."""
    machine = job.machine
    own = machine.range_at(speed)
    if own is None:
        return
    written = f"machine:spindle.ranges.{own.name}"
    sheet.add(
        "setup.range",
        told("{name}, set freely", name=own.name) if own.variable else own.name,
        inputs={"n": setting(sheet, "setup.speed")},
        source="of the ranges that have the speed, the one that turns hardest",
        basis="data",
        evidence="read",
    )
    inputs = {
        "P": given(machine.power, "W", "machine:spindle.power"),
        "e": given(machine.efficiency, "", "machine:spindle.efficiency"),
    }
    parts = ["P e"]
    if own.full_power_from is not None or own.torque is not None:
        inputs["n"] = setting(sheet, "setup.speed")
    if own.full_power_from is not None:
        parts.append("P e n / n0")
        inputs["n0"] = given(own.full_power_from, "1/min", f"{written}.full-power-from")
    if own.torque is not None:
        parts.append("2 pi n T / 60")
        inputs["T"] = given(own.torque, "N m", f"{written}.torque")
    sheet.add(
        "setup.power",
        machine.power_at(speed),
        formula=parts[0] if len(parts) == 1 else f"min({', '.join(parts)})",
        inputs=inputs,
        source="definition of power; a motor's torque stays the same below its full power",
        basis="computed",
    )
