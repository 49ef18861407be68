"""The blade with its inner corners and its side load: its dip by quadrature, and what is safer."""

from __future__ import annotations

from dataclasses import replace
from math import radians

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from cardgen.rules.blade import Blade, Load
from cardgen.rules.fillet import Fillet
from tests.published.test_fillets import fit

FILLET = Fillet(0.5, fit("tension"), fit("bending"))
BLADE = Blade(
    tip=1.7, shank=3.7, length=3.75, height=10.0, reliefs=(radians(7), radians(1)),
    overhang=15.0, blank=10.0, fillet=FILLET, side_least=0.1,
)  # fmt: skip
LOAD = Load(point=900.0, flanks=600.0, reach=2.5)


def test_dip_is_the_integral_of_the_moment() -> None:
    def moment_of_area(x: float) -> float:
        if x > BLADE.length:
            return BLADE.blank**4 / 12
        top, bottom, height = BLADE.section(x)
        # By definition: width times distance from the middle squared.
        area = height * (top + bottom) / 2
        middle = height * (2 * top + bottom) / (3 * (top + bottom))
        whole, _ = quad(lambda y: (bottom + (top - bottom) * y / height) * (y - middle) ** 2,
                        0.0, height)  # fmt: skip
        assert area > 0
        return whole

    told = BLADE.dip(800.0, 210_000.0)
    bent, _ = quad(lambda x: 800.0 * x**2 / (210_000.0 * moment_of_area(x)), 0.0, BLADE.overhang,
                   points=[BLADE.length])  # fmt: skip
    assert told == pytest.approx(bent, rel=5e-3)


def test_corners_raise_the_stress_at_the_root_only() -> None:
    plain = replace(BLADE, fillet=None)
    pulled, bent = BLADE.notch()
    assert pulled > bent > 1
    # A load that bends the root most of all: a parallel blade, pressed on its point.
    parallel = replace(plain, tip=3.7, reliefs=(0.0, 0.0), side_least=0.0, overhang=3.75)
    rounded = replace(parallel, fillet=FILLET)
    light = Load(point=900.0)
    assert rounded.stress(light) == pytest.approx(pulled * parallel.stress(light))


def test_bending_both_ways_at_the_root() -> None:
    """By hand: a parallel blade, 3.7 x 10 mm, 3.75 mm long, 900 N down and 90 N aside."""
    blade = replace(BLADE, tip=3.7, reliefs=(0.0, 0.0))
    pulled, bent = blade.notch()
    down = 6 * 900 * 3.75 / (3.7 * 10**2)
    aside = 6 * 90 * 3.75 / (10 * 3.7**2)
    assert blade.stress(Load(point=900.0)) == pytest.approx(pulled * down + bent * aside)


more = st.floats(1.0, 1.5)


@given(more, st.sampled_from(["point", "flanks", "side"]))
@settings(max_examples=40)
def test_more_force_is_never_safer(factor: float, part: str) -> None:
    load = LOAD._replace(side=200.0)
    harder = load._replace(**{part: factor * getattr(load, part)})
    assert BLADE.stress(harder) >= BLADE.stress(load) * (1 - 1e-9)


@given(more)
@settings(max_examples=40)
def test_longer_thinner_or_sharper_is_never_safer(factor: float) -> None:
    worst = BLADE.stress(LOAD)
    longer = replace(BLADE, overhang=factor * BLADE.overhang)
    thinner = replace(BLADE, tip=BLADE.tip / factor, shank=BLADE.shank / factor)
    lower = replace(BLADE, height=BLADE.height / factor, reliefs=(0.0, 0.0))
    upright = replace(BLADE, reliefs=(0.0, 0.0))
    sharper = replace(BLADE, fillet=replace(FILLET, least=FILLET.least / factor))
    assert longer.stress(LOAD) >= worst * (1 - 1e-9)
    assert longer.dip(800.0, 210_000.0) >= BLADE.dip(800.0, 210_000.0) * (1 - 1e-9)
    assert thinner.stress(LOAD) >= worst * (1 - 1e-9)
    assert lower.stress(LOAD) >= upright.stress(LOAD) * (1 - 1e-9)
    assert sharper.stress(LOAD) >= worst * (1 - 1e-9)
