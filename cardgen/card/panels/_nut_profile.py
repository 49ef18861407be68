"""A nut's section above its bore, drawn to scale and dimensioned."""

from __future__ import annotations

from math import radians, tan

from cardgen.card.drawing import Drawing
from cardgen.card.panels._window import Corners, cropped, first_groove, shown_length
from cardgen.card.piece import Piece
from cardgen.card.table import Kit
from cardgen.card.view import View

_TALLEST = 46.0
_CLEAR = (7.4, 9.0, 9.0, 13.5)
"""Room for dimensions: left, top, right, bottom [mm]."""
_BODY = 0.5
"""How much of the nut is drawn outside the root, in depths of the thread."""
_LEVELS = ("major", "pitch", "minor")


def nut_profile(kit: Kit, view: View) -> Piece:
    """Return the drawing of the nut's section: metal above, the bore below."""
    whole = view.outlines["thread.profile"].points
    crest, root = min(y for _, y in whole), max(y for _, y in whole)
    top = root + _BODY * (root - crest)
    end = shown_length(kit, whole[-1][0], crest, top, _TALLEST, _CLEAR)
    nut = cropped(whole, end)

    def draw(drawing: Drawing) -> None:
        drawing.hatch([[*nut, (end, top), (0.0, top)]], spacing=1.5, angle=135.0)
        drawing.outline(nut)
        drawing.break_line((0.0, top), (end, top))
        drawing.thin([nut[0], (0.0, top)])
        drawing.thin([nut[-1], (end, top)])
        _levels(drawing, view, end)
        groove = first_groove(view)
        _widths(drawing, view, groove, top)
        last = max(x for x, y in nut if y == crest)
        drawing.vertical((end, root), (last, crest), view.bare("thread.depth"), 5.0)
        if view.number("thread.included_angle") > 0:
            _angle(drawing, view, groove)
        drawing.state_scale()

    return kit.drawing((0.0, crest, end, top), draw, tallest=_TALLEST, clear=_CLEAR, size=kit.body)


def _levels(drawing: Drawing, view: View, end: float) -> None:
    """Mark the three diameters on the left, the pitch line through the whole section."""
    reach = 3.0 / float(drawing.scale)
    for which in _LEVELS:
        id = f"thread.{which}_diameter"
        radius = view.number(id) / 2
        if which == "pitch":
            drawing.centre_line((-reach, radius), (end, radius))
        else:
            drawing.thin([(-reach, radius), (0.0, radius)])
        drawing.label((-reach, radius), view.figures[id].name.symbol, sides=(180.0,))


def _widths(drawing: Drawing, view: View, groove: Corners, top: float) -> None:
    (left, crest), (root_left, root), (root_right, _), (right, _) = groove
    pitch = view.number("thread.pitch")
    if view.has("thread.crest_shape"):
        lowest = ((right + left + pitch) / 2, crest)
        drawing.leader(lowest, f"R {view.bare('thread.crest_radius')}", toward=-30, reach=3.0)
    else:
        flat = view.bare("thread.crest_flat")
        drawing.horizontal((right, crest), (left + pitch, crest), flat, -3.5)
    drawing.horizontal((left, crest), (left + pitch, crest), f"P {view.bare('thread.pitch')}", -9.0)
    above = (top - root) * float(drawing.scale) + 4.5
    if view.has("thread.root_shape"):
        highest = ((root_left + root_right) / 2, root)
        drawing.leader(highest, f"R {view.bare('thread.root_radius')}", toward=70, reach=above)
        return
    drawing.horizontal((root_left, root), (root_right, root), view.bare("thread.root_flat"), above)


def _angle(drawing: Drawing, view: View, groove: Corners) -> None:
    """Dimension the angle of the first groove, from the point where its flanks would meet."""
    (left, crest), (root_left, root), (root_right, _), (right, _) = groove
    near, far = (root_left - left) / (root - crest), (right - root_right) / (root - crest)
    beyond = (root_right - root_left) / (near + far)
    apex = (root_left + beyond * near, root + beyond)
    angles = [view.number(f"thread.{side}_flank") for side in ("leading", "trailing")]
    steep = sorted(angles, key=lambda angle: abs(tan(radians(angle)) - near))
    drawing.angle(
        apex,
        270.0 - steep[0],
        270.0 + steep[-1],
        view.written("thread.included_angle"),
        radius=-0.25 * (root - crest) * float(drawing.scale),
        legs_from=beyond + root - crest,
    )
