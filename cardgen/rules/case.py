"""A thread that is to be cut, and a way of cutting it, worked out.

Lengths in mm, angles in rad unless named ``_deg``.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from math import cos, degrees, fsum
from typing import Literal

from cardgen.rules.blade import Blade
from cardgen.rules.cutting import Groove, Law
from cardgen.rules.dialling import divisions_reaching, full_depth
from cardgen.rules.infeed import Known, Rows, Schedule, Stuck, rows
from cardgen.rules.pace import Pace
from cardgen.rules.passes import Lathe, Stage

Method = Literal["plunge", "flank", "alternate", "rough-then-form", "widen"]
METHODS: tuple[Method, ...] = ("plunge", "flank", "alternate", "rough-then-form", "widen")
"""Simplest first: of two that take the same time the first is taken."""


@dataclass(frozen=True, slots=True)
class Practice:
    """What the trade does, as numbers; the table of practice says each one's meaning."""

    least: float
    finish_bite: float
    plunge_tip: float
    plunge_edge: float
    rough_side: float
    rough_bottom: float
    rough_least: float
    rough_taper: float
    rough_try: float
    vee_least: float
    flank_relief: float
    shave: float


@dataclass(frozen=True, slots=True)
class Case:
    """A groove to be cut, the tool, and the lathe with the work in it.

    Attributes
    ----------
    lathe
        Set for feeding straight in by the cross-slide.
    depth
        Wanted radial depth [mm].
    shallowest, deepest
        Limits of the radial depth [mm], where there are any.
    point
        Width of the tool's point [mm].
    groove
        Flanks of the thread.
    blade
        Of the form tool.
    chip
        Thickest chip [mm].
    confined, open
        The cutting law for a chip hemmed in on both sides, and for one with room.
    compound_step
        Travel of one division of the compound slide [mm]; ``None`` if it cannot be set over.
    side_step
        The same where the compound is set along the axis, to move the tool sideways [mm];
        ``None`` if there is no compound slide.
    left_hand
        Whether the leading side is the tailstock's.
    pace
        What passes and tools cost in time; ``None`` if there is no spindle speed to choose.
    """

    lathe: Lathe
    depth: float
    shallowest: float | None
    deepest: float | None
    point: float
    groove: Groove
    blade: Blade
    chip: float
    confined: Law
    open: Law
    compound_step: float | None
    practice: Practice
    side_step: float | None = None
    left_hand: bool = False
    pace: Pace | None = None

    def least(self, step: float) -> int:
        """Return the divisions of the least bite: at least one."""
        return max(divisions_reaching(self.practice.least, step), 1)

    def light(self, step: float) -> int:
        """Return the divisions of a finishing bite, the nearest; never below the least bite."""
        return max(round(self.practice.finish_bite / step), self.least(step))

    def full(self, step: float) -> tuple[int, bool]:
        """Return the division to stop at, and whether it keeps the limits of the root."""
        return full_depth(self.depth, step, self.shallowest, self.deepest)

    def edge(self, flanks: int) -> float:
        """Return the edge in the groove at full depth [mm]; upright sides only follow.

        Parameters
        ----------
        flanks
            How many flanks cut at a time: the longer first.
        """
        sides = sorted(
            (
                self.depth / cos(a) if a > 0 else 0.0
                for a in (self.groove.leading, self.groove.trailing)
            ),
            reverse=True,
        )
        return self.point + fsum(sides[:flanks])

    @property
    def flatter_deg(self) -> float:
        """Angle of the flank that stands more upright [deg]."""
        return degrees(min(self.groove.leading, self.groove.trailing))


@dataclass(frozen=True)
class Plan:
    """One way of cutting the thread, worked out.

    Attributes
    ----------
    lathe
        As set for this way: its step is a division of the dial that feeds.
    total
        Divisions to full depth.
    kept
        Whether full depth on a whole division keeps the limits of the minor diameter.
    least
        Divisions of the least bite.
    known
        Stages that were worked out on this lathe for other plans.
    feed_deg
        Compound slide from straight in [deg]; zero when the cross-slide feeds.
    rough_width
        Of the roughing tool [mm]; ``None`` if there is none.
    asides
        Compound divisions of the roughing tool's further grooves beside the first.
    """

    method: Method
    lathe: Lathe
    total: int
    kept: bool
    least: int
    stages: tuple[Stage, ...]
    known: Known | None = field(default=None, repr=False, compare=False)
    feed_deg: float = 0.0
    rough_width: float | None = None
    asides: tuple[int, ...] = ()

    @cached_property
    def found(self) -> Rows | Stuck:
        """The fewest bites of every stage, or why there are none."""
        return rows(self.lathe, self.stages, self.least, self.known)

    @cached_property
    def outcome(self) -> Schedule | Stuck:
        """The passes, each worked out, or why there are none."""
        return self.found if isinstance(self.found, Stuck) else self.found.schedule()

    @property
    def passes(self) -> int:
        """Number of cutting passes; zero if there is no safe schedule."""
        return 0 if isinstance(self.found, Stuck) else self.found.passes

    @property
    def tools(self) -> int:
        """Number of blades that are ground."""
        return 1 if self.rough_width is None else 2

    @property
    def dials(self) -> int:
        """Number of dials that are set anew for each pass."""
        return 2 if self.method == "alternate" else 1

    def time(self, pace: Pace | None) -> float:
        """Return how long it takes [s]; the number of passes where no pace is known."""
        return pace.total(self.passes, self.dials, self.tools) if pace else float(self.passes)


@dataclass(frozen=True, slots=True)
class Impossible:
    """Why a way of cutting does not apply to this thread or machine at all."""

    reason: str
