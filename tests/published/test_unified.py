"""Unified threads as others have printed them.

Sources
-------
- Machinery's Handbook, 27th ed. (2004), pp.1755 and 1762 Table 3, limits of size by ASME B1.1
  (unified_limits.csv, rows marked read; those marked memory are recalled from the same table).
- Machinery's Handbook, 31st ed. (2020), Unified section, worked examples in Tables 3, 4 and 6
  (unified_worked_examples.csv).

What disagrees
--------------
- 5 3/4-10 UNS-2A prints a UNR minor diameter of 5.6288. The basic root of the nut less the
  allowance is 5.6395; taking off the 0.0108 that the table takes off at every other pitch gives
  5.6287, and so does 1.19078493 P off the crest.
- The worked example headed 19/64-28 UNS-2B works with a pitch of 1/36 in; it is taken as 19/64-36.
"""

from __future__ import annotations

import pytest

from cardgen.forms.form import read
from cardgen.forms.limits import nut_limits, screw_limits
from cardgen.forms.sizes import Sizes, basic_sizes
from cardgen.rules.thread_unified import (
    nut_minor_tolerance_by_pitch,
    pitch_tolerance,
    two_thirds_power,
)
from tests.rows import number, rows

INCH = 25.4
LIMITS = rows("unified_limits")
MISPRINTS = {("5+3/4", "10", "2A", "unr_minor_max"): 5.6287}


def half(printed: str) -> float:
    """Half of the last printed digit [in]."""
    return 0.5 * 10.0 ** -len(printed.partition(".")[2]) * 1.001


def sized(size: str, tpi: float) -> Sizes:
    return basic_sizes(read("unified"), number(size) * INCH, INCH / tpi)


@pytest.mark.parametrize("row", LIMITS, ids=lambda r: f"{r['size']}-{r['tpi']}-{r['class']}")
def test_table_3_limits(row: dict[str, str]) -> None:
    sizes = sized(row["size"], float(row["tpi"]))
    form = read("unified", row["series"])
    screw = screw_limits(form, sizes, 1, row["class"])
    nut = nut_limits(form, sizes, 1, row["class"][0] + "B")
    assert screw.pitch is not None
    assert nut.pitch is not None
    ours = {
        "allowance_or_blank": screw.allowance,
        "major_max": screw.major.high,
        "major_min": screw.major.low,
        "pd_max": screw.pitch.high,
        "pd_min": screw.pitch.low,
        "unr_minor_max": screw.minor.high,
        "int_minor_min": nut.minor.low,
        "int_minor_max": nut.minor.high,
        "int_pd_min": nut.pitch.low,
        "int_pd_max": nut.pitch.high,
    }
    for column, value in ours.items():
        key = (row["size"], row["tpi"], row["class"], column)
        printed = MISPRINTS.get(key, float(row[column]))
        assert value / INCH == pytest.approx(printed, abs=half(row[column])), column


def example(thread: str, quantity: str) -> tuple[float, float]:
    for row in rows("unified_worked_examples"):
        if row["thread"].startswith(thread) and row["quantity"] == quantity:
            return float(row["printed"]), half(row["printed"])
    raise KeyError(quantity)


def test_worked_example_half_inch_28_unef_2a() -> None:
    thread = "1/2-28 UNEF-2A"
    form, pitch = read("unified", "UNEF"), 0.03571429
    screw = screw_limits(form, sized("1/2", 28), 1, "2A")
    assert screw.pitch is not None
    tolerance = pitch_tolerance(
        0.5, 9 * pitch, pitch, by_diameter=0.0015, by_engagement=0.0015, by_pitch=0.015
    )
    for quantity, value in (
        ("major max", screw.major.high / INCH),
        ("major min", screw.major.low / INCH),
        ("pd max", screw.pitch.high / INCH),
        ("pd min", screw.pitch.low / INCH),
        ("major tolerance Td", 0.060 * two_thirds_power(pitch)),
        ("pd tolerance Td2", tolerance),
        ("2hs UNR 1.19078493P", form.diameters["minor"].drop * pitch),
    ):
        printed, margin = example(thread, quantity)
        assert value == pytest.approx(printed, abs=margin), quantity
    nut = nut_limits(form, sized("1/2", 28), 1, "2B")
    printed, margin = example("1/2-28 UNEF-2B", "minor min")
    assert nut.minor.low / INCH == pytest.approx(printed, abs=margin)


def test_worked_example_19_64_36_uns_2b() -> None:
    form = read("unified", "UNS")
    nut = nut_limits(form, sized("19/64", 36), 1, "2B")
    assert nut.pitch is not None
    for quantity, value in (
        ("minor min", nut.minor.low / INCH),
        ("minor tol 0.25P-0.40P^2", nut_minor_tolerance_by_pitch(1 / 36, 0.25, 0.40)),
        ("pd min", nut.pitch.low / INCH),
    ):
        printed, margin = example("same", quantity)
        assert value == pytest.approx(printed, abs=margin), quantity
    printed, margin = example("19/64-28", "2hn")
    assert form.diameters["nut_minor"].drop / 36 == pytest.approx(printed, abs=margin)
