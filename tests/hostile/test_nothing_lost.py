"""A card on the shelf is the old one or the new one, whatever happens while it is made."""

from __future__ import annotations

import os
import random
import resource
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Sequence
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
JOB = "specs/jobs/quick-clamp-screw.yaml"
CARD = "quick-clamp-screw.pdf"
MAKE = [sys.executable, "-m", "cardgen", "make"]
ENV = {**os.environ, "PYTHONPATH": str(ROOT)}


@pytest.fixture
def home(tmp_path: Path) -> Path:
    inner = tmp_path / "home"
    shutil.copytree(ROOT / "specs", inner / "specs")
    shutil.copytree(ROOT / "templates", inner / "templates")
    return inner


def run(home: Path, *words: str, limit: int | None = None) -> subprocess.CompletedProcess[str]:
    def small_files() -> None:
        assert limit is not None
        resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))

    return subprocess.run(
        [*MAKE, JOB, *words],
        cwd=home,
        env=ENV,
        capture_output=True,
        text=True,
        timeout=60,
        preexec_fn=None if limit is None else small_files,
    )


def retitled(home: Path, title: str) -> None:
    job = home / JOB
    lines = job.read_text("utf-8").split("\n")
    job.write_text("\n".join(f"title: {title}" if x.startswith("title:") else x for x in lines))


def left_over(folder: Path) -> list[Path]:
    return [path for path in folder.rglob(".*.pdf.*") if path.is_file()]


def _both(home: Path) -> tuple[bytes, bytes]:
    """Return the card as it stands, and what the changed job will make of it."""
    assert run(home, "--out", "new").returncode == 0
    new = (home / "new" / CARD).read_bytes()
    retitled(home, "Another clamp")
    assert run(home).returncode == 0
    old = (home / "build" / CARD).read_bytes()
    assert old != new
    return old, new


def _killed(home: Path, moments: Sequence[float]) -> None:
    shown = (home / JOB).read_bytes()
    old, new = _both(home)
    card, renamed = home / "build" / CARD, (home / JOB).read_bytes()
    seen = set()
    for moment in moments:
        (home / JOB).write_bytes(shown)
        process = subprocess.Popen(
            [*MAKE, JOB], cwd=home, env=ENV, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
        )
        time.sleep(moment)
        process.send_signal(signal.SIGKILL)
        process.wait()
        found = card.read_bytes()
        assert found in (old, new), f"torn after {moment} s"
        seen.add(found == new)
        # What is there is taken for what it is: the next run makes it right, and says so.
        assert run(home).returncode == 0
        assert card.read_bytes() == new
        (home / JOB).write_bytes(renamed)
        assert run(home).returncode == 0
        assert card.read_bytes() == old


def test_killed_at_a_few_moments(home: Path) -> None:
    _killed(home, [0.02, 0.3, 0.6])


@pytest.mark.slow
def test_killed_at_200_random_moments(home: Path) -> None:
    random_ = random.Random(200)
    _killed(home, [random_.uniform(0, 1.2) for _ in range(200)])


def test_a_full_disk_keeps_the_old_card(home: Path) -> None:
    assert run(home).returncode == 0
    before = (home / "build" / CARD).read_bytes()
    retitled(home, "Another clamp")
    full = run(home, limit=4096)
    assert full.returncode == 3
    assert "Traceback" not in full.stderr
    assert (home / "build" / CARD).read_bytes() == before
    assert not left_over(home / "build")


def test_a_folder_that_cannot_be(home: Path) -> None:
    (home / "taken").write_text("a file")
    (home / "gone").symlink_to("nowhere/at/all")
    for out in ("taken", "taken/below", "gone", "/proc/none", "a" * 300):
        answer = run(home, "--out", out)
        assert answer.returncode == 3, out
        assert "Traceback" not in answer.stderr
        assert len(answer.stderr) < 2000


@pytest.mark.skipif(os.geteuid() == 0, reason="nothing is read-only for root")
def test_a_folder_that_may_not_be_written(home: Path) -> None:
    (home / "locked").mkdir(mode=0o500)
    answer = run(home, "--out", "locked")
    assert answer.returncode == 3
    assert "Traceback" not in answer.stderr


def test_a_folder_that_vanishes_is_made_again(home: Path) -> None:
    assert run(home).returncode == 0
    shutil.rmtree(home / "build")
    assert run(home).returncode == 0
    assert (home / "build" / CARD).exists()


def test_runs_at_the_same_time_do_not_tear_each_other(home: Path) -> None:
    processes = [
        subprocess.Popen(
            [*MAKE, JOB], cwd=home, env=ENV, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE
        )
        for _ in range(4)
    ]
    for process in processes:
        _, told = process.communicate(timeout=60)
        assert process.returncode == 0, told
    assert not left_over(home / "build")
    before = (home / "build" / CARD).read_bytes()
    assert run(home).stdout == ""
    assert (home / "build" / CARD).read_bytes() == before


@pytest.mark.parametrize(
    "damage",
    [b"", b"\x00" * 99, b"f" * 64 + b"\n" + b"0" * 64 + b"\n"],
    ids=["empty", "zeros", "another"],
)
def test_a_damaged_note_is_not_believed(home: Path, damage: bytes) -> None:
    assert run(home).returncode == 0
    note = home / "build" / ".cardgen" / "quick-clamp-screw.txt"
    note.write_bytes(damage)
    assert run(home).stdout.strip().endswith(CARD)
    assert run(home).stdout == ""


def test_no_network_is_used(home: Path) -> None:
    """Every command but the watch, with a hook that ends the process at the first connection."""
    program = """
import sys

def hook(event, arguments):
    if event.startswith("socket.") and event != "socket.__new__":
        raise SystemExit(f"network: {event}")

sys.addaudithook(hook)
from cardgen.cli import main

job = "specs/jobs/quick-clamp-screw.yaml"
assert main(["make", job]) == 0
assert main(["check", job]) == 0
assert main(["figures", job, "--json"]) == 0
assert main(["why", job, "thread.depth"]) == 0
assert main(["binder", job, "--out", "b.pdf"]) == 0
assert main(["stale", "build"]) == 0
assert main(["recover", "build/quick-clamp-screw.pdf", "--out", "back"]) == 0
assert main(["new", "fresh"]) == 0
assert main(["schema", "job"]) == 0
"""
    answer = subprocess.run(
        [sys.executable, "-c", program],
        cwd=home,
        env=ENV,
        capture_output=True,
        text=True,
        timeout=120,
    )
    assert answer.returncode == 0, answer.stderr[-2000:]
