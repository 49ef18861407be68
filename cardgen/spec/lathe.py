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
    """

    division_exact: Fraction
    per_turn_exact: Fraction
    reads: Literal["diameter", "radius"]
    inch: bool

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
        Spindle speeds, slowest first [1/min].
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
    coast
        Turns that the spindle makes after it is switched off; ``None`` if not stated.
    give
        How far ``chuck``, ``tilt``, ``head-centre``, ``centre`` and ``rest`` yield to 100 N [mm];
        what is not measured is absent.
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
    give: Mapping[str, float] = field(default_factory=dict)

    @property
    def leadscrew(self) -> float:
        """Travel for one leadscrew turn [mm]."""
        return float(self.leadscrew_exact)
