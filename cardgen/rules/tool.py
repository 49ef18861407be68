"""The ground thread tool: how each side must lean, how wide its tip is, what is left under it.

The tool is seen from the lathe's own axes: *along* the shank away from the point (radial in the
work), *across* the face, and *down* from the face. Its leading side meets the fresh metal, its
trailing side follows. Nothing here knows the hand of the thread: a left-hand tool is the mirror
image. Lengths in mm, angles in rad.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import pi, tan


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
