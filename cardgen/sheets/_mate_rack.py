"""The rack that a screw drives: teeth, slope, clearances, and the cutter that planes it.

The screw lies over the rack either along its travel, over teeth that slope by the lead angle, or
set over by that angle, over teeth that stand square to the travel. Both are planed with straight
flanks that touch the screw's at its pitch diameter (see :mod:`cardgen.rules.rack`).
"""

from __future__ import annotations

from math import fsum, radians, sin, tan

from cardgen.core.figure import Input, Sheet
from cardgen.core.words import told
from cardgen.rules.rack import (
    Mesh,
    axis_over_face,
    pitch_along_travel,
    reach_across,
    straight_tooth_excess,
)
from cardgen.sheets._constants import constant, source, value
from cardgen.sheets._mate_rack_cut import record_cutter, record_outlines, record_steps
from cardgen.spec.job import Job, Mate

_TABLE = "mate/rack"
_EQUAL_PITCHES = "geometry: the pitches square to the teeth are equal"
_GEOMETRY = "geometry of the straight-flank profile"
_EXCESS = "geometry: plane flank against the screw's helicoid"

_NEEDED = (
    "thread.pitch_diameter",
    "thread.major_diameter",
    "thread.minor_diameter",
    "thread.lead_angle_pitch",
    "thread.groove_width",
)

_TURNED = {
    "right": "square; the screw's axis is turned anticlockwise out of the travel, seen from the"
    " screw",
    "left": "square; the screw's axis is turned clockwise out of the travel, seen from the screw",
}
"""How the axis of a screw of either hand lies over square teeth."""
_LEAN = {
    "right": "to the right at the far edge, seen from the screw with the travel left to right",
    "left": "to the left at the far edge, seen from the screw with the travel left to right",
}
"""How the teeth lean that mesh with a screw of either hand."""


def record_rack(job: Job, mate: Mate, sheet: Sheet) -> None:
    """Record the rack's figures, its order of work, and its outlines.

    Outlines, in millimetres: the section as :mod:`cardgen.sheets._mate_picture` gives it;
    ``mate.rack_face``, ``mate.rack_tip_1`` ... and ``mate.rack_axis`` the rack seen from the
    screw, x along the travel.
    """
    if any(id not in sheet for id in _NEEDED) or sheet["thread.groove_width"].low is None:
        return
    _pitch(mate, sheet)
    _levels(sheet)
    mesh = _face(mate, sheet)
    _thickness(mesh, sheet)
    tip = sheet["mate.tooth_tip"]
    least = value(_TABLE, "tip-least") * sheet.number("thread.pitch")
    if tip.number < least:
        sheet.refuse(
            "mate.rack_tip",
            told(
                "The rack's teeth would be {tip} mm wide at their tips, less than a tenth "
                "of the pitch ({least} mm). A form with a steeper flank, a single start or a "
                "thicker screw would help.",
                tip=f"{tip.number:.3f}",
                least=f"{least:.3f}",
            ),
        )
        return
    _count(job, mate, sheet)
    record_cutter(mate, sheet)
    if mate.material is not None:
        sheet.add("mate.material", mate.material.title, source="the job", basis="data",
                  evidence="read")  # fmt: skip
    record_steps(job, mate, sheet)
    record_outlines(job, mesh, sheet)


def _pitch(mate: Mate, sheet: Sheet) -> None:
    """Record pitch, slope and travel."""
    lead_angle = sheet.ref("thread.lead_angle_pitch")
    set_over = mate.axis == "set-over"
    slope = 0.0 if set_over else float(lead_angle.value)
    over = float(lead_angle.value) if set_over else 0.0
    for id, angle, note in (
        ("tooth_angle", slope, "from square to the travel"),
        ("axis_angle", over, "screw's axis to the rack's travel"),
    ):
        sheet.add(
            f"mate.{id}",
            angle,
            formula="L" if angle else "",
            inputs={"L": lead_angle} if angle else {},
            source=_EQUAL_PITCHES,
            basis="computed",
            note=note,
        )
    hand = str(sheet["thread.hand"].value)
    text = _TURNED[hand] if set_over else _LEAN[hand]
    sheet.add(
        "mate.tooth_lean",
        text,
        inputs={"hand": Input(hand, "", "thread.hand", "read")},
        source="geometry",
        basis="computed",
    )
    pitch = sheet.ref("thread.pitch")
    sheet.add(
        "mate.tooth_pitch",
        pitch_along_travel(float(pitch.value), radians(over)),
        formula="P cos(b)",
        inputs={"P": pitch, "b": sheet.ref("mate.axis_angle")},
        source=_EQUAL_PITCHES,
        basis="computed",
        note="along the travel",
    )
    sheet.add(
        "mate.travel_per_turn",
        sheet.number("thread.starts") * sheet.number("mate.tooth_pitch"),
        formula="n p",
        inputs={"n": sheet.ref("thread.starts"), "p": sheet.ref("mate.tooth_pitch")},
        source="geometry: a turn of the screw moves as many teeth as it has starts",
        basis="computed",
    )


def _levels(sheet: Sheet) -> None:
    """Record how far from the axis the rack's tips lie, how deep it is cut, and what is clear."""
    inputs = {"e": constant(_TABLE, "end-clearance"), "P": sheet.ref("thread.pitch")}
    least = {"e P": value(_TABLE, "end-clearance") * sheet.number("thread.pitch")}
    if "thread.clearance" in sheet:
        inputs["ac"] = sheet.ref("thread.clearance")
        least["ac"] = sheet.number("thread.clearance")
    if "thread.root_radius" in sheet:
        # The flat tip must stay off the rounding of the root, which a steep flank leaves high up.
        side = min(("leading", "trailing"), key=lambda end: sheet.number(f"thread.{end}_flank"))
        inputs |= {"rr": sheet.ref("thread.root_radius"), "a": sheet.ref(f"thread.{side}_flank")}
        rounding = 1 - sin(radians(sheet.number(f"thread.{side}_flank")))
        least["rr (1 - sin(a))"] = sheet.number("thread.root_radius") * rounding
    clear = max(least.values())
    formula = f"max({', '.join(least)})" if len(least) > 1 else "e P"
    sheet.add(
        "mate.end_clearance",
        clear,
        formula=formula,
        inputs=inputs,
        source=source(_TABLE, "end-clearance"),
        basis="practice",
        note="at the rack's tips and at its roots",
    )
    root = sheet.ref("thread.minor_diameter")
    sheet.add(
        "mate.axis_to_tips",
        float(root.value) / 2 + clear,
        formula="d3 / 2 + c",
        inputs={"d3": root, "c": sheet.ref("mate.end_clearance")},
        source=_GEOMETRY,
        basis="computed",
    )
    sheet.add(
        "mate.tooth_depth",
        (sheet.number("thread.major_diameter") - float(root.value)) / 2,
        formula="(d - d3) / 2",
        inputs={"d": sheet.ref("thread.major_diameter"), "d3": root},
        source=_GEOMETRY,
        basis="computed",
        note="the same as the screw's, with the same clearance at both ends",
    )


def _face(mate: Mate, sheet: Sheet) -> Mesh:
    """Record how wide the rack is and how wide the screw reaches."""
    crest, tips = sheet.number("thread.major_diameter") / 2, sheet.number("mate.axis_to_tips")
    sheet.add(
        "mate.contact_width",
        reach_across(crest, tips),
        formula="2 sqrt((d / 2)^2 - A^2)",
        inputs={
            "d": sheet.ref("thread.major_diameter"),
            "A": sheet.ref("mate.axis_to_tips"),
        },
        source="geometry: the screw's chord at the tips of the rack",
        basis="computed",
        note="a rack wider than that is strong, but the screw does not use it",
    )
    given = mate.width is not None
    width = mate.width if mate.width is not None else sheet.number("mate.contact_width")
    sheet.add(
        "mate.rack_width",
        width,
        formula="w",
        inputs={
            "w": Input(width, "mm", "spec:mate.width", "read")
            if given
            else sheet.ref("mate.contact_width")
        },
        source="the job" if given else "common practice",
        basis="data" if given else "practice",
        evidence="read" if given else "practice",
    )
    lead, pitch_radius = sheet.number("thread.lead"), sheet.number("thread.pitch_diameter") / 2
    return Mesh(lead, pitch_radius, crest, tips, width)


def _thickness(mesh: Mesh, sheet: Sheet) -> None:
    """Record what straight teeth bind by, then teeth, spaces and play."""
    flanks = {"a1": sheet.ref("thread.leading_flank"), "a2": sheet.ref("thread.trailing_flank")}
    excess = fsum(straight_tooth_excess(mesh, radians(float(f.value))) for f in flanks.values())
    sheet.add(
        "mate.flank_excess",
        excess,
        formula="method: least gap of a plane flank to the helicoid over the face, both flanks",
        inputs={
            "L": sheet.ref("thread.lead"),
            "d2": sheet.ref("thread.pitch_diameter"),
            "d": sheet.ref("thread.major_diameter"),
            "A": sheet.ref("mate.axis_to_tips"),
            "w": sheet.ref("mate.rack_width"),
            **flanks,
        },
        source=_EXCESS,
        basis="computed",
        note="axial, taken off the teeth; a full fit needs a piece of nut",
    )
    pitch, over = sheet.number("thread.pitch"), sheet.ref("mate.axis_angle")
    groove = sheet["thread.groove_width"]
    assert groove.low is not None  # noqa: S101  (record_rack() looked)
    play, room = value(_TABLE, "play-least"), value(_TABLE, "thickness-tolerance")
    squared = pitch_along_travel(1.0, radians(float(over.value)))
    most = (groove.low - excess - play * pitch) * squared
    least = most - room * pitch * squared
    shared = {"E": sheet.ref("mate.flank_excess"), "b": over}
    sheet.add(
        "mate.tooth_thickness",
        (most + least) / 2,
        low=least,
        high=most,
        formula="(S - E - (j + t / 2) P) cos(b)",
        inputs={
            "S": sheet.low("thread.groove_width"),
            "j": constant(_TABLE, "play-least"),
            "t": constant(_TABLE, "thickness-tolerance"),
            "P": sheet.ref("thread.pitch"),
            **shared,
        },
        source=source(_TABLE, "play-least"),
        basis="practice",
        note="along the travel, at the screw's pitch diameter",
    )
    tooth = sheet.ref("mate.tooth_thickness")
    sheet.add(
        "mate.tooth_space",
        sheet.number("mate.tooth_pitch") - float(tooth.value),
        low=sheet.number("mate.tooth_pitch") - most,
        high=sheet.number("mate.tooth_pitch") - least,
        formula="p - s",
        inputs={"p": sheet.ref("mate.tooth_pitch"), "s": tooth},
        source="geometry",
        basis="computed",
        note="along the travel, at the screw's pitch diameter",
    )
    narrowed = fsum(tan(radians(float(flank.value))) for flank in flanks.values()) * squared
    sheet.add(
        "mate.tooth_tip",
        least - (mesh.pitch_radius - mesh.tips) * narrowed,
        formula="sl - (d2 / 2 - A) (tan(a1) + tan(a2)) cos(b)",
        inputs={
            "sl": sheet.low("mate.tooth_thickness"),
            "d2": sheet.ref("thread.pitch_diameter"),
            "A": sheet.ref("mate.axis_to_tips"),
            "b": over,
            **flanks,
        },
        source=_GEOMETRY,
        basis="computed",
    )
    if groove.high is None:
        return
    low, high = (groove.low - excess) * squared - most, (groove.high - excess) * squared - least
    sheet.add(
        "mate.backlash",
        (low + high) / 2,
        low=low,
        high=high,
        formula="((Sl + Sh) / 2 - E) cos(b) - s",
        inputs={
            "Sl": sheet.low("thread.groove_width"),
            "Sh": sheet.high("thread.groove_width"),
            "s": tooth,
            **shared,
        },
        source="geometry of the straight-flank profile",
        basis="computed",
        note="along the travel, with the axis at its height over the tips; lower it for less",
    )


def _count(job: Job, mate: Mate, sheet: Sheet) -> None:
    """Record how many teeth there are, and how many of them mesh at a time."""
    pitch, over = sheet.ref("mate.tooth_pitch"), sheet.ref("mate.axis_angle")
    engaged = sheet.ref("thread.length") if mate.length is None else Input(
        mate.length, "mm", "spec:mate.length", "read"
    )  # fmt: skip
    lengths = {"l": engaged, "b": over}
    terms = ["l cos(b)"]
    along = pitch_along_travel(float(engaged.value), radians(float(over.value)))
    if float(over.value) > 0:
        lengths["w"] = sheet.ref("mate.rack_width")
        terms.append("w / tan(b)")
        along = min(along, axis_over_face(float(lengths["w"].value), radians(float(over.value))))
    if mate.teeth is not None:
        sheet.add(
            "mate.teeth",
            float(mate.teeth),
            formula="z",
            inputs={"z": Input(mate.teeth, "", "spec:mate.teeth", "read")},
            source="the job",
            basis="data",
            evidence="read",
        )
        sheet.add(
            "mate.rack_length",
            mate.teeth * float(pitch.value),
            formula="z p",
            inputs={"z": sheet.ref("mate.teeth"), "p": pitch},
            source="geometry",
            basis="computed",
        )
        lengths["r"] = sheet.ref("mate.rack_length")
        terms.append("r")
        along = min(along, sheet.number("mate.rack_length"))
    shortest = f"min({', '.join(terms)})" if len(terms) > 1 else terms[0]
    sheet.add(
        "mate.teeth_in_mesh",
        along / float(pitch.value),
        formula=f"{shortest} / p",
        inputs={**lengths, "p": pitch},
        source="geometry",
        basis="computed",
        note="all of the screw's thread lies over the rack"
        if float(over.value) == 0
        else "as far as the screw's axis lies over the rack's face",
    )
    if along < 2 * float(pitch.value):
        sheet.warn(
            "mate.few_teeth",
            told(
                "Only {teeth} teeth mesh at a time. A wider or longer rack, or a longer "
                "screw, would carry more.",
                teeth=f"{along / float(pitch.value):.1f}",
            ),
        )
