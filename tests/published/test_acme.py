"""Acme general purpose threads as others have printed them.

Sources
-------
- Machinery's Handbook, 27th ed. (2004), p.1828 Table 1 (acme_basic_by_tpi.csv), p.1831 Table 3
  (acme_sizes.csv), p.1841 Table 10 (acme_allowances.csv; the allowances of the centralizing
  classes are those of the general purpose ones).
- Acme thread data sheets (2009), privately issued (acme_data_sheet.csv).
- A manufacturer's page of external thread dimensions per ASME B1.5 (acme_limits_2g.csv).

What disagrees
--------------
- Two minor diameters of the data sheet (1/4-16 4G, 3/8-12 3G) are 0.0001 in lower than ours: half
  a ten-thousandth lies between, and the sheet does not round as the other rows do.
- The manufacturer's sizes that the standard does not list (such as 5/8-6 or 1-4) are given the
  allowance and tolerance of the listed size with the same pitch. The handbook's table gives an
  allowance for every diameter, by its range, and that is what is computed here. 3/4-10 and 1-10
  follow the handbook's way on that page too, 1-10 but for 0.0001 in the least pitch diameter.
"""

from __future__ import annotations

from math import degrees

import pytest

from cardgen.forms.form import read
from cardgen.forms.limits import nut_limits, screw_limits
from cardgen.forms.sizes import Sizes, basic_sizes, is_listed
from cardgen.rules.helix import lead_angle
from cardgen.rules.thread_acme import acme_allowance
from tests.rows import number, rows

ACME = read("acme")
INCH = 25.4
HALF = 0.00005 * 1.001
"""Half of the last printed digit [in]."""


def sized(row: dict[str, str], key: str = "size") -> Sizes:
    return basic_sizes(ACME, number(row[key]) * INCH, INCH / float(row["tpi"]))


@pytest.mark.parametrize("row", rows("acme_basic_by_tpi"), ids=lambda row: row["tpi"])
def test_basic_profile_by_pitch(row: dict[str, str]) -> None:
    pitch = INCH / float(row["tpi"])
    section = basic_sizes(ACME, 6 * INCH, pitch).section
    assert section.depth / INCH == pytest.approx(float(row["total_height"]), abs=HALF)
    assert section.groove_width(section.pitch_line) / INCH == pytest.approx(
        float(row["thickness"]), abs=HALF / 10
    )
    assert section.crest_flat / INCH == pytest.approx(float(row["crest_flat"]), abs=HALF)
    # The handbook's last row but two prints 0.1802 and 0.2728: cut off, not rounded.
    assert section.root_flat / INCH == pytest.approx(float(row["root_flat"]), abs=2 * HALF)


@pytest.mark.parametrize("row", rows("acme_sizes"), ids=lambda row: row["size"])
def test_sizes_and_lead_angle(row: dict[str, str]) -> None:
    sizes = sized(row)
    # The table's minor diameter is the basic one, D - P: the bore of the nut.
    for key, value in (
        ("major", sizes.major),
        ("pitch_diameter", sizes.pitch_diameter),
        ("minor", sizes.nut_minor),
        ("flat", sizes.section.crest_flat),
    ):
        assert value / INCH == pytest.approx(float(row[key]), abs=HALF), key
    printed = float(row["lead_deg"]) + float(row["lead_min"]) / 60
    angle = degrees(lead_angle(sizes.pitch, sizes.pitch_diameter))
    assert angle == pytest.approx(printed, abs=0.5 / 60 * 1.05)


@pytest.mark.parametrize("row", rows("acme_allowances"), ids=lambda row: row["up_to"])
def test_allowance_by_range(row: dict[str, str]) -> None:
    mean = (number(row["over"]) + number(row["up_to"])) / 2
    for cls in "234":
        factor = ACME.tolerances["class"][f"{cls}G"]["allowance"]
        assert acme_allowance(factor, mean) == pytest.approx(float(row[f"k{cls}"]), abs=HALF)
    # Both ends of the range take it; the first range begins at nothing.
    for diameter in (max(number(row["over"]) + 0.001, 0.15), number(row["up_to"])):
        sizes = basic_sizes(ACME, diameter * INCH, (0.05 if diameter < 1 else 0.2) * INCH)
        allowance = screw_limits(ACME, sizes, 1, "2G").allowance
        assert allowance / INCH == pytest.approx(float(row["k2"]), abs=HALF)


LAST_DIGIT = {(".2500", "4G"), (".3750", "3G")}
"""Rows of the data sheet whose last digit is one less than ours; see the head of this file."""


@pytest.mark.parametrize("row", rows("acme_data_sheet"), ids=lambda row: row["d"] + row["cls"])
def test_minor_diameters_of_the_data_sheet(row: dict[str, str]) -> None:
    sizes = sized(row, "d")
    screw = screw_limits(ACME, sizes, 1, row["cls"])
    nut = nut_limits(ACME, sizes, 1, row["cls"])
    least = float(row["minor_min"])
    if (row["d"], row["cls"]) in LAST_DIGIT:
        assert screw.minor.low / INCH == pytest.approx(least + 0.0001, abs=HALF)
    else:
        assert screw.minor.low / INCH == pytest.approx(least, abs=HALF)
    assert nut.minor.high / INCH == pytest.approx(float(row["nut_minor_max"]), abs=HALF)


@pytest.mark.parametrize(
    "row",
    [row for row in rows("acme_limits_2g") if row["standard_size"] == "yes"],
    ids=lambda row: f"{row['size']}-{row['tpi']}",
)
def test_limits_of_class_2g_for_listed_sizes(row: dict[str, str]) -> None:
    sizes = sized(row)
    assert is_listed(ACME, sizes.major, sizes.pitch)
    screw = screw_limits(ACME, sizes, 1, "2G")
    assert screw.pitch is not None
    for key, value in {
        "major_max": screw.major.high,
        "major_min": screw.major.low,
        "pitch_max": screw.pitch.high,
        "pitch_min": screw.pitch.low,
        "minor_max": screw.minor.high,
        "minor_min": screw.minor.low,
    }.items():
        assert value / INCH == pytest.approx(float(row[key]), abs=HALF), key


@pytest.mark.parametrize(
    "row",
    [row for row in rows("acme_limits_2g") if row["standard_size"] == "no"],
    ids=lambda row: f"{row['size']}-{row['tpi']}",
)
def test_limits_of_class_2g_for_other_sizes(row: dict[str, str]) -> None:
    """Crests and largest roots agree; pitch limits only as far as the page's own way allows."""
    sizes = sized(row)
    assert not is_listed(ACME, sizes.major, sizes.pitch)
    screw = screw_limits(ACME, sizes, 1, "2G")
    assert screw.pitch is not None
    for key, value in {
        "major_max": screw.major.high,
        "major_min": screw.major.low,
        "minor_max": screw.minor.high,
    }.items():
        assert value / INCH == pytest.approx(float(row[key]), abs=HALF), key
    gap = abs(screw.pitch.high / INCH - float(row["pitch_max"]))
    follows_the_handbook = (row["size"], row["tpi"]) in {("3/4", "10"), ("1", "10")}
    assert gap < HALF if follows_the_handbook else 2 * HALF < gap < 0.003


def test_beyond_the_ranges_the_formula_takes_the_diameter() -> None:
    """k sqrt(D) of the class, 0.008 for 2G: nothing is refused for being large."""
    screw = screw_limits(ACME, basic_sizes(ACME, 7 * INCH, INCH), 1, "2G")
    assert screw.allowance / INCH == pytest.approx(0.008 * 7**0.5, abs=HALF)
