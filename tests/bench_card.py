"""How long cards take, against a bare reportlab script that draws the very same marks.

``python -m tests.bench_card [--job NAME] [--cards N]`` prints a table; it is no test and asserts
nothing. Everything is processor time, measured in turn with what it is compared with, so that the
ratios mean something on a busy machine too. The last column is where this is going.
"""

from __future__ import annotations

import argparse
import gc
import hashlib
import os
import shutil
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

from cardgen import make
from cardgen.cli import LITTER
from cardgen.machine_change import make_and_compare
from cardgen.spec.load import load
from tests.measure import ROOT, in_turn, own, process
from tests.replay import bare

JOB = "nipping-press-screw"
ROUNDS = 9


def home_in(folder: Path) -> Path:
    """Copy the demo's specs and templates into a folder, and return it."""
    for name in ("specs", "templates"):
        shutil.copytree(ROOT / name, folder / name)
    return folder


def copies(home: Path, job: str, count: int) -> Path:
    """Write jobs that differ only in their names into a folder, and return it."""
    folder = home / "specs" / f"many-{count}"
    folder.mkdir()
    text = (home / "specs" / "jobs" / f"{job}.yaml").read_text("utf-8")
    for number in range(count):
        name = f"{job}-{number:04d}"
        (folder / f"{name}.yaml").write_text(text.replace(f"job: {job}", f"job: {name}"), "utf-8")
    return folder


def line(what: str, ours: float, other: float, aim: str, unit: str = "ms") -> None:
    """Print one line of the table: what it costs, what it is measured against, their ratio."""
    scale = 1e3 if unit == "ms" else 1.0
    print(
        f"{what:34} {ours * scale:10.1f} {other * scale:10.1f} {unit:3} {ours / other:7.2f}  {aim}"
    )


def one_card(home: Path, name: str) -> None:
    """Print what one card costs, in a new process and in this one."""
    job = home / "specs" / "jobs" / f"{name}.yaml"
    worked = make.work(job)
    picture = make.picture(worked)
    (home / "bare_card.py").write_text(bare(picture), "utf-8")
    (home / "bare_one.py").write_text(
        "import bare_card\nopen('bare.pdf', 'wb').write(bare_card.card())\n", "utf-8"
    )
    sys.path.insert(0, str(home))
    import bare_card  # type: ignore[import-not-found]

    marks = sum(len(page.marks) for page in picture.pages)
    print(f"{name}: {len(picture.pages)} cards of {marks} marks\n")
    print(f"{'':34} {'ours':>10} {'other':>10}       ratio  aim")

    def cold() -> float:
        shutil.rmtree(home / "cold", ignore_errors=True)
        return process(("-m", "cardgen", "make", str(job), "--out", "cold"), home).cpu

    def alone() -> float:
        return process(("bare_one.py",), home).cpu

    def drawn() -> float:
        return own(bare_card.card)

    line("one card in a new process, B", *in_turn(ROUNDS, cold, alone), "1.4")
    line("one card more, B", *in_turn(ROUNDS, lambda: own(lambda: whole(job)), drawn), "1.15")
    pdf = in_turn(ROUNDS, lambda: own(lambda: make.draw(worked)), drawn)
    line("  of that: layout and PDF, B", *pdf, "")
    seen = in_turn(ROUNDS, lambda: own(lambda: make.work(job)), lambda: own(lambda: load(job)))
    line("  of that: all but drawing; reading", *seen, "1 ms in all")
    words = ("-m", "cardgen", "--help"), ("-c", "pass")
    line(
        "--help, empty interpreter", *in_turn(ROUNDS, *(_run(each, home) for each in words)), "2.0"
    )


def whole(job: Path) -> bytes:
    """Make one card from its files."""
    return make.draw(make.work(job))


def _run(words: tuple[str, ...], home: Path) -> Callable[[], float]:
    return lambda: process(words, home).cpu


def many_cards(home: Path, name: str, count: int) -> None:
    """Print what many cards cost: in one process and in two, unchanged, and bound."""
    folder = copies(home, name, count)
    print(f"\n{count} cards of that job")

    def made(*words: str) -> tuple[str, ...]:
        return ("-m", "cardgen", "make", str(folder), *words)

    one = process(made("--out", "one"), home)
    two = process(made("--out", "two", "--jobs", "2"), home)
    line("wall: one process, two", one.wall, two.wall, "1.85 (needs two idle cores)")
    line("CPU: twice one process, two", 2 * one.cpu, two.cpu, "1.85 (what idle cores would give)")
    again = process(made("--out", "one"), home)
    start = process(("-m", "cardgen", "make", f"{folder}/{name}-0000.yaml", "--out", "one"), home)
    files = sorted(folder.glob("*.yaml"))
    out = home / "one"
    read = in_turn(
        3, lambda: own(lambda: _unchanged(files, out)), lambda: own(lambda: _read(files, out))
    )
    line("unchanged: asked, read and hashed", *read, "2.0")
    line("unchanged: whole process, made", again.cpu, one.cpu, "")
    bound = process(("-m", "cardgen", "binder", str(folder), "--out", "bound.pdf"), home)
    small = process(
        ("-m", "cardgen", "binder", f"{folder}/{name}-0000.yaml", "--out", "small.pdf"), home
    )
    pages = len(make.picture(make.work(files[0])).pages)
    line(f"binder of {pages * count} pages, single files", bound.cpu, one.cpu, "0.7")
    more = (bound.memory - small.memory) / (pages * (count - 1))
    print(f"{'memory for each page of a binder':34} {more:10.1f} {'':10} kB {'':8}  40")
    print(f"{'starting and asking one job':34} {start.cpu * 1e3:10.1f} {'':10} ms")


def _unchanged(files: list[Path], out: Path) -> None:
    for file in files:
        made, _ = make_and_compare(file, out)
        if made.status != "unchanged":
            msg = f"{file} was made again"
            raise RuntimeError(msg)


def _read(files: list[Path], out: Path) -> None:
    """Read and hash what an unchanged job rests on: its four files and its card."""
    shared = [Path(source.name) for source in load(files[0]).sources[1:]]
    beside = [(files[0].parent / path, ROOT / path) for path in shared]
    for file in files:
        hashlib.sha256(file.read_bytes())
        for near, shipped in beside:
            hashlib.sha256((near if near.is_file() else shipped).read_bytes())
        hashlib.sha256((out / f"{file.stem}.pdf").read_bytes())


def main() -> None:
    """Print the table of one run."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--job", default=JOB)
    parser.add_argument("--cards", type=int, default=200)
    asked = parser.parse_args()
    gc.set_threshold(*LITTER)  # as the command does; the bare script gains by it as well
    with tempfile.TemporaryDirectory() as made:
        home = home_in(Path(made))
        os.chdir(home)
        one_card(home, asked.job)
        if asked.cards > 1:
            many_cards(home, asked.job, asked.cards)


if __name__ == "__main__":
    main()
