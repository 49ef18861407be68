"""A case to change one thing of: Tr 28x5 in C45 on a small lathe, sizes rounded."""

from __future__ import annotations

from dataclasses import replace
from math import radians
from typing import Any

from cardgen.rules.blade import Blade
from cardgen.rules.cutting import Groove, Law
from cardgen.rules.holding import Work
from cardgen.rules.methods import Case, Practice
from cardgen.rules.pace import Pace
from cardgen.rules.passes import Lathe

WORK = Work(
    stickout=160,
    thread=120,
    groove=8,
    blank=28,
    root=22.3,
    modulus=205_000,
    holding="chuck-and-centre",
    rest="none",
    left_hand=False,
    follow_offset=10,
    steady_width=20,
)
LATHE = Lathe(
    work=WORK,
    step=0.01,
    feed=0.0,
    radial_share=0.5,
    dig_in=3,
    speed=60,
    allowed={"force": 900, "deflection": 0.05, "work stress": 220, "blade": 1000, "power": 412},
)
PRACTICE = Practice(
    least=0.02,
    finish_bite=0.05,
    plunge_tip=4,
    plunge_edge=8,
    rough_side=0.3,
    rough_bottom=0.1,
    rough_least=0.8,
    rough_taper=1.5,
    rough_try=0.5,
    vee_least=25,
    flank_relief=0.5,
    shave=0.01,
)
CASE = Case(
    lathe=LATHE,
    depth=2.75,
    shallowest=2.75,
    deepest=2.95,
    point=1.7,
    groove=Groove(radians(15), radians(15)),
    blade=Blade(1.7, 3.7, 3.75, 10, (radians(7), radians(0)), overhang=15, blank=10),
    chip=0.15,
    confined=Law(1500, 0.22, 1.85),
    open=Law(1500, 0.22, 1.42),
    compound_step=0.02,
    practice=PRACTICE,
    side_step=0.01,
    pace=Pace(cut=24, back=11, dial=6, change=300, grind=900, starts=1),
)


def case(**changed: Any) -> Case:
    return replace(CASE, **changed)


def with_work(base: Case, **changed: Any) -> Case:
    return replace(base, lathe=replace(base.lathe, work=replace(base.lathe.work, **changed)))


def with_lathe(base: Case, **changed: Any) -> Case:
    return replace(base, lathe=replace(base.lathe, **changed))
