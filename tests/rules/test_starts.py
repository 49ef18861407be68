"""Finding the next start: by counting turns and teeth one by one, and against print."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardgen.rules.starts import leadscrew_teeth, slide_advance, spindle_teeth

pitches = st.fractions(min_value=Fraction(1, 4), max_value=12, max_denominator=40)
steps = st.sampled_from([Fraction(1, 50), Fraction(1, 20), Fraction(127, 5000), Fraction(1, 40)])


@pytest.mark.parametrize(("starts", "teeth"), [(2, 48), (3, 32), (4, 24)])
def test_jones_stud_wheel_of_96(starts: int, teeth: int) -> None:
    """F. D. Jones, Turning and Boring (1919), Cutting Multiple Threads: a stud wheel of 96."""
    assert spindle_teeth(96, starts) == teeth


@given(teeth=st.integers(12, 130), starts=st.integers(2, 8), ratio=st.sampled_from([1, 2]))
def test_the_spindle_gear_by_counting_its_teeth(teeth: int, starts: int, ratio: int) -> None:
    """Of all counts of teeth up to a turn, the one after which the spindle is a start further."""
    share = Fraction(1, ratio)
    fitting = [
        count for count in range(1, teeth + 1) if Fraction(count, teeth) / share * starts == 1
    ]
    assert spindle_teeth(teeth, starts, share) == (fitting[0] if fitting else None)


@given(
    teeth=st.integers(12, 130), pitch=pitches, travel=st.sampled_from([Fraction(3), Fraction(2)])
)
def test_the_leadscrew_goes_on_by_a_pitch(teeth: int, pitch: Fraction, travel: Fraction) -> None:
    moved = leadscrew_teeth(teeth, pitch, travel)
    if moved is None:
        assert (pitch * teeth) % travel != 0
    else:
        assert moved * travel / teeth == pitch


@given(pitch=pitches, step=steps, starts=st.integers(2, 8))
def test_a_slide_misses_no_start_by_more_than_half_a_division(
    pitch: Fraction, step: Fraction, starts: int
) -> None:
    advance = slide_advance(pitch, step, starts)
    misses = [
        divisions * step - start * pitch for start, divisions in enumerate(advance.divisions, 1)
    ]
    assert all(abs(miss) <= step / 2 for miss in misses)
    assert advance.error in misses
    assert abs(advance.error) == max(map(abs, misses))
    assert misses[advance.worst - 2] == advance.error
