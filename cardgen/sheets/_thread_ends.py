"""The thread's ends: the chamfer to begin on, the run-out, and the groove it may end in."""

from __future__ import annotations

from collections.abc import Mapping

from cardgen import library
from cardgen.core.figure import Input, Sheet
from cardgen.core.rounding import MM_PER_INCH, with_unit
from cardgen.core.words import told
from cardgen.sheets._constants import constant, evidence, source, value
from cardgen.spec.job import Job

_TABLE = "threads/ends"
_UNDERCUTS = "threads/din_76_undercuts"
_SAME = 1e-6
_LISTED = ("metric",)
"""Forms whose undercuts DIN 76-1 lists, by the pitch."""


def record_ends(job: Job, sheet: Sheet) -> None:
    """Record chamfer, run-out and undercut, and judge the groove that the job gives.

    The groove's width is looked at; its depth is the maker's own, who is told how deep it must be.
    """
    if "thread.minor_diameter" not in sheet or "thread.crest_flat" not in sheet:
        return
    internal = job.thread.surface == "internal"
    _chamfer(sheet, internal=internal)
    _run_out(sheet, internal=internal)
    row = _listed(job)
    if row is None:
        _usual_undercut(sheet, internal=internal)
    else:
        _listed_undercut(job, row, sheet)
    _judge(job, sheet)


def _root(sheet: Sheet, *, internal: bool) -> Input:
    """Return the deepest root that the class allows."""
    id = "thread.major_diameter" if internal else "thread.minor_diameter"
    figure = sheet[id]
    deepest = figure.high if internal else figure.low
    return Input(figure.number if deepest is None else deepest, "mm", id, figure.evidence)


def _beyond_root(id: str, note: str, sheet: Sheet, *, internal: bool) -> None:
    root, pitch = _root(sheet, internal=internal), sheet.ref("thread.pitch")
    beyond = min(
        value(_TABLE, "beyond-root"), value(_TABLE, "beyond-root-pitches") * float(pitch.value)
    )
    sheet.add(
        id,
        float(root.value) + (beyond if internal else -beyond),
        formula=f"dr {'+' if internal else '-'} min(x, k P)",
        inputs={
            "dr": root,
            "x": constant(_TABLE, "beyond-root"),
            "k": constant(_TABLE, "beyond-root-pitches"),
            "P": pitch,
        },
        source=source(_TABLE, "beyond-root"),
        basis="handbook",
        evidence="read",
        note=note,
    )


def _chamfer(sheet: Sheet, *, internal: bool) -> None:
    angle = constant(_TABLE, "chamfer-angle")
    sheet.add(
        "thread.chamfer_angle",
        float(angle.value),
        formula="a",
        inputs={"a": angle},
        source=source(_TABLE, "chamfer-angle"),
        basis="handbook",
        evidence="read",
        note="from the axis",
    )
    _beyond_root(
        "thread.chamfer_diameter",
        "at the end face, or larger" if internal else "at the end face, or smaller",
        sheet,
        internal=internal,
    )


def _run_out(sheet: Sheet, *, internal: bool) -> None:
    name = "run-out-internal" if internal else "run-out-external"
    sheet.add(
        "thread.run_out",
        value(_TABLE, name) * sheet.number("thread.pitch"),
        formula="k P",
        inputs={"k": constant(_TABLE, name), "P": sheet.ref("thread.pitch")},
        source=source(_TABLE, name),
        basis="handbook",
        evidence="read",
        note="incomplete thread at the end, where there is no groove",
    )


def _listed(job: Job) -> Mapping[str, str] | None:
    """Return the standard's row for the pitch, if the form has one."""
    if job.thread.form not in _LISTED:
        return None
    for row in library.table(_UNDERCUTS):
        if row["surface"] == job.thread.surface and (
            abs(float(row["p_mm"]) - job.thread.pitch) < _SAME
        ):
            return row
    return None


def _listed_undercut(job: Job, row: Mapping[str, str], sheet: Sheet) -> None:
    internal = job.thread.surface == "internal"
    nominal = Input(job.thread.diameter, "mm", "spec:thread.diameter", "read")
    origin = f"table:{_UNDERCUTS} {row['surface']} {row['p_mm']}"
    known = evidence(row["evidence"])
    step = float(row["step_mm"])
    sheet.add(
        "thread.undercut_diameter",
        job.thread.diameter + (step if internal else -step),
        formula="d + s" if internal else "d - s",
        inputs={"d": nominal, "s": Input(step, "mm", origin, known)},
        source=row["source"],
        basis="standard",
        evidence=known,
        note="form C" if internal else "form A",
    )
    width = float(row["width_mm"])
    sheet.add(
        "thread.undercut_width",
        width,
        low=float(row["least_mm"]) if row["least_mm"] else None,
        high=width,
        formula="g",
        inputs={"g": Input(width, "mm", origin, known)},
        source=row["source"],
        basis="standard",
        evidence=known,
        note="the regular one; its ends run out, so that at full depth it is narrower",
    )


def _usual_undercut(sheet: Sheet, *, internal: bool) -> None:
    _beyond_root(
        "thread.undercut_diameter",
        "or larger" if internal else "or smaller: it is then the bar's weakest place",
        sheet,
        internal=internal,
    )
    pitch = sheet.number("thread.pitch")
    tool = pitch - sheet.number("thread.crest_flat")
    sheet.add(
        "thread.undercut_width",
        value(_TABLE, "undercut-usual") * pitch,
        low=min(tool + value(_TABLE, "undercut-room") * pitch,
                value(_TABLE, "undercut-usual") * pitch),
        high=value(_TABLE, "undercut-most") * pitch,
        formula="k P",
        inputs={"k": constant(_TABLE, "undercut-usual"), "P": sheet.ref("thread.pitch")},
        source=source(_TABLE, "undercut-usual"),
        basis="practice",
        evidence="practice",
        note="least: the tool at full depth and half a pitch of room",
    )  # fmt: skip


def _judge(job: Job, sheet: Sheet) -> None:
    groove, rule = job.work.groove, sheet["thread.undercut_width"]
    least = rule.number if rule.low is None else rule.low
    if groove is None or groove >= least:
        return
    sheet.warn(
        "thread.groove_narrow",
        told(
            "The groove of {width} is narrower than the {least} that {authority} gives a pitch "
            "of {pitch}; {usual} is usual.",
            width=_length(job, groove),
            least=_length(job, least),
            authority="DIN 76" if rule.basis == "standard" else "common practice",
            pitch=_length(job, job.thread.pitch),
            usual=_length(job, rule.number),
        ),
    )


def _length(job: Job, number: float) -> str:
    return with_unit(number / MM_PER_INCH, "in", 3) if job.inch else with_unit(number, "mm", 2)
