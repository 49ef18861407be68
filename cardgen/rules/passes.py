"""What one pass does to work, tool and machine, and which limit it comes nearest to.

A pass is named by whole divisions of the slide's dial: the division before it and how many it
takes. Lengths in mm, forces in N, stresses in MPa, powers in W, angles in rad.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import inf
from typing import Literal

from cardgen.rules.blade import Blade, Load
from cardgen.rules.boring import Bar
from cardgen.rules.cutting import Groove, Law, side_force, spindle_power
from cardgen.rules.holding import Work

LimitName = Literal["chip", "force", "deflection", "work stress", "blade", "power"]
_ROUNDING = 1e-9
"""Part of a limit that is floating-point noise."""
LIMITS: tuple[LimitName, ...] = ("chip", "force", "deflection", "work stress", "blade", "power")


@dataclass(frozen=True, slots=True)
class Stage:
    """A run of passes with one tool.

    Attributes
    ----------
    step
        What the passes are for.
    start, end
        Dial divisions at which the stage begins and ends.
    point
        Width that the flat point still has to cut [mm].
    groove
        Flanks that the tool cuts.
    blade
        Of the tool.
    chip
        Thickest chip [mm].
    law
        Of the material with this tool.
    slot
        Dial division to which the bar is already cut by an earlier stage.
    """

    step: Literal["rough", "widen", "finish"]
    start: int
    end: int
    point: float
    groove: Groove
    blade: Blade
    chip: float
    law: Law
    slot: int = 0


@dataclass(frozen=True, slots=True)
class Cut:
    """What one pass asks of everything [mm, N, MPa, W]."""

    force: float
    radial: float
    side: float
    chip: float
    deflection: float
    work_stress: float
    tool_stress: float
    power: float

    def of(self, name: LimitName) -> float:
        """Return the quantity that a limit is set on."""
        return {
            "chip": self.chip,
            "force": self.force,
            "deflection": self.deflection,
            "work stress": self.work_stress,
            "blade": self.tool_stress,
            "power": self.power,
        }[name]


@dataclass(frozen=True, slots=True)
class Lathe:
    """The lathe with the work in it, ready to cut.

    Attributes
    ----------
    work
        The bar in its holding; for a nut the boring bar, which bends in its place.
    step
        Radial depth of one division of the dial that feeds [mm].
    feed
        Angle of the feed from straight in [rad].
    radial_share
        Radial force as a share of the tangential one.
    dig_in
        Factor on the force in a dig-in, for the strength of work and tool.
    speed
        Of the spindle [1/min]; ``None`` if there is none to choose.
    allowed
        The limits that hold for all stages; a limit that is not known is not set.
    """

    work: Work | Bar
    step: float
    feed: float
    radial_share: float
    dig_in: float
    speed: float | None
    allowed: Mapping[LimitName, float]

    def cut(self, stage: Stage, before: int, bite: int) -> Cut:
        """Return what a pass of ``bite`` divisions after division ``before`` asks."""
        depth, increment = before * self.step, bite * self.step
        edges = stage.groove.edges(depth, increment, stage.point, self.feed)
        point, *flanks = (stage.law.force(edge) for edge in edges)
        force = point + sum(flanks)
        radial = self.radial_share * force
        side = side_force(stage.law, stage.groove, edges, self.radial_share)
        core = self.work.blank - 2 * max(before + bite, stage.slot) * self.step
        load = Load(
            self.dig_in * point,
            self.dig_in * sum(flanks),
            depth + increment,
            self.dig_in * side,
        )
        return Cut(
            force=force,
            radial=radial,
            side=side,
            chip=max(edge.thickness for edge in edges if edge.width > 0),
            deflection=radial * self.work.give(core),
            work_stress=self.dig_in * force * self.work.strain(core, self.radial_share),
            tool_stress=stage.blade.stress(load),
            power=spindle_power(force, self.work.blank, self.speed) if self.speed else 0.0,
        )

    def limit(self, name: LimitName, stage: Stage) -> float:
        """Return a limit that holds in a stage; infinite where none is set."""
        return stage.chip if name == "chip" else self.allowed.get(name, inf)

    def hardest(self, cut: Cut, stage: Stage) -> tuple[LimitName, float]:
        """Return the limit that a pass comes nearest to, or breaks worst, and how much of it."""
        used = {name: cut.of(name) / self.limit(name, stage) for name in LIMITS}
        worst = max(LIMITS, key=used.__getitem__)
        return worst, used[worst]

    def is_safe(self, cut: Cut, stage: Stage) -> bool:
        """Whether a pass breaks no limit."""
        return self.hardest(cut, stage)[1] <= 1 + _ROUNDING
