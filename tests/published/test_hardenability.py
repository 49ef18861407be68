"""Depth of hardening from the composition, against the worked example of the method.

Source: ASTM A255-10 (2014), "Calculation of hardenability", the modified SAE 4118 of its example,
as written out in a public handbook of steel calculations: the factors to two or three decimals and
their product, 1.95 in. Data sheets of makers for how the result compares with steel in the shop.
"""

from __future__ import annotations

from itertools import pairwise
from math import prod

import pytest

from cardgen import library
from cardgen.rules.hardenability import (
    OutsideMethodError,
    critical_diameter,
    ideal_diameter,
    martensite_hardness,
    multiplying_factor,
)
from cardgen.sheets._heat_depth import factors
from tests.parts import material

EXAMPLE = {
    "C": (0.22, 0.119, 3), "Mn": (0.80, 3.667, 3), "Si": (0.18, 1.126, 3), "Ni": (0.10, 1.036, 3),
    "Cr": (0.43, 1.929, 3), "Mo": (0.25, 1.75, 2), "Cu": (0.10, 1.04, 2), "V": (0.05, 1.09, 2),
}  # fmt: skip
SHARES = {element: share for element, (share, _, _) in EXAMPLE.items()}


@pytest.mark.parametrize("element", EXAMPLE)
def test_factors_as_printed(element: str) -> None:
    share, printed, decimals = EXAMPLE[element]
    found = multiplying_factor(factors(), element, share)
    assert found == pytest.approx(printed, abs=0.5 * 10**-decimals + 1e-9)


def test_ideal_diameter_of_the_example() -> None:
    """The example multiplies its rounded factors, 1.95 in; unrounded they come to 1.93."""
    rounded = prod(printed for _, printed, _ in EXAMPLE.values())
    assert rounded == pytest.approx(1.95, abs=0.005)
    ours = ideal_diameter(factors(), SHARES) / 25.4
    assert ours == pytest.approx(rounded, rel=0.01)


@pytest.mark.parametrize(
    ("share", "element"), [(0.95, "C"), (3.25, "Cr"), (0.5, "W"), (0.001, "B"), (2.0, "Mn")]
)
def test_outside_the_method_there_is_no_number(share: float, element: str) -> None:
    with pytest.raises(OutsideMethodError, match=element):
        ideal_diameter(factors(), {"C": 0.4, "Mn": 0.8, element: share})


def test_ranges_of_an_element_meet() -> None:
    """The published pieces for carbon meet within a hundredth; manganese and nickel too."""
    for element in ("C", "Mn", "Ni"):
        own = [factor for factor in factors() if factor.element == element]
        for below, above in pairwise(own):
            assert below.high == above.low
            assert below.at(below.high) == pytest.approx(above.at(above.low), rel=0.015)


@pytest.mark.parametrize(
    ("name", "low", "high"),
    [
        # Maker's page C45U: hardens through to 15 mm.
        ("c45", 8, 15),
        # Steel data sheet 51CrV4: for components up to about 50 mm.
        ("51crv4", 50, 80),
        # Maker's page 4340: condition U, hardened, in sections up to 100 mm.
        ("4340", 100, 140),
    ],
)
def test_beside_the_makers_own_words(name: str, low: float, high: float) -> None:
    """From a still to a well stirred bath our span meets what the makers promise, within a third;
    they mean more than half martensite, and a better bath than a still one."""
    steel = material(name)
    assert steel.heat is not None
    bath = next(r for r in library.table("heat/quench_media") if r["name"] == steel.heat.quench)
    ideal = ideal_diameter(factors(), steel.composition)
    still, stirred = (critical_diameter(ideal, float(bath[k])) for k in ("severity", "stirred"))
    assert still == pytest.approx(low, rel=0.34)
    assert stirred == pytest.approx(high, rel=0.34)


@pytest.mark.parametrize(
    ("name", "low", "high"),
    [("c45", 55, 61), ("42crmo4", 53, 61), ("5160", 58, 65), ("s7", 59, 62)],
)
def test_hardness_of_martensite_within_the_published_scatter(
    name: str, low: float, high: float
) -> None:
    """Makers' ranges as quenched; the polynomial gives the most, so it lies in the upper half."""
    rows = library.table("heat/martensite")
    found = martensite_hardness(
        [float(row["coefficient"]) for row in rows], material(name).composition["C"]
    )
    assert (low + high) / 2 - 1 <= found <= high
