from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardgen import library
from cardgen.rules.preferred import nearest_preferred, stepped_preferred

R40 = tuple(float(row["value"]) for row in library.table("threads/iso_3_r40"))


def test_the_series_is_the_fortieth_root_of_ten() -> None:
    """ISO 3 rounds each power of 10^(1/40) to no more than 1.3 per cent."""
    assert len(R40) == 40
    for place, value in enumerate(R40):
        assert value == pytest.approx(10 ** (place / 40), rel=0.013)


@given(st.floats(0.02, 5000))
def test_nearest_is_nearest(value: float) -> None:
    found = nearest_preferred(value, R40)
    every = [member * 10.0**power for power in range(-3, 5) for member in R40]
    assert abs(found - value) <= min(abs(member - value) for member in every) + 1e-9 * value


@given(st.sampled_from(R40), st.integers(-2, 3), st.integers(-45, 45))
def test_steps_there_and_back(member: float, power: int, steps: int) -> None:
    value = round(member * 10.0**power, 9)
    moved = stepped_preferred(value, steps, R40)
    assert stepped_preferred(moved, -steps, R40) == pytest.approx(value, rel=1e-9)
    assert moved / value == pytest.approx(10 ** (steps / 40), rel=0.026)


def test_half_way_goes_down() -> None:
    """103 um, the deviation g of a pitch of 8 mm, is tabulated as 100."""
    assert nearest_preferred(103.0, R40) == 100.0
