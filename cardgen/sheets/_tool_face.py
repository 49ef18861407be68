"""Figures of the tool's face: setting, width of the tip, rake, end relief, included angle."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from math import cos, degrees, radians

from cardgen.core.figure import Input, Sheet
from cardgen.rules import boring
from cardgen.rules import tool as rule
from cardgen.sheets._constants import constant
from cardgen.sheets._tool_grind import Groove
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
            f" forward, tool at the front{' of the bore' if internal else ''}"
        ),
    )


def tip_width(sheet: Sheet) -> None:
    """Record the width of the tip, with the limits that the groove's own limits allow."""
    tilt = radians(sheet.number("tool.tilt")) if "tool.tilt" in sheet else 0.0
    tipped = {"t": sheet.ref("tool.tilt")} if tilt else {}
    turned = " cos(t)" if tilt else ""
    if sheet.internal:
        nut_tip_width(sheet)
        return
    pitch, minor = sheet["thread.pitch_diameter"], sheet["thread.minor_diameter"]
    flanks = [radians(sheet.number(f"thread.{side}_flank")) for side in ("leading", "trailing")]
    if None in (pitch.low, pitch.high, minor.low, minor.high) or not any(flanks):
        groove = sheet["thread.groove_width"]
        sheet.add(
            "tool.tip_width",
            groove.number * cos(tilt),
            low=None if groove.low is None else groove.low * cos(tilt),
            high=None if groove.high is None else groove.high * cos(tilt),
            formula=f"S{turned}",
            inputs={"S": sheet.ref("thread.groove_width"), **tipped},
            source="Navy training manual (tpub 14345): edge of a square-thread tool half the pitch",
            basis="handbook",
            evidence="read",
            note="limits: those of the groove",
        )
        return
    d2 = (sheet.low("thread.pitch_diameter"), sheet.high("thread.pitch_diameter"))
    d3 = (sheet.low("thread.minor_diameter"), sheet.high("thread.minor_diameter"))

    def width(pitch_diameter: float, root: float) -> float:
        across = rule.tip_width(sheet.number("thread.pitch"), pitch_diameter, root, *flanks)
        return across * cos(tilt)

    def limit(number: Input) -> float:
        return float(number.value)

    root = sheet.number("thread.blank_diameter") - 2 * sheet.number("thread.depth")
    sheet.add(
        "tool.tip_width",
        width((limit(d2[0]) + limit(d2[1])) / 2, root),
        low=max(width(limit(d2[1]), limit(d3[0])), 0.0),
        high=width(limit(d2[0]), limit(d3[1])),
        formula=f"(P / 2 - ((E1 + E2) / 2 - (db - 2 h)) / 2 (tan(a1) + tan(a2))){turned}",
        inputs={
            "P": sheet.ref("thread.pitch"),
            "E1": d2[0],
            "E2": d2[1],
            "db": sheet.ref("thread.blank_diameter"),
            "h": sheet.ref("thread.depth"),
            "a1": sheet.ref("thread.leading_flank"),
            "a2": sheet.ref("thread.trailing_flank"),
            **tipped,
        },
        source="geometry of the groove",
        basis="computed",
        note=(
            "brings the pitch diameter to the middle of its limits at full depth; between the"
            " limits there is a depth that brings pitch and root diameter into theirs"
        ),
    )


def nut_tip_width(sheet: Sheet) -> None:
    """Record the same for a nut: its groove narrows outwards, and its root may have no limit."""
    pitch, root = sheet["thread.pitch_diameter"], sheet["thread.major_diameter"]
    flanks = [radians(sheet.number(f"thread.{side}_flank")) for side in ("leading", "trailing")]
    if pitch.low is None or pitch.high is None or not any(flanks):
        groove = sheet["thread.groove_width"]
        low, high = groove.low, groove.high
        if low is None or high is None:
            return
        sheet.add(
            "tool.tip_width",
            (low + high) / 2,
            low=low,
            high=high,
            formula="(S1 + S2) / 2",
            inputs={
                "S1": sheet.low("thread.groove_width"),
                "S2": sheet.high("thread.groove_width"),
            },
            source="geometry of the groove",
            basis="computed",
            note="limits: those of the nut's groove",
        )
        return

    def width(pitch_diameter: float, at: float) -> float:
        return rule.tip_width(sheet.number("thread.pitch"), at, pitch_diameter, *flanks)

    shallowest = root.number if root.low is None else root.low
    deepest = root.number if root.high is None else root.high
    sheet.add(
        "tool.tip_width",
        width((pitch.low + pitch.high) / 2, root.number),
        low=max(width(pitch.low, deepest), 0.0),
        high=width(pitch.high, shallowest),
        formula="P / 2 - (db + 2 h - (E1 + E2) / 2) / 2 (tan(a1) + tan(a2))",
        inputs={
            "P": sheet.ref("thread.pitch"),
            "db": sheet.ref("thread.blank_diameter"),
            "h": sheet.ref("thread.depth"),
            "E1": sheet.low("thread.pitch_diameter"),
            "E2": sheet.high("thread.pitch_diameter"),
            "a1": sheet.ref("thread.leading_flank"),
            "a2": sheet.ref("thread.trailing_flank"),
        },
        source="geometry of the groove",
        basis="computed",
        note="brings the pitch diameter to the middle of its limits at full depth",
    )


def face(job: Job, sheet: Sheet, groove: Groove) -> None:
    """Record rake, end relief and the included angle."""
    rake = job.work.material.cutting.rake_deg
    chosen = rake.value if rake.low is None else rake.low
    if sheet.internal:
        _flat_face(sheet)
        _end_relief(job, sheet, groove)
        _included(sheet, groove, 0.0)
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
    _included(sheet, groove, chosen)


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
    relief = end_relief(job.work.material.group, groove.steepest_deg)
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


def _included(sheet: Sheet, groove: Groove, chosen: float) -> None:
    """Record the angle between the flanks as it is ground on the face."""
    tipped = "tool.tilt" in sheet
    expression, inputs = ground_flank(sheet)
    tilt = radians(sheet.number("tool.tilt")) if tipped else 0.0
    angles = [
        rule.face_angle(flank, tilt, groove.root, groove.crest, radians(chosen))
        for flank in (groove.leading, groove.trailing)
    ]
    sheet.add(
        "tool.included_angle_normal" if tipped else "tool.included_angle",
        degrees(sum(angles)),
        formula=f"{expression('a1')} + {expression('a2')}",
        inputs={
            "a1": sheet.ref("thread.leading_flank"),
            "a2": sheet.ref("thread.trailing_flank"),
            **inputs,
        },
        source=_GEOMETRY,
        basis="computed",
        note=_included_note(groove, chosen, tipped),
    )


def _included_note(groove: Groove, rake_deg: float, tipped: bool) -> str:
    if groove.parallel:
        return "sides parallel"
    if tipped:
        return "ground on the face of a tipped tool, narrower than the thread's own angle"
    if rake_deg:
        return "on the raked face, narrower than the thread's own angle"
    return "a flat face level with the axis cuts its own angle"


def ground_flank(sheet: Sheet) -> tuple[Callable[[str], str], Mapping[str, Input]]:
    """Return how to write the angle on the face for a flank's symbol, and what that needs."""
    inputs: dict[str, Input] = {}
    turned = longer = ""
    if "tool.tilt" in sheet:
        inputs["t"] = sheet.ref("tool.tilt")
        turned = " cos(t)"
    if sheet.number("tool.rake") > 0:
        inputs["g"] = sheet.ref("tool.rake")
        inputs["d"] = sheet.ref("thread.major_diameter")
        inputs["d3"] = sheet.ref("thread.minor_diameter")
        edge = "(sqrt((d / 2)^2 - (d3 / 2 * sin(g))^2) - d3 / 2 * cos(g))"
        longer = f" (d - d3) / 2 / {edge}"

    def written(symbol: str) -> str:
        return f"atan(tan({symbol}){turned}{longer})" if inputs else symbol

    return written, inputs
