"""The light of hot steel: chromaticity and luminance of a black body, and the patches drawn of it.

Rows in tests/data/glow.csv were computed apart from this program, from Planck's law and the CIE
1931 observer. The standard's own check: an equal-energy light is at x = y = 1/3.
"""

from __future__ import annotations

import csv
from itertools import pairwise
from pathlib import Path

import pytest

from cardgen import library
from cardgen.rules.glow import adapted, chromaticity, hue, radiance, written
from cardgen.sheets._heat_glow import glow_swatches, patch, seen

with (Path(__file__).parents[1] / "data" / "glow.csv").open(encoding="utf-8") as file:
    ROWS = list(csv.DictReader(file))


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["temp_C"])
def test_black_body(row: dict[str, str]) -> None:
    light = seen(float(row["temp_C"]))
    x, y = chromaticity(light)
    assert x == pytest.approx(float(row["x"]), abs=0.0006)
    assert y == pytest.approx(float(row["y"]), abs=0.0006)
    assert light[1] == pytest.approx(float(row["luminance_cd_m2"]), rel=0.005)


def test_observer_sees_equal_energy_as_white() -> None:
    rows = library.table("heat/cie_1931")
    sums = [sum(float(row[axis]) for row in rows) for axis in "xyz"]
    for value in sums:
        assert value / sum(sums) == pytest.approx(1 / 3, abs=2e-4)


def test_wien_and_stefan_boltzmann() -> None:
    """At 1500 K the peak lies at 2897.8 / 1.5 nm, and the whole is sigma T^4 / pi."""
    kelvin = 1500.0
    peak = max(range(1000, 4000), key=lambda nm: radiance(nm, kelvin))
    assert peak == pytest.approx(2897.77 / 1.5, abs=1)
    whole = sum(radiance(nm, kelvin) * 5e-9 for nm in range(200, 100000, 5))
    assert whole == pytest.approx(5.670374419e-8 * kelvin**4 / 3.14159265, rel=2e-3)


def test_the_light_that_the_eye_is_used_to_is_white() -> None:
    light = seen(1400)
    assert hue(adapted(light, light)) == pytest.approx((1, 1, 1), abs=2e-3)
    assert written((1.0, 1.0, 1.0)) == "#ffffff"


@pytest.mark.parametrize("light", [(1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)])
def test_the_screen_s_own_white_changes_no_light(light: tuple[float, float, float]) -> None:
    """To the cones and back; white D65 by ASTM E308, to two degrees."""
    assert adapted(light, (0.95047, 1.0, 1.08883)) == pytest.approx(light, abs=1e-4)


def test_patches_brighten_from_red_to_nearly_white() -> None:
    colours = [[int(swatch.colour[k : k + 2], 16) for k in (1, 3, 5)] for swatch in glow_swatches()]
    for darker, brighter in pairwise(colours):
        assert all(a <= b for a, b in zip(darker, brighter, strict=True))
    for red, green, blue in colours:
        assert red > green
        assert red > blue
    assert patch(1400) == "#ffffff"
