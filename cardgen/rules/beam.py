"""How far does the bar bend under the tool, and how hard is it strained? A stepped beam, exactly.

The bar is a row of cylinders. Its deflection follows from the integrals of ``x^k / EI`` over the
length, which are polynomials in each cylinder: nothing is approximated but the beam itself
(Euler-Bernoulli: shear is left out). Chuck, centres and rests may give way like springs.

Lengths in mm, forces in N, stresses in MPa, moments in N mm.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import fsum, pi, sqrt
from typing import NamedTuple

SAME_PLACE = 1e-3
"""Part of the bar's length within which two supports count as one."""


@dataclass(frozen=True, slots=True)
class Section:
    """A cylinder of the bar: its length and diameter [mm]."""

    length: float
    diameter: float


class Pin(NamedTuple):
    """A support that carries but does not grip.

    Attributes
    ----------
    at
        Where it stands [mm].
    give
        How far it yields to a force [mm/N]; zero for one that does not.
    """

    at: float
    give: float = 0.0


@dataclass(frozen=True, slots=True)
class Ends:
    """How far the supports at the bar's ends give way.

    Attributes
    ----------
    near
        Sideways, the chuck or the headstock's centre [mm/N].
    tilt
        The chuck's, to a moment [rad/(N mm)].
    far
        Sideways, the far centre of a bar that is not clamped [mm/N].
    """

    near: float = 0.0
    tilt: float = 0.0
    far: float = 0.0


RIGID = Ends()


def second_moment(diameter: float) -> float:
    """Return the second moment of area of a round bar, pi d^4 / 64 [mm^4].

    Examples
    --------
    >>> round(second_moment(16.0))
    3217
    """
    return pi * diameter**4 / 64


def bending_stress(moment: float, diameter: float) -> float:
    """Return the bending stress in the skin of a round bar, 32 M / (pi d^3) [MPa].

    Examples
    --------
    >>> round(bending_stress(100_000.0, 20.0), 1)
    127.3
    """
    return 32 * moment / (pi * diameter**3)


def torsion_stress(torque: float, diameter: float) -> float:
    """Return the shear stress in the skin of a round bar, 16 T / (pi d^3) [MPa].

    Examples
    --------
    >>> round(torsion_stress(100_000.0, 20.0), 1)
    63.7
    """
    return 16 * torque / (pi * diameter**3)


def combined_stress(normal: float, shear: float) -> float:
    """Return the equivalent stress of bending and torsion by von Mises [MPa].

    Examples
    --------
    >>> combined_stress(30.0, 0.0)
    30.0
    """
    return sqrt(normal**2 + 3 * shear**2)


@dataclass(frozen=True, slots=True)
class Beam:
    """A bar in its supports; x runs from the chuck, or the headstock's centre, to the far end.

    Parameters
    ----------
    sections
        Cylinders from x = 0 on.
    modulus
        Young's modulus [MPa].
    clamped
        Whether the end x = 0 is gripped in a chuck. If not, it rests on a centre and so does the
        far end.
    pins
        Further supports that carry but do not grip (a tailstock centre under a clamped bar, the
        jaws of a rest).
    ends
        How far chuck or centres give way.
    """

    sections: tuple[Section, ...]
    modulus: float
    clamped: bool
    pins: tuple[Pin, ...] = ()
    ends: Ends = RIGID
    _edges: tuple[float, ...] = field(init=False)
    _own: tuple[Pin, ...] = field(init=False)
    _sums: tuple[tuple[float, float, float], ...] = field(init=False)
    _bent: tuple[float, ...] = field(init=False)

    def __post_init__(self) -> None:
        """Sum the integrals of 1, x and x^2 over EI up to each shoulder."""
        edges, sums = [0.0], [(0.0, 0.0, 0.0)]
        for section in self.sections:
            a, b = edges[-1], edges[-1] + section.length
            give = 1 / (self.modulus * second_moment(section.diameter))
            s0, s1, s2 = sums[-1]
            sums.append(
                (
                    s0 + give * (b - a),
                    s1 + give * (b**2 - a**2) / 2,
                    s2 + give * (b**3 - a**3) / 3,
                )
            )
            edges.append(b)
        bent = tuple(bending_stress(1.0, section.diameter) for section in self.sections)
        object.__setattr__(self, "_bent", bent)
        object.__setattr__(self, "_edges", tuple(edges))
        object.__setattr__(self, "_sums", tuple(sums))
        object.__setattr__(self, "_own", self._apart(self.pins))

    @property
    def length(self) -> float:
        """Length of the bar [mm]."""
        return self._edges[-1]

    def deflection(self, at: float, pins: Sequence[Pin] = ()) -> float:
        """Return how far 1 N at ``at`` moves the bar at ``at`` [mm/N].

        Parameters
        ----------
        at
            Where the tool presses [mm].
        pins
            Supports there besides the beam's own, such as a follow rest beside the tool.
        """
        return self.movement(at, at, pins)

    def movement(self, at: float, load: float, pins: Sequence[Pin] = ()) -> float:
        """Return how far 1 N at the place ``load`` moves the bar at ``at`` [mm/N]."""
        supports = self._supports(pins)
        straight = self._flexibility(at, load)
        held = self._reactions(load, supports)
        return straight - fsum(
            force * self._flexibility(at, pin.at) for force, pin in zip(held, supports, strict=True)
        )

    def stress(self, at: float, sideways: float, torque: float, pins: Sequence[Pin] = ()) -> float:
        """Return the worst equivalent stress anywhere in the bar [MPa].

        Parameters
        ----------
        at
            Where the tool presses [mm].
        sideways
            Force across the axis [N]: the resultant of tangential and radial force.
        torque
            Between the driven end, x = 0, and the tool [N mm].
        pins
            As for :meth:`deflection`.
        """
        supports = self._supports(pins)
        held = self._reactions(at, supports)
        loads = [(at, 1.0), *((pin.at, -f) for pin, f in zip(supports, held, strict=True))]
        worst = 0.0
        # The moment is straight between loads: its peaks stand at loads and shoulders.
        for x in {*self._edges, *(place for place, _ in loads)}:
            bending = sideways * self._moment(x, loads)
            # The shear of torsion is half what a bending moment as large would pull.
            turned = 0.75 * torque**2 if x <= at else 0.0
            worst = max(worst, sqrt(bending**2 + turned) * self._softest(x))
        return worst

    def _softest(self, x: float) -> float:
        """Return stress over bending moment in the thinnest cylinder that ends or goes on at x."""
        touched = (
            bent
            for bent, first, last in zip(self._bent, self._edges, self._edges[1:], strict=False)
            if first <= x <= last
        )
        # The far end may lie a floating-point hair beyond the last cylinder.
        return max(touched, default=self._bent[-1])

    def _supports(self, pins: Sequence[Pin]) -> tuple[Pin, ...]:
        """Return all pins that hold."""
        return self._apart((*self.pins, *pins)) if pins else self._own

    def _apart(self, pins: Sequence[Pin]) -> tuple[Pin, ...]:
        """Return pins without those that stand on another support and so add nothing.

        One that gives way shares the load with what stands beside it; only of two that do not give
        way at all one is too many.
        """
        stiff = [0.0] if self.ends.near == 0 else []
        if not self.clamped and self.ends.far == 0:
            stiff.append(self.length)
        used: list[Pin] = []
        for pin in pins:
            if pin.give == 0:
                if any(abs(pin.at - other) <= SAME_PLACE * self.length for other in stiff):
                    continue
                stiff.append(pin.at)
            used.append(pin)
        return tuple(used)

    def _reactions(self, at: float, supports: tuple[Pin, ...]) -> list[float]:
        """Return what each pin carries of 1 N at ``at``: it moves as far as it gives way."""
        if not supports:
            return []
        rows = [
            [
                *(
                    self._flexibility(p.at, q.at) + (p.give if j == k else 0.0)
                    for j, q in enumerate(supports)
                ),
                self._flexibility(p.at, at),
            ]
            for k, p in enumerate(supports)
        ]
        return _solved(rows)

    def _moment(self, x: float, loads: Sequence[tuple[float, float]]) -> float:
        """Return the bending moment at x under the given forces."""
        if self.clamped:
            return fsum(force * max(place - x, 0.0) for place, force in loads)
        span = self.length
        return fsum(
            force * ((span - place) * x if x <= place else place * (span - x)) / span
            for place, force in loads
        )

    def _flexibility(self, a: float, b: float) -> float:
        """Return the movement at a for 1 N at b of the bar without its pins [mm/N]."""
        a, b = min(a, b), max(a, b)
        ends = self.ends
        s0, s1, s2 = self._sum_to(a)
        if self.clamped:
            return a * b * s0 - (a + b) * s1 + s2 + ends.near + a * b * ends.tilt
        span = self.length
        t0, t1, t2 = self._sum_to(b)
        e0, e1, e2 = self._sums[-1]
        before = (span - a) * (span - b) * (s2 + ends.near)
        between = a * (span - b) * (span * (t1 - s1) - (t2 - s2))
        beyond = a * b * (span**2 * (e0 - t0) - 2 * span * (e1 - t1) + (e2 - t2) + ends.far)
        return (before + between + beyond) / span**2

    def _sum_to(self, x: float) -> tuple[float, float, float]:
        """Return the integrals of 1, t and t^2 over EI from 0 to x."""
        for k, section in enumerate(self.sections):
            a = self._edges[k]
            if x <= self._edges[k + 1] or k == len(self.sections) - 1:
                give = 1 / (self.modulus * second_moment(section.diameter))
                s0, s1, s2 = self._sums[k]
                return (
                    s0 + give * (x - a),
                    s1 + give * (x**2 - a**2) / 2,
                    s2 + give * (x**3 - a**3) / 3,
                )
        return (0.0, 0.0, 0.0)


def _solved(rows: list[list[float]]) -> list[float]:
    """Solve a small symmetric positive system; each row holds its right-hand side last."""
    size = len(rows)
    for k in range(size):
        for r in range(k + 1, size):
            share = rows[r][k] / rows[k][k]
            rows[r] = [x - share * y for x, y in zip(rows[r], rows[k], strict=True)]
    found = [0.0] * size
    for k in reversed(range(size)):
        rest = fsum(rows[k][j] * found[j] for j in range(k + 1, size))
        found[k] = (rows[k][size] - rest) / rows[k][k]
    return found
