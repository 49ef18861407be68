"""Figures of the tool's profile: the groove's bottom, and the edges that its helicoid asks for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import atan, cos, degrees, fsum, radians

from cardgen.core.figure import Basis, Evidence, Input, Sheet
from cardgen.rules import tool as rule
from cardgen.sheets._constants import constant, source
from cardgen.sheets._tool_grind import Grind, face_of
from cardgen.sheets._tool_tables import PRACTICE
from cardgen.spec.job import Job

SECTION = "the groove's helicoid cut by the tool's face, and the straight edge nearest to it"
_GEOMETRY = "geometry of the helix"


@dataclass(frozen=True, slots=True)
class Width:
    """The bottom of the groove in the axial section, its corners sharp, and how it was found.

    Attributes
    ----------
    value, low, high
        [mm]; a flat, level tool has this tip.
    formula, inputs, source, basis, evidence, note
        As of a figure.
    """

    value: float
    low: float | None
    high: float | None
    formula: str
    inputs: Mapping[str, Input]
    source: str
    note: str
    basis: Basis = "computed"
    evidence: Evidence = "derived"


def bottom(sheet: Sheet) -> Width:
    """Return the width of the bottom, with the limits that the groove's own limits allow."""
    if sheet.internal:
        return _nut_bottom(sheet)
    pitch, minor = sheet["thread.pitch_diameter"], sheet["thread.minor_diameter"]
    flanks = [radians(sheet.number(f"thread.{side}_flank")) for side in ("leading", "trailing")]
    if None in (pitch.low, pitch.high, minor.low, minor.high) or not any(flanks):
        groove = sheet["thread.groove_width"]
        return Width(
            groove.number,
            groove.low,
            groove.high,
            "S",
            {"S": sheet.ref("thread.groove_width")},
            "Navy training manual (tpub 14345): edge of a square-thread tool half the pitch",
            "limits: those of the groove",
            "handbook",
            "read",
        )
    d2 = (sheet.low("thread.pitch_diameter"), sheet.high("thread.pitch_diameter"))
    d3 = (sheet.low("thread.minor_diameter"), sheet.high("thread.minor_diameter"))

    def width(pitch_diameter: float, root: float) -> float:
        return rule.tip_width(sheet.number("thread.pitch"), pitch_diameter, root, *flanks)

    def limit(number: Input) -> float:
        return float(number.value)

    root = sheet.number("thread.blank_diameter") - 2 * sheet.number("thread.depth")
    return Width(
        width((limit(d2[0]) + limit(d2[1])) / 2, root),
        max(width(limit(d2[1]), limit(d3[0])), 0.0),
        width(limit(d2[0]), limit(d3[1])),
        "P / 2 - ((E1 + E2) / 2 - (db - 2 h)) / 2 (tan(a1) + tan(a2))",
        {
            "P": sheet.ref("thread.pitch"),
            "E1": d2[0],
            "E2": d2[1],
            "db": sheet.ref("thread.blank_diameter"),
            "h": sheet.ref("thread.depth"),
            "a1": sheet.ref("thread.leading_flank"),
            "a2": sheet.ref("thread.trailing_flank"),
        },
        "geometry of the groove",
        "brings the pitch diameter to the middle of its limits at full depth; between the limits"
        " there is a depth that brings pitch and root diameter into theirs",
    )


def _nut_bottom(sheet: Sheet) -> Width:
    """Return the same for a nut: its groove narrows outwards, and its root may have no limit."""
    pitch, root = sheet["thread.pitch_diameter"], sheet["thread.major_diameter"]
    flanks = [radians(sheet.number(f"thread.{side}_flank")) for side in ("leading", "trailing")]
    if pitch.low is None or pitch.high is None or not any(flanks):
        groove = sheet["thread.groove_width"]
        low, high = groove.low, groove.high
        if low is None or high is None:
            low = high = groove.number
            limits = {
                "S1": sheet.ref("thread.groove_width"),
                "S2": sheet.ref("thread.groove_width"),
            }
        else:
            limits = {
                "S1": sheet.low("thread.groove_width"),
                "S2": sheet.high("thread.groove_width"),
            }
        return Width(
            (low + high) / 2,
            low,
            high,
            "(S1 + S2) / 2",
            limits,
            "geometry of the groove",
            "limits: those of the nut's groove",
        )

    def width(pitch_diameter: float, at: float) -> float:
        return rule.tip_width(sheet.number("thread.pitch"), at, pitch_diameter, *flanks)

    shallowest = root.number if root.low is None else root.low
    deepest = root.number if root.high is None else root.high
    return Width(
        width((pitch.low + pitch.high) / 2, root.number),
        max(width(pitch.low, deepest), 0.0),
        width(pitch.high, shallowest),
        "P / 2 - (db + 2 h - (E1 + E2) / 2) / 2 (tan(a1) + tan(a2))",
        {
            "P": sheet.ref("thread.pitch"),
            "db": sheet.ref("thread.blank_diameter"),
            "h": sheet.ref("thread.depth"),
            "E1": sheet.low("thread.pitch_diameter"),
            "E2": sheet.high("thread.pitch_diameter"),
            "a1": sheet.ref("thread.leading_flank"),
            "a2": sheet.ref("thread.trailing_flank"),
        },
        "geometry of the groove",
        "brings the pitch diameter to the middle of its limits at full depth",
    )


def ground_face(job: Job, sheet: Sheet, width: Width, grind: Grind) -> None:
    """Record the tip and both edges, as the helicoid's section with the face asks for them."""
    groove, tilt = grind.groove, grind.tilt
    section = {
        "L": sheet.ref("thread.lead"),
        "d": sheet.ref("thread.major_diameter"),
        "d3": sheet.ref("thread.minor_diameter"),
        "g": sheet.ref("tool.rake"),
        **({"t": sheet.ref("tool.tilt")} if tilt else {}),
    }

    def tip(across: float | None) -> float | None:
        if across is None or not tilt:
            return across
        return max(face_of(replace(groove, width=across), grind.rake, tilt).tip, 0.0)

    sheet.add(
        "tool.tip_width",
        grind.tip if tilt else width.value,
        low=tip(width.low),
        high=tip(width.high),
        formula=f"method: {SECTION}" if tilt else width.formula,
        inputs={**width.inputs, **(section if tilt else {})},
        source=width.source,
        basis=width.basis,
        evidence=width.evidence,
        note=width.note,
    )
    if groove.parallel:
        taper = constant(PRACTICE, "back_taper")
        sheet.add(
            "tool.blade_taper",
            float(taper.value),
            formula="u",
            inputs={"u": taper},
            source=source(PRACTICE, "back_taper"),
            basis="practice",
            note="so that the blade is nowhere wider than at its edge",
        )
    for name, sign in (("leading", -1.0), ("trailing", 1.0)):
        symbol = flank_symbol(job, name)
        known = sheet.ref("tool.blade_taper") if groove.parallel else flank_ref(sheet, symbol)
        plain = "-u" if groove.parallel else symbol
        sheet.add(
            f"tool.flank_{name}",
            degrees(grind.plan_angle(sign)),
            formula=plain if grind.as_drawn else f"method: {SECTION}",
            inputs={
                ("u" if groove.parallel else symbol): known,
                **({} if grind.as_drawn else section),
            },
            source=_GEOMETRY,
            basis="computed",
            note="from the shank, seen square to the blank's top"
            + ("; narrower behind the point" if groove.parallel else ""),
        )
    _included(sheet, grind)


def _included(sheet: Sheet, grind: Grind) -> None:
    """Record the angle between the flanks as a gauge on the face shows it."""
    groove, edges = grind.groove, (grind.face.leading, grind.face.trailing)
    on_face = [0.0 if groove.parallel else atan(e.slope * cos(grind.rake)) for e in edges]
    sheet.add(
        "tool.included_angle_normal" if grind.tilt else "tool.included_angle",
        degrees(fsum(on_face)),
        formula="2 a" if groove.parallel else "atan(tan(b1) cos(g)) + atan(tan(b2) cos(g))",
        inputs={"a": sheet.ref("thread.leading_flank")}
        if groove.parallel
        else {
            "b1": sheet.ref("tool.flank_leading"),
            "b2": sheet.ref("tool.flank_trailing"),
            "g": sheet.ref("tool.rake"),
        },
        source=_GEOMETRY,
        basis="computed",
        note=_included_note(grind),
    )


def _included_note(grind: Grind) -> str:
    if grind.groove.parallel:
        return "sides parallel"
    if grind.tilt:
        return "ground on the face of a tipped tool, narrower than the thread's own angle"
    if grind.rake:
        return "on the raked face, narrower than the thread's own angle"
    return "a flat face level with the axis cuts its own angle"


def flank_symbol(job: Job, name: str) -> str:
    """Return which of the thread's flanks a side of the tool cuts: ``a1`` its leading one."""
    chuck = (name == "leading") == (job.thread.hand == "right")
    # A nut's ridges lie in the screw's grooves: its leading flank is the tailstock's wall.
    return "a1" if chuck != (job.thread.surface == "internal") else "a2"


def flank_ref(sheet: Sheet, symbol: str) -> Input:
    """Return a flank of the thread by its symbol."""
    return sheet.ref(f"thread.{'leading' if symbol == 'a1' else 'trailing'}_flank")
