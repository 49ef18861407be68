"""Figures of the tool's setting, its rake and its end."""

from __future__ import annotations

from math import degrees, radians

from cardgen.core.figure import Input, Sheet
from cardgen.rules import boring
from cardgen.rules.grinding import heel_gap
from cardgen.rules.helicoid import Groove
from cardgen.sheets._constants import constant
from cardgen.sheets._tool_tables import PRACTICE, end_relief
from cardgen.spec.job import Job

_GEOMETRY = "geometry of the helix"
_BORE = "geometry of a chord of the bore"
_LEADS = {"right": "chuck", "left": "tailstock"}


def setting(job: Job, sheet: Sheet) -> None:
    """Record blank, setting, tilt and the side that leads."""
    sheet.add(
        "tool.blank",
        job.tool.blank,
        formula="B",
        inputs={"B": Input(job.tool.blank, "mm", "spec:tool.blank", "read")},
        source="the job",
        basis="data",
        evidence="read",
    )
    tipped = job.tool.setting == "tipped"
    internal = job.thread.surface == "internal"
    sheet.add(
        "tool.setting",
        job.tool.setting,
        inputs={"setting": Input(job.tool.setting, "", "spec:tool.setting", "read")},
        source="the job",
        basis="data",
        evidence="read",
        note=(
            "face square to the groove at the pitch line"
            if tipped
            else "face level with the axis, at centre height"
            + ("; the point at the front of the bore, towards you" if internal else "")
        ),
    )
    if tipped:
        sheet.add(
            "tool.tilt",
            sheet.number("thread.lead_angle_pitch"),
            formula="phi2",
            inputs={"phi2": sheet.ref("thread.lead_angle_pitch")},
            source=_GEOMETRY,
            basis="computed",
            note=(
                "about the shank; "
                + ("chuck" if job.thread.hand == "right" else "tailstock")
                + " side of the face low"
            ),
        )
    way = "towards" if job.thread.hand == "right" else "away from"
    sheet.add(
        "tool.leading_side",
        _LEADS[job.thread.hand],
        inputs={"hand": Input(job.thread.hand, "", "spec:thread.hand", "read")},
        source="geometry of the lathe",
        basis="computed",
        note=(
            f"{job.thread.hand}-hand {job.thread.surface} thread, cut {way} the chuck: spindle"
            " forward, tool at the front"
            + (" of the bore" if internal else "")
            + ("; as it is drawn, before it is turned over" if job.backwards else "")
        ),
    )


def face(job: Job, sheet: Sheet, groove: Groove) -> None:
    """Record rake and end relief."""
    rake = job.work.material.cutting.rake_deg
    chosen = rake.value if rake.low is None else rake.low
    if sheet.internal:
        _flat_face(sheet)
        _end_relief(job, sheet, groove)
        return
    sheet.add(
        "tool.rake",
        chosen,
        formula="g",
        inputs={
            "g": Input(chosen, "deg", "material:cutting.rake", rake.evidence),
        },
        source=rake.source,
        basis="data",
        evidence=rake.evidence,
        note=(
            "the least that the material's data name: a flat face keeps the thread's form"
            " (machine-shop training text, issuhub 4752 p.185)"
        ),
    )
    _end_relief(job, sheet, groove)


def _flat_face(sheet: Sheet) -> None:
    """Record that a bit in a boring bar is left flat on top."""
    sheet.add(
        "tool.rake",
        0.0,
        source="machine-shop training text (issuhub 4752) p.185",
        basis="practice",
        evidence="practice",
        note="flat: rake would take the edge off centre height towards the bore",
    )


def _end_relief(job: Job, sheet: Sheet, groove: Groove) -> None:
    """Record the end relief; in a bore it must also clear the curve under the point."""
    relief = end_relief(job.work.material.group, degrees(groove.steepest))
    if not groove.internal:
        sheet.add(
            "tool.end_relief",
            relief.value_deg,
            formula="ke",
            inputs={"ke": relief.input},
            source=relief.source,
            basis="practice" if relief.evidence == "practice" else "handbook",
            evidence=relief.evidence,
        )
        return
    heel = boring.heel_angle(job.tool.blank, 2 * groove.crest)
    sheet.add(
        "tool.heel_angle",
        degrees(heel),
        formula="asin(min(2 B / D1, 1))",
        inputs={"B": sheet.ref("tool.blank"), "D1": sheet.ref("thread.blank_diameter")},
        source=_BORE,
        basis="computed",
        note="from the face round the bore to the height of the bit's foot",
    )
    clear = constant(PRACTICE, "heel-clear")
    sheet.add(
        "tool.end_relief",
        max(relief.value_deg, degrees(boring.heel_relief(heel)) + float(clear.value)),
        formula="max(ke, th / 2 + ce)",
        inputs={"ke": relief.input, "th": sheet.ref("tool.heel_angle"), "ce": clear},
        source=f"{_BORE}; {relief.source}",
        basis="computed",
        note="the foot lies on the curve of the bore with half the angle that it reaches round it",
    )
    sheet.add(
        "tool.heel_clearance",
        heel_gap(job.tool.blank, radians(sheet.number("tool.end_relief")), 2 * groove.crest),
        formula="D1 / 2 - sqrt((D1 / 2 - B tan(ke))^2 + B^2)",
        inputs={
            "D1": sheet.ref("thread.blank_diameter"),
            "B": sheet.ref("tool.blank"),
            "ke": sheet.ref("tool.end_relief"),
        },
        source=_BORE,
        basis="computed",
        note="under the point, at the first touch; the deeper the cut, the farther it stands off",
    )
