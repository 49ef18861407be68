"""Stopping in numbers: margins, coasting, grooves to begin in, and cutting the other way round."""

from __future__ import annotations

from dataclasses import replace

import pytest

from cardgen.core.figure import Sheet
from cardgen.spec.job import Job
from tests.setup_job import JOB, changed, setup


def findings(sheet: Sheet) -> dict[str, str]:
    return {finding.id: finding.text for finding in sheet.findings}


def refusals(sheet: Sheet) -> set[str]:
    return {finding.id for finding in sheet.findings if finding.refuses}


def backwards(job: Job, **work: object) -> Job:
    towards = "tailstock" if job.thread.hand == "right" else "chuck"
    return replace(job, work=replace(job.work, cut_towards=towards, **work))  # type: ignore[arg-type]


def test_times_by_hand() -> None:
    """5 mm a turn at 60 rev/min is 5 mm/s: 10 mm clear and 120 of thread; 6.83 mm of room."""
    sheet = setup(JOB)
    assert sheet.number("setup.approach") == 10.0
    assert sheet.number("setup.time_from_nut") == 26.0
    assert sheet.number("setup.stop_time") == pytest.approx(6.83 / 5)
    assert sheet.number("setup.stop_margin") == pytest.approx(6.83 / 5 - 0.8)
    assert sheet.number("setup.groove_least") == pytest.approx(4.0 + 3.17)


def test_a_slim_margin_says_what_would_help() -> None:
    """4.33 mm of room is 0.87 s at 5 mm/s, 0.07 more than the hand takes; at 30 rev/min 0.93."""
    sheet = setup(changed(groove=7.5, speeds=(30.0, 60.0, 110.0), hand_crank=True))
    said = findings(sheet)["setup.stop_slim"]
    assert sheet.number("setup.speed") == 60.0
    for words in ("60 rev/min", "0.06 s", "0.8 s", "30 rev/min, which leaves 0.9 s", "wider",
                  "cranking", "tailstock"):  # fmt: skip
        assert words in said
    assert not refusals(sheet)
    assert "setup.stop_slim" not in findings(setup(changed(groove=8.5)))


def test_coasting_takes_room_where_the_half_nut_stays_closed() -> None:
    """Half a turn of 5 mm takes 2.5 mm more; nine tenths leave 60 rev/min too little room."""
    still = setup(JOB)
    coasting = setup(changed(coast=0.5, speeds=(30.0, 60.0, 110.0)))
    assert coasting.number("setup.coast") == 0.5
    assert still.number("setup.speed") == 60.0
    assert coasting.number("setup.speed") == 60.0
    assert coasting.number("setup.groove_needed") == still.number("setup.groove_needed") + 2.5
    worse = setup(changed(coast=0.9, speeds=(30.0, 60.0, 110.0)))
    assert worse.number("setup.speed") == 30.0
    # With lead 3 on a 3 mm leadscrew the half-nut opens, and nothing coasts on.
    opened = setup(changed(pitch=JOB.thread.pitch_exact * 3 / 5, coast=0.9))
    assert "setup.coast" not in opened


def test_a_left_hand_begins_in_a_groove() -> None:
    sheet = setup(changed(hand="left"))
    assert sheet.number("setup.start_groove") == pytest.approx(3.17 + 1.0)
    assert "setup.stop_margin" not in sheet


def test_away_from_the_chuck_with_the_spindle_backwards() -> None:
    sheet = setup(backwards(JOB))
    assert sheet["setup.direction"].value == (
        "away from the chuck, spindle BACKWARDS, tool upside down; start in the groove"
    )
    # The wheels do not know which way the spindle runs.
    assert sheet["setup.leadscrew_turns"].value == setup(JOB)["setup.leadscrew_turns"].value
    assert sheet["setup.idlers"].value == setup(JOB)["setup.idlers"].value
    assert set(findings(sheet)) == {"setup.outwards_run_off", "setup.chuck_may_unscrew"}
    assert any("FACE DOWN" in step.text for step in sheet.steps)
    assert "setup.groove_given" not in sheet


def test_a_left_hand_the_other_way_goes_towards_the_chuck() -> None:
    sheet = setup(backwards(changed(hand="left", groove=10.0)))
    assert (
        sheet["setup.direction"].value == "towards the chuck, spindle BACKWARDS, tool upside down"
    )
    assert sheet.number("setup.groove_given") == pytest.approx(6.83)
    assert "setup.left_hand_run_off" not in findings(sheet)


def test_what_the_lathe_cannot_do_backwards_is_refused() -> None:
    no_reverse = setup(backwards(changed(reverse=False)))
    assert refusals(no_reverse) == {"setup.no_reverse"}
    cranked = setup(backwards(changed(reverse=False, hand_crank=True)))
    assert not refusals(cranked)
    loose = setup(backwards(changed(chuck_locked=False)))
    assert refusals(loose) == {"setup.chuck_unscrews"}
    assert "setup.chuck_may_unscrew" not in findings(setup(backwards(changed(chuck_locked=True))))
    centres = setup(backwards(changed(chuck_locked=False), holding="between-centres"))
    assert not refusals(centres)


def test_the_word_for_the_usual_way_changes_nothing() -> None:
    usual = replace(JOB, work=replace(JOB.work, cut_towards="chuck"))
    same, said = setup(JOB), setup(usual)
    assert {id: f.value for id, f in same.figures.items()} == {
        id: f.value for id, f in said.figures.items()
    }
