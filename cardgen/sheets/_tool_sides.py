"""Figures of the tool's sides and of the blade between them."""

from __future__ import annotations

from math import atan, degrees

from cardgen.core.figure import Sheet, weakest
from cardgen.rules import tool as rule
from cardgen.rules.clearance import Clearances, solid
from cardgen.rules.form_error import form_error, hollow
from cardgen.rules.tool import Nose
from cardgen.sheets._constants import constant, source
from cardgen.sheets._tool_grind import Grind
from cardgen.sheets._tool_tables import PRACTICE, working_clearance
from cardgen.spec.job import Job

_GEOMETRY = "geometry of the helix"
_PLACES = 9
"""Decimals of a form error that are not a computer's own rounding [mm]."""
_SURFACES = {
    "leading": "leading side",
    "trailing": "trailing side",
    "end": "end",
    "corners": "rounded corner",
}


def side_reliefs(job: Job, sheet: Sheet, grind: Grind, nose: Nose) -> None:
    """Record working clearance and the reliefs of both sides."""
    usual, least = working_clearance(degrees(grind.groove.steepest))
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


def _relief(job: Job, sheet: Sheet, grind: Grind, nose: Nose, name: str) -> None:
    """Record one side's relief: what just touches, and the clearance beyond it."""
    leading = name == "leading"
    side = nose.leading if leading else nose.trailing
    clearance = {"c": sheet.ref("tool.clearance_working")}
    if grind.plain:
        place, angle = ("minor", "phi3") if leading else ("major", "phi1")
        formula = f"{angle} + c" if leading else f"c - {angle}"
        inputs = {angle: sheet.ref(f"thread.lead_angle_{place}"), **clearance}
    else:
        formula = (
            "method: the least relief with which no point of this side meets the wall that the"
            " edges leave, plus c"
        )
        angles = ("tool.tilt", "tool.rake", "tool.end_relief", f"tool.flank_{name}")
        inputs = {
            "L": sheet.ref("thread.lead"),
            "d": sheet.ref("thread.major_diameter"),
            "d3": sheet.ref("thread.minor_diameter"),
            "B": sheet.ref("tool.blank"),
            **{id.partition(".")[2]: sheet.ref(id) for id in angles if id in sheet},
            **clearance,
        }
    note = ""
    if not leading and side.relief < 0:
        note = "negative: this side leans out below its edge, because the groove runs away from it"
    sheet.add(
        f"tool.relief_{name}",
        degrees(side.relief),
        formula=formula,
        inputs=inputs,
        source=_GEOMETRY,
        basis="computed",
        note=note or "from square to the face, in the section square to the shank",
    )


def blade(job: Job, sheet: Sheet, grind: Grind, nose: Nose) -> None:
    """Record the blade's length, height, widths, taper, corner radius and overhang."""
    sheet.add(
        "tool.blade_length",
        nose.length,
        formula="max((d - d3) / 2 + x, B tan(ke) + y"
        + (", d / 2 - sqrt(max((d3 / 2)^2 - B^2, 0)) + y)" if grind.groove.internal else ")"),
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
        note="deep enough to clear the crest, and longer than the end relief runs back"
        + (" and than the foot reaches into the crest" if grind.groove.internal else ""),
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
    _widths(sheet, nose)
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


def _widths(sheet: Sheet, nose: Nose) -> None:
    common = {"w": sheet.ref("tool.tip_width"), "lb": sheet.ref("tool.blade_length")}
    sheet.add(
        "tool.shank_width",
        nose.shank_width,
        formula="w + lb (tan(b1) + tan(b2))",
        inputs={
            **common,
            "b1": sheet.ref("tool.flank_leading"),
            "b2": sheet.ref("tool.flank_trailing"),
        },
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


def corner_radius(sheet: Sheet, grind: Grind) -> float:
    """Record the largest corner radius: the form's, or what the root clearance swallows."""
    limit = next((id for id in ("thread.root_radius", "thread.clearance") if id in sheet), None)
    if limit is None:
        return 0.0
    # A tip that is narrower than two corners of that radius is one arc.
    leading, trailing = (atan(edge.slope) for edge in (grind.face.leading, grind.face.trailing))
    meeting = rule.corner_radius_largest(grind.tip, leading, trailing)
    radius = min(sheet.number(limit), meeting)
    leads, trails = ("0", "0") if grind.groove.parallel else ("b1", "b2")
    sheet.add(
        "tool.corner_radius",
        radius,
        formula=f"min(rr, w / (tan(45 - {leads} / 2) + tan(45 - {trails} / 2)))",
        inputs={
            "rr": sheet.ref(limit),
            "w": sheet.ref("tool.tip_width"),
            **(
                {}
                if grind.groove.parallel
                else {
                    "b1": sheet.ref("tool.flank_leading"),
                    "b2": sheet.ref("tool.flank_trailing"),
                }
            ),
        },
        source=sheet[limit].source,
        basis=sheet[limit].basis,
        note=(
            "the largest root radius of the form"
            if limit == "thread.root_radius"
            else "as large as the clearance at the root: the mate's crest does not reach it"
        ),
    )
    return radius


def swept(sheet: Sheet, grind: Grind, nose: Nose, found: Clearances) -> None:
    """Record the least clearance that the swept solid has, where, and the error of its form."""
    carried = {
        "L": sheet.ref("thread.lead"),
        "k1": sheet.ref("tool.relief_leading"),
        "k2": sheet.ref("tool.relief_trailing"),
        "ke": sheet.ref("tool.end_relief"),
    }
    each = (
        f"square to the edge: {degrees(found.leading):.2f}° leading,"
        f" {degrees(found.trailing):.2f}° trailing, {degrees(found.end):.2f}° end"
    )
    if grind.corner:
        each += f", {degrees(found.corners):.2f}° corners"
    sheet.add(
        "tool.clearance_least",
        degrees(found.least),
        formula="method: every point of sides, end and corners carried along the helix to the wall"
        " that the edges leave",
        inputs=carried,
        source=_GEOMETRY,
        basis="computed",
        note=each,
    )
    touch = found.places[found.face]
    sheet.add(
        "tool.clearance_place",
        _SURFACES[found.face],
        formula="method: where tool.clearance_least was found",
        inputs=carried,
        source=_GEOMETRY,
        basis="computed",
    )
    for id, place in (("diameter", 2 * touch.radius), ("below", touch.below)):
        sheet.add(
            f"tool.clearance_{id}",
            place,
            formula="method: where tool.clearance_least was found",
            inputs=carried,
            source=_GEOMETRY,
            basis="computed",
        )
    _form_error(sheet, grind, nose)


def _form_error(sheet: Sheet, grind: Grind, nose: Nose) -> None:
    cut = solid(nose, grind.groove)
    flanks, root = form_error(cut, grind.groove), hollow(cut)
    sheet.add(
        "tool.form_error",
        round(max(flanks, abs(root)), _PLACES),
        formula="method: the wall that the straight edges leave against the thread's own, square"
        " to the flank; and the root that a tipped point leaves hollow",
        inputs={
            "L": sheet.ref("thread.lead"),
            "w": sheet.ref("tool.tip_width"),
            "b1": sheet.ref("tool.flank_leading"),
            "b2": sheet.ref("tool.flank_trailing"),
            "g": sheet.ref("tool.rake"),
            **({"t": sheet.ref("tool.tilt")} if grind.tilt else {}),
        },
        source=_GEOMETRY,
        basis="computed",
        note=f"flanks {1000 * flanks:.1f} µm, root {1000 * abs(root):.1f} µm; corners sharp",
    )
