"""The thread's section, drawn to scale and dimensioned."""

from __future__ import annotations

from math import radians, tan

from cardgen.card.drawing import Drawing
from cardgen.card.panels._window import Corners, cropped, first_groove, shown_length
from cardgen.card.piece import Piece
from cardgen.card.table import Kit
from cardgen.card.view import View

_TALLEST = 46.0
_CLEAR = (7.0, 13.5, 9.0, 9.0)
"""Room for dimensions: left, top, right, bottom [mm]."""
_BODY = 0.5
"""How much of the bar is drawn below the root, in depths of the thread."""
_LEVELS = (("d", "major"), ("d2", "pitch"), ("d3", "minor"))


def profile(kit: Kit, view: View) -> Piece:
    """Return the drawing of the screw's section."""
    whole = view.outlines["thread.profile"].points
    crest, root = max(y for _, y in whole), min(y for _, y in whole)
    bottom = root - _BODY * (crest - root)
    end = shown_length(kit, whole[-1][0], bottom, crest, _TALLEST, _CLEAR)
    screw = cropped(whole, end)

    def draw(drawing: Drawing) -> None:
        drawing.hatch([[*screw, (end, bottom), (0.0, bottom)]], spacing=1.5)
        drawing.outline(screw)
        drawing.break_line((0.0, bottom), (end, bottom))
        drawing.thin([(0.0, crest), (0.0, bottom)])
        drawing.thin([screw[-1], (end, bottom)])
        _levels(drawing, view, end)
        groove = first_groove(view)
        _widths(drawing, view, groove, bottom)
        last = max(x for x, y in screw if y == crest)
        drawing.vertical((last, crest), (end, root), view.bare("thread.depth"), 5.0)
        if view.number("thread.included_angle") > 0:
            _angle(drawing, view, groove)
        drawing.state_scale()

    return kit.drawing(
        (0.0, bottom, end, crest), draw, tallest=_TALLEST, clear=_CLEAR, size=kit.body
    )


def _levels(drawing: Drawing, view: View, end: float) -> None:
    """Mark the three diameters on the left, the pitch line through the whole section."""
    reach = 3.0 / float(drawing.scale)
    for symbol, which in _LEVELS:
        radius = view.number(f"thread.{which}_diameter") / 2
        if which == "pitch":
            drawing.centre_line((-reach, radius), (end, radius))
        else:
            drawing.thin([(-reach, radius), (0.0, radius)])
        drawing.label((-reach, radius), symbol, sides=(180.0,))


def _widths(drawing: Drawing, view: View, groove: Corners, bottom: float) -> None:
    (left, crest), (root_left, root), (root_right, _), (right, _) = groove
    pitch = view.number("thread.pitch")
    if view.has("thread.crest_shape"):
        top = ((right + left + pitch) / 2, crest)
        drawing.leader(top, f"R {view.bare('thread.crest_radius')}", toward=30, reach=3.0)
    else:
        drawing.horizontal(
            (right, crest), (left + pitch, crest), view.bare("thread.crest_flat"), 3.5
        )
    drawing.horizontal((left, crest), (left + pitch, crest), f"P {view.bare('thread.pitch')}", 9.0)
    below = (root - bottom) * float(drawing.scale) + 4.5
    if view.has("thread.root_shape"):
        lowest = ((root_left + root_right) / 2, root)
        drawing.leader(lowest, f"R {view.bare('thread.root_radius')}", toward=-70, reach=below)
        return
    drawing.horizontal((root_left, root), (root_right, root), view.bare("thread.root_flat"), -below)


def _angle(drawing: Drawing, view: View, groove: Corners) -> None:
    """Dimension the angle of the first groove, from the point where its flanks would meet."""
    (_, crest), (root_left, root), (root_right, _), _ = groove
    near, far = (view.number(f"thread.{side}_flank") for side in ("leading", "trailing"))
    below = (root_right - root_left) / (tan(radians(near)) + tan(radians(far)))
    apex = (root_left + below * tan(radians(near)), root - below)
    drawing.angle(
        apex,
        90.0 - far,
        90.0 + near,
        view.written("thread.included_angle"),
        # Within the groove: the flanks themselves are the legs.
        radius=-0.25 * (crest - root) * float(drawing.scale),
        legs_from=below + crest - root,
    )
