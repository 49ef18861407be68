"""Knuckle threads as a gauge maker has printed them; saw-tooth threads by their own geometry.

Sources
-------
- Pitch and pitch diameter of knuckle threads: a gauge maker's sheet "Knuckle thread Rd" (2007),
  table to DIN 405-1 (tests/data/din_405_sizes.csv); radii, depth and the nut's clearance could not
  be read and are checked by the geometry of the circle that touches both flanks.
- DIN 513 could not be read at all: its remembered constants must agree with one another.
"""

from __future__ import annotations

from math import cos, radians, sin, sqrt, tan

import pytest

from cardgen.forms.form import read
from cardgen.forms.limits import nut_limits, screw_limits
from cardgen.forms.sizes import basic_sizes, is_listed
from tests.rows import rows

RD, S = read("knuckle"), read("buttress-metric")


@pytest.mark.parametrize("row", rows("din_405_sizes"), ids=lambda row: row["designation"])
def test_knuckle_sizes(row: dict[str, str]) -> None:
    d, pitch = float(row["d"]), 25.4 / float(row["n"])
    sizes = basic_sizes(RD, d, pitch)
    assert pitch == pytest.approx(float(row["pitch"]), abs=0.0005)
    if row["misprint"]:
        # Rd 80x1/6: a pitch diameter over the major diameter; a digit is wrong by ten.
        assert float(row["d2"]) - 10 == pytest.approx(sizes.pitch_diameter, abs=0.0005)
        assert float(row["d2"]) > d
    else:
        # A half in the fourth place is printed upwards: 16.4125 as 16.413.
        assert sizes.pitch_diameter == pytest.approx(float(row["d2"]), abs=0.000501)
    assert is_listed(RD, d, pitch)


@pytest.mark.parametrize(
    ("arc", "level"),
    [("crest_arc", 0.25), ("root_arc", 0.25), ("nut_crest_arc", 0.20), ("nut_root_arc", 0.30)],
)
def test_knuckle_radii_touch_both_flanks(arc: str, level: float) -> None:
    """A circle between flanks of 15 degrees whose top lies so many pitches off the pitch line."""
    a = radians(15)
    fitted = (0.25 * cos(a) - level * sin(a)) / (1 - sin(a))
    assert getattr(basic_sizes(RD, 100.0, 1.0), arc) == pytest.approx(fitted, abs=6e-6)


def test_saw_tooth_constants_agree_with_one_another() -> None:
    sizes = basic_sizes(S, 100.0, 1.0)
    spread = tan(radians(3)) + tan(radians(30))
    section = sizes.section
    assert 1 / spread == pytest.approx(1.58791, abs=5e-6)
    assert section.crest_flat == pytest.approx(0.26384, abs=1e-5)
    assert section.depth == pytest.approx(0.86777, abs=1e-5)
    # The root is the arc that touches both flanks and the level of the root.
    taken = tan(radians((90 - 3) / 2)) + tan(radians((90 - 30) / 2))
    assert sizes.root_arc == pytest.approx(section.root_flat / taken, abs=1e-5)
    assert sizes.round_root()


@pytest.mark.parametrize("pitch", [2.0, 7.0, 16.0])
def test_the_saw_tooth_nut_has_its_axial_clearance(pitch: float) -> None:
    sizes = basic_sizes(S, 10 * pitch, pitch)
    assert sizes.nut_groove - pitch / 2 == pytest.approx(0.1 * sqrt(pitch), rel=1e-5)
    screw, nut = screw_limits(S, sizes, 1, "7e"), nut_limits(S, sizes, 1, "7H")
    assert screw.evidence == nut.evidence == "memory"
    assert screw.groove.low + nut.groove.low - pitch > 0.1 * sqrt(pitch)
