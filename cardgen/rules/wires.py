"""Measuring a screw over wires: the exact seat of a wire between two helicoidal flanks.

A flank that is straight in the axial section sweeps an Archimedean helicoid. A wire laid in the
groove and free to turn on a flat anvil settles where it touches both flanks in the plane square
to itself, and then reads exactly what a ball of its diameter reads. So the seat is solved for a
ball: its centre lies where its distance from either flank is its radius.

Lengths in mm, angles in rad.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import cos, hypot, pi, sin, tan

from cardgen.rules.helix import lead_angle

_TURN_ERROR = 1e-14
_LENGTH_ERROR = 1e-12
_MOST_STEPS = 60


class NoSeatError(ValueError):
    """A wire that finds no seat between the flanks."""


@dataclass(frozen=True, slots=True)
class Groove:
    """A screw's groove.

    Attributes
    ----------
    lead
        Axial travel in one turn [mm].
    pitch_diameter
        Actual pitch diameter [mm].
    width
        Axial width of the groove there: half the pitch by definition [mm].
    near, far
        Flank angles from the plane square to the axis [rad].
    """

    lead: float
    pitch_diameter: float
    width: float
    near: float
    far: float

    @property
    def lead_angle(self) -> float:
        """Lead angle at the pitch diameter [rad]."""
        return lead_angle(self.lead, self.pitch_diameter)


@dataclass(frozen=True, slots=True)
class Seat:
    """Where a wire comes to rest.

    Attributes
    ----------
    centre
        Distance of the wire's centre from the axis [mm].
    wire
        Diameter of the wire [mm].
    near, far
        Distance from the axis at which it touches each flank [mm].
    shift
        Of the centre along the axis, from the middle of the groove at its pitch line [mm].
    """

    centre: float
    wire: float
    near: float
    far: float
    shift: float = 0.0

    @property
    def over(self) -> float:
        """Size over the wires, one above and two below [mm]."""
        return 2 * self.centre + self.wire

    @property
    def under(self) -> float:
        """Distance of the wire's lowest point from the axis [mm]."""
        return self.centre - self.wire / 2


def seat(groove: Groove, wire: float) -> Seat:
    """Return the seat of a wire, solved to a millionth of a micrometre.

    Parameters
    ----------
    groove
        The screw's groove; its flanks are taken to go on beyond crest and root.
    wire
        Diameter [mm].

    Raises
    ------
    NoSeatError
        If the flanks stand square to the axis: a wire does not wedge between them.

    Notes
    -----
    Checked against Machinery's Handbook 31st ed. p.2135 f.: Acme threads of large lead angle. A
    cylinder laid in by brute force rests where the ball does; only where a flank stands within a
    degree of square does the twist hold it up, by micrometres.
    """
    if groove.near + groove.far <= 0 or min(groove.near, groove.far) < 0:
        msg = "a wire does not wedge between flanks that stand square to the axis"
        raise NoSeatError(msg)
    return settled(groove, wire, *between_walls(groove, wire))


def between_walls(groove: Groove, wire: float) -> tuple[float, float]:
    """Return where a wire or ball would lie if the lead were nought, where to look for its seat.

    Unlike flanks push it out of the groove's middle. Flank angles are negative for a nut, as for
    :func:`settled`.

    Returns
    -------
    tuple of float
        Distance from the axis, and along it from the groove's middle at the pitch line [mm].
    """
    half, spread = wire / 2, tan(groove.near) + tan(groove.far)
    rise = (half / cos(groove.near) + half / cos(groove.far) - groove.width) / spread
    shift = half / cos(groove.near) - groove.width / 2 - rise * tan(groove.near)
    return groove.pitch_diameter / 2 + rise, shift


def settled(groove: Groove, wire: float, radius: float, shift: float = 0.0) -> Seat:
    """Return where a wire or ball touches both flanks, looked for from a place on.

    A nut's groove is one with negative flank angles: it narrows outwards.

    Parameters
    ----------
    groove
        The groove.
    wire
        Diameter [mm].
    radius, shift
        Where to look first: distance from the axis, and along it from the groove's middle [mm].

    Raises
    ------
    NoSeatError
        If it touches both nowhere near.
    """
    for _ in range(_MOST_STEPS):
        near = _nearest(groove, radius, shift, -1.0)
        far = _nearest(groove, radius, shift, 1.0)
        errors = near.distance - wire / 2, far.distance - wire / 2
        if max(abs(errors[0]), abs(errors[1])) < _LENGTH_ERROR:
            return Seat(radius, wire, near.radius, far.radius, shift)
        determinant = near.outward * far.along - near.along * far.outward
        if not determinant:
            break
        radius -= (errors[0] * far.along - errors[1] * near.along) / determinant
        shift -= (near.outward * errors[1] - far.outward * errors[0]) / determinant
    msg = f"a wire of {wire:g} mm finds no seat in the groove"
    raise NoSeatError(msg)


def over_wires(groove: Groove, wire: float) -> float:
    """Return the size over three wires (or over two, square to the axis) [mm].

    Examples
    --------
    Double-start Acme of 5 in, Machinery's Handbook 31st ed. p.2135: 5.056 in.

    >>> from math import radians
    >>> angle = radians(14.5)
    >>> print(round(over_wires(Groove(1.0, 4.75, 0.5 - 0.2454, angle, angle), 0.258), 3))
    5.056
    """
    return seat(groove, wire).over


def over_wires_short(groove: Groove, wire: float) -> float:
    """Return the size over wires by the short formula with its lead term [mm].

    ``M = d2 + w (1 + 1/sin a) - S/tan a + w/2 tan^2(L) cos a/tan a``, Machinery's Handbook
    31st ed. p.2135. Its error grows with the lead angle: a tenth of a thousandth of the pitch at
    3.6 deg, over a thousandth above 10 deg. Unsymmetric flanks are taken as their mean.
    """
    a = (groove.near + groove.far) / 2
    lead_term = wire / 2 * tan(groove.lead_angle) ** 2 * cos(a) / tan(a)
    return groove.pitch_diameter + wire * (1 + 1 / sin(a)) - groove.width / tan(a) + lead_term


def best_wire(groove: Groove) -> float:
    """Return the wire that touches the flanks at the pitch diameter [mm].

    It reads the pitch diameter with no error from the flank angle. Where the flanks differ, it
    touches one above and one below, as far from the pitch line.
    """
    return wire_where(groove, lambda at: (at.near + at.far) / 2 - groove.pitch_diameter / 2)


def wire_touching(groove: Groove, diameter: float) -> float:
    """Return the wire whose higher contact lies on a diameter [mm]: the largest usable."""
    return wire_where(groove, lambda at: max(at.near, at.far) - diameter / 2)


def wire_flush(groove: Groove, diameter: float) -> float:
    """Return the wire that stands level with a crest of a diameter [mm]: the smallest usable."""
    return wire_where(groove, lambda at: at.over - diameter)


def wire_on_root(groove: Groove, diameter: float) -> float:
    """Return the wire that just reaches a root of a diameter [mm]; a smaller one rests on it."""
    return wire_where(groove, lambda at: at.under - diameter / 2)


def wire_where(groove: Groove, excess: Callable[[Seat], float]) -> float:
    """Return the wire diameter for which a length of its seat is nought [mm]."""
    return seated_where(
        lambda wire: excess(seat(groove, wire)), groove.width / cos((groove.near + groove.far) / 2)
    )


def seated_where(excess: Callable[[float], float], near: float) -> float:
    """Return the wire or ball for which a length of its seat is nought, by secants [mm].

    Parameters
    ----------
    excess
        The length, for a diameter.
    near
        A diameter to look near [mm].

    Raises
    ------
    NoSeatError
        If no diameter above nought fulfils it.
    """
    last, size = near, 0.98 * near
    before = excess(last)
    for _ in range(_MOST_STEPS):
        now = excess(size)
        if abs(now) < 1e-10:
            return size
        if now == before:
            break
        last, size, before = size, size - now * (size - last) / (now - before), now
        if size <= 0:
            break
    msg = "no wire or ball fulfils the condition"
    raise NoSeatError(msg)


@dataclass(frozen=True, slots=True)
class _Foot:
    """The point of a flank nearest to the ball's centre, and how their distance changes."""

    radius: float
    distance: float
    outward: float
    along: float


def _nearest(groove: Groove, centre: float, shift: float, side: float) -> _Foot:
    """Return the point of one flank nearest to a centre at angle 0 and height ``shift``.

    The flank is ``z = p phi + side (c + r t)``. For a given ``phi`` the best ``r`` follows in
    closed form; ``phi`` by Newton's method.
    """
    p = groove.lead / (2 * pi)
    t = tan(groove.far if side > 0 else groove.near)
    c = groove.width / 2 - groove.pitch_diameter / 2 * t
    phi = 0.0
    for _ in range(_MOST_STEPS):
        r = (centre * cos(phi) - side * t * (p * phi - shift) - t * c) / (1 + t * t)
        rise = p * phi + side * (c + r * t) - shift
        slope = r * centre * sin(phi) + p * rise
        dr = (-centre * sin(phi) - side * t * p) / (1 + t * t)
        curve = dr * centre * sin(phi) + r * centre * cos(phi) + p * (p + side * t * dr)
        step = slope / curve
        phi -= step
        if abs(step) < _TURN_ERROR:
            break
    r = (centre * cos(phi) - side * t * (p * phi - shift) - t * c) / (1 + t * t)
    rise = p * phi + side * (c + r * t) - shift
    x, y = r * cos(phi) - centre, r * sin(phi)
    distance = hypot(x, y, rise)
    return _Foot(r, distance, -x / distance, -rise / distance)
