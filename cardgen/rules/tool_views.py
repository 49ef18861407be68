"""The ground tool seen from the front, from above and from the chuck's side: lines to scale.

All views are of the tool held face up with its point towards the reader, as in third-angle
projection: chuck side on the right, tailstock side on the left. Front: x to the right, y up from
the face. Top: x to the right, y from the point towards the shank. Side, from the chuck: x from the
point towards the shank, y up from the face. Lengths in mm, angles in rad.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from math import tan

from cardgen.rules.profile import rounded_corner
from cardgen.rules.tool import Nose, Side

XY = tuple[float, float]
_SAME = 1e-6
"""Lines nearer than this to one another are one line [mm]."""


@dataclass(slots=True)
class Lines:
    """The lines of one view.

    Attributes
    ----------
    outline
        The view's own outline.
    closed
        Whether the outline's last point joins its first.
    visible, hidden
        Further edges.
    """

    outline: tuple[XY, ...]
    closed: bool
    visible: list[tuple[XY, ...]] = field(default_factory=list)
    hidden: list[tuple[XY, ...]] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class _Edge:
    """One side as it lies in the views: ``sign`` is -1 on the left, 1 on the right."""

    nose: Nose
    side: Side
    sign: float

    def face(self, along: float) -> float:
        """Return x of the edge on the face."""
        return self.sign * (self.nose.tip_width / 2 + along * tan(self.side.angle))

    def below(self, along: float, down: float) -> float:
        """Return x of the side's surface at a depth below the face's level."""
        under_edge = down - along * tan(self.nose.rake)
        return self.face(along) - self.sign * under_edge * tan(self.side.relief)


@dataclass(frozen=True, slots=True)
class Views:
    """A nose on its blank.

    Attributes
    ----------
    nose
        The ground end.
    blank
        Side of the square blank [mm].
    chuck_leads
        Whether the leading side is the chuck's (right-hand thread).
    shown
        Length of shank shown behind the blade [mm].
    corner
        Radius to which both corners of the point are rounded on the face [mm].
    """

    nose: Nose
    blank: float
    chuck_leads: bool
    shown: float
    corner: float = 0.0

    @property
    def _edges(self) -> tuple[_Edge, _Edge]:
        left, right = self.nose.trailing, self.nose.leading
        if not self.chuck_leads:
            left, right = right, left
        return _Edge(self.nose, left, -1.0), _Edge(self.nose, right, 1.0)

    @property
    def _blank_sides(self) -> tuple[float, float]:
        # The point stands off the blank's middle towards the leading side, so the blank's middle
        # lies off the point towards the trailing side.
        middle = self.nose.off_centre * (-1.0 if self.chuck_leads else 1.0)
        return middle - self.blank / 2, middle + self.blank / 2

    def front(self) -> Lines:
        """Return the end face, and the foot of the blade at the shoulder behind it."""
        nose, back = self.nose, self.nose.height * tan(self.nose.end_relief)
        left, right = self._edges
        view = Lines(
            (
                (left.face(0), 0.0),
                (right.face(0), 0.0),
                (right.below(back, nose.height), -nose.height),
                (left.below(back, nose.height), -nose.height),
            ),
            closed=True,
        )
        fall = nose.length * tan(nose.rake)
        for edge in self._edges:
            # A blade that narrows behind its point hides these edges with its own end.
            if edge.side.angle > 0:
                top = (edge.face(nose.length), -fall)
                view.visible.append((top, (edge.below(nose.length, nose.height), -nose.height)))
                if fall > _SAME:
                    view.visible.append(((edge.face(0), 0.0), top))
        return view

    def blank_front(self) -> Lines:
        """Return the blank behind the blade, seen from the front."""
        left, right = self._blank_sides
        down = -self.blank
        return Lines(((left, 0.0), (right, 0.0), (right, down), (left, down)), closed=True)

    def top(self) -> Lines:
        """Return the face and the shank from above, and the foot of the blade below them."""
        nose, end = self.nose, self.nose.length + self.shown
        blank_left, blank_right = self._blank_sides
        point = self.face()
        view = Lines(
            (
                (blank_left, end),
                (blank_left, nose.length),
                point[0],
                *rounded_corner(*point[:3], self.corner),
                *rounded_corner(*point[1:], self.corner),
                point[3],
                (blank_right, nose.length),
                (blank_right, end),
            ),
            closed=False,
        )
        back = nose.height * tan(nose.end_relief)
        for edge in self._edges:
            foot = (edge.below(back, nose.height), back)
            lines = [
                ((edge.face(0), 0.0), foot),
                (foot, (edge.below(nose.length, nose.height), nose.length)),
            ]
            if edge.side.relief > _SAME:
                view.hidden += lines
            elif edge.side.relief < -_SAME:
                view.visible += lines
        feet = [edge.below(back, nose.height) for edge in self._edges]
        faces = [edge.face(back) for edge in self._edges]
        # The foot's end lies under the face, but for the part that leans out beyond an edge.
        if feet[0] < faces[0] - _SAME:
            view.visible.append(((feet[0], back), (min(faces[0], feet[1]), back)))
        if feet[1] > faces[1] + _SAME:
            view.visible.append(((max(faces[1], feet[0]), back), (feet[1], back)))
        under = (max(feet[0], faces[0]), min(feet[1], faces[1]))
        if under[0] < under[1]:
            view.hidden.append(((under[0], back), (under[1], back)))
        return view

    def side(self) -> Lines:
        """Return the tool from the chuck's side: face, end and shoulder."""
        nose, end = self.nose, self.nose.length + self.shown
        fall = nose.length * tan(nose.rake)
        face: list[XY] = [(end, 0.0)]
        if fall > _SAME:
            face += [(nose.length, 0.0), (nose.length, -fall)]
        view = Lines(
            (
                *face,
                (0.0, 0.0),
                (nose.height * tan(nose.end_relief), -nose.height),
                (end, -nose.height),
            ),
            closed=False,
        )
        shoulder = ((nose.length, -fall), (nose.length, -nose.height))
        _, right = self._edges
        stands_out = self._blank_sides[1] - right.face(nose.length) > _SAME
        (view.visible if stands_out else view.hidden).append(shoulder)
        return view

    def blade_front(self) -> tuple[XY, ...]:
        """Return the whole blade from the front as one closed shape: its widest cross-section."""
        nose = self.nose
        along = nose.length if nose.shank_width > nose.tip_width else 0.0
        left, right = self._edges
        return (
            (left.face(along), 0.0),
            (right.face(along), 0.0),
            (right.below(along, nose.height), -nose.height),
            (left.below(along, nose.height), -nose.height),
        )

    def face(self) -> tuple[XY, XY, XY, XY]:
        """Return the ends of both edges on the face, left shank to right, its point unrounded."""
        left, right = self._edges
        length = self.nose.length
        return (
            (left.face(length), length),
            (left.face(0), 0.0),
            (right.face(0), 0.0),
            (right.face(length), length),
        )

    def silhouette(self) -> tuple[XY, ...]:
        """Return the face with a piece of the shank as one closed shape."""
        return self.top().outline
