"""Parallel pipe and British Association threads as others have printed them.

Sources
-------
- ISO 228-1:2003 as in a data file of an open-source library of threads, which cites a supplier's
  chart (tests/data/iso_228_1.csv).
- BS 93:1951, basic dimensions and formulae of the tolerances, Machinery's Handbook 31st ed. p.2115
  (tests/data/bs_93_sizes.csv).
"""

from __future__ import annotations

import pytest

from cardgen.forms.form import FormError, read
from cardgen.forms.limits import nut_limits, screw_limits
from cardgen.forms.sizes import basic_sizes, is_listed
from tests.rows import rows

PIPE, BA = read("pipe-parallel"), read("ba")
HALF = 0.00051
"""Half of a thousandth; a last digit of floating point more."""


@pytest.mark.parametrize("row", rows("iso_228_1"), ids=lambda row: f"G {row['size']}")
def test_pipe_rows(row: dict[str, str]) -> None:
    sizes = basic_sizes(PIPE, float(row["major"]), 25.4 / float(row["tpi"]))
    a, b = (screw_limits(PIPE, sizes, 1, cls) for cls in "AB")
    nut = nut_limits(PIPE, sizes, 1, "")
    assert a.pitch is not None
    assert b.pitch is not None
    assert nut.pitch is not None
    for key, value in {
        "pitch": sizes.pitch,
        "height": sizes.height,
        "pitch_diameter": sizes.pitch_diameter,
        "minor": sizes.minor,
        "nut_pitch_tolerance": nut.pitch.high - sizes.pitch_diameter,
        "a_lower": a.pitch.low - sizes.pitch_diameter,
        "b_lower": b.pitch.low - sizes.pitch_diameter,
        "nut_minor_tolerance": nut.minor.high - sizes.nut_minor,
        "major_lower": a.major.low - sizes.major,
    }.items():
        assert value == pytest.approx(float(row[key]), abs=HALF), key
    assert a.pitch.high == sizes.pitch_diameter
    assert nut.pitch.low == sizes.pitch_diameter
    assert is_listed(PIPE, sizes.major, sizes.pitch)


def test_a_pitch_without_pipe_tolerances_is_refused() -> None:
    with pytest.raises(FormError, match="28, 19, 14, 11 threads per inch"):
        screw_limits(PIPE, basic_sizes(PIPE, 20.0, 25.4 / 12), 1, "A")


@pytest.mark.parametrize("row", rows("bs_93_sizes"), ids=lambda row: f"{row['number']} BA")
def test_ba_sizes(row: dict[str, str]) -> None:
    sizes = basic_sizes(BA, float(row["major"]), float(row["pitch"]))
    for key, value in {
        "depth": sizes.section.depth,
        "effective": sizes.pitch_diameter,
        "minor": sizes.minor,
    }.items():
        assert value == pytest.approx(float(row[key]), abs=HALF), key
    assert sizes.root_arc == pytest.approx(float(row["radius"]), abs=0.000051)
    assert is_listed(BA, sizes.major, sizes.pitch)


@pytest.mark.parametrize("row", rows("bs_93_sizes"), ids=lambda row: f"{row['number']} BA")
def test_ba_tolerances(row: dict[str, str]) -> None:
    """Bolt: normal -0.20 p (11 to 16: -0.25 p), -(0.10 p + 0.025), -(0.20 p + 0.05); close -0.15 p,
    -(0.08 p + 0.02), -(0.16 p + 0.04); nut +(0.12 p + 0.03), +0.375 p; 0.025 mm between the largest
    normal bolt of 0 to 10 BA and the smallest nut."""
    p, large = float(row["pitch"]), int(row["number"]) <= 10
    sizes = basic_sizes(BA, float(row["major"]), p)
    off = 0.025 if large else 0.0
    wanted = {"normal": (0.20 * p if large else 0.25 * p, 0.1 * p + 0.025, 0.2 * p + 0.05, off)}
    if large:
        wanted["close"] = (0.15 * p, 0.08 * p + 0.02, 0.16 * p + 0.04, 0.0)
    else:
        with pytest.raises(FormError, match="0 to 10 BA"):
            screw_limits(BA, sizes, 1, "close")
    for cls, (major, pitch, minor, allowance) in wanted.items():
        screw = screw_limits(BA, sizes, 1, cls)
        for band, basic, tolerance in (
            (screw.major, sizes.major, major),
            (screw.pitch, sizes.pitch_diameter, pitch),
            (screw.minor, sizes.minor, minor),
        ):
            assert band is not None
            assert band.high == pytest.approx(basic - allowance)
            assert band.high - band.low == pytest.approx(tolerance)
    nut = nut_limits(BA, sizes, 1, "")
    assert nut.pitch is not None
    assert nut.pitch.high - sizes.pitch_diameter == pytest.approx(0.12 * p + 0.03)
    assert nut.minor.high - sizes.nut_minor == pytest.approx(0.375 * p)
    assert nut.major.high is None
