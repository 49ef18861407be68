"""The ground thread tool: how each side must lean, how wide its tip is, what is left under it.

The tool is seen from the lathe's own axes: *along* the shank away from the point (radial in the
work), *across* the face, and *down* from the face. Its leading side meets the fresh metal, its
trailing side follows. Nothing here knows the hand of the thread: a left-hand tool is the mirror
image. Lengths in mm, angles in rad.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import atan, atan2, cos, pi, sin, tan


@dataclass(frozen=True, slots=True)
class Side:
    """One side of the blade.

    Attributes
    ----------
    angle
        Of its edge in plan, from the shank's direction; the blade widens behind the point with a
        positive angle, narrows with a negative one [rad].
    relief
        From square to the face, in the section square to the shank. Positive leans in under the
        edge, negative leans out [rad].
    """

    angle: float
    relief: float


@dataclass(frozen=True, slots=True)
class Nose:
    """The ground end of the tool.

    Attributes
    ----------
    tip_width
        Across the point, on the face [mm].
    leading, trailing
        The two sides.
    end_relief
        Of the end under the point [rad].
    rake
        Of the face, falling away behind the point [rad].
    tilt
        By which the whole tool is tipped about its shank so that it stands in the groove; 0 for a
        face level with the axis [rad].
    length
        Of the blade, along the shank [mm].
    height
        Of the blade, down from the face [mm].
    """

    tip_width: float
    leading: Side
    trailing: Side
    end_relief: float
    rake: float
    tilt: float
    length: float
    height: float

    @property
    def height_left(self) -> float:
        """Height of the blade where it joins the shank, under a face that falls away [mm]."""
        return self.height - self.length * tan(self.rake)

    @property
    def shank_width(self) -> float:
        """Width on the face where the blade joins the shank [mm]."""
        return self.tip_width + self.length * self._spread

    @property
    def foot_width(self) -> float:
        """Width at the bottom of the blade where it is thinnest [mm]; negative if there is none.

        The sides lean in under the edge. Under the point the end relief sets the bottom back to
        where slanted sides are wider again.
        """
        narrowing = self.height * (tan(self.leading.relief) + tan(self.trailing.relief))
        under_point = self.tip_width + self.height * tan(self.end_relief) * self._spread
        return min(under_point, self.shank_width) - narrowing

    @property
    def _spread(self) -> float:
        return tan(self.leading.angle) + tan(self.trailing.angle)

    def reach(self, side: Side) -> float:
        """Return how far a side, at face or bottom, stands out from the point's middle [mm]."""
        at_shank = self.tip_width / 2 + self.length * tan(side.angle)
        bottom = self.height * max(0.0, -tan(side.relief))
        return max(self.tip_width / 2, at_shank) + bottom

    @property
    def blank_needed(self) -> float:
        """Width of blank in which the blade fits, with its lean [mm]."""
        return self.reach(self.leading) + self.reach(self.trailing)

    @property
    def off_centre(self) -> float:
        """How far the point's middle must stand off the blank's, towards the leading side [mm].

        0 as long as the blade fits with its point in the middle of a blank of the blade's height.
        """
        half = self.height / 2
        over_trailing = max(0.0, self.reach(self.trailing) - half)
        over_leading = max(0.0, self.reach(self.leading) - half)
        return over_trailing - over_leading


def wall_lean(
    lead: float, radius: float, tilt: float = 0.0, half_width: float = 0.0, flank: float = 0.0
) -> float:
    """Return how far the groove's wall leans below an edge point, from square to the face.

    The wall leans towards the trailing side. It is taken in the section square to the shank, where
    it is the lead angle at the point's radius, less the tilt of the tool. On a tipped tool an
    edge point stands above or below the axis, where a slanted wall also opens towards the crest.

    Parameters
    ----------
    lead
        Axial travel in one turn [mm].
    radius
        Distance of the edge point from the axis, along the shank [mm].
    tilt
        Of the tool [rad].
    half_width
        Distance of the edge point from the middle of the face [mm].
    flank
        Angle of the edge in plan [rad].

    Returns
    -------
    float
        [rad].

    Notes
    -----
    Exact for an edge on a face without rake. The direction below the edge is the helix's,
    ``(-y, x, p)`` with ``p = lead / (2 pi)``, moved along the edge into the section x = const.

    Examples
    --------
    The lead angle of a 1 1/4-4 square thread at its root, 4 deg 33 min:

    >>> from math import degrees
    >>> round(degrees(wall_lean(6.35, 12.7)), 2)
    4.55
    """
    p = lead / (2 * pi)
    down = radius * cos(tilt) + p * sin(tilt)
    across = p * cos(tilt) - radius * sin(tilt) - half_width * sin(tilt) * tan(flank)
    return atan2(across, down)


def relief_leading(lean: float, clearance: float) -> float:
    """Return the relief of the leading side: it must outlean the wall at the root [rad]."""
    return lean + clearance


def relief_trailing(lean: float, clearance: float) -> float:
    """Return the relief of the trailing side, from which the wall leans away [rad].

    The wall gives least at the crest, so ``lean`` is the one there. Negative where the wall gives
    more than the clearance: the side then leans out under its edge.
    """
    return clearance - lean


def normal_to_edge(relief: float, flank: float) -> float:
    """Return a side's relief in the plane square to its slanted edge: the grinder's rest [rad].

    ``tan(kn) = tan(k) cos(a)``.

    Examples
    --------
    >>> from math import degrees, radians
    >>> round(degrees(normal_to_edge(radians(8), radians(30))), 2)
    6.94
    """
    return atan(tan(relief) * cos(flank))


def flank_clearance_by_front(front: float, flank: float) -> float:
    """Return the clearance that tipping a form forward by ``front`` gives its flanks [rad].

    ``tan(c) = tan(e) tan(a)``, measured square to the axis's own section. This is all the flank
    clearance that a form of constant section has, such as an insert; a blade with ground sides
    does not need it.
    """
    return atan(tan(front) * tan(flank))


def tip_width(
    pitch: float, pitch_diameter: float, root_diameter: float, near: float, far: float
) -> float:
    """Return the tip that cuts a pitch diameter and a root diameter at once [mm].

    The groove is half a pitch wide at the pitch diameter and narrows by its flanks down to the
    root: ``w = P / 2 - (d2 - d3) / 2 (tan a1 + tan a2)``.

    Examples
    --------
    Acme, 4 threads per inch, basic: 0.3707 P - 0.0052 in.

    >>> from math import radians
    >>> a = radians(14.5)
    >>> round(tip_width(0.25, 1.125, 0.98, a, a), 4)
    0.0875
    """
    return pitch / 2 - (pitch_diameter - root_diameter) / 2 * (tan(near) + tan(far))


def corner_radius_largest(tip: float, near: float, far: float) -> float:
    """Return the corner radius at which both corners of the tip meet in one arc [mm].

    Examples
    --------
    The root of a metric thread, one arc of H / 6 at pitch 1:

    >>> from math import radians
    >>> round(corner_radius_largest(1 / 6, radians(30), radians(30)), 4)
    0.1443
    """
    return tip / (tan(pi / 4 - near / 2) + tan(pi / 4 - far / 2))


def clearance_between(usual: float, least: float, step: float) -> Sequence[float]:
    """Return clearances from the usual one down to the least, in steps, to try in turn [rad]."""
    count = round((usual - least) / step)
    return [usual - step * k for k in range(count)] + [least]
