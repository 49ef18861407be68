"""The words for what yields under load and for the way of the cut, from file to record."""

from __future__ import annotations

from pathlib import Path

import pytest

from cardgen.core.problems import SpecError
from cardgen.spec.job import Job
from cardgen.spec.load import load
from tests.spec.shop_floor import JOB, MACHINE, lay_out

SAID = """\
give: {chuck: 0.003 mm, tilt: 0.02 mm, centre: 0.0002 in}
"""


def loaded(folder: Path, job: str = JOB, machine: str = MACHINE) -> Job:
    path = lay_out(folder, job)
    (folder / "specs" / "machines" / "bench-metric.yaml").write_text(machine, encoding="utf-8")
    return load(path)


def towards(way: str, hand: str = "right") -> str:
    return JOB.replace("hand: right", f"hand: {hand}").replace(
        "groove: 8 mm", f"groove: 8 mm\n  cut-towards: {way}"
    )


def test_what_the_owner_measured(tmp_path: Path) -> None:
    machine = loaded(tmp_path, machine=MACHINE + SAID).machine
    assert machine.give["chuck"] == 0.003
    assert machine.give["centre"] == pytest.approx(0.0002 * 25.4)
    assert "rest" not in machine.give
    assert loaded(tmp_path).machine.give == {}


def test_coast_and_lock(tmp_path: Path) -> None:
    text = MACHINE.replace("reaction: 0.8 s}", "reaction: 0.8 s, coast: 1.5}").replace(
        "reverse: true", "reverse: true\n  chuck-locked: true"
    )
    machine = loaded(tmp_path, machine=text).machine
    assert (machine.coast, machine.chuck_locked) == (1.5, True)
    plain = loaded(tmp_path).machine
    assert (plain.coast, plain.chuck_locked) == (None, None)


@pytest.mark.parametrize(
    ("way", "hand", "outwards", "backwards"),
    [
        ("chuck", "right", False, False),
        ("tailstock", "right", True, True),
        ("tailstock", "left", True, False),
        ("chuck", "left", False, True),
    ],
)
def test_which_way_the_tool_goes(
    tmp_path: Path, way: str, hand: str, outwards: bool, backwards: bool
) -> None:
    job = loaded(tmp_path, towards(way, hand))
    assert (job.outwards, job.backwards) == (outwards, backwards)


def test_a_nut_is_cut_as_its_hand_asks(tmp_path: Path) -> None:
    nut = towards("tailstock").replace("surface: external", "surface: internal")
    with pytest.raises(SpecError) as caught:
        loaded(tmp_path, nut)
    assert "work.cut-towards" in {problem.key for problem in caught.value.problems}
