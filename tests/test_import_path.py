"""These tests ensure that a command loads what it needs and nothing that it does not."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
HEAVY = frozenset({"numpy", "pint", "jsonschema", "pypdf"})
JOB = str(ROOT / "specs" / "jobs" / "nipping-press-screw.yaml")
SHOW = "import sys; from cardgen.cli import main\ntry: main(sys.argv[1:])\nfinally: "


def loaded(*words: str) -> set[str]:
    """Return the modules that a command has loaded when it ends, by their whole names."""
    done = subprocess.run(
        [sys.executable, "-c", SHOW + "print(*sys.modules, file=sys.stderr)", *words],
        cwd=ROOT,
        env=os.environ | {"PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        check=True,
    )
    return set(done.stderr.splitlines()[-1].split())


def test_help_loads_no_more_than_its_words() -> None:
    ours = {name for name in loaded("--help") if name.split(".")[0] == "cardgen"}
    assert ours == {"cardgen", "cardgen.cli"}


@pytest.mark.parametrize("words", [("check", JOB), ("figures", "--json", JOB)])
def test_figures_need_no_paper(words: tuple[str, ...]) -> None:
    parts = {name.split(".")[0] for name in loaded(*words)}
    assert not parts & {*HEAVY, "reportlab", "segno", "font_source_sans_pro"}


def test_a_card_needs_no_heavy_library(tmp_path: Path) -> None:
    parts = {name.split(".")[0] for name in loaded("make", JOB, "--out", str(tmp_path))}
    assert not parts & HEAVY


def test_an_unchanged_card_is_not_opened(tmp_path: Path) -> None:
    words = ("make", JOB, "--out", str(tmp_path))
    loaded(*words)
    again = loaded(*words)
    assert not {name.split(".")[0] for name in again} & {*HEAVY, "reportlab", "segno"}
    assert not any(name.startswith(("cardgen.card", "cardgen.pdf")) for name in again)


def test_only_what_a_job_asks_for_is_loaded() -> None:
    # This job has no heat treatment.
    assert not any(name.startswith("cardgen.sheets._heat") for name in loaded("check", JOB))
