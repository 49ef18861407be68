"""What a lathe is, once its file has passed the door: frozen records of plain values.

Lengths are in mm, speeds in 1/min, powers in W, times in s. Pitches and dial divisions are exact
fractions of a millimetre, because wheels and divisions are counted, not measured.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Literal

from cardgen.core.problems import Place
from cardgen.rules.speeds import power_at_speed

GIVING = ("chuck", "tilt", "head-centre", "centre", "rest")
"""Parts of the lathe that yield to a force across the bar."""


@dataclass(frozen=True, slots=True)
class Dial:
    """A slide's dial.

    Attributes
    ----------
    division
        What one division reads [mm]: a change of diameter if ``reads`` is ``diameter``, of
        radius (slide travel) otherwise.
    division_exact
        The same as an exact fraction of a millimetre.
    per_turn
        What one turn reads [mm].
    inch
        Whether the dial is divided in inches.
    backlash
        Slide travel that the dial turns free when it is turned back [mm]; ``None`` if not known.
    travel
        How far the slide goes from end to end [mm]; ``None`` if not known.
    """

    division_exact: Fraction
    per_turn_exact: Fraction
    reads: Literal["diameter", "radius"]
    inch: bool
    backlash: float | None = None
    travel: float | None = None

    @property
    def division(self) -> float:
        """What one division reads [mm]."""
        return float(self.division_exact)

    @property
    def per_turn(self) -> float:
        """What one turn reads [mm]."""
        return float(self.per_turn_exact)

    @property
    def divisions_per_turn(self) -> int:
        """Divisions around the dial."""
        return round(self.per_turn_exact / self.division_exact)

    @property
    def radial_step_exact(self) -> Fraction:
        """Slide travel of one division, exact [mm]."""
        return self.division_exact / 2 if self.reads == "diameter" else self.division_exact


@dataclass(frozen=True, slots=True)
class SpeedRange:
    """Speeds that the spindle has in one position of belt or back gear.

    Attributes
    ----------
    name
        As the maker calls it.
    speeds
        Steps, or what a variable speed can be set to, slowest first [1/min].
    variable
        Whether the speed is set freely between the first and the last.
    torque
        Most that the spindle can turn [N m]; ``None`` if not known.
    full_power_from
        Spindle speed below which the motor's torque, no longer its power, stays the same [1/min];
        ``None`` for a motor that has its power at every speed.
    """

    name: str
    speeds: tuple[float, ...]
    variable: bool
    torque: float | None = None
    full_power_from: float | None = None


@dataclass(frozen=True, slots=True)
class Machine:
    """A lathe, as its owner measured it.

    Attributes
    ----------
    leadscrew_exact
        Travel for one leadscrew turn, exact [mm].
    leadscrew_inch
        Whether the leadscrew is of inch pitch.
    gears
        Teeth of every wheel owned; a wheel owned twice stands twice.
    arrangements
        ``single``, ``compound``, ``double-compound`` as the machine takes them.
    module
        Of the change wheels [mm]; ``None`` if not known (meshing is then not checked).
    centre_min, centre_max
        Spindle gear to leadscrew gear [mm]; ``None`` if not known.
    gearbox
        Lever name to leadscrew turns per input turn, exact; empty for no gearbox.
    speeds
        Spindle speeds of all ranges, slowest first [1/min]; of a variable speed those that it can
        be set to.
    power
        Motor power [W].
    efficiency
        Motor to spindle.
    compound_swivel
        Whether the compound slide can be set to an angle; ``None`` for no compound slide.
    thread_dial
        Teeth of the dial's gear and number of its marks; ``None`` for no dial.
    reaction
        The maker's own reaction time [s].
    thread_overhang
        Longest free length that the owner trusts [mm]; ``None`` if not stated.
    chuck_locked
        Whether the chuck stays on its nose when the spindle cuts backwards; ``None`` if not
        stated.
    coast
        Turns that the spindle makes after it is switched off; ``None`` if not stated.
    give
        How far ``chuck``, ``tilt``, ``head-centre``, ``centre`` and ``rest`` yield to 100 N [mm];
        what is not measured is absent.
    stud_min, stud_max
        Leadscrew's axle to a stud in the slot of the arm [mm]; ``None`` if not known.
    stud_radius
        Of what stands out of a stud [mm]; ``None`` if not known.
    fixed_first, fixed_last
        Teeth of a first driver and a last driven wheel that stay on; ``None`` for any wheel.
    fixed_ratio
        Turns of the first driver for one turn of the spindle.
    wheels_now
        Teeth on the machine now, from the spindle to the leadscrew; empty if not stated.
    dial_gears
        Teeth of further gears that fit the thread dial.
    ranges
        Of speed; empty where the machine has only one.
    tumbler
        Whether a lever turns the leadscrew's way round.
    driver_slots
        Evenly spaced slots of the driver plate; ``None`` if not known.
    """

    name: str
    title: str
    file: str
    leadscrew_exact: Fraction
    leadscrew_inch: bool
    gears: tuple[int, ...]
    arrangements: tuple[str, ...]
    module: float | None
    centre_min: float | None
    centre_max: float | None
    gearbox: Mapping[str, Fraction]
    speeds: tuple[float, ...]
    power: float
    efficiency: float
    reverse: bool
    hand_crank: bool
    cross_slide: Dial
    compound_slide: Dial | None
    compound_swivel: bool
    thread_dial: tuple[int, int] | None
    stop: Literal["none", "fixed", "trip"]
    reaction: float
    thread_overhang: float | None
    places: Mapping[str, Place] = field(default_factory=dict)
    coast: float | None = None
    chuck_locked: bool | None = None
    give: Mapping[str, float] = field(default_factory=dict)
    stud_min: float | None = None
    stud_max: float | None = None
    stud_radius: float | None = None
    fixed_first: int | None = None
    fixed_last: int | None = None
    fixed_ratio: Fraction = Fraction(1)
    wheels_now: tuple[int, ...] = ()
    dial_gears: tuple[int, ...] = ()
    ranges: tuple[SpeedRange, ...] = ()
    tumbler: bool = False
    driver_slots: int | None = None

    def range_at(self, speed: float) -> SpeedRange | None:
        """Return the range to run a speed in: of those that have it, the one that turns hardest.

        ``None`` where the machine has only one range.
        """
        able = [each for each in self.ranges if speed in each.speeds]
        return max(able, key=lambda each: self._power_in(each, speed), default=None)

    def power_at(self, speed: float) -> float:
        """Power at the spindle at one of its speeds [W]."""
        own = self.range_at(speed)
        return self.power * self.efficiency if own is None else self._power_in(own, speed)

    def _power_in(self, own: SpeedRange, speed: float) -> float:
        return power_at_speed(
            self.power * self.efficiency,
            speed,
            torque=own.torque,
            full_power_from=own.full_power_from,
        )

    @property
    def leadscrew(self) -> float:
        """Travel for one leadscrew turn [mm]."""
        return float(self.leadscrew_exact)
