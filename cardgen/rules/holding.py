"""The bar in its holding, and where along the thread the tool finds it weakest.

x runs from the jaw face (or the headstock's centre) to the far end; the thread ends at the far
end, with the run-out groove on its chuck side. What is threaded counts with its core diameter
only, all along, from the moment a pass begins: the ridges that still stand are not relied on.

Lengths in mm, forces in N, stresses in MPa.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from math import sqrt
from typing import Literal

from cardgen.rules.beam import SAME_PLACE, Beam, Ends, Pin, Section

Holding = Literal["chuck", "chuck-and-centre", "between-centres"]
Rest = Literal["none", "steady", "follow"]

_GRID = 8
"""Intervals of the thread in which the tool's worst place is looked for first."""
_REFINE = 3
"""Parabolas laid through the worst places found, to come nearer."""


@dataclass(frozen=True, slots=True)
class Gives:
    """How far chuck, centres and rest yield to a force across the bar.

    Attributes
    ----------
    chuck
        At the jaw face, spindle included [mm/N].
    tilt
        Of the chuck, to a moment [rad/(N mm)].
    head
        The headstock's centre [mm/N].
    centre
        The tailstock's centre [mm/N].
    rest
        The jaws of a steady or a follow rest [mm/N].
    """

    chuck: float = 0.0
    tilt: float = 0.0
    head: float = 0.0
    centre: float = 0.0
    rest: float = 0.0


STIFF = Gives()


@dataclass(frozen=True, slots=True)
class Work:
    """The bar in its holding.

    Attributes
    ----------
    stickout
        Jaw face or centre to the far end [mm].
    thread
        Length of the thread [mm].
    groove
        Width of the run-out groove [mm]; zero for none.
    blank
        Diameter of what is not threaded [mm].
    root
        Diameter at the bottom of the run-out groove [mm].
    modulus
        Young's modulus [MPa].
    left_hand
        Whether the tool moves from the chuck outwards, as for a left-hand thread.
    follow_offset
        Tool to the jaws of a follow rest, along the axis, on the side already cut [mm].
    steady_width
        Room that a steady rest needs beside the thread [mm].
    gives
        How far the supports give way.
    """

    stickout: float
    thread: float
    groove: float
    blank: float
    root: float
    modulus: float
    holding: Holding
    rest: Rest
    left_hand: bool
    follow_offset: float
    steady_width: float
    gives: Gives = STIFF

    @property
    def plain(self) -> float:
        """Length that is neither threaded nor grooved [mm]; negative if the bar is too short."""
        return self.stickout - self.thread - self.groove

    @property
    def steady_at(self) -> float | None:
        """Where a steady rest can stand: on the plain part, close to the thread [mm]."""
        if self.plain < self.steady_width:
            return None
        return self.plain - self.steady_width / 2

    @property
    def supports(self) -> tuple[float, ...]:
        """Where the bar is held or carried, besides by a follow rest [mm]."""
        ends = (0.0,) if self.holding == "chuck" else (0.0, self.stickout)
        steady = self.steady_at if self.rest == "steady" else None
        return tuple(sorted(ends if steady is None else (*ends, steady)))

    @property
    def free_length(self) -> float:
        """The longest span, or overhang, between supports [mm]; a follow rest is not counted."""
        places = self.supports
        spans = [b - a for a, b in pairwise(places)]
        return max(*spans, self.stickout - places[-1], 0.0)

    def beam(self, core: float) -> Beam:
        """Return the bar as a beam whose thread is cut to a core diameter [mm]."""
        parts = (
            Section(max(self.plain, 0.0), self.blank),
            Section(self.groove, min(self.root, core)),
            Section(self.thread, core),
        )
        clamped, gives = self.holding != "between-centres", self.gives
        pins = []
        if self.holding == "chuck-and-centre":
            pins.append(Pin(self.stickout, gives.centre))
        if self.rest == "steady" and self.steady_at is not None:
            pins.append(Pin(self.steady_at, gives.rest))
        return Beam(
            tuple(part for part in parts if part.length > 0),
            self.modulus,
            clamped=clamped,
            pins=tuple(pins),
            ends=Ends(gives.chuck, gives.tilt)
            if clamped
            else Ends(near=gives.head, far=gives.centre),
        )

    def follow_pins(self, at: float) -> tuple[Pin, ...]:
        """Return where a follow rest carries the bar when the tool is at a place [mm]."""
        if self.rest != "follow":
            return ()
        offset = -self.follow_offset if self.left_hand else self.follow_offset
        return (Pin(min(max(at + offset, 0.0), self.stickout), self.gives.rest),)

    def places(self, count: int) -> list[float]:
        """Return places of the tool, evenly along the thread from the chuck outwards [mm]."""
        start = max(self.stickout - self.thread, 0.0)
        return [start + k * (self.stickout - start) / (count - 1) for k in range(count)]

    def gives_at(self, core: float, places: Sequence[float]) -> list[float]:
        """Return the deflection under the tool for 1 N at places of the tool [mm/N]."""
        beam = self.beam(core)
        return [beam.deflection(x, self.follow_pins(x)) for x in places]

    def give(self, core: float) -> float:
        """Return the greatest deflection under the tool for 1 N along the thread [mm/N]."""
        return _give(self, core)

    def strain(self, core: float, radial_share: float) -> float:
        """Return the greatest stress in the bar for 1 N of tangential force [MPa/N].

        Bending by the tangential and the radial force together, and torsion between the driven
        end and the tool.
        """
        return _strain(self, core, radial_share)

    def _along(self, value: Callable[[float], float]) -> float:
        """Return the greatest value over all places of the tool along the thread."""
        start, end = max(self.stickout - self.thread, 0.0), self.stickout
        step = (end - start) / _GRID
        places = [start + k * step for k in range(_GRID + 1)]
        if self.rest == "follow":
            # The jaws at a shoulder, or about to come upon the end support, where they cease to
            # be a support of their own.
            reach = self.follow_offset + SAME_PLACE * self.stickout
            away = self.follow_offset if self.left_hand else -self.follow_offset
            kinks = [reach if self.left_hand else end - reach, self.plain + away, start + away]
            places = sorted({*places, *(min(max(kink, start), end) for kink in kinks)})
        found = {place: value(place) for place in places}
        for _ in range(_REFINE):
            places = sorted(found)
            best = max(range(len(places)), key=lambda k: found[places[k]])
            if best in (0, len(places) - 1):
                break
            top = _vertex([(x, found[x]) for x in places[best - 1 : best + 2]])
            if top is None or top in found:
                break
            found[top] = value(top)
        return max(found.values())


def _vertex(three: list[tuple[float, float]]) -> float | None:
    """Return where the parabola through three points, the middle one highest, has its top."""
    (x0, y0), (x1, y1), (x2, y2) = three
    left, right = (y1 - y0) / (x1 - x0), (y2 - y1) / (x2 - x1)
    if left <= right:
        return None  # flat to the last digit
    return (x0 + x1) / 2 + left * (x2 - x0) / (2 * (left - right))


@lru_cache(maxsize=4096)
def _give(work: Work, core: float) -> float:
    beam = work.beam(core)
    return work._along(lambda x: beam.deflection(x, work.follow_pins(x)))


@lru_cache(maxsize=4096)
def _strain(work: Work, core: float, radial_share: float) -> float:
    beam = work.beam(core)
    sideways, torque = sqrt(1 + radial_share**2), work.blank / 2
    return work._along(lambda x: beam.stress(x, sideways, torque, work.follow_pins(x)))
