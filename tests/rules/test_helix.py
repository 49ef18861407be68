from __future__ import annotations

from math import atan2, pi, radians

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardgen.rules.helix import lead_angle, lead_of_angle


@given(st.floats(0.1, 100), st.floats(1, 300))
def test_lead_and_angle_are_inverse(lead: float, diameter: float) -> None:
    assert lead_of_angle(lead_angle(lead, diameter), diameter) == pytest.approx(lead, rel=1e-12)


@given(st.floats(0.1, 100), st.floats(1, 300))
def test_angle_of_one_turn_unrolled(lead: float, diameter: float) -> None:
    assert lead_angle(lead, diameter) == pytest.approx(atan2(lead, pi * diameter), rel=1e-12)


@given(st.floats(0.1, 100), st.floats(1, 150), st.floats(1.01, 2))
def test_steeper_where_thinner(lead: float, diameter: float, factor: float) -> None:
    assert lead_angle(lead, diameter) > lead_angle(lead, diameter * factor)
    # Scaling everything changes no angle.
    scaled = lead_angle(25.4 * lead, 25.4 * diameter)
    assert scaled == pytest.approx(lead_angle(lead, diameter), rel=1e-12)


def test_a_lead_of_one_circumference_climbs_at_45_degrees() -> None:
    assert lead_angle(pi * 20, 20) == pytest.approx(radians(45))
