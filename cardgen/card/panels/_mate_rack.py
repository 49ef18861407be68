"""The rack: what is planed, seen in section with its screw, and from the screw with the lean."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import count

from cardgen.card.drawing import Drawing
from cardgen.card.panel import Block
from cardgen.card.panels._mate_pair import lettered, section
from cardgen.card.panels._sizes import sizes_table
from cardgen.card.pen import TINT, XY
from cardgen.card.piece import Piece
from cardgen.card.table import Kit
from cardgen.card.view import View
from cardgen.core.words import joined, told

_TALLEST = 46.0
_CLEAR_FACE = (3.0, 5.5, 3.0, 1.5)
_SIZES = ("mate.tooth_thickness", "mate.tooth_space", "mate.cutter_tip")


def rack(kit: Kit, view: View) -> Sequence[Block]:
    """Return the blocks of a rack."""
    set_over = view.number("mate.axis_angle") > 0
    lean = ("mate.axis_angle",) if set_over else ("mate.tooth_angle",)
    return [
        kit.paragraph(_name(view), weight="bold", keep=True),
        *_section(kit, view),
        kit.bigs(
            [
                (view.label("mate.cutter_step"), view.written("mate.cutter_step"), ""),
                (view.label("mate.tooth_depth"), view.written("mate.tooth_depth"), ""),
            ]
        ),
        *kit.figures(*lean),
        _face(kit, view),
        kit.note(
            told(
                "Teeth {tooth_lean}. Shaded: their tips.",
                tooth_lean=view.written("mate.tooth_lean"),
            )
        ),
        *sizes_table(view, kit, _SIZES),
        *kit.figures(
            "mate.cutter_angle",
            "mate.tooth_pitch",
            "mate.travel_per_turn",
            "mate.rack_length",
            "mate.rack_width",
            "mate.contact_width",
            "mate.teeth_in_mesh",
            "mate.axis_to_tips",
        ),
        *lettered(kit, view, "mate.end_clearance"),
        *(
            [kit.pair("Rack of", view.written("mate.material"))]
            if view.has("mate.material")
            else []
        ),
        kit.big(
            view.lettered("mate.backlash"),
            view.limits("mate.backlash"),
        ),
        kit.space(1.0),
        *(kit.item(step.text) for step in view.steps.get("mate", ())),
        kit.note(
            told(
                "Tooth and clearances: common practice. Straight teeth bind by "
                "{flank_excess}, which is taken off them.",
                flank_excess=view.written("mate.flank_excess"),
            )
        ),
    ]


def _name(view: View) -> str:
    set_over = view.number("mate.axis_angle") > 0
    words = ["Rack", "square teeth, axis set over" if set_over else "sloping teeth"]
    if view.has("mate.teeth"):
        words.append(told("{teeth} teeth", teeth=view.written("mate.teeth")))
    return joined(words, ", ")


def _section(kit: Kit, view: View) -> Sequence[Block]:
    """Return the section through the screw's axis: the screw above, the rack below."""
    words = (
        "Both in the middle of their limits, the rack pushed to the right; its flanks as near as"
        " they come over its width."
    )
    return section(kit, view, ("screw", "rack"), ("end_clearance", "end_clearance"), words)


def _face(kit: Kit, view: View) -> Piece:
    """Return a piece of the rack seen from the screw, with the axis over it."""
    face = view.outlines["mate.rack_face"].points
    axis = view.outlines["mate.rack_axis"].points
    tips: list[Sequence[XY]] = []
    for number in count(1):
        name = f"mate.rack_tip_{number}"
        if name not in view.outlines:
            break
        tips.append(view.outlines[name].points)
    xs, ys = zip(*face, *axis, strict=True)

    def draw(drawing: Drawing) -> None:
        for strip in tips:
            drawing.thin(strip, closed=True, fill=TINT)
        drawing.outline([face[0], face[1]])
        drawing.outline([face[3], face[2]])
        drawing.thin([face[1], face[2]])
        drawing.thin([face[0], face[3]])
        drawing.centre_line(*axis)
        drawing.horizontal(tips[1][3], tips[2][3], "p", 4.0)
        drawing.label(axis[1], "axis", sides=(0.0, 270.0, 90.0))
        if view.number("mate.axis_angle") > 0:
            drawing.leader(axis[0], view.written("mate.axis_angle"), toward=270.0, end="none")
            return
        # Square to the travel, for the eye to see the lean against.
        foot, head = tips[-1][0], tips[-1][3]
        drawing.thin([foot, (foot[0], head[1])])
        leant = ((foot[0] + head[0]) / 2, 0.6 * foot[1])
        drawing.leader(leant, view.written("mate.tooth_angle"), toward=290.0)

    return kit.drawing(
        (min(xs), min(ys), max(xs), max(ys)),
        draw,
        tallest=_TALLEST,
        clear=_CLEAR_FACE,
        size=kit.body,
    )
