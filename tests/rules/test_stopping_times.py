"""The carriage stepped through time, against the seconds that are reckoned."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardgen.rules.stopping import run_out, speed_for_run_out, time_to_spare

leads = st.floats(0.5, 12.0)
speeds = st.floats(20.0, 400.0)
reactions = st.floats(0.2, 2.0)
coasts = st.floats(0.0, 3.0)
more = st.floats(1.0, 2.0)


def stepped(lead: float, speed: float, reaction: float, coast: float) -> float:
    """Travel of the carriage, revolution by small part of a revolution, until it stands."""
    part = 1e-3
    turned, seconds = 0.0, 0.0
    while seconds < reaction:
        turned += part
        seconds += part * 60 / speed
    return lead * (turned + coast)


@given(leads, speeds, reactions, coasts)
def test_run_out_turn_by_turn(lead: float, speed: float, reaction: float, coast: float) -> None:
    told = run_out(lead, speed, reaction, coast)
    assert told == pytest.approx(stepped(lead, speed, reaction, coast), abs=2e-3 * lead)


@given(leads, speeds, reactions, coasts, st.floats(0.1, 60.0))
def test_time_to_spare_is_none_just_where_the_run_out_fills_the_room(
    lead: float, speed: float, reaction: float, coast: float, free: float
) -> None:
    needed = run_out(lead, speed, reaction, coast)
    assert time_to_spare(needed, lead, speed, reaction, coast) == pytest.approx(0, abs=1e-9)
    spare = time_to_spare(free, lead, speed, reaction, coast)
    assert (spare >= 0) == (free >= needed) or free == pytest.approx(needed)


@given(leads, speeds, reactions, coasts, st.floats(0.1, 60.0), more)
def test_faster_coarser_or_slower_handed_is_never_safer(
    lead: float, speed: float, reaction: float, coast: float, free: float, factor: float
) -> None:
    spare = time_to_spare(free, lead, speed, reaction, coast)
    if free > coast * lead:
        assert time_to_spare(free, lead, speed * factor, reaction, coast) <= spare + 1e-9
    assert time_to_spare(free, lead * factor, speed, reaction, coast) <= spare + 1e-9
    assert time_to_spare(free, lead, speed, reaction * factor, coast) <= spare + 1e-9
    assert time_to_spare(free, lead, speed, reaction, coast * factor) <= spare + 1e-9
    assert time_to_spare(free / factor, lead, speed, reaction, coast) <= spare + 1e-9


@given(leads, reactions, coasts, st.floats(0.1, 60.0))
def test_the_fastest_speed_just_stops(
    lead: float, reaction: float, coast: float, free: float
) -> None:
    speed = speed_for_run_out(free, lead, reaction, coast)
    if speed > 0:
        assert run_out(lead, speed, reaction, coast) == pytest.approx(free)
    else:
        assert free <= coast * lead
