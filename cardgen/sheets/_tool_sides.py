"""Figures of the tool's sides and of the blade between them."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from math import degrees

from cardgen.core.figure import Input, Sheet, weakest
from cardgen.rules import tool as rule
from cardgen.rules.sweep import Clearances
from cardgen.rules.tool import Nose
from cardgen.sheets._constants import constant, source
from cardgen.sheets._tool_face import ground_flank
from cardgen.sheets._tool_grind import Grind
from cardgen.sheets._tool_tables import PRACTICE, working_clearance
from cardgen.spec.job import Job

_GEOMETRY = "geometry of the helix"
_FLANKS = {"leading": "a1", "trailing": "a2"}


def side_reliefs(job: Job, sheet: Sheet, grind: Grind, nose: Nose) -> None:
    """Record working clearance, the reliefs of both sides and, for slanted ones, of the rest."""
    usual, least = working_clearance(grind.groove.steepest_deg)
    # Back from radians to the table's own round number.
    clearance_deg = round(degrees(grind.best_clearance(job.tool.blank)), 9)
    full = clearance_deg == usual.value_deg
    sheet.add(
        "tool.clearance_working",
        clearance_deg,
        formula="c" if full else "method: given up step by step until the blade keeps its foot",
        inputs={"c": usual.input}
        if full
        else {
            "usual": usual.input,
            "least": least.input,
            "step": constant(PRACTICE, "clearance_step"),
            "foot": constant(PRACTICE, "foot_wanted"),
        },
        source=usual.source if full else f"between {usual.source}; and {least.source}",
        basis="handbook",
        evidence=usual.evidence if full else weakest(usual.evidence, least.evidence),
        note=""
        if full
        else f"{usual.value_deg:g}° is usual; this blade would be too thin at its foot",
    )
    _relief(job, sheet, grind, nose, "leading")
    _relief(job, sheet, grind, nose, "trailing")
    for name, side in (("leading", nose.leading), ("trailing", nose.trailing)):
        if side.angle > 0:
            plan, inputs = _plan_angle(sheet)
            symbol = _flank_symbol(job, name)
            sheet.add(
                f"tool.rest_{name}",
                degrees(rule.normal_to_edge(side.relief, side.angle)),
                formula=f"atan(tan(k) cos({plan(symbol)}))",
                inputs={"k": sheet.ref(f"tool.relief_{name}"), **_flank(sheet, symbol), **inputs},
                source="geometry of a slanted edge",
                basis="computed",
                note="square to the edge, as the grinder's rest is tipped",
            )


def _relief(job: Job, sheet: Sheet, grind: Grind, nose: Nose, name: str) -> None:
    """Record one side's relief: from the lead angle at the root leading, at the crest trailing."""
    leading = name == "leading"
    place, angle = ("minor", "phi3") if leading else ("major", "phi1")
    side = nose.leading if leading else nose.trailing
    flank = grind.groove.leading if leading else grind.groove.trailing
    inputs: dict[str, Input] = {
        angle: sheet.ref(f"thread.lead_angle_{place}"),
        "c": sheet.ref("tool.clearance_working"),
    }
    lean = angle
    if grind.tilt:
        inputs["t"] = sheet.ref("tool.tilt")
        lean = f"{angle} - t"
        if flank:
            # The edge stands off the axis's level, where the slanted wall opens to the crest.
            inputs["w"] = sheet.ref("tool.tip_width")
            inputs["d3"] = sheet.ref("thread.minor_diameter")
            symbol = "a1" if leading == (sheet["tool.leading_side"].value == "chuck") else "a2"
            inputs |= _flank(sheet, symbol)
            half, diameter = "w / 2", "d3"
            if not leading:
                inputs["d"] = sheet.ref("thread.major_diameter")
                half, diameter = f"(w / 2 + (d - d3) / 2 * tan({symbol}) cos(t))", "d"
            opening = (
                f"{half} sin(t) tan({symbol}) cos(t) cos({angle})"
                f" / ({diameter} / 2 * cos({angle} - t))"
            )
            lean = f"atan(tan({angle} - t) - {opening})"
    if grind.groove.internal and flank:
        # Below the edge the side lies farther out, where the nut's groove is narrower.
        symbol = _flank_symbol(job, name)
        inputs |= {"th": sheet.ref("tool.heel_angle"), **_flank(sheet, symbol)}
        sign = "+" if leading else "-"
        lean = f"atan(tan({angle}) {sign} tan({symbol}) tan(th / 2))"
    note = ""
    if not leading and side.relief < 0:
        note = "negative: this side leans out below its edge, because the groove runs away from it"
    sheet.add(
        f"tool.relief_{name}",
        degrees(side.relief),
        formula=f"{lean} + c" if leading else f"c - ({lean})" if grind.tilt else f"c - {lean}",
        inputs=inputs,
        source=_GEOMETRY,
        basis="computed",
        note=note or "from square to the face, in the section square to the shank",
    )


def _flank_symbol(job: Job, name: str) -> str:
    chuck = (name == "leading") == (job.thread.hand == "right")
    # A nut's ridges lie in the screw's grooves: its leading flank is the tailstock's wall.
    return "a1" if chuck != (job.thread.surface == "internal") else "a2"


def _flank(sheet: Sheet, symbol: str) -> dict[str, Input]:
    name = next(name for name, known in _FLANKS.items() if known == symbol)
    return {symbol: sheet.ref(f"thread.{name}_flank")}


def blade(job: Job, sheet: Sheet, grind: Grind, nose: Nose) -> None:
    """Record the blade's length, height, widths, taper, corner radius and overhang."""
    sheet.add(
        "tool.blade_length",
        nose.length,
        formula="max((d - d3) / 2 + x, B tan(ke) + y)",
        inputs={
            "d": sheet.ref("thread.major_diameter"),
            "d3": sheet.ref("thread.minor_diameter"),
            "x": constant(PRACTICE, "beyond_depth"),
            "B": sheet.ref("tool.blank"),
            "ke": sheet.ref("tool.end_relief"),
            "y": constant(PRACTICE, "beyond_end_relief"),
        },
        source=source(PRACTICE, "beyond_depth"),
        basis="practice",
        note="deep enough to clear the crest, and longer than the end relief runs back",
    )
    sheet.add(
        "tool.blade_height",
        nose.height,
        formula="B",
        inputs={"B": sheet.ref("tool.blank")},
        source="common practice",
        basis="practice",
        note="ground over the blank's whole height",
    )
    _widths(sheet, grind, nose)
    _corner_radius(sheet, grind)
    if grind.groove.internal:
        return
    sheet.add(
        "tool.overhang",
        job.tool.blank * float(constant(PRACTICE, "overhang_heights").value),
        formula="q B",
        inputs={"q": constant(PRACTICE, "overhang_heights"), "B": sheet.ref("tool.blank")},
        source=source(PRACTICE, "overhang_heights"),
        basis="practice",
    )


def _widths(sheet: Sheet, grind: Grind, nose: Nose) -> None:
    common = {"w": sheet.ref("tool.tip_width"), "lb": sheet.ref("tool.blade_length")}
    if grind.groove.parallel:
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
        formula, inputs = "w - 2 lb tan(u)", {"u": sheet.ref("tool.blade_taper")}
    else:
        plan, needed = _plan_angle(sheet)
        formula = f"w + lb (tan({plan('a1')}) + tan({plan('a2')}))"
        inputs = {**_flank(sheet, "a1"), **_flank(sheet, "a2"), **needed}
    sheet.add(
        "tool.shank_width",
        nose.shank_width,
        formula=formula,
        inputs={**common, **inputs},
        source="geometry of the blade",
        basis="computed",
    )
    sheet.add(
        "tool.foot_width",
        nose.foot_width,
        formula="min(w + hb tan(ke) (ws - w) / lb, ws) - hb (tan(k1) + tan(k2))",
        inputs={
            **common,
            "ws": sheet.ref("tool.shank_width"),
            "hb": sheet.ref("tool.blade_height"),
            "ke": sheet.ref("tool.end_relief"),
            "k1": sheet.ref("tool.relief_leading"),
            "k2": sheet.ref("tool.relief_trailing"),
        },
        source="geometry of the blade",
        basis="computed",
        note="at the bottom, under the point or at the shank, whichever is thinner",
    )


def _plan_angle(sheet: Sheet) -> tuple[Callable[[str], str], Mapping[str, Input]]:
    """Return how to write a side's angle in plan: the face's own, or flattened by rake."""
    on_face, inputs = ground_flank(sheet)
    if "g" not in inputs:
        return on_face, inputs
    return (lambda symbol: f"atan(tan({on_face(symbol)}) / cos(g))"), inputs


def _corner_radius(sheet: Sheet, grind: Grind) -> None:
    """Record the largest corner radius: the form's, or what the root clearance swallows."""
    limit = next((id for id in ("thread.root_radius", "thread.clearance") if id in sheet), None)
    if limit is None:
        return
    # A tip that is narrower than two corners of that radius is one arc.
    leading, trailing = (
        grind.face_angle(grind.groove.leading),
        grind.face_angle(grind.groove.trailing),
    )
    meeting = rule.corner_radius_largest(grind.tip, leading, trailing)
    angle = "tool.included_angle_normal" if grind.tilt else "tool.included_angle"
    symmetric = abs(leading - trailing) < 1e-12
    sheet.add(
        "tool.corner_radius",
        min(sheet.number(limit), meeting),
        formula="min(rr, w / (2 tan(45 - A / 4)))"
        if symmetric
        else "method: the form's radius, or that at which both corners meet",
        inputs={"rr": sheet.ref(limit), "w": sheet.ref("tool.tip_width"), "A": sheet.ref(angle)},
        source=sheet[limit].source,
        basis=sheet[limit].basis,
        note=(
            "the largest root radius of the form"
            if limit == "thread.root_radius"
            else "as large as the clearance at the root: the mate's crest does not reach it"
        ),
    )


def swept(sheet: Sheet, clearances: Clearances) -> None:
    """Record the least side clearance that the swept solid has."""
    sheet.add(
        "tool.clearance_least",
        degrees(clearances.sides),
        formula="method: every point of both sides carried along the helix to the wall its edge"
        " leaves",
        inputs={
            "L": sheet.ref("thread.lead"),
            "k1": sheet.ref("tool.relief_leading"),
            "k2": sheet.ref("tool.relief_trailing"),
        },
        source=_GEOMETRY,
        basis="computed",
        note=(
            f"square to the edge: {degrees(clearances.leading):.2f}° leading,"
            f" {degrees(clearances.trailing):.2f}° trailing, {degrees(clearances.end):.2f}° end"
        ),
    )
