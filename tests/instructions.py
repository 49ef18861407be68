"""How many instructions the processor is told to do: the same on a busy machine as on an idle one.

``python -m tests.instructions`` counts them anew and writes ``tests/data/instructions.csv``, which
``tests/test_instructions.py`` holds the code to. Counts differ between builds of Python, so that
each row names the one it was counted on.
"""

from __future__ import annotations

import csv
import os
import platform
import re
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

from tests.measure import ROOT, process

STORED = Path(__file__).parent / "data" / "instructions.csv"
JOB = "specs/jobs/nipping-press-screw.yaml"
COMMANDS = {
    "help": ("--help",),
    "figures": ("figures", "--json", JOB),
    "card": ("make", JOB, "--out", "counted"),
}
"""What is counted: the words, and the working out without and with paper; each a new process."""
VALGRIND = shutil.which("valgrind")
_COLLECTED = re.compile(r"Collected *: *(\d+)")


def build() -> str:
    """Return which Python this is, as far as its count of instructions depends on it."""
    return f"{platform.python_implementation()} {platform.python_version()} {platform.machine()}"


def counted(words: tuple[str, ...], home: Path) -> int:
    """Return the instructions of a command in a folder with the demo's specs, in millions."""
    called = ("-m", "cardgen", *words)
    shutil.rmtree(home / "counted", ignore_errors=True)
    process(called, home)  # modules are compiled once
    shutil.rmtree(home / "counted", ignore_errors=True)
    environment = {
        "PATH": os.environ["PATH"],
        "PYTHONPATH": str(ROOT),
        "PYTHONPYCACHEPREFIX": str(home / ".compiled"),
        "PYTHONHASHSEED": "0",
    }
    tool = (str(VALGRIND), "--tool=callgrind", f"--callgrind-out-file={os.devnull}")
    done = subprocess.run(
        (*tool, sys.executable, *called),
        cwd=home,
        env=environment,
        capture_output=True,
        text=True,
        check=True,
    )
    found = _COLLECTED.search(done.stderr)
    if found is None:
        msg = f"valgrind counted nothing: {done.stderr[-300:]}"
        raise RuntimeError(msg)
    return int(found[1]) // 1_000_000


def stored() -> dict[str, int]:
    """Return the counts that were stored for this build of Python [millions]."""
    with STORED.open(newline="", encoding="utf-8") as rows:
        return {
            row["command"]: int(row["millions"])
            for row in csv.DictReader(rows)
            if row["python"] == build()
        }


def main() -> None:
    """Count anew for this build of Python, and keep the rows of others."""
    with STORED.open(newline="", encoding="utf-8") as rows:
        kept = [row for row in csv.DictReader(rows) if row["python"] != build()]
    with tempfile.TemporaryDirectory() as made:
        home = Path(made)
        shutil.copytree(ROOT / "specs", home / "specs")
        for name, words in COMMANDS.items():
            millions = counted(words, home)
            kept.append({"python": build(), "command": name, "millions": str(millions)})
            print(f"{name}: {millions} million instructions")
    with STORED.open("w", newline="", encoding="utf-8") as out:
        writer = csv.DictWriter(out, ("python", "command", "millions"), lineterminator="\n")
        writer.writeheader()
        writer.writerows(kept)


if __name__ == "__main__":
    main()
