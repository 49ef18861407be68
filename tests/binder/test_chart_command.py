"""``cardgen chart`` as a contract: what is written, and whether it still holds."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from pypdf import PdfReader

from cardgen.cli import main

ROOT = Path(__file__).parents[2]


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    shutil.copytree(ROOT / "specs" / "machines", tmp_path / "specs" / "machines")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_a_chart_for_each_machine(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["chart"]) == 0
    names = sorted(path.stem for path in (home / "specs" / "machines").glob("*.yaml"))
    out = capsys.readouterr().out.splitlines()
    assert [Path(line).name for line in out] == [f"chart-{name}.pdf" for name in names]
    first = {line: Path(line).read_bytes() for line in out}
    assert main(["chart", *names, "--template", "a5-two-column"]) == 0
    assert {line: Path(line).read_bytes() for line in out} == first
    assert main(["stale", "build"]) == 0
    assert len(names) >= 4


def test_a_chart_is_stale_when_a_wheel_is_lost(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["chart", "bench-metric"]) == 0
    machine = home / "specs" / "machines" / "bench-metric.yaml"
    machine.write_text(machine.read_text("utf-8").replace(", 127]", "]"), encoding="utf-8")
    capsys.readouterr()
    assert main(["stale", "build"]) == 4
    out = capsys.readouterr().out
    assert "chart-bench-metric.pdf: stale" in out
    assert "8 tpi: 127/120, 0 ppm, closed -> " in out
    # What no wheel of 127 had a part in holds.
    assert "1.5 mm: " not in out
    machine.unlink()
    assert main(["stale", "build"]) == 3


def test_a_faulty_machine_does_not_stop_the_others(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (home / "specs" / "machines" / "bad.yaml").write_text("cardgen: 1\nmachine: bad\n")
    assert main(["chart"]) == 3
    out, err = capsys.readouterr()
    assert "chart-bench-metric.pdf" in out
    assert "gears is missing" in err
    assert main(["chart", "nobody"]) == 3


@pytest.mark.parametrize("template", ["id-1-portrait", "a7-landscape", "a4-landscape"])
def test_a_chart_on_the_smallest_and_the_largest_cards(
    home: Path, template: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["chart", "window-variable", "--template", template]) == 0
    text = " ".join(
        page.extract_text() for page in PdfReader("build/chart-window-variable.pdf").pages
    )
    for word in ("Threads per inch", "Pitch in mm", "How to read it", "any (16)"):
        assert word in " ".join(text.split()), capsys.readouterr().err
