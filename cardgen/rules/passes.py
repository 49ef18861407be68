"""What one pass does to work, tool and machine, and which limit it comes nearest to.

A pass is named by whole divisions of the slide's dial: the division before it and how many it
takes. Lengths in mm, forces in N, stresses in MPa, powers in W, angles in rad.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from math import atan2, fsum, inf, tan
from typing import Literal, NamedTuple

from cardgen.rules.blade import Blade, Load
from cardgen.rules.boring import Bar
from cardgen.rules.cutting import Edge, Groove, Law, side_force, spindle_power
from cardgen.rules.dialling import divisions_within
from cardgen.rules.holding import Work
from cardgen.rules.thinning import Thinning

LimitName = Literal["chip", "force", "deflection", "work stress", "blade", "power"]
StepName = Literal["rough", "side", "widen", "finish"]
_ROUNDING = 1e-9
"""Part of a limit that is floating-point noise."""
LIMITS: tuple[LimitName, ...] = ("chip", "force", "deflection", "work stress", "blade", "power")


@dataclass(frozen=True, slots=True)
class Zigzag:
    """How a tool is moved sideways so that its flanks cut in turn.

    Attributes
    ----------
    step
        Travel of one division of the slide that moves it along the axis [mm].
    shut
        The cutting law where the other flank cuts as well, so that the chip is hemmed in.
    shave
        A flank that takes no thicker chip than this is only shaved [mm].
    leading_first
        Whether the tool goes towards the leading side first, and back towards the trailing one.
    """

    step: float
    shut: Law
    shave: float
    leading_first: bool = True


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
    aside
        Divisions of the compound slide, set along the axis, at which the whole stage is cut.
    zigzag
        For flanks that cut in turn: every bite is then taken twice, once to either side.
    """

    step: StepName
    start: int
    end: int
    point: float
    groove: Groove
    blade: Blade
    chip: float
    law: Law
    slot: int = 0
    aside: int = 0
    zigzag: Zigzag | None = None

    @property
    def strokes(self) -> int:
        """Passes that a bite is taken in: two where the flanks cut in turn."""
        return 1 if self.zigzag is None else 2

    def towards_leading(self, *, back: bool) -> bool:
        """Whether a pass of flanks that cut in turn goes towards the leading side."""
        return self.zigzag is not None and self.zigzag.leading_first != back

    def aside_by(self, increment: float) -> int:
        """Return by how many sideways divisions the tool goes to and fro for a bite [mm].

        By as much as the flatter flank recedes, and no farther, so that the groove's own flanks
        are never passed: what is left for the flank that should not cut is less than a division.
        """
        if self.zigzag is None:
            return 0
        flatter = min(tan(self.groove.leading), tan(self.groove.trailing))
        return divisions_within(increment * flatter, self.zigzag.step)


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


class _Chips(NamedTuple):
    """The forces of a pass before anything has bent: on the point and on both flanks [N]."""

    point: float
    flanks: float
    side: float
    thickest: float
    depth: float

    @property
    def force(self) -> float:
        return self.point + self.flanks

    def load(self, overload: float) -> Load:
        return Load(overload * self.point, overload * self.flanks, self.depth, overload * self.side)


@lru_cache(maxsize=64)
def _thinning(work: Work | Bar, radial_share: float) -> Thinning:
    return Thinning(work.give, lambda core: work.strain(core, radial_share))


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
    _bar: Thinning = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        """Take up what is known of the bar; hashing it anew at each pass would cost the most."""
        object.__setattr__(self, "_bar", _thinning(self.work, self.radial_share))

    def cut(self, stage: Stage, before: int, bite: int, *, back: bool = False) -> Cut:
        """Return what a pass of ``bite`` divisions after division ``before`` asks.

        Parameters
        ----------
        back
            Where the flanks cut in turn: whether this is the second pass of a bite, in which the
            tool goes back to the middle.
        """
        chips = self._chips(stage, before, bite, back=back)
        force = chips.force
        radial = self.radial_share * force
        core = self._core(stage, before + bite)
        return Cut(
            force=force,
            radial=radial,
            side=chips.side,
            chip=chips.thickest,
            deflection=radial * self.work.give(core),
            work_stress=self.dig_in * force * self.work.strain(core, self.radial_share),
            tool_stress=stage.blade.stress(chips.load(self.dig_in)),
            power=spindle_power(force, self.work.blank, self.speed) if self.speed else 0.0,
        )

    def cuts(self, stage: Stage, before: int, bite: int) -> tuple[Cut, ...]:
        """Return what each pass of a bite asks, one after the other."""
        first = self.cut(stage, before, bite)
        if stage.strokes == 1:
            return (first,)
        return first, self.cut(stage, before + bite, bite, back=True)

    def keeps(self, stage: Stage, before: int, bite: int) -> bool:
        """Whether no pass of a bite breaks a limit; as :meth:`is_safe`, but quicker."""
        return self.broken(stage, before, bite) is None

    def broken(self, stage: Stage, before: int, bite: int) -> LimitName | None:
        """Return the first limit that a bite breaks.

        What is quick to say is asked first, and the bar is bent only where what is known of it at
        other depths does not tell.
        """
        first = self._broken(stage, before, bite, back=False)
        if first is not None or stage.strokes == 1:
            return first
        return self._broken(stage, before + bite, bite, back=True)

    def cut_chip(self, stage: Stage, bite: int) -> float:
        """Return the thickest chip of a bite [mm]; the same at every depth."""
        feed = self._feed(stage, bite, back=False)
        edges = stage.groove.edges(stage.start * self.step, bite * self.step, stage.point, feed)
        return _thickest(edges)

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

    def _core(self, stage: Stage, reached: int) -> float:
        return self.work.blank - 2 * max(reached, stage.slot) * self.step

    def law(self, stage: Stage, bite: int, *, back: bool = False) -> Law:
        """Return the cutting law of a pass: where flanks cut in turn it depends on the bite."""
        zigzag = stage.zigzag
        if zigzag is None:
            return stage.law
        towards = stage.towards_leading(back=back)
        idle = stage.groove.edges(0.0, bite * self.step, 0.0, self._feed(stage, bite, back=back))[
            2 if towards else 1
        ]
        moved = stage.aside_by(bite * self.step) > 0
        return stage.law if moved and idle.thickness <= zigzag.shave else zigzag.shut

    def _feed(self, stage: Stage, bite: int, *, back: bool) -> float:
        """Return the angle of a pass from straight in, towards the leading side [rad]."""
        if stage.zigzag is None:
            return self.feed
        aside = stage.aside_by(bite * self.step) * stage.zigzag.step
        return atan2(aside if stage.towards_leading(back=back) else -aside, bite * self.step)

    def _chips(self, stage: Stage, before: int, bite: int, *, back: bool) -> _Chips:
        depth, increment = before * self.step, bite * self.step
        feed, law = self._feed(stage, bite, back=back), self.law(stage, bite, back=back)
        edges = stage.groove.edges(depth, increment, stage.point, feed)
        point, leading, trailing = [law.force(edge) for edge in edges]
        return _Chips(
            point=point,
            flanks=fsum((leading, trailing)),
            side=side_force(stage.groove, leading, trailing, self.radial_share),
            thickest=_thickest(edges),
            depth=depth + increment,
        )

    def _broken(self, stage: Stage, before: int, bite: int, *, back: bool) -> LimitName | None:
        most, allowed = 1 + _ROUNDING, self.allowed.get
        chips = self._chips(stage, before, bite, back=back)
        force = chips.point + chips.flanks
        if chips.thickest > stage.chip * most:
            return "chip"
        if force > allowed("force", inf) * most:
            return "force"
        if self.speed and (
            spindle_power(force, self.work.blank, self.speed) > allowed("power", inf) * most
        ):
            return "power"
        bar, core = self._bar, self._core(stage, before + bite)
        if not bar.gives(core, allowed("deflection", inf) * most / (self.radial_share * force)):
            return "deflection"
        if not bar.bears(core, allowed("work stress", inf) * most / (self.dig_in * force)):
            return "work stress"
        # The blade is the dearest to ask, and not asked at all where nothing is known of it.
        if "blade" in self.allowed:
            bearable = self.allowed["blade"] * most
            if stage.blade.stress(chips.load(self.dig_in), bearable) > bearable:
                return "blade"
        return None


def _thickest(edges: tuple[Edge, Edge, Edge]) -> float:
    return max([thickness for width, thickness in edges if width > 0])
