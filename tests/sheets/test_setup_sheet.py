"""The set-up sheet: what it records, what it refuses, and that its texts tell the truth."""

from __future__ import annotations

import itertools
import re
from dataclasses import replace
from fractions import Fraction
from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardgen.core.figure import Sheet
from cardgen.spec.job import Hand, ThreadEnd
from cardgen.spec.lathe import SpeedRange
from tests.ledger import evaluate
from tests.setup_job import JOB, MACHINE, changed, setup


def text(sheet: Sheet, id: str) -> str:
    value = sheet[id].value
    assert isinstance(value, str)
    return value


def findings(sheet: Sheet) -> dict[str, bool]:
    return {finding.id: finding.refuses for finding in sheet.findings}


def test_the_usual_job() -> None:
    """Kinematics by hand: 60 rev/min of 5 mm is 5 mm/s; 4 mm in 0.8 s; 24 s for 120 mm."""
    sheet = setup(JOB)
    assert sheet["setup.train"].value == "75/45"
    assert sheet.number("setup.speed") == 60.0
    assert sheet.number("setup.carriage_speed") == 5.0
    assert sheet.number("setup.groove_needed") == 4.0
    assert sheet.number("setup.time_to_stop") == 24.0
    assert sheet.number("setup.groove_given") == pytest.approx(10.0 - 0.634 * 5.0)
    assert sheet.number("setup.lead_error_ppm") == 0.0
    assert sheet.number("setup.check_travel") == 50.0
    assert not sheet.findings


def test_each_limit_rules_in_its_turn() -> None:
    """Stopping: 110 needs 7.3 of 5.8 mm. Cutting speed: 9 m/min on 28 mm is 102 rev/min."""
    near = setup(changed(groove=9.0))
    assert text(near, "setup.speed_reason").startswith(
        "stopping: at 110 rev/min the carriage runs on 7.4 mm"
    )
    wide = setup(changed(groove=40.0))
    assert wide.number("setup.speed") == 60.0
    assert text(wide, "setup.speed_reason").startswith("cutting speed: 110 rev/min is 9.7 m/min")
    weak = setup(changed(groove=40.0, power=50.0))
    assert text(weak, "setup.speed_reason").startswith("spindle power: 110 rev/min takes ")
    slow = setup(changed(speeds=(40.0, 50.0)))
    assert text(slow, "setup.speed_reason").startswith("the machine's fastest speed")


@given(
    pitch=st.sampled_from(
        [Fraction(1), Fraction(3, 2), Fraction(4), Fraction(127, 25), Fraction(6)]
    ),
    groove=st.floats(1, 60),
    reaction=st.floats(0.2, 2.5),
    stop=st.sampled_from(["none", "fixed", "trip"]),
    crank=st.booleans(),
    end=st.sampled_from(["groove", "shoulder", "open"]),
)
def test_the_speed_never_outruns_the_hand_without_a_word(
    pitch: Fraction, groove: float, reaction: float, stop: str, crank: bool, end: ThreadEnd
) -> None:
    job = changed(
        pitch=pitch, groove=groove, end=end, reaction=reaction, stop=stop, hand_crank=crank
    )
    sheet = setup(job)
    speed = sheet.number("setup.speed")
    assert speed in MACHINE.speeds
    needed, given_ = sheet.number("setup.groove_needed"), sheet.number("setup.groove_given")
    assert needed == pytest.approx(job.thread.lead * speed / 60 * reaction)
    if needed > given_ * (1 + 1e-9) and stop != "trip":
        found = findings(sheet)
        assert found, "nothing was said"
        refused = not crank and stop == "none" and end != "open"
        assert any(found.values()) == refused
    fits = pi * 28 * speed / 1000 <= 9.0 * (1 + 1e-9)
    assert fits or "setup.too_fast_for_tool" in findings(sheet)


def test_a_shoulder_without_a_stop_is_refused_with_what_would_help() -> None:
    sheet = setup(changed(end="shoulder"))
    assert findings(sheet) == {"setup.cannot_stop": True}
    said = sheet.findings[0].text
    for word in ("60 rev/min", "4.0 mm", "0.8 s", "shoulder", "groove of 7.2 mm", "hand crank"):
        assert word in said
    cranked = setup(changed(end="shoulder", hand_crank=True))
    assert findings(cranked) == {"setup.crank_to_the_end": False}
    assert "crank" in text(cranked, "setup.stop")


def test_a_groove_that_is_too_narrow_names_speed_and_lead_that_would_do() -> None:
    """1.83 mm free at 5 mm lead and 0.8 s: 27 rev/min, or a lead of 2.2 mm at 60."""
    sheet = setup(changed(groove=5.0))
    said = sheet.findings[0].text
    assert sheet.findings[0].refuses
    assert "27 rev/min" in said
    assert "lead of 2.2 mm" in said
    assert "groove of 7.2 mm" in said


def test_a_trip_does_not_wait_for_the_hand() -> None:
    """Lead 3 on a 3 mm leadscrew: the half-nut may open, so a trip may open it."""
    sheet = setup(changed(pitch=Fraction(3), end="shoulder", stop="trip"))
    assert not sheet.findings
    # With the half-nut closed for the whole thread the trip must not open it on every pass.
    closed = setup(changed(pitch=Fraction(5), end="shoulder", stop="trip"))
    assert findings(closed) == {"setup.stop_is_the_last_resort": False}


def test_left_hand_runs_off_the_free_end() -> None:
    sheet = setup(changed(hand="left"))
    assert "away from the chuck" in text(sheet, "setup.direction")
    assert text(sheet, "setup.leadscrew_turns") == "against the spindle"
    assert "setup.groove_given" not in sheet
    assert findings(sheet) == {"setup.left_hand_run_off": False}
    assert findings(setup(changed(hand="left", groove=2.0)))["setup.groove_too_narrow"]
    assert "setup.no_groove_to_start" in findings(setup(changed(hand="left", end="open")))


def test_hands_differ_by_one_idler() -> None:
    """75/45 meshes directly for a left hand and takes one idler for a right hand."""
    assert text(setup(JOB), "setup.idlers") == "one: 50, or any that reaches"
    assert text(setup(changed(hand="left")), "setup.idlers") == "none"


@given(
    pitch=st.fractions(min_value=Fraction(1, 2), max_value=12, max_denominator=16),
    starts=st.integers(1, 3),
    hand=st.sampled_from(["right", "left"]),
    inch=st.booleans(),
)
def test_the_printed_train_cuts_the_lead_within_the_printed_error(
    pitch: Fraction, starts: int, hand: Hand, inch: bool
) -> None:
    pitch = pitch * Fraction(127, 125) if inch else pitch
    job = changed(pitch=pitch, starts=starts, hand=hand, groove=40.0)
    sheet = setup(job)
    pairs = re.fullmatch(r"(\d+)/(\d+)(?: x (\d+)/(\d+))?", text(sheet, "setup.train"))
    assert pairs is not None
    teeth = [int(part) for part in pairs.groups() if part]
    lead = Fraction(3)
    for driver, driven in zip(teeth[::2], teeth[1::2], strict=True):
        lead *= Fraction(driver, driven)
    ppm = float((lead / job.thread.lead_exact - 1) * 10**6)
    assert sheet.number("setup.lead_error_ppm") == pytest.approx(ppm, abs=1e-9)
    assert sheet.number("setup.lead_cut") == pytest.approx(float(lead))
    assert len(set(teeth)) == len(teeth)


@given(
    pitch=st.fractions(min_value=Fraction(1, 2), max_value=12, max_denominator=16),
    hand=st.sampled_from(["right", "left"]),
    end=st.sampled_from(["groove", "shoulder", "open"]),
    starts=st.integers(1, 3),
)
def test_every_formula_gives_its_value(
    pitch: Fraction, hand: Hand, end: ThreadEnd, starts: int
) -> None:
    sheet = setup(changed(pitch=pitch, hand=hand, end=end, starts=starts))
    for figure in sheet.figures.values():
        if isinstance(figure.value, str) or not figure.formula:
            continue
        if figure.formula.startswith("method:"):
            continue
        numbers = {
            symbol: part.value
            for symbol, part in figure.inputs.items()
            if not isinstance(part.value, str)
        }
        worked = evaluate(figure.formula, numbers)
        assert worked == pytest.approx(figure.value, rel=1e-9, abs=1e-6), figure.id


def test_wheels_that_are_not_exact_keep_the_half_nut_closed() -> None:
    """Without the 127 an inch lead is only neared, and a dial would lose its place."""
    gears = (20, 30, 40, 50, 60, 63, 80, 100)
    inch = setup(changed(pitch=Fraction(127, 40), gears=gears, groove=40.0))
    assert inch.number("setup.lead_error_ppm") != 0
    assert "half-nut stays closed" in text(inch, "setup.dial_marks")
    assert "127" in inch["setup.lead_error_ppm"].note
    # A lead that the leadscrew itself has closes anywhere, but not if 126/127 stands for 1.
    near = setup(changed(pitch=Fraction(3), gears=(126, 127), centre_min=None, centre_max=None))
    assert "half-nut stays closed" in text(near, "setup.dial_marks")


def test_a_lead_that_the_nut_cannot_take_is_refused() -> None:
    """Only 20 and 21 teeth: 3.15 or 2.857 mm for 3.0; over 35 mm of nut more than a pitch / 20."""
    sheet = setup(changed(pitch=Fraction(3), gears=(20, 21), centre_min=None, centre_max=None))
    assert findings(sheet)["setup.wrong_lead"]
    assert sheet.number("setup.lead_error_ppm") == pytest.approx(-47619, abs=0.5)


def test_a_lead_with_pi_in_it_asks_for_no_wheel_that_is_not_made() -> None:
    """To twelve places the module's pitch is a fraction of large primes; no drawer has those."""
    lead = Fraction(round(2 * pi * 10**12), 10**12)
    sheet = setup(changed(pitch=lead, gears=(20, 30, 40, 50), groove=40.0))
    told = " ".join(finding.text for finding in sheet.findings if "lead" in finding.id)
    assert "No train of these wheels is exact." in told
    assert max(map(int, re.findall(r"[0-9]+", told))) < 10**6


def test_no_train_at_all_still_shows_the_rest() -> None:
    sheet = setup(changed(gears=(20,)))
    assert findings(sheet)["setup.no_train"]
    assert "setup.train" not in sheet
    assert sheet.number("setup.speed") == 60.0


def test_two_starts_are_found_by_the_dial_and_by_the_compound_slide() -> None:
    """Lead 8 on 3 mm, dial of 16 teeth, marks 6 mm apart: 24 mm comes back, 12 mm is half a lead.

    One pitch of 4 mm is two turns of a dial of 2 mm a turn.
    """
    sheet = setup(changed(pitch=Fraction(4), starts=2, groove=20.0))
    assert text(sheet, "setup.dial_marks") == "marks 1, 5 (the same start)"
    assert "start 2: marks 3, 7" in text(sheet, "setup.indexing")
    assert "2 turns + 0" in text(sheet, "setup.indexing")


def test_three_starts_by_the_first_driver() -> None:
    """60 teeth divide by three: 20 teeth on for each start."""
    job = changed(pitch=Fraction(1), starts=3, gears=(60, 60, 40), compound_slide=None)
    sheet = setup(job)
    assert text(sheet, "setup.train") == "60/60"
    assert "spindle on by 20 of its teeth" in text(sheet, "setup.indexing")


def test_the_wheels_handed_over_for_drawing_mesh() -> None:
    for hand in ("right", "left"):
        for pitch in (Fraction(5), Fraction(3), Fraction(127, 50)):
            sheet = setup(changed(pitch=pitch, hand=hand, groove=40.0))  # type: ignore[arg-type]
            shapes = {
                name: (outline.points[0], outline.points[1][0] - outline.points[0][0])
                for name, outline in sheet.outlines.items()
            }
            teeth = [int(part) for part in re.findall(r"\d+", text(sheet, "setup.train"))]
            for number, count in enumerate(teeth, 1):
                assert shapes[f"setup.wheel.{number}"][1] == pytest.approx(count / 2)
            chain = ["setup.wheel.1", *sorted(name for name in shapes if "idler" in name)]
            chain.append("setup.wheel.2")
            meshes = list(itertools.pairwise(chain))
            if len(teeth) == 4:
                meshes.append(("setup.wheel.3", "setup.wheel.4"))
                assert shapes["setup.wheel.2"][0] == shapes["setup.wheel.3"][0]
            for one, other in meshes:
                (x1, y1), r1 = shapes[one]
                (x2, y2), r2 = shapes[other]
                assert ((x1 - x2) ** 2 + (y1 - y2) ** 2) ** 0.5 == pytest.approx(r1 + r2)


def lead_of(train: str, leadscrew: Fraction) -> Fraction:
    lead = leadscrew
    for pair in train.partition(";")[0].split(" x "):
        driver, driven = map(int, pair.split("/"))
        lead *= Fraction(driver, driven)
    return lead


@given(pitch=st.fractions(min_value=Fraction(1, 2), max_value=12, max_denominator=16))
def test_the_trains_to_fall_back_on_cut_what_they_say_and_are_no_better(pitch: Fraction) -> None:
    sheet = setup(changed(pitch=pitch, groove=40.0))
    best = abs(sheet.number("setup.lead_error_ppm"))
    seen = {text(sheet, "setup.train")}
    for place in (2, 3):
        train = text(sheet, f"setup.train_{place}")
        error = sheet.number(f"setup.train_{place}_error_ppm")
        assert train not in seen
        seen.add(train)
        assert error == pytest.approx(float((lead_of(train, Fraction(3)) / pitch - 1) * 10**6))
        assert abs(error) >= best - 1e-6
        best = abs(error)


def test_what_stands_on_the_machine_is_kept_and_the_changes_are_counted() -> None:
    """5 mm on 3 mm: 75/45 as a rule, but 50/30 where that is on the machine already."""
    sheet = setup(changed(wheels_now=(50, 30)))
    assert text(sheet, "setup.train") == "50/30"
    assert sheet.number("setup.wheel_changes") == 0
    assert "setup.wheel_changes" not in setup(JOB)


def test_wheels_that_stay_and_a_ratio_ahead_of_them() -> None:
    """The stud turns half as fast as the spindle, and carries a 40: 3 mm takes 40/20 on 3 mm."""
    job = changed(pitch=Fraction(3), fixed_first=40, fixed_ratio=Fraction(1, 2))
    sheet = setup(job)
    assert text(sheet, "setup.train") == "40/20"
    assert sheet.number("setup.fixed_ratio") == 0.5
    assert sheet.number("setup.lead_cut") == 3.0


def test_a_lead_that_drifts_says_which_wheel_to_buy() -> None:
    """10 tpi from 3 mm without a 127: with it exact, with a 63 (63/80 for 100/127) 125 ppm off."""
    gears = (20, 30, 40, 50, 60, 70, 80, 100)
    sheet = setup(changed(pitch=Fraction(127, 50), gears=gears, groove=40.0))
    said = " ".join(finding.text for finding in sheet.findings)
    assert "with 127 teeth, exact" in said
    assert re.search(r"with 63 teeth it is -?125 ppm off", said)


def test_of_several_dial_gears_the_one_that_serves() -> None:
    """5 mm on 3 mm comes back after 15 mm: a gear of 15 has a third of its turn, 16 nothing."""
    sheet = setup(changed(dial_gears=(14, 15)))
    assert sheet.number("setup.dial_gear") == 15
    assert text(sheet, "setup.dial_marks") == "mark 1"
    lines = sorted(name for name in sheet.outlines if name.startswith("setup.dial."))
    assert lines == [f"setup.dial.{n}.{int(n == 1)}" for n in range(1, 9)]


def test_a_compound_set_over_for_the_flank_does_not_index() -> None:
    """Lead 5, two starts, no dial: 45 does not divide, but the slide moves on by 2.5 mm."""
    base = changed(pitch=Fraction(5, 2), starts=2, thread_dial=None, gears=(75, 45), groove=30.0)
    free = setup(base)
    assert "compound slide parallel to the axis, on by 1 turn + 25" in text(free, "setup.indexing")
    assert free.number("setup.index_error") == 0
    assert text(free, "setup.index_gear") == "75 by 2: no"
    flank = setup(replace(base, tool=replace(base.tool, infeed="flank")))
    assert "setup.indexing" not in flank
    assert any("leave the compound free" in each.text for each in flank.findings)


def test_a_slide_that_is_too_short_or_misses_says_so() -> None:
    """Three starts of 2.54 mm: an inch pitch is 127 lines of 0.02 mm, exact; 2.55 mm is not."""
    base = changed(pitch=Fraction(51, 20), starts=3, thread_dial=None, gears=(76, 31), groove=60.0)
    sheet = setup(replace(base, machine=replace(base.machine, centre_min=None, centre_max=None)))
    assert abs(sheet.number("setup.index_error")) == pytest.approx(0.01)
    assert "start 2 at" in text(sheet, "setup.indexing")
    slide = replace(base.machine.compound_slide, travel=5.0)
    short = setup(replace(base, machine=replace(base.machine, compound_slide=slide)))
    assert "setup.indexing" not in short


def test_slots_of_the_driver_plate_turn_work_between_centres() -> None:
    base = changed(pitch=Fraction(1), starts=3, driver_slots=6, compound_slide=None)
    between = replace(base, work=replace(base.work, holding="between-centres"))
    assert text(setup(between), "setup.indexing").startswith("move the carrier 2 of")
    assert "carrier" not in text(setup(base), "setup.indexing")


def test_a_variable_motor_stalls_where_its_torque_is_not_enough() -> None:
    """300 W from 1500 rev/min on are 1.91 N m; 362 N of a light cut on 28 mm take 5.1 N m.

    1500 MPa at 1 mm, 2.5 mm wide and 0.05 mm thick: 1500 x 2.5 x 0.05^0.78 = 362 N.
    """
    fast = SpeedRange("high", (60.0, 110.0), True, full_power_from=1500.0)
    sheet = setup(changed(ranges=(fast,), speeds=(60.0, 110.0), power=300.0, efficiency=1.0))
    assert sheet.number("setup.power") == pytest.approx(300.0 * 60 / 1500)
    assert "setup.too_little_torque" in findings(sheet)
    slow = SpeedRange("low", (60.0, 110.0), True, full_power_from=200.0)
    both = setup(changed(ranges=(fast, slow), speeds=(60.0, 110.0), power=300.0, efficiency=1.0))
    assert text(both, "setup.range") == "low, set freely"
    assert both.number("setup.power") == pytest.approx(300.0 * 60 / 200)
    assert "setup.too_little_torque" not in findings(both)


def test_a_tumbler_spares_the_idler_for_the_hand() -> None:
    """75/45 meshes directly: without a tumbler a right hand takes one idler, with it none."""
    sheet = setup(changed(tumbler=True))
    assert text(sheet, "setup.idlers").startswith("none; tumbler so that the leadscrew turns the")
    left = setup(changed(tumbler=True, hand="left"))
    assert (
        text(left, "setup.idlers")
        == "none; tumbler so that the leadscrew turns against the spindle"
    )


def test_a_wheel_that_stays_on_is_not_taken_from_the_drawer() -> None:
    """A 40 pinned to the spindle leaves the drawer's own 40 free for an idler."""
    job = changed(gears=(40, 60), fixed_first=40, pitch=Fraction(2))
    assert text(setup(job), "setup.train") == "40/60"
    assert text(setup(job), "setup.idlers").startswith("one: 40")
