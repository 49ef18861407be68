"""A changed machine: what moved on each card, what is lost, and what holds, told job by job."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from cardgen.binder.stale import moved_lines, moved_warnings
from cardgen.cli import main

ROOT = Path(__file__).parents[2]
JOBS = ["nipping-press-screw", "ratchet-stud", "book-press-screw"]
BENCH = Path("specs") / "machines" / "bench-metric.yaml"
OTHER = str(Path("specs") / "machines" / "window-variable.yaml")


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    shutil.copytree(ROOT / "specs", tmp_path / "specs")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def make(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, list[str], list[str]]:
    code = main(["make", *JOBS, *words])
    out, err = capsys.readouterr()
    return code, out.splitlines(), [line for line in err.splitlines() if ": note: " not in line]


def told(capsys: pytest.CaptureFixture[str], job: str) -> dict[str, Any]:
    main(["figures", job, "--json"])
    return json.loads(capsys.readouterr().out)


def change(old: str, new: str) -> None:
    text = BENCH.read_text("utf-8")
    assert old in text
    BENCH.write_text(text.replace(old, new), encoding="utf-8")


def section(lines: list[str], job: str) -> list[str]:
    start = next(k for k, line in enumerate(lines) if line.startswith(f"{job}: "))
    after = (k for k in range(start + 1, len(lines)) if not lines[k].startswith("  "))
    return lines[start + 1 : next(after, len(lines))]


def test_a_first_run_has_nothing_to_report(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out, err = make(capsys)
    assert code == 0
    assert len(out) == len(JOBS)
    assert not any("machine changed" in line for line in err)


def test_a_comment_leaves_every_card_as_it_is(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    make(capsys)
    change("# The small lathe", "# The little lathe")
    code, out, err = make(capsys)
    assert code == 0
    # The cards are made again, for their code is of the files; what hangs on the wall holds.
    assert len(out) == 2
    assert err[0].startswith("The machine changed. Cards that moved: 0; that hold as they are: 2")
    assert err[-1] == "Cards that hold as they are: nipping-press-screw, ratchet-stud"


def test_moved_figures_are_those_that_differ_between_two_runs(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = told(capsys, JOBS[0])
    make(capsys)
    change("75, 80", "80, 85")  # the nipping press screw loses its 75 / 45
    after = told(capsys, JOBS[0])
    _, _, err = make(capsys)
    lines = section(err, JOBS[0])
    was, now = ({f["id"]: f for f in each["figures"]} for each in (before, after))
    parts = ("value", "low", "high")
    expected = {
        id
        for id in was | now
        if [was.get(id, {}).get(p) for p in parts] != [now.get(id, {}).get(p) for p in parts]
    }
    assert {line.split(":")[0].strip() for line in lines} == expected
    assert "setup.train" in expected
    assert f"  setup.train: 75/45 -> {now['setup.train']['value']}" in lines


def test_a_job_that_is_lost_says_why_in_numbers(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    make(capsys)
    change("min: 60 mm, max: 160 mm", "min: 400 mm, max: 420 mm")
    code, out, err = make(capsys)
    assert code == 1
    assert out == []
    reasons = section(err, JOBS[0])
    assert any("No train of the wheels" in reason and "400" in reason for reason in reasons)


def test_another_machine_is_compared_with_the_jobs_own(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = told(capsys, JOBS[1])
    _, _, err = make(capsys, "--machine", OTHER, "--out", "other", "--jobs", "2")
    lines = section(err, JOBS[1])
    old = next(f["value"] for f in before["figures"] if f["id"] == "setup.train")
    assert any(line.startswith(f"  setup.train: {old} -> ") for line in lines)
    # A second run makes no card again, and none has moved since; what is lost is said again.
    _, out, err = make(capsys, "--machine", OTHER, "--out", "other")
    assert out == []
    assert not any(line.endswith(" moved") for line in err)


def test_a_binder_for_another_machine_has_a_page_of_what_moved(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code = main(["binder", *JOBS, "--machine", OTHER, "--out", "b.pdf"])
    err = capsys.readouterr().err
    assert code in {0, 1}
    assert "The machine changed." in err
    reader = PdfReader("b.pdf")
    pages = [page.extract_text() for page in reader.pages]
    told = [text for text in pages if text.startswith("What the other machine moved")]
    assert len(told) == 1
    assert "ratchet-stud" in told[0]
    assert "Wheels" in told[0]
    # It stands in the contents and in the outline, and its page number is right.
    number = pages.index(told[0]) + 1
    assert re.search(rf"What the other machine moved\s+{number}\b", pages[0])
    assert any(
        getattr(entry, "title", "") == "What the other machine moved" for entry in reader.outline
    )
    # On the jobs' own machines there is nothing to tell.
    assert main(["binder", *JOBS, "--out", "own.pdf"]) == 0
    own = [page.extract_text() for page in PdfReader("own.pdf").pages]
    assert not any("What the other machine moved" in text for text in own)


def test_a_pass_that_is_set_otherwise_has_moved() -> None:
    """No figure need move for it: another limit may have ruled a bite in between."""
    old = [{"pass": 1, "dial": "0 turns + 5", "compound": ""}, {"pass": 2, "dial": "0 turns + 9"}]
    new = [{"pass": 1, "dial": "0 turns + 6", "compound": ""}, {"pass": 2, "dial": "0 turns + 9"}]
    assert [str(line) for line in moved_lines(old, new)] == ["pass 1: 0 turns + 5 -> 0 turns + 6"]
    flank = [{"pass": 1, "dial": "0", "compound": "1 turn + 2"}]
    assert [line.was for line in moved_lines(flank, [])] == ["1 turn + 2"]
    assert moved_lines(old, old) == ()


def test_a_warning_that_is_new_or_gone_has_moved() -> None:
    one, other = [{"id": "setup.jaws_near"}], [{"id": "setup.tight_train"}]
    assert [str(line) for line in moved_warnings(one, other)] == [
        "warning setup.tight_train: absent -> present",
        "warning setup.jaws_near: present -> absent",
    ]
