"""The axial section of a thread with straight flanks, symmetric or not.

Each flank has its own angle, measured from the plane square to the axis. Across a groove, the
*near* flank is the one at smaller x, the *far* flank the one at larger x. The pitch line is where
ridge and groove are equally wide, half a pitch each. Lengths in mm, angles in rad.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import acos, atan2, ceil, copysign, cos, fsum, hypot, pi, sin, tan

XY = tuple[float, float]

_SAME_POINT = 1e-9
"""Points nearer to one another are one point [mm]."""
_ARC_STEP = pi / 18
"""Largest turn between two points of a rounded corner [rad]."""


@dataclass(frozen=True, slots=True)
class Section:
    """One thread form at one size, as the screw has it.

    Attributes
    ----------
    pitch
        [mm].
    near, far
        Flank angles [rad].
    crest, pitch_line, root
        Radii, half the major, pitch and minor diameter [mm].
    """

    pitch: float
    near: float
    far: float
    crest: float
    pitch_line: float
    root: float

    @property
    def depth(self) -> float:
        """Radial depth from crest to root [mm]."""
        return self.crest - self.root

    @property
    def crest_flat(self) -> float:
        """Axial width of the ridge at the crest [mm]; negative if the flanks meet below it."""
        return self.pitch - self.groove_width(self.crest)

    @property
    def root_flat(self) -> float:
        """Axial width of the groove at the root [mm]; negative if the flanks meet above it."""
        return self.groove_width(self.root)

    @property
    def groove_offset(self) -> float:
        """By how much the groove's middle lies beyond half a pitch from that of a ridge [mm].

        The ridge's middle is that of its crest, the groove's that of its pitch line; unlike flanks
        put them out of step.
        """
        return (self.crest - self.pitch_line) * (tan(self.near) - tan(self.far)) / 2

    def groove_width(self, radius: float) -> float:
        """Return the axial width of the groove at a radius [mm]."""
        return self.pitch / 2 + (radius - self.pitch_line) * (tan(self.near) + tan(self.far))


def fundamental_height(pitch: float, near: float, far: float) -> float:
    """Return the height of the triangle that the flanks of one pitch form [mm].

    Raises
    ------
    ValueError
        If the flanks are parallel, as those of a square thread are: they never meet.

    Examples
    --------
    >>> from math import radians
    >>> round(fundamental_height(1.0, radians(30), radians(30)), 6)
    0.866025
    """
    spread = tan(near) + tan(far)
    if spread <= 0:
        msg = "parallel flanks never meet: there is no fundamental triangle"
        raise ValueError(msg)
    return pitch / spread


def groove_widening(shortfall: float, near: float, far: float) -> float:
    """Return by how much the groove is wider where the pitch diameter is smaller than basic [mm].

    Parameters
    ----------
    shortfall
        Basic pitch diameter less the actual one [mm].
    near, far
        Flank angles [rad].
    """
    return shortfall / 2 * (tan(near) + tan(far))


def groove_outline(section: Section) -> tuple[XY, ...]:
    """Return one groove from crest corner to crest corner, its root centred on x = 0 [mm]."""
    corners = _groove(section, 0, section.crest, section.root)
    middle = (corners[1][0] + corners[2][0]) / 2
    return tuple((x - middle, y) for x, y in corners)


def screw_outline(
    section: Section,
    length: float,
    root_radius: float = 0.0,
    start: float = 0.0,
    crest_radius: float = 0.0,
) -> tuple[XY, ...]:
    """Return the screw's section, a line that runs along the screw [mm].

    Parameters
    ----------
    section
        The form.
    length
        Of the piece shown [mm].
    root_radius, crest_radius
        Rounding of the two corners of root and crest, as far as the flat has room for both; where
        they take it up, root or crest is one arc [mm].
    start
        Where the piece begins, from the middle of a ridge [mm].

    Returns
    -------
    tuple of (x, radius)
        Open line, x from 0 to ``length``.
    """
    levels = (section.crest, section.root)
    line = _rounded_line(section, levels, (crest_radius, root_radius), start + length)
    return clipped([(x - start, y) for x, y in line], length)


def nut_outline(
    section: Section,
    nut_root: float,
    nut_crest: float,
    length: float,
    root_radius: float = 0.0,
    crest_radius: float = 0.0,
) -> tuple[XY, ...]:
    """Return the section of the nut that lies on the screw's flanks [mm].

    Parameters
    ----------
    section
        The screw's form, as for :func:`screw_outline`; with a pitch line of the nut's own, the
        clearance that this leaves is shared by both flanks.
    nut_root
        Radius of the bottom of the nut's groove, over the screw's crest [mm].
    nut_crest
        Radius of the nut's bore [mm].
    length
        Where the outline ends [mm].
    root_radius, crest_radius
        Rounding of the nut's own corners, as for the screw's [mm].
    """
    levels = (nut_root, nut_crest)
    return clipped(_rounded_line(section, levels, (root_radius, crest_radius), length), length)


def one_arc(flat: float, near: float, far: float) -> float:
    """Return the radius of the arc that takes up a flat between two flanks [mm].

    A corner between flat and flank turns by a right angle less the flank's own; its rounding
    takes up ``R tan(turn / 2)`` of the flat.

    Examples
    --------
    Whitworth: the triangle cut off by a sixth of its height, a flat of P/6, r = 0.137329 P.

    >>> from math import radians
    >>> round(one_arc(1 / 6, radians(27.5), radians(27.5)), 6)
    0.137329
    """
    return flat / fsum(tan((pi / 2 - flank) / 2) for flank in (near, far))


def _rounded_line(
    section: Section, levels: tuple[float, float], radii: tuple[float, float], end: float
) -> list[XY]:
    """Return grooves between an upper and a lower level, their corners rounded."""
    upper, lower = levels
    flats = (section.pitch - section.groove_width(upper), section.groove_width(lower))
    over, under = (
        min(radius, one_arc(max(flat, 0.0), section.near, section.far))
        for radius, flat in zip(radii, flats, strict=True)
    )
    corners: list[tuple[XY, float]] = []
    for number in range(-1, ceil(end / section.pitch) + 1):
        a, b, c, d = _groove(section, number, upper, lower)
        corners += [(a, over), (b, under), (c, under), (d, over)]
    return rounded(corners)


def rounded(corners: Sequence[tuple[XY, float]]) -> list[XY]:
    """Return a line through corners, each rounded to a radius of its own but for its ends [mm]."""
    line = [corners[0][0]]
    for (before, _), (corner, radius), (after, _) in zip(
        corners, corners[1:], corners[2:], strict=False
    ):
        line += rounded_corner(before, corner, after, radius)
    return [*line, corners[-1][0]]


def nut_groove_width(section: Section, radius: float) -> float:
    """Return the axial width of the nut's groove at a radius: what the screw's ridge leaves [mm].

    Parameters
    ----------
    section
        The screw's form, as for :func:`nut_outline`.
    radius
        Distance from the axis [mm].
    """
    return section.pitch - section.groove_width(radius)


def nut_groove_outline(section: Section, nut_root: float, nut_crest: float) -> tuple[XY, ...]:
    """Return one groove of the nut from crest corner to crest corner, its root over x = 0 [mm].

    The nut's wall at smaller x lies on the screw's far flank, its other wall on the near one.
    """
    half, depth = nut_groove_width(section, nut_root) / 2, nut_root - nut_crest
    return (
        (-half - depth * tan(section.far), nut_crest),
        (-half, nut_root),
        (half, nut_root),
        (half + depth * tan(section.near), nut_crest),
    )


def rounded_corner(before: XY, corner: XY, after: XY, radius: float) -> list[XY]:
    """Return the points of a corner rounded to a radius; the corner itself for radius 0 [mm]."""
    if radius <= 0:
        return [corner]
    into = _unit(before, corner)
    out = _unit(corner, after)
    turn = acos(max(-1.0, min(1.0, into[0] * out[0] + into[1] * out[1])))
    side = copysign(1.0, into[0] * out[1] - into[1] * out[0])
    tangent = radius * tan(turn / 2)
    start = (corner[0] - into[0] * tangent, corner[1] - into[1] * tangent)
    centre = (start[0] - side * into[1] * radius, start[1] + side * into[0] * radius)
    first = atan2(start[1] - centre[1], start[0] - centre[0])
    count = ceil(turn / _ARC_STEP)
    return [
        (
            centre[0] + radius * cos(first + side * turn * step / count),
            centre[1] + radius * sin(first + side * turn * step / count),
        )
        for step in range(count + 1)
    ]


def clipped(line: Sequence[XY], length: float) -> tuple[XY, ...]:
    """Return the part of a line between x = 0 and x = ``length``; x never falls along it."""
    kept = [_at(line, 0.0)]
    for point in (*(p for p in line if 0 < p[0] < length), _at(line, length)):
        # Two roundings that meet leave their common point twice, but for the last bit.
        if hypot(point[0] - kept[-1][0], point[1] - kept[-1][1]) > _SAME_POINT:
            kept.append(point)
    return tuple(kept)


def area_under(line: Iterable[XY], base: float) -> float:
    """Return the area between a line and the level ``base``, by trapezia [mm2]."""
    points = list(line)
    return fsum((b[0] - a[0]) * ((a[1] + b[1]) / 2 - base) for a, b in pairwise(points))


def _groove(section: Section, number: int, top: float, bottom: float) -> tuple[XY, XY, XY, XY]:
    """Return a groove's flank ends between two radii; a ridge's middle lies over x = 0."""
    at_pitch_line = (
        number * section.pitch
        + section.crest_flat / 2
        + (section.crest - section.pitch_line) * tan(section.near)
    )

    def near(radius: float) -> XY:
        return at_pitch_line - (radius - section.pitch_line) * tan(section.near), radius

    def far(radius: float) -> XY:
        x, _ = near(radius)
        return x + section.groove_width(radius), radius

    return near(top), near(bottom), far(bottom), far(top)


def _unit(start: XY, end: XY) -> XY:
    run, rise = end[0] - start[0], end[1] - start[1]
    length = hypot(run, rise)
    return run / length, rise / length


def _at(line: Sequence[XY], x: float) -> XY:
    for a, b in pairwise(line):
        if a[0] <= x <= b[0] and a[0] < b[0]:
            return x, a[1] + (b[1] - a[1]) * (x - a[0]) / (b[0] - a[0])
    msg = f"the line does not reach x = {x}"
    raise ValueError(msg)
