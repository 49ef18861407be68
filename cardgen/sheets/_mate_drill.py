"""The drill for tapping the nut instead of boring and threading it, and what it leaves."""

from __future__ import annotations

from cardgen import library
from cardgen.core.figure import Evidence, Input, Sheet
from cardgen.sheets._constants import constant, evidence, source, value
from cardgen.spec.job import Job

_DRILLS = "threads/tap_drills_metric"
_TABLE = "threads/ends"
_SAME = 1e-6
_TAPPED = 45.0
"""Threads whose groove is this wide or wider are tapped by the rule [deg]; power screws are not."""


def record_tap_drill(job: Job, sheet: Sheet) -> None:
    """Record the tap drill of a fastening thread, and how much of the overlap it leaves."""
    bore = sheet["mate.minor_diameter"]
    if sheet.number("thread.included_angle") < _TAPPED or bore.low is None or bore.high is None:
        return
    diameter, pitch = job.thread.diameter, job.thread.pitch
    nominal = Input(diameter, "mm", "spec:thread.diameter", "read")
    listed = _listed(diameter, pitch) if job.thread.form == "metric" else None
    step = value(_TABLE, "tap-drill-step")
    if listed is not None:
        size, cited, known = listed
        inputs = {"t": Input(size, "mm", f"table:{_DRILLS} {diameter:g}", known)}
        note = "as listed: nominal less pitch, as drills are sold"
    else:
        size, cited, known = step * round((diameter - pitch) / step), "common practice", "practice"
        inputs = {
            "d": nominal,
            "P": sheet.ref("thread.pitch"),
            "x": constant(_TABLE, "tap-drill-step"),
        }
        note = "nominal less pitch, to the nearest drill"
    if not bore.low <= size <= bore.high:
        # The rule misses the bore's limits on some fine threads: no drill by halves is promised.
        size = (bore.low + bore.high) / 2
        inputs = {"D1l": sheet.low("mate.minor_diameter"), "D1h": sheet.high("mate.minor_diameter")}
        cited, known = source(_TABLE, "tap-drill-step"), "practice"
        note = "middle of the bore's limits: nominal less pitch lies outside them"
    sheet.add(
        "mate.tap_drill",
        size,
        formula="t" if listed is not None and "t" in inputs else "method: see the note",
        inputs=inputs,
        source=cited,
        basis="handbook" if listed is not None and "t" in inputs else "practice",
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


def _listed(diameter: float, pitch: float) -> tuple[float, str, Evidence] | None:
    for row in library.table(_DRILLS):
        if abs(float(row["d_mm"]) - diameter) < _SAME and abs(float(row["p_mm"]) - pitch) < _SAME:
            return float(row["drill_mm"]), row["source"], evidence(row["evidence"])
    return None
