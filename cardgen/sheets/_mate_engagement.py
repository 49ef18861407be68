"""Does the length of engagement suit the classes? The standards' groups short, normal and long."""

from __future__ import annotations

from cardgen import library
from cardgen.core.figure import Input, Sheet
from cardgen.core.rounding import MM_PER_INCH, with_unit
from cardgen.core.words import told
from cardgen.forms.form import Form
from cardgen.spec.job import Job, Mate

_WORDS = {"S": "short", "N": "normal", "L": "long"}


def record_engagement(job: Job, mate: Mate, form: Form, sheet: Sheet) -> None:
    """Record the limits of a normal engagement, and warn of classes meant for another.

    The tolerances of ISO 965-1 and ISO 2903 hold for any length. Which class gives which fit
    depends on the group, because the error of the lead adds up along the nut.
    """
    rule = form.engagement
    least = _range_start(job)
    if not rule or mate.length is None or least is None:
        return
    low, high = (rule[side] * job.thread.pitch * least ** rule["power"] for side in ("low", "high"))
    for side, limit in (("low", low), ("high", high)):
        sheet.add(
            f"mate.normal_{side}",
            limit,
            formula=f"{rule[side]:g} P dr^{rule['power']:g}",
            inputs={
                "P": sheet.ref("thread.pitch"),
                "dr": Input(least, "mm", "table:threads/iso_965_1_diameter_ranges", "memory"),
            },
            source=rule["source"],
            basis="standard",
            evidence=rule["evidence"],
            note="engagement of group N; dr is where the standard's range of diameters begins",
        )
    groups = rule["classes"]
    group = "L" if mate.length > high else "S" if mate.length <= low and "S" in groups else "N"
    sheet.add(
        "mate.length_group",
        told("{group} ({word})", group=group, word=_WORDS[group]),
        inputs={"l": sheet.ref("mate.length")},
        source=rule["source"],
        basis="standard",
        evidence=rule["evidence"],
    )
    classes = [str(sheet[id].value) for id in ("thread.class", "mate.class") if id in sheet]
    strange = [cls for cls in classes if cls not in groups[group]]
    if not strange:
        return
    parts = {
        "length": _length(job, mate.length),
        "word": _WORDS[group],
        "group": group,
        "low": _length(job, low),
        "high": _length(job, high),
        "classes": ", ".join(groups[group]),
    }
    if len(strange) == 1:
        text = told(
            "An engagement of {length} is {word} (group {group}; normal is {low} to {high}), and "
            "{strange} is not of that group. The standard has for it: {classes}.",
            **parts,
            strange=strange[0],
        )
    else:
        text = told(
            "An engagement of {length} is {word} (group {group}; normal is {low} to {high}), and "
            "{one} and {other} are not of that group. The standard has for it: {classes}.",
            **parts,
            one=strange[0],
            other=strange[1],
        )
    sheet.warn("mate.length_group", text)


def _range_start(job: Job) -> float | None:
    """Return where the range begins in which the diameter lies [mm]."""
    for row in library.table("threads/iso_965_1_diameter_ranges"):
        if float(row["over_mm"]) < job.thread.diameter <= float(row["up_to_mm"]):
            return float(row["over_mm"])
    return None


def _length(job: Job, length: float) -> str:
    if job.inch:
        return with_unit(length / MM_PER_INCH, "in", 2)
    return with_unit(length, "mm", 1)
