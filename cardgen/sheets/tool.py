"""The tool sheet: how to grind the cutter for this thread, and whether it will clear its groove.

On the lathe the work's front runs down past the tool, so that below the tool's face the groove of
a right-hand thread lies towards the tailstock. A right-hand thread is cut towards the chuck: the
tool's chuck side leads. A left-hand thread is cut away from the chuck, and the tailstock side
leads. Spindle forward, tool at the front: of a screw with its point to the axis, of a nut's bore
with its point to the operator.
"""

from __future__ import annotations

from dataclasses import replace
from math import degrees, radians, sqrt

from cardgen.core.figure import Outline, Sheet
from cardgen.core.rounding import MM_PER_INCH, with_unit
from cardgen.core.words import joined, told
from cardgen.rules.clearance import Clearances
from cardgen.rules.helicoid import Groove
from cardgen.rules.tool import Nose
from cardgen.rules.tool_views import Lines, Views
from cardgen.sheets._constants import value
from cardgen.sheets._tool_bar import bar, bit_fits, smaller_bit
from cardgen.sheets._tool_face import face, setting
from cardgen.sheets._tool_grind import Grind, face_of, groove_of
from cardgen.sheets._tool_profile import bottom, ground_face
from cardgen.sheets._tool_settings import settings
from cardgen.sheets._tool_sides import blade, corner_radius, side_reliefs, swept
from cardgen.sheets._tool_starts import starts
from cardgen.sheets._tool_steps import grinding_steps
from cardgen.sheets._tool_tables import PRACTICE, bits, blanks, end_relief
from cardgen.spec.job import Job

NEEDED = (
    "thread.pitch",
    "thread.lead",
    "thread.major_diameter",
    "thread.pitch_diameter",
    "thread.minor_diameter",
    "thread.groove_width",
    "thread.depth",
    "thread.blank_diameter",
    "thread.leading_flank",
    "thread.trailing_flank",
    "thread.lead_angle_major",
    "thread.lead_angle_pitch",
    "thread.lead_angle_minor",
)
"""Figures without which no tool can be worked out."""

_CURVE = 12
"""Pieces of the curve of the bore."""
_SHOWN = 0.35
"""Length of shank in the views, as a part of the blank's side."""


def work_out(job: Job, sheet: Sheet) -> None:
    """Record the tool's figures, its views to scale and the order of grinding.

    Outlines [mm], all with the tool held face up and its point towards the reader, chuck side on
    the right (a nut's on the left): ``tool.front`` the end (x to the right, y up from the face),
    ``tool.top`` the face (y from the point towards the shank), ``tool.side`` from the reader's
    right (x from the point towards the shank, y up); names that go on with ``.visible.N`` or
    ``.hidden.N`` are further edges of the same view.
    ``tool.silhouette`` is the face and ``tool.silhouette.end`` the blade from the front, to hold
    the ground tool against; ``tool.face`` are the ends of both edges, the point unrounded.
    """
    if any(id not in sheet for id in NEEDED):
        return
    if _too_steep(sheet):
        return
    setting(job, sheet)
    width = bottom(sheet)
    if width.value <= 0:
        sheet.refuse(
            "tool.no_tip",
            "The flanks meet above the root: no tool can reach this depth at this pitch. Make the"
            " thread shallower or its pitch larger.",
        )
        return
    groove = groove_of(job, sheet, width.value)
    face(job, sheet, groove)
    grind = _grind(job, sheet, groove)
    ground_face(job, sheet, width, grind)
    grind = replace(grind, corner=corner_radius(sheet, grind))
    if groove.internal and _heel_too_steep(job, sheet, grind):
        return
    nose = grind.nose(job.tool.blank, grind.best_clearance(job.tool.blank))
    side_reliefs(job, sheet, grind, nose)
    blade(job, sheet, grind, nose)
    settings(job, sheet, nose)
    swept_over = grind.swept(nose)
    swept(sheet, grind, nose, swept_over)
    starts(job, sheet)
    if groove.internal:
        bar(job, sheet, grind)
    _refusals(job, sheet, grind, nose, swept_over)
    _warnings(job, sheet)
    if not any(finding.refuses for finding in sheet.findings):
        _views(job, sheet, nose)
    sheet.steps.extend(grinding_steps(job, sheet, nose))


def _grind(job: Job, sheet: Sheet, groove: Groove) -> Grind:
    """Return what is settled before the corners: the face, its edges and the end."""
    rake = radians(sheet.number("tool.rake"))
    tilt = radians(sheet.number("tool.tilt")) if "tool.tilt" in sheet else 0.0
    usual = end_relief(job.work.material.group, degrees(groove.steepest)).value_deg
    return Grind(
        groove=groove,
        face=face_of(groove, rake, tilt),
        rake=rake,
        end_relief=radians(sheet.number("tool.end_relief")),
        tilt=tilt,
        end_relief_usual=radians(usual),
    )


def _too_steep(sheet: Sheet) -> bool:
    """Refuse a helix that no ground cutter follows; whether it was refused."""
    steepest = value(PRACTICE, "steepest_lead_angle")
    at_root = sheet.number("thread.lead_angle_minor")
    if at_root <= steepest:
        return False
    sheet.refuse(
        "tool.too_steep",
        told(
            "At the root the helix climbs at {at_root}°; over {steepest}° no ground "
            "cutter follows it. What helps: fewer starts, a smaller pitch, or a larger "
            "diameter.",
            at_root=f"{at_root:.0f}",
            steepest=f"{steepest:g}",
        ),
    )
    return True


def _heel_too_steep(job: Job, sheet: Sheet, grind: Grind) -> bool:
    """Refuse a bit that is too high for the curve of the bore; whether it was refused."""
    most, needed = value(PRACTICE, "end-relief-most"), sheet.number("tool.end_relief")
    if needed <= most:
        return False
    sheet.refuse(
        "tool.heel_rubs",
        told(
            "A bit {height} high needs an end relief of {needed}° to clear the curve of a "
            "bore of {bore}; over {most}° its edge is too weak. What helps: {help}.",
            height=_length(job, job.tool.blank),
            needed=f"{needed:.0f}",
            bore=_length(job, 2 * grind.groove.crest),
            most=f"{most:g}",
            help=smaller_bit(job, sheet, grind),
        ),
    )
    return True


def _refusals(job: Job, sheet: Sheet, grind: Grind, nose: Nose, swept_over: Clearances) -> None:
    """Refuse what cannot be ground, with the blank that would do."""
    blank = job.tool.blank
    sizes = bits(job.inch) if grind.groove.internal else blanks(job.inch)
    better = next(
        (
            name
            for side, name in sizes
            if (
                bit_fits(job, sheet, grind, side)
                if grind.groove.internal
                else grind.can_be_ground(side)
            )
        ),
        "",
    )
    helps = []
    if better and grind.groove.internal:
        helps = [told("a bit of {size}", size=better)]
    elif better:
        helps = [told("a blank of {size}", size=better)]
    if nose.blank_needed > blank:
        if grind.tilt == 0 and not grind.groove.internal:
            helps.append("setting: tipped, which takes the lean out of the blade")
        sheet.refuse(
            "tool.blank_too_small",
            told(
                "The blade needs {needed} of width, with its lean, and the blank is {blank}. "
                "What helps: {help}.",
                needed=_length(job, nose.blank_needed),
                blank=_length(job, blank),
                help=joined(helps or ["a smaller pitch"], " or "),
            ),
        )
    elif nose.foot_width < grind.foot_least:
        left = max(nose.foot_width, 0.0)
        sheet.refuse(
            "tool.foot_too_thin",
            told(
                "Relieved by {leading}° and {trailing}° over its height of {height}, a blade "
                "with a tip of {tip} has only {left} left at its foot, and {least} is the least "
                "to grind. What helps: {help}.",
                leading=f"{sheet.number('tool.relief_leading'):.1f}",
                trailing=f"{sheet.number('tool.relief_trailing'):.1f}",
                height=_length(job, blank),
                tip=_length(job, nose.tip_width),
                left=_length(job, left),
                least=_length(job, grind.foot_least),
                help=joined(helps or ["a larger pitch"], " or "),
            ),
        )
    if swept_over.least <= 0:
        sheet.refuse(
            "tool.rubs",
            told(
                "Carried along the helix the tool rubs: clearance {leading}° leading, "
                "{trailing}° trailing, {end}° at the end. What helps: {help}, or a smaller "
                "lead.",
                leading=f"{degrees(swept_over.leading):.1f}",
                trailing=f"{degrees(swept_over.trailing):.1f}",
                end=f"{degrees(swept_over.end):.1f}",
                help=_against_rubbing(grind),
            ),
        )


def _against_rubbing(grind: Grind) -> str:
    if grind.groove.internal:
        return "a smaller bit"
    return "setting: level" if grind.tilt else "setting: tipped"


def _warnings(job: Job, sheet: Sheet) -> None:
    steep = value(PRACTICE, "level_lead_angle")
    angle = sheet.number("thread.lead_angle_pitch")
    if job.tool.setting == "level" and angle > steep:
        sheet.warn(
            "tool.steep_for_level",
            told(
                "The lead angle is {angle}°. A tool set level cuts badly above about "
                "{steep}°: its leading edge is then a thin wedge and its trailing edge "
                "scrapes. setting: tipped turns both square to the cut.",
                angle=f"{angle:.1f}",
                steep=f"{steep:g}",
            ),
        )
    if not sheet.internal and sheet.number("tool.blade_length") > sheet.number("tool.overhang"):
        sheet.warn(
            "tool.long_blade",
            told(
                "The blade is {length} long; a blank of {blank} should not stand out of its "
                "holder farther than {overhang}. Use a larger blank.",
                length=_length(job, sheet.number("tool.blade_length")),
                blank=_length(job, job.tool.blank),
                overhang=_length(job, sheet.number("tool.overhang")),
            ),
        )


def _views(job: Job, sheet: Sheet, nose: Nose) -> None:
    # A nut's tool points towards the operator, so that its chuck side is on the reader's left.
    right_leads = (job.thread.hand == "right") != sheet.internal
    views = Views(nose, job.tool.blank, right_leads, _SHOWN * job.tool.blank, _point(sheet))
    for name, lines in (
        ("tool.front", views.front()),
        ("tool.front.blank", views.blank_front()),
        ("tool.top", views.top()),
        ("tool.side", views.side()),
    ):
        _outline(sheet, name, lines)
    if sheet.internal:
        _bore_curve(sheet, nose)
    sheet.outlines["tool.face"] = Outline(views.face())
    sheet.outlines["tool.silhouette"] = Outline(views.silhouette(), closed=True)
    sheet.outlines["tool.silhouette.end"] = Outline(views.blade_front(), closed=True)


def _bore_curve(sheet: Sheet, nose: Nose) -> None:
    """Give the curve of the bore at the first touch, as it lies under the point from the side."""
    radius = sheet.number("thread.blank_diameter") / 2
    drop = min(nose.height, radius)
    points = [drop * k / _CURVE for k in range(_CURVE + 1)]
    sheet.outlines["tool.side.bore"] = Outline(
        tuple((radius - sqrt(radius**2 - y**2), -y) for y in points)
    )


def _point(sheet: Sheet) -> float:
    """Return the radius of a point that the form rounds to one arc; 0 for a flat one."""
    return sheet.number("tool.corner_radius") if "thread.root_shape" in sheet else 0.0


def _outline(sheet: Sheet, name: str, lines: Lines) -> None:
    sheet.outlines[name] = Outline(lines.outline, lines.closed)
    for kind, edges in (("visible", lines.visible), ("hidden", lines.hidden)):
        for number, edge in enumerate(edges):
            sheet.outlines[f"{name}.{kind}.{number}"] = Outline(edge)


def _length(job: Job, length: float) -> str:
    if job.inch:
        return with_unit(length / MM_PER_INCH, "in", 3)
    return with_unit(length, "mm", 2)
