"""Measuring a nut by balls in its groove: the exact seat of a ball between two helicoidal flanks.

A nut's groove narrows outwards, so that a ball pushed into it from the bore wedges between its
flanks. What is read is the gap between balls on opposite sides. Lengths in mm, angles in rad.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import cos, sin, tan

from cardgen.rules.wires import Groove, NoSeatError, Seat, between_walls, seated_where, settled


@dataclass(frozen=True, slots=True)
class NutGroove:
    """A nut's groove.

    Attributes
    ----------
    lead
        Axial travel in one turn [mm].
    pitch_diameter
        Actual pitch diameter [mm].
    width
        Axial width of the groove there [mm].
    near, far
        Flank angles from the plane square to the axis [rad].
    """

    lead: float
    pitch_diameter: float
    width: float
    near: float
    far: float

    @property
    def flanks(self) -> Groove:
        """The groove as one that widens by negative angles."""
        return Groove(self.lead, self.pitch_diameter, self.width, -self.near, -self.far)


def ball_seat(groove: NutGroove, ball: float) -> Seat:
    """Return the seat of a ball, solved to a millionth of a micrometre.

    Parameters
    ----------
    groove
        The nut's groove; its flanks are taken to go on beyond crest and root.
    ball
        Diameter [mm].

    Raises
    ------
    NoSeatError
        If the flanks stand square to the axis: a ball does not wedge between them.
    """
    if min(groove.near, groove.far) < 0 or groove.near + groove.far <= 0:
        msg = "a ball does not wedge between flanks that stand square to the axis"
        raise NoSeatError(msg)
    return settled(groove.flanks, ball, *between_walls(groove.flanks, ball))


def between_balls(groove: NutGroove, ball: float) -> float:
    """Return the gap between two balls on opposite sides, square to the axis [mm]."""
    return 2 * ball_seat(groove, ball).centre - ball


def between_short(groove: NutGroove, ball: float) -> float:
    """Return the same by the short formula with its lead term [mm].

    ``M = D2 - b (1 + 1/sin a) + S/tan a - b/2 tan^2(L) cos a/tan a``: the formula for wires with
    the groove turned inside out. Its error grows with the lead angle.

    Examples
    --------
    A 60 deg groove of 1 mm, a ball that touches at the pitch line, no lead to speak of:

    >>> from math import pi
    >>> round(between_short(NutGroove(1e-9, 20.0, 1.0, pi / 6, pi / 6), 1.154701), 4)
    18.2679
    """
    a = (groove.near + groove.far) / 2
    lead_term = ball / 2 * tan(groove.flanks.lead_angle) ** 2 * cos(a) / tan(a)
    return groove.pitch_diameter - ball * (1 + 1 / sin(a)) + groove.width / tan(a) - lead_term


def best_ball(groove: NutGroove) -> float:
    """Return the ball that touches the flanks at the pitch diameter [mm]."""
    return _ball_where(groove, lambda at: (at.near + at.far) / 2 - groove.pitch_diameter / 2)


def ball_flush(groove: NutGroove, bore: float) -> float:
    """Return the ball that stands level with a bore of a diameter: the smallest usable [mm]."""
    return _ball_where(groove, lambda at: at.under - bore / 2)


def ball_on_root(groove: NutGroove, root: float) -> float:
    """Return the ball that just reaches a root of a diameter; a smaller one rests on it [mm]."""
    return _ball_where(groove, lambda at: at.over / 2 - root / 2)


def ball_touching(groove: NutGroove, bore: float) -> float:
    """Return the ball whose inner contact lies on a bore of a diameter: the largest usable [mm]."""
    return _ball_where(groove, lambda at: min(at.near, at.far) - bore / 2)


def _ball_where(groove: NutGroove, excess: Callable[[Seat], float]) -> float:
    """Return the ball for which a length of its seat is nought [mm]."""
    return seated_where(
        lambda ball: excess(ball_seat(groove, ball)),
        groove.width / cos((groove.near + groove.far) / 2),
    )
