"""Worm and rack, against the one published pair that was found and a case worked by hand.

Sources in ``tests/data/worm_rack.csv``. The second prints the lead angle of a worm of 9 mm pitch
diameter to two places, and the pitch to four: so the angle is taken from the diameter.
"""

from __future__ import annotations

from math import degrees, radians

import pytest

from cardgen.rules.helix import lead_angle
from cardgen.rules.rack import pitch_along_travel
from tests.rows import rows

CASES = {row["case"]: row for row in rows("worm_rack")}


def test_square_teeth_need_the_axis_set_over_by_the_lead_angle() -> None:
    row = CASES["WR01"]
    assert row["axis_angle_deg"] == row["lead_angle_deg"]
    # The screw's axial pitch and the rack's, square to the same teeth.
    assert pitch_along_travel(1.0, radians(float(row["axis_angle_deg"]))) == pytest.approx(
        3**0.5 / 2
    )


def test_pitch_of_square_teeth() -> None:
    row = CASES["WR03"]
    angle = lead_angle(float(row["axial_pitch_mm"]), 9.0)
    assert degrees(angle) == pytest.approx(float(row["lead_angle_deg"]), abs=0.005)
    pitch = pitch_along_travel(float(row["axial_pitch_mm"]), angle)
    assert pitch == pytest.approx(float(row["rack_pitch_mm"]), abs=0.00005)
    assert pitch_along_travel(3.0, 0.0) == 3.0
