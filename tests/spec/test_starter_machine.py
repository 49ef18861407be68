"""The starter machine loads as it stands, names what it assumes, and loads with all filled in."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from cardgen.cli import main
from cardgen.spec.job import Job
from cardgen.spec.load import load
from cardgen.spec.starter_machine import starter_machine
from tests.spec.shop_floor import LEAST, lay_out


def job_on(folder: Path, machine: str) -> Job:
    path = lay_out(folder, LEAST)
    (folder / "specs" / "machines" / "bench-metric.yaml").write_text(machine, encoding="utf-8")
    return load(path)


def filled_in(text: str) -> str:
    """Take the comment sign off every line that holds a key, as a newcomer does."""
    key = re.compile(r"^( *)# ( *[a-z-]+:(?: [^A-Z]*| *)(?:\{.*)?)$")
    return "\n".join(key.sub(r"\1\2", line) for line in text.splitlines()) + "\n"


def test_it_loads_as_it_stands_and_the_card_names_what_is_assumed(tmp_path: Path) -> None:
    job = job_on(tmp_path, starter_machine("my-lathe"))
    assert job.machine.name == "my-lathe"
    assumed = {item.key for item in job.assumed if item.key.startswith("machine.")}
    assert assumed == {
        "machine.train.module",
        "machine.spindle.efficiency",
        "machine.spindle.reverse",
        "machine.cross-slide.reads",
        "machine.carriage-stop.kind",
        "machine.carriage-stop.reaction",
    }


def test_what_is_commented_out_loads_too(tmp_path: Path) -> None:
    text = filled_in(starter_machine("my-lathe"))
    text = text.replace(
        "  speeds: [60 rev/min, 110 rev/min, 200 rev/min, 350 rev/min, 700 rev/min]\n", ""
    )
    # What stands on the machine is one of the wheels that stay, and one of the drawer.
    lathe = job_on(tmp_path, text).machine
    assert lathe.module == 1.0
    assert (lathe.stud_min, lathe.stud_max) == (35.0, 120.0)
    assert (lathe.fixed_first, lathe.fixed_last) == (40, 60)
    assert lathe.wheels_now == (40, 60)
    assert len(lathe.gearbox) == 6
    assert {each.name for each in lathe.ranges} == {"low", "high"}
    assert lathe.reverse
    assert lathe.compound_slide is not None
    assert lathe.compound_slide.travel == 50.0
    assert lathe.thread_dial == (16, 8)
    assert lathe.dial_gears == (14, 15)
    assert lathe.thread_overhang == 250.0


def test_every_entry_says_how_it_is_measured() -> None:
    said = starter_machine("x").lower()
    for word in ("ruler", "caliper", "felt-pen", "stop-watch", "count", "wind", "by hand"):
        assert word in said


@pytest.mark.parametrize("name", ["", "../x", "a/b", "a b", "x" * 70, "ü"])
def test_a_name_that_is_none_is_refused(name: str) -> None:
    with pytest.raises(ValueError, match="cannot name a machine"):
        starter_machine(name)


def test_the_command_writes_it_once(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["new", "--machine", "my-lathe"]) == 0
    told = capsys.readouterr()
    assert told.out == "specs/machines/my-lathe.yaml\nspecs/shop.yaml\n"
    assert "Measure your lathe" in told.err
    assert main(["new", "--machine", "my-lathe"]) == 2
    assert main(["new", "--machine", "../x"]) == 2
