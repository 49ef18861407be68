"""The drill for tapping the nut instead of boring and threading it, and what it leaves."""

from __future__ import annotations

from math import floor

from cardgen import library
from cardgen.core.figure import Evidence, Input, Sheet
from cardgen.sheets._constants import constant, evidence, source, value
from cardgen.sheets._form import form_of
from cardgen.spec.job import Job

_TABLE = "threads/ends"
_SAME = 1e-4
_TAPPED = 45.0
"""Threads whose groove is this wide or wider are tapped by the rule [deg]; power screws are not."""


def record_tap_drill(job: Job, sheet: Sheet) -> None:
    """Record the tap drill of a fastening thread, and how much of the overlap it leaves."""
    bore = sheet["mate.minor_diameter"]
    if sheet.number("thread.included_angle") < _TAPPED or bore.low is None or bore.high is None:
        return
    if sheet.number("thread.leading_flank") != sheet.number("thread.trailing_flank"):
        return  # nobody sells a tap for it
    diameter, pitch = job.thread.diameter, job.thread.pitch
    nominal = Input(diameter, "mm", "spec:thread.diameter", "read")
    table = form_of(job).tap_drills
    listed = _listed(table, diameter, pitch) if table else None
    step = value(_TABLE, "tap-drill-step")
    if listed is not None:
        size, written, cited, known = listed
        inputs = {"t": Input(size, "mm", f"table:{table} {diameter:g}", known)}
        note = f"as listed: {written}"
    else:
        size, cited, known = step * round((diameter - pitch) / step), "common practice", "practice"
        inputs = {
            "d": nominal,
            "P": sheet.ref("thread.pitch"),
            "x": constant(_TABLE, "tap-drill-step"),
        }
        note = "nominal less pitch, to the nearest drill"
    printed = listed is not None and bore.low <= size <= bore.high
    if not bore.low <= size <= bore.high:
        # The rule misses the bore's limits on some fine threads, and charts do by a hair on a few.
        missed = "nominal less pitch" if listed is None else f"the {listed[1]} of the charts"
        size = step * floor(bore.high / step + 1e-9)
        note = f"the largest drill within the bore's limits: {missed} lies outside them"
        if size < bore.low:
            size = (bore.low + bore.high) / 2
            note = f"middle of the bore's limits: {missed} lies outside them, and so does any drill"
        inputs = {
            "D1l": sheet.low("mate.minor_diameter"),
            "D1h": sheet.high("mate.minor_diameter"),
            "x": constant(_TABLE, "tap-drill-step"),
        }
        cited, known = source(_TABLE, "tap-drill-step"), "practice"
    sheet.add(
        "mate.tap_drill",
        size,
        formula="t" if printed else "method: see the note",
        inputs=inputs,
        source=cited,
        basis="handbook" if printed else "practice",
        evidence=known,
        note=note,
    )
    sheet.add(
        "mate.tap_engagement",
        (diameter - size) / (2 * sheet.number("thread.engagement")),
        formula="(d - t) / (2 H1)",
        inputs={
            "d": nominal,
            "t": sheet.ref("mate.tap_drill"),
            "H1": sheet.ref("thread.engagement"),
        },
        source="definition: part of the basic overlap of screw and nut",
        basis="computed",
        note="drill charts that count on 1.299 P print 0.83 times this",
    )


def _listed(table: str, diameter: float, pitch: float) -> tuple[float, str, str, Evidence] | None:
    """Return a drill [mm], how it is sold, and where it is printed."""
    for row in library.table(table):
        if abs(float(row["d_mm"]) - diameter) < _SAME and abs(float(row["p_mm"]) - pitch) < _SAME:
            size = float(row["drill_mm"])
            written = row.get("written") or f"{size:g} mm"
            return size, written, row["source"], evidence(row["evidence"])
    return None
