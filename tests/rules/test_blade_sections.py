"""The blade's cross-section against a numerical one; and what makes a blade stronger."""

from __future__ import annotations

from dataclasses import replace
from math import radians

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardgen.rules.blade import Blade, Load, section_stress

BLADE = Blade(
    tip=1.7,
    shank=3.7,
    length=3.75,
    height=10,
    reliefs=(radians(7), radians(1)),
    overhang=15,
    blank=10,
)


@given(st.floats(0.5, 6), st.floats(0, 6), st.floats(2, 12))
def test_trapezium_by_strips(top: float, bottom: float, height: float) -> None:
    y = (np.arange(20_000) + 0.5) / 20_000 * height
    width = top + (bottom - top) * y / height
    strip = height / 20_000
    centre = (width * y).sum() / width.sum()
    second = (width * (y - centre) ** 2).sum() * strip
    stress = 1000 * max(centre, height - centre) / second
    assert section_stress(1000, top, bottom, height) == pytest.approx(stress, rel=1e-4)


def test_reliefs_that_meet_end_the_section() -> None:
    blade = replace(BLADE, tip=0.5, shank=0.5, reliefs=(radians(10), radians(10)))
    top, bottom, height = blade.section(1.0)
    assert (top, bottom) == (0.5, 0.0)
    assert height == pytest.approx(0.5 / (2 * np.tan(radians(10))))


@given(st.floats(50, 2000), st.floats(0, 2000), st.floats(0, 400), st.floats(0.1, 3.5))
def test_stress_is_linear_in_the_load(
    point: float, flanks: float, side: float, reach: float
) -> None:
    load = Load(point, flanks, reach, side)
    double = Load(2 * point, 2 * flanks, reach, 2 * side)
    assert BLADE.stress(double) == pytest.approx(2 * BLADE.stress(load))


@given(st.floats(1.01, 2))
def test_thicker_is_stronger_and_longer_is_weaker(factor: float) -> None:
    load = Load(300, 300, 2.5, 50)
    blade = replace(BLADE, tip=2.0, shank=2.0, reliefs=(radians(3), radians(1)), overhang=3.75)
    wide = replace(blade, tip=blade.tip * factor, shank=blade.shank * factor)
    assert wide.stress(load) < blade.stress(load)
    assert replace(blade, height=blade.height * factor).stress(load) < blade.stress(load)
    assert replace(blade, length=blade.length * factor).stress(load) > blade.stress(load)


def test_the_shank_breaks_when_it_sticks_out_far() -> None:
    long = replace(BLADE, overhang=60)
    assert long.stress(Load(300)) == pytest.approx(6 * 300 * 60 / 10**3)
