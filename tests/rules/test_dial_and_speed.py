"""Thread dial against a walk along the bed, and the choice of a speed."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardgen.rules.cutting import spindle_power
from cardgen.rules.speeds import choose_speed, speed_for_power
from cardgen.rules.thread_dial import start_marks, usable_marks

pitches = st.fractions(min_value=Fraction(1, 4), max_value=8, max_denominator=8)


@given(
    leadscrew=st.sampled_from([Fraction(2), Fraction(3), Fraction(6), Fraction(127, 40)]),
    pitch=pitches,
    starts=st.integers(1, 4),
    gear=st.integers(8, 40),
    marks=st.integers(1, 16),
)
def test_marks_by_walking_along_the_bed(
    leadscrew: Fraction, pitch: Fraction, starts: int, gear: int, marks: int
) -> None:
    """A mark is right if the nut fits and the start is met on *every* later turn of the dial."""
    lead = pitch * starts
    found = start_marks(leadscrew, lead, starts, gear, marks)
    for start in range(1, starts + 1):
        expected = []
        for mark in range(1, marks + 1):
            shifts = [(turn + Fraction(mark - 1, marks)) * gear * leadscrew for turn in range(9)]
            nut = all((shift / leadscrew).denominator == 1 for shift in shifts)
            groove = all(
                ((shift - (start - 1) * pitch) / lead).denominator == 1 for shift in shifts
            )
            if nut and groove:
                expected.append(mark)
        assert found[start] == tuple(expected)
    assert usable_marks(leadscrew, lead, gear, marks) == found[1]


@given(
    speeds=st.lists(st.floats(10, 2000), min_size=1, max_size=8),
    limits=st.dictionaries(st.sampled_from("abc"), st.floats(0, 3000), min_size=1),
)
def test_the_speed_is_the_fastest_that_no_limit_forbids(
    speeds: list[float], limits: dict[str, float]
) -> None:
    choice = choose_speed(speeds, limits)
    assert choice.speed in speeds
    allowed = [speed for speed in speeds if speed <= min(limits.values())]
    if allowed:
        assert choice.speed == max(allowed)
        assert not choice.broken
    else:
        assert choice.speed == min(speeds)
        assert choice.broken
    if choice.faster is not None and not choice.broken:
        assert choice.faster > limits[choice.ruled_by]


def test_the_fastest_speed_needs_no_reason() -> None:
    assert choose_speed([60, 110], {"a": 500.0}).ruled_by == ""


@given(power=st.floats(50, 3000), force=st.floats(10, 5000), diameter=st.floats(5, 100))
def test_the_speed_for_a_power_takes_that_power(
    power: float, force: float, diameter: float
) -> None:
    speed = speed_for_power(power, force, diameter)
    assert spindle_power(force, diameter, speed) == pytest.approx(power)
