"""How the rack is planed: the cutter, the order of work, and the pictures."""

from __future__ import annotations

from math import degrees, fsum, radians, tan

from cardgen.core.figure import Outline, Sheet, Step
from cardgen.core.rounding import MM_PER_INCH, with_unit
from cardgen.core.words import told
from cardgen.forms.sizes import basic_sizes
from cardgen.rules.pair import Pair
from cardgen.rules.rack import Mesh, normal_angle, pitch_along_travel
from cardgen.sheets._form import form_of
from cardgen.sheets._mate_picture import mean_size, record_picture
from cardgen.spec.job import Job, Mate

TEETH_SHOWN = 4
"""Teeth of the rack that a panel draws from the screw's side."""

_EQUAL_PITCHES = "geometry: the pitches square to the teeth are equal"
_GEOMETRY = "geometry of the straight-flank profile"


def record_cutter(mate: Mate, sheet: Sheet) -> None:
    """Record the cutter that planes the spaces, square to the teeth."""
    lead_angle = sheet.ref("thread.lead_angle_pitch")
    flanks = {"a1": sheet.ref("thread.leading_flank"), "a2": sheet.ref("thread.trailing_flank")}
    turn = radians(float(lead_angle.value))
    squared = pitch_along_travel(1.0, turn)
    angles = [normal_angle(radians(float(flank.value)), turn) for flank in flanks.values()]
    sheet.add(
        "mate.cutter_angle",
        degrees(fsum(angles)),
        formula="atan(tan(a1) cos(L)) + atan(tan(a2) cos(L))",
        inputs={**flanks, "L": lead_angle},
        source=_GEOMETRY,
        basis="computed",
        note="both flanks together, square to the tooth",
    )
    crest, pitch_line = (sheet.ref(f"thread.{id}_diameter") for id in ("major", "pitch"))
    below = (float(crest.value) - float(pitch_line.value)) / 2 + sheet.number("mate.end_clearance")
    narrowed = below * fsum(tan(radians(float(flank.value))) for flank in flanks.values())
    set_over = mate.axis == "set-over"
    # Along the travel a set-over rack's space is already square to its teeth.
    narrower = "((d - d2) / 2 + c) (tan(a1) + tan(a2))"
    formula = f"e - {narrower} cos(L)" if set_over else f"(e - {narrower}) cos(L)"
    space = sheet["mate.tooth_space"]
    assert space.low is not None  # noqa: S101  (_thickness() gave limits)
    assert space.high is not None  # noqa: S101

    def tip(width: float) -> float:
        return (width if set_over else width * squared) - narrowed * squared

    sheet.add(
        "mate.cutter_tip",
        tip(space.number),
        low=tip(space.low),
        high=tip(space.high),
        formula=formula,
        inputs={
            "e": sheet.ref("mate.tooth_space"),
            "d": crest,
            "d2": pitch_line,
            "c": sheet.ref("mate.end_clearance"),
            "L": lead_angle,
            **flanks,
        },
        source=_GEOMETRY,
        basis="computed",
        note="square to the tooth",
    )
    sheet.add(
        "mate.cutter_step",
        sheet.number("thread.pitch") * squared,
        formula="P cos(L)",
        inputs={"P": sheet.ref("thread.pitch"), "L": lead_angle},
        source=_EQUAL_PITCHES,
        basis="computed",
        note="of the table, square to the cutter's stroke",
    )


def record_steps(job: Job, mate: Mate, sheet: Sheet) -> None:
    angle = with_unit(sheet.number("thread.lead_angle_pitch"), "deg", 2)
    step, depth = (_length(job, sheet.number(f"mate.{id}"))
                   for id in ("cutter_step", "tooth_depth"))  # fmt: skip
    texts = (
        (
            told(
                "Swing the rack {angle} out of square, the way the picture leans; try the "
                "lean with the screw laid on it before the second cut.",
                angle=angle,
            ),
            told(
                "Step {step} square to the stroke from tooth to tooth, {depth} deep. Count "
                "the steps from the first tooth, so that no error adds up.",
                step=step,
                depth=depth,
            ),
        )
        if mate.axis == "parallel"
        else (
            told(
                "Step {step} from tooth to tooth, {depth} deep. Count the steps from the "
                "first tooth, so that no error adds up.",
                step=step,
                depth=depth,
            ),
            told(
                "Bore for the screw {angle} out of the rack's travel, the way the picture shows.",
                angle=angle,
            ),
        )
    )
    for text in texts:
        sheet.steps.append(Step(text, "rack", "geometry"))
    for text in (
        "Blue the screw and run it along: the marks belong on the middle of the face. Let the axis"
        " down until the play is right, then fix its height.",
    ):
        sheet.steps.append(Step(text, "fit", "common practice"))


def _length(job: Job, number: float) -> str:
    return with_unit(number / MM_PER_INCH, "in", 4) if job.inch else with_unit(number, "mm", 3)


def record_outlines(job: Job, mesh: Mesh, sheet: Sheet) -> None:
    """Give the section through the axis, and the face of the rack seen from the screw.

    The section is in the middle of the limits, its teeth as near to the screw's flanks as they
    come anywhere over the width of the rack.
    """
    sizes = basic_sizes(form_of(job), job.thread.diameter, job.thread.pitch)
    squared = pitch_along_travel(1.0, radians(sheet.number("mate.axis_angle")))
    groove = mean_size(sheet, "thread.groove_width")
    pair = Pair(
        pitch=sizes.pitch,
        near=sizes.leading,
        far=sizes.trailing,
        line=mesh.pitch_radius,
        screw_groove=groove,
        nut_groove=sizes.pitch - groove + sheet.number("mate.backlash") / squared,
        crest=mesh.crest,
        root=sizes.minor / 2,
        bore=mesh.tips,
        bottom=mesh.tips + sheet.number("mate.tooth_depth"),
        arcs=(sizes.crest_arc, sizes.root_arc, 0.0, 0.0),
    )
    record_picture(sheet, pair, rack=True)
    pitch, width = sheet.number("mate.tooth_pitch"), mesh.width
    sense = 1.0 if job.thread.hand == "right" else -1.0
    lean = sense * tan(radians(sheet.number("mate.tooth_angle"))) * width / 2
    over = sense * tan(radians(sheet.number("mate.axis_angle")))
    tip = sheet.number("mate.tooth_tip")
    strips = {
        f"tip_{number}": ((number - 0.5) * pitch, tip / 2) for number in range(1, TEETH_SHOWN + 1)
    }
    strips["face"] = (TEETH_SHOWN / 2 * pitch, TEETH_SHOWN / 2 * pitch)
    for name, (middle, half) in strips.items():
        sheet.outlines[f"mate.rack_{name}"] = Outline(
            (
                (middle - lean - half, -width / 2),
                (middle - lean + half, -width / 2),
                (middle + lean + half, width / 2),
                (middle + lean - half, width / 2),
            ),
            closed=True,
        )
    middle, reach = TEETH_SHOWN / 2 * pitch, (TEETH_SHOWN / 2 + 0.6) * pitch
    sheet.outlines["mate.rack_axis"] = Outline(
        ((middle - reach, -reach * over), (middle + reach, reach * over))
    )
