"""The schedule of the demo jobs, and what is said when there is none."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from functools import cache
from itertools import pairwise
from math import radians, tan
from pathlib import Path
from typing import Any

import pytest

from cardgen.core.figure import Pass, Sheet
from cardgen.sheets import cutting, setup, thread, tool
from cardgen.spec.job import Job
from cardgen.spec.load import load

JOBS = sorted((Path(__file__).parents[2] / "specs" / "jobs").glob("*.yaml"))


@cache
def job(name: str) -> Job:
    return load(next(path for path in JOBS if path.stem == name))


def worked(made: Job) -> Sheet:
    known: dict[str, Any] = {}
    sheet = Sheet("none", known)
    for topic, module in (
        ("thread", thread),
        ("tool", tool),
        ("setup", setup),
        ("cutting", cutting),
    ):
        sheet = Sheet(topic, known, internal=made.thread.surface == "internal")
        module.work_out(made, sheet)
        known = known | sheet.figures
    return sheet


def with_work(name: str, **changed: Any) -> Job:
    made = job(name)
    return replace(made, work=replace(made.work, **changed))


def with_tool(name: str, **changed: Any) -> Job:
    made = job(name)
    return replace(made, tool=replace(made.tool, **changed))


def divisions(shown: str, per_turn: int) -> int:
    """Count what a setting says; wound out, as for a nut, the dial's numbers run down."""
    match = re.fullmatch(r"(\d+) (turns?)( \+ |, at )(\d+)", shown)
    assert match, shown
    assert (match[2] == "turn") == (match[1] == "1")
    assert int(match[4]) < per_turn
    beyond = int(match[4]) if match[3] == " + " else (per_turn - int(match[4])) % per_turn
    return int(match[1]) * per_turn + beyond


def stages(passes: list[Pass]) -> list[list[Pass]]:
    """Split where a new tool begins at the surface again."""
    runs: list[list[Pass]] = []
    for line in passes:
        if not runs or line.depth < runs[-1][-1].depth:
            runs.append([])
        runs[-1].append(line)
    return runs


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
def test_the_schedule_is_whole_divisions_of_the_machine_s_own_dial(path: Path) -> None:
    made = job(path.stem)
    sheet = worked(made)
    flank = sheet["cutting.method"].value == "flank"
    dial = made.machine.compound_slide if flank else made.machine.cross_slide
    assert dial is not None
    # One division of a diameter-reading dial moves the tool by half of what it reads.
    travel = Fraction(dial.division_exact) / (2 if dial.reads == "diameter" else 1)
    assert sheet.passes
    assert [line.number for line in sheet.passes] == list(range(1, len(sheet.passes) + 1))
    for run in stages(sheet.passes):
        before = 0
        for line in run:
            shown = line.compound if flank else line.dial
            if flank:
                assert divisions(line.dial, made.machine.cross_slide.divisions_per_turn) == 0
            count = divisions(shown, dial.divisions_per_turn)
            moved = float(count * travel)
            radial = moved * (line.depth / moved if flank else 1)
            assert line.depth == pytest.approx(radial)
            assert line.increment == pytest.approx(line.depth * (count - before) / count)
            assert count >= before
            assert (count == before) == (line.step == "spring")
            before = count
        assert sum(line.increment for line in run) == pytest.approx(run[-1].depth)
    cutting_passes = [line for line in sheet.passes if line.step != "spring"]
    assert len(cutting_passes) == sheet.number("cutting.passes")
    springs = len(sheet.passes) - len(cutting_passes)
    assert springs == sheet.number("cutting.spring_passes")
    assert sheet.passes[-1].step == "spring"
    assert sheet["cutting.dial_total"].value == (
        sheet.passes[-1].compound if flank else sheet.passes[-1].dial
    )


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
def test_full_depth_keeps_the_root_within_its_limits(path: Path) -> None:
    made = job(path.stem)
    sheet = worked(made)
    nut = made.thread.surface == "internal"
    root = sheet["thread.major_diameter" if nut else "thread.minor_diameter"]
    cut = 2 * sheet.passes[-1].depth * (1 if nut else -1)
    left = sheet.number("thread.blank_diameter") + cut
    if root.high is not None:
        assert left <= root.high + 1e-6
    if root.low is not None:
        assert left >= root.low - 1e-6


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
def test_no_worst_moment_is_over_its_limit(path: Path) -> None:
    sheet = worked(job(path.stem))
    for worst, allowed in (
        ("force_max", "force_allowed"),
        ("deflection_max", "deflection_allowed"),
        ("work_stress_max", "work_stress_allowed"),
        ("tool_stress_max", "tool_stress_allowed"),
        ("power_max", "power_allowed"),
    ):
        assert sheet.number(f"cutting.{worst}") <= sheet.number(f"cutting.{allowed}") * (1 + 1e-9)
    forces = [line.force for line in sheet.passes]
    assert max(forces) == sheet.number("cutting.force_max")
    assert not any(finding.refuses for finding in sheet.findings)


def test_methods_of_the_demo_jobs() -> None:
    assert worked(job("ratchet-stud"))["cutting.method"].value == "flank"
    spindle = worked(job("cider-press-spindle"))
    assert spindle["cutting.method"].value == "rough-then-form"
    assert spindle.number("cutting.rough_width") < spindle.number("tool.tip_width")
    assert [run[0].step for run in stages(spindle.passes)] == ["rough", "widen"]


def test_compound_angle_only_where_the_compound_feeds() -> None:
    assert worked(job("ratchet-stud")).number("setup.compound_angle") == pytest.approx(29.5)
    plunged = worked(with_tool("nipping-press-screw", infeed="plunge"))
    assert "setup.compound_angle" not in plunged


def test_without_its_rest_the_slender_adjuster_is_refused_with_numbers_and_a_remedy() -> None:
    sheet = worked(with_work("slender-adjuster", rest="none"))
    (refusal,) = [finding for finding in sheet.findings if finding.refuses]
    assert refusal.id == "cutting.no_safe_pass"
    assert re.search(r"bends the work 0\.\d+ mm away; 0\.05\d* mm is allowed", refusal.text)
    assert re.search(r"a follow rest \(\d+ passes of 0\.\d+ mm to 0\.\d+ mm\)", refusal.text)
    assert not sheet.passes
    assert "cutting.force_max" not in sheet
    # What it says would help does help.
    assert worked(job("slender-adjuster")).passes


def test_a_remedy_of_a_shorter_stick_out_is_true() -> None:
    sheet = worked(with_work("nipping-press-screw", holding="chuck", stickout=200.0))
    (refusal,) = [finding for finding in sheet.findings if finding.refuses]
    assert "a tailstock centre" in refusal.text
    helped = worked(with_work("nipping-press-screw", holding="chuck-and-centre", stickout=200.0))
    assert helped.passes
    told = re.search(r"stick-out of at most (\d+) mm", refusal.text)
    if told:
        short = with_work("nipping-press-screw", holding="chuck", stickout=float(told[1]))
        assert worked(short).passes


def test_an_owner_s_overhang_limit_is_kept() -> None:
    made = with_work("nipping-press-screw", stickout=280.0)
    assert any(f.id == "cutting.overhang" and f.refuses for f in worked(made).findings)
    followed = with_work("nipping-press-screw", stickout=280.0, rest="follow")
    assert not any(f.refuses for f in worked(followed).findings)


def test_bar_shorter_than_its_thread_is_refused() -> None:
    sheet = worked(with_work("nipping-press-screw", stickout=125.0))
    assert [f.id for f in sheet.findings if f.refuses] == ["cutting.stickout_short"]


def test_infeed_that_cannot_be_done_is_refused() -> None:
    sheet = worked(with_tool("cider-press-spindle", infeed="flank"))
    assert [f.id for f in sheet.findings if f.refuses] == ["cutting.infeed_impossible"]


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
def test_the_way_taken_is_the_quickest_that_practice_allows(path: Path) -> None:
    sheet = worked(replace(job(path.stem), tool=replace(job(path.stem).tool, infeed="auto")))
    taken = str(sheet["cutting.method"].value).replace("-", "_")
    assert sheet.number(f"cutting.passes_{taken}") == sheet.number("cutting.passes")
    times = {id: sheet.number(id) for id in sheet.figures if id.startswith("cutting.time_")}
    assert sheet.number("cutting.time_total") == times[f"cutting.time_{taken}"]
    if sheet["cutting.method"].note.endswith("the quickest of the ways that are safe"):
        assert sheet.number("cutting.time_total") == min(times.values())


def test_flanks_in_turn_go_to_and_fro_by_no_more_than_the_flank_recedes() -> None:
    made = with_tool("nipping-press-screw", infeed="alternate")
    sheet = worked(made)
    compound = made.machine.compound_slide
    assert compound is not None
    side = float(compound.radial_step_exact)
    rough = [line for line in sheet.passes if line.step == "rough"]
    for there, back in zip(rough[::2], rough[1::2], strict=True):
        assert back.increment == there.increment
        assert divisions(back.compound, compound.divisions_per_turn) == 0
        aside = side * divisions(there.compound, compound.divisions_per_turn)
        assert aside <= there.increment * tan(radians(15)) + 1e-9
        assert aside > there.increment * tan(radians(15)) - side - 1e-9
        # The tool never passes the flank of the finished groove.
        assert aside <= (sheet.passes[-1].depth - there.depth) * tan(radians(15)) + 1e-9
    for line in sheet.passes:
        if line.step != "rough":
            assert divisions(line.compound, compound.divisions_per_turn) == 0


def test_grooves_side_by_side_open_the_bottom() -> None:
    made = with_tool("cider-press-spindle", infeed="widen")
    sheet = worked(made)
    compound = made.machine.compound_slide
    assert compound is not None
    side, width = float(compound.radial_step_exact), sheet.number("cutting.rough_width")
    places = {
        divisions(line.compound, compound.divisions_per_turn)
        for line in sheet.passes
        if line.step in {"rough", "side"}
    }
    at = sorted(place * side for place in places)
    assert at[0] == 0
    assert all(after - before <= width for before, after in pairwise(at))
    assert at[-1] + width == pytest.approx(sheet.number("cutting.opened_width"))
    assert 0.25 < sheet.number("tool.tip_width") - at[-1] - width < 0.35
    assert all(not line.compound for line in sheet.passes if line.step in {"widen", "finish"})


def test_without_the_earlier_sheets_only_the_limits_are_known() -> None:
    sheet = Sheet("cutting", {})
    cutting.work_out(job("nipping-press-screw"), sheet)
    assert sheet.number("cutting.specific_force") == 1500
    assert "cutting.force_max" not in sheet
    assert not sheet.passes
    assert not sheet.findings


def test_a_weaker_lathe_takes_smaller_bites() -> None:
    made = job("nipping-press-screw")
    weak = replace(made, machine=replace(made.machine, power=0.7 * made.machine.power))
    strong, light = worked(made), worked(weak)
    assert light.number("cutting.passes") > strong.number("cutting.passes")
    assert "force" in {line.limited_by for line in light.passes}


def test_pick_up_and_zero_are_told() -> None:
    kinds = [step.kind for step in worked(job("cider-press-spindle")).steps]
    for kind in ("set-over", "zero", "check", "pass", "tool-change", "spring", "pick-up"):
        assert kind in kinds
    assert "starts" in [step.kind for step in worked(job("quick-clamp-screw")).steps]


def test_a_rest_that_is_counted_on_is_told() -> None:
    text = " ".join(step.text for step in worked(job("slender-adjuster")).steps)
    assert "Follow rest" in text
    assert "rest" not in {step.kind for step in worked(job("nipping-press-screw")).steps}


def test_a_thread_deeper_than_the_bar_is_refused() -> None:
    made = job("nipping-press-screw")
    known = {**thread_and_tool(made)}
    depth = known["thread.depth"]
    known["thread.depth"] = replace(depth, value=14.0)
    sheet = Sheet("cutting", known)
    cutting.work_out(made, sheet)
    assert [f.id for f in sheet.findings if f.refuses] == ["cutting.no_core"]


def thread_and_tool(made: Job) -> dict[str, Any]:
    known: dict[str, Any] = {}
    for topic, module in (("thread", thread), ("tool", tool)):
        sheet = Sheet(topic, known, internal=made.thread.surface == "internal")
        module.work_out(made, sheet)
        known = known | sheet.figures
    return known
