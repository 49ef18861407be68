"""Metric trapezoidal threads as others have printed them.

Sources
-------
- Sizes: a reference page to ISO 2904:1977 / DIN 103-4 (tests/data/iso_2904_sizes.csv); the columns
  named there as misprinted contradict the standard's own formulae and the neighbouring rows.
- Limits of class 7e: a reference table of external ISO metric trapezoidal threads TR8 to TR315
  (tests/data/iso_2903_limits_7e.csv), and the row TR320x5 of its second part.
- Profile: ISO 2901:2016 (preview): H1 = 0.5 P, h3 = 0.5 P + ac, crest flat 0.366 P, root flat
  0.366 P - 0.536 ac, R1 = 0.5 ac, R2 = ac.
"""

from __future__ import annotations

import pytest

from cardgen.forms.form import FormError, read
from cardgen.forms.limits import nut_limits, screw_limits
from cardgen.forms.sizes import basic_sizes, is_listed
from tests.rows import rows

TR = read("trapezoidal")


@pytest.mark.parametrize("row", rows("iso_2904_sizes"), ids=lambda row: row["designation"])
def test_sizes(row: dict[str, str]) -> None:
    sizes = basic_sizes(TR, float(row["d"]), float(row["p"]))
    for key, symbol, value in (
        ("d2", "d2", sizes.pitch_diameter),
        ("nut_major", "D4", sizes.nut_major),
        ("d3", "d3", sizes.minor),
        ("nut_minor", "D1", sizes.nut_minor),
    ):
        printed = float(row[key])
        if symbol in row["misprinted"]:
            # Tr 9x2: d3 = 9.25 would be larger than the pitch diameter. Tr 10x1.5: clearances of a
            # coarser pitch stand in a shifted column.
            assert abs(value - printed) > 0.5
        else:
            assert value == pytest.approx(printed, abs=0.0005), symbol


@pytest.mark.parametrize("row", rows("iso_2903_limits_7e"), ids=lambda row: row["designation"])
def test_limits_of_class_7e(row: dict[str, str]) -> None:
    screw = screw_limits(TR, basic_sizes(TR, float(row["d"]), float(row["p"])), 1, "7e")
    assert screw.pitch is not None
    for key, value in {
        "d_max": screw.major.high,
        "d_min": screw.major.low,
        "d2_max": screw.pitch.high,
        "d2_min": screw.pitch.low,
        "d3_max": screw.minor.high,
        "d3_min": screw.minor.low,
    }.items():
        assert value == pytest.approx(float(row[key]), abs=0.0005), key


def test_profile() -> None:
    sizes = basic_sizes(TR, 28, 5)
    section = sizes.section
    assert section.depth == pytest.approx(0.5 * 5 + 0.25)
    assert section.crest_flat == pytest.approx(0.366 * 5, abs=0.0005 * 5)
    assert section.root_flat == pytest.approx(0.366 * 5 - 0.536 * 0.25, abs=0.0005 * 5)
    assert sizes.overlap == pytest.approx(2.5)
    assert (sizes.crest_radius, sizes.root_radius) == (0.125, 0.25)


def test_crest_and_root_keep_position_h() -> None:
    """ISO 2903:2016 clause 6: d and d3 have no deviation, whatever position d2 has."""
    sizes = basic_sizes(TR, 40, 7)
    for cls in TR.classes:
        screw = screw_limits(TR, sizes, 1, cls)
        assert screw.major.high == sizes.major
        assert screw.minor.high == pytest.approx(sizes.minor, abs=1e-12)
        assert screw.pitch is not None
        assert screw.pitch.high == pytest.approx(sizes.pitch_diameter - screw.allowance)


def test_more_starts_widen_the_pitch_tolerance() -> None:
    """Factors 1.12, 1.25, 1.4 and 1.6 on Td2 and TD2; the crest is not affected."""
    sizes = basic_sizes(TR, 40, 7)
    one = screw_limits(TR, sizes, 1, "7e")
    assert one.pitch_tolerance is not None
    for starts, factor in ((2, 1.12), (3, 1.25), (4, 1.4), (5, 1.6), (6, 1.6)):
        more = screw_limits(TR, sizes, starts, "7e")
        assert more.pitch_tolerance == pytest.approx(factor * one.pitch_tolerance, abs=0.0005)
        assert more.major == one.major
        nut = nut_limits(TR, sizes, starts, "7H")
        assert nut.evidence == "memory"


def test_what_the_standard_does_not_reach_is_refused() -> None:
    with pytest.raises(FormError, match=r"ends at 44 mm"):
        basic_sizes(TR, 300, 50)
    with pytest.raises(FormError, match=r"leaves no core"):
        basic_sizes(TR, 10, 10)
    with pytest.raises(FormError, match=r"355 mm"):
        screw_limits(TR, basic_sizes(TR, 400, 10), 1, "7e")
    with pytest.raises(FormError, match=r"no class '6g'"):
        screw_limits(TR, basic_sizes(TR, 28, 5), 1, "6g")


def test_listed_sizes() -> None:
    assert is_listed(TR, 28, 5)
    assert not is_listed(TR, 28, 4)
