"""The command line as a contract: exit codes, streams, and what is written where."""

from __future__ import annotations

import io
import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from cardgen.cli import main

ROOT = Path(__file__).parent.parent
DEMO = sorted((ROOT / "specs" / "jobs").glob("*.yaml"))


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A project folder of its own, with the demo specs, as the current folder."""
    shutil.copytree(ROOT / "specs", tmp_path / "specs")
    shutil.copytree(ROOT / "templates", tmp_path / "templates")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_demo_jobs_are_good(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["make"]) == 0
    out, err = capsys.readouterr()
    made = sorted(Path(line).name for line in out.splitlines())
    assert made == [f"{job.stem}.pdf" for job in DEMO]
    assert "[1/" not in err, "no progress when piped"


def test_what_is_unchanged_is_skipped(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    job = "specs/jobs/nipping-press-screw.yaml"
    assert main(["make", job]) == 0
    capsys.readouterr()
    card = home / "build" / "nipping-press-screw.pdf"
    before = card.read_bytes()
    assert main(["make", job]) == 0
    assert capsys.readouterr().out == ""
    card.write_bytes(before[:-100])  # torn: must be made again, to the same bytes
    assert main(["make", job]) == 0
    assert card.read_bytes() == before
    machine = home / "specs" / "machines" / "bench-metric.yaml"
    machine.write_text(machine.read_text().replace("550 W", "540 W"))
    capsys.readouterr()
    assert main(["make", job]) == 0
    assert capsys.readouterr().out.strip().endswith(".pdf")


def test_refused_job_writes_nothing_and_says_what_it_would_do(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["make", "specs/refused/blued-pawl-pin.yaml"]) == 1
    out, err = capsys.readouterr()
    assert out == ""
    assert not (home / "build").exists()
    assert "HRC" in err
    assert "650" in err


def test_refused_job_still_prints_its_figures(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["figures", "specs/refused/blued-pawl-pin.yaml", "--json"]) == 1
    told = json.loads(capsys.readouterr().out)
    assert any(warning["refuses"] for warning in told["warnings"])
    assert "thread.pitch_diameter" in {figure["id"] for figure in told["figures"]}


def test_three_mistakes_are_three_messages_on_their_lines(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    job = home / "bad.yaml"
    job.write_text(
        "cardgen: 1\n"
        "job: bad\n"
        "title: Three mistakes\n"
        "thread:\n"
        "  form: trapezodal\n"
        "  diameter: 28\n"
        "  pitch: 5 mm\n"
        "  length: 120 mm\n"
        "work:\n"
        "  material: c45\n"
        "  holdng: chuck\n"
        "machine: specs/machines/bench-metric.yaml\n"
    )
    assert main(["check", "bad.yaml"]) == 3
    err = capsys.readouterr().err
    assert err.count("allowed:") == 3
    for line, hint in ((5, "trapezoidal"), (6, "28 mm"), (11, "holding")):
        assert f"bad.yaml:{line}:" in err
        assert hint in err
    positions = [err.index(f"bad.yaml:{line}:") for line in (5, 6, 11)]
    assert positions == sorted(positions)


def test_one_faulty_job_does_not_stop_the_rest(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (home / "bad.yaml").write_text("cardgen: 1\njob: [\n")
    good = "specs/jobs/book-press-screw.yaml"
    assert main(["figures", "bad.yaml", good, "--json"]) == 3
    out, err = capsys.readouterr()
    assert json.loads(out)["job"] == "book-press-screw"
    assert "bad.yaml" in err


def test_json_is_one_line_a_job(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["figures", *map(str, DEMO), "--json"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert [json.loads(line)["job"] for line in lines] == [job.stem for job in DEMO]
    for line in lines:
        told = json.loads(line)
        assert set(told) == {"job", "version", "code", "figures", "schedule", "warnings"}
        assert told["schedule"], "every demo job has a schedule"
        for figure in told["figures"]:
            assert None not in figure.values()
            assert {"id", "label", "value", "unit", "formula", "inputs", "source", "basis"} <= set(
                figure
            )


def test_why_goes_down_to_the_spec(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["why", "nipping-press-screw", "thread.lead_angle_pitch"]) == 0
    told = capsys.readouterr().out
    assert "nipping-press-screw.yaml:" in told
    assert "atan" in told
    assert main(["why", "nipping-press-screw", "thread.lead_angle_ptch"]) == 2
    assert "thread.lead_angle_pitch" in capsys.readouterr().err


@pytest.mark.parametrize("kind", ["job", "machine", "shop", "material", "template"])
def test_schema_is_a_schema(kind: str, capsys: pytest.CaptureFixture[str]) -> None:
    from jsonschema import Draft7Validator

    assert main(["schema", kind]) == 0
    Draft7Validator.check_schema(json.loads(capsys.readouterr().out))


def test_new_job_makes_a_card(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for form in ("square", "acme", "trapezoidal", "metric"):
        assert main(["new", f"try-{form}", "--form", form]) == 0
        assert main(["make", f"try-{form}"]) == 0, capsys.readouterr().err
    assert main(["new", "try-acme"]) == 2, "an existing job is not overwritten"
    assert main(["new", "../evil"]) == 2
    assert not (home / "specs" / "evil.yaml").exists()


def test_wrong_usage_is_two(home: Path) -> None:
    with pytest.raises(SystemExit) as stop:
        main(["mkae"])
    assert stop.value.code == 2


def test_missing_file_is_three(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "nowhere.yaml"]) == 3
    assert "nowhere.yaml" in capsys.readouterr().err


def test_card_recovers_its_own_files_and_knows_when_it_is_stale(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    job = home / "specs" / "jobs" / "book-press-screw.yaml"
    assert main(["make", str(job)]) == 0
    card = "build/book-press-screw.pdf"
    assert main(["recover", card, "--out", "back"]) == 0
    assert (home / "back/specs/jobs/book-press-screw.yaml").read_bytes() == job.read_bytes()
    assert main(["stale", card]) == 0
    capsys.readouterr()
    assert main(["figures", str(job), "--json"]) == 0
    code = json.loads(capsys.readouterr().out)["code"]
    assert main(["stale", code]) == 0
    machine = home / "specs" / "machines" / "floor-inch.yaml"
    machine.write_text(re.sub(r"speeds: .*", "speeds: [31 rev/min]", machine.read_text()))
    assert main(["stale", "build"]) == 4
    assert "setup.speed" in capsys.readouterr().out
    assert main(["stale", code]) == 4
    assert main(["stale", "ABCD-EFG"]) == 3


def test_recover_refuses_what_is_no_card(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (home / "x.pdf").write_bytes(b"%PDF-1.4 nothing")
    assert main(["recover", "x.pdf"]) == 3
    (home / "y.pdf").write_bytes(os.urandom(3000))
    assert main(["stale", "y.pdf"]) == 3


def test_progress_on_a_terminal_only(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    class Terminal(io.StringIO):
        def isatty(self) -> bool:
            return True

    terminal = Terminal()
    monkeypatch.setattr(sys, "stderr", terminal)
    assert main(["make", "book-press-screw", "ratchet-stud"]) == 0
    assert "[1/2]" in terminal.getvalue()
    assert "[2/2]" in terminal.getvalue()


def test_two_processes_make_the_same_cards(home: Path) -> None:
    assert main(["make", "--out", "one"]) == 0
    assert main(["make", "--out", "two", "--jobs", "2"]) == 0
    for job in DEMO:
        name = f"{job.stem}.pdf"
        assert (home / "one" / name).read_bytes() == (home / "two" / name).read_bytes()


def test_same_bytes_whatever_the_surroundings(home: Path) -> None:
    cards = []
    for number, setting in enumerate(
        (
            {"PYTHONHASHSEED": "1", "TZ": "UTC", "LC_ALL": "C"},
            {"PYTHONHASHSEED": "77", "TZ": "Asia/Tokyo", "LC_ALL": "C.UTF-8"},
        )
    ):
        out = home / str(number)
        subprocess.run(
            [sys.executable, "-m", "cardgen", "make", "quick-clamp-screw", "--out", str(out)],
            env={**os.environ, **setting},
            check=True,
            capture_output=True,
        )
        cards.append((out / "quick-clamp-screw.pdf").read_bytes())
    assert cards[0] == cards[1]


def test_a_sign_that_no_card_can_write_is_a_fault_of_the_file(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    job = home / "specs" / "jobs" / "book-press-screw.yaml"
    job.write_text(job.read_text().replace("Platen screw", "Platen 螺纹"))
    assert main(["make", str(job)]) == 3
    assert "U+87BA" in capsys.readouterr().err
