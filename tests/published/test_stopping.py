"""Distances run in a reaction time.

Sources
-------
- Reaction times: forensic engineering note, Human Reaction Time in Emergency Situations (0.2 s the
  floor, 1.5 s for the whole response, citing R. Limpert); expert article, Reaction Time (0.7 s).
- Distances and turns: kinematics, worked by hand from these.
"""

from __future__ import annotations

import pytest

from cardgen.rules.stopping import carriage_speed, run_out, speed_for_run_out, time_over

TIMES = (0.2, 0.7, 1.5)


@pytest.mark.parametrize(
    ("speed", "distances"), [(60.0, (1.20, 4.20, 9.00)), (40.0, (0.80, 2.80, 6.00))]
)
def test_distance_in_a_reaction_time_at_six_millimetres_lead(
    speed: float, distances: tuple[float, ...]
) -> None:
    for time, distance in zip(TIMES, distances, strict=True):
        assert run_out(6.0, speed, time) == pytest.approx(distance, abs=0.005)


def test_turns_do_not_depend_on_the_lead() -> None:
    for lead in (1.0, 6.0, 25.4):
        assert run_out(lead, 60.0, 0.7) / lead == pytest.approx(0.70, abs=0.005)


def test_fastest_speed_for_three_millimetres_free() -> None:
    """Lead 4 mm, 0.7 s: 64 rev/min, to the revolution."""
    assert speed_for_run_out(3.0, 4.0, 0.7) == pytest.approx(64, abs=0.5)


def test_the_speed_for_a_run_out_needs_just_that_run_out() -> None:
    speed = speed_for_run_out(3.0, 4.0, 0.7)
    assert run_out(4.0, speed, 0.7) == pytest.approx(3.0)
    assert speed_for_run_out(-1.0, 4.0, 0.7) == 0.0


def test_time_over_a_length() -> None:
    assert carriage_speed(5.0, 60.0) == 5.0
    assert time_over(120.0, 5.0, 60.0) == pytest.approx(24.0)
