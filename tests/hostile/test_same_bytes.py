"""The same files give the same bytes, whatever the Python, its extras and its surroundings."""

from __future__ import annotations

import builtins
import os
import re
import shutil
import subprocess
import sys
import zlib
from collections.abc import Iterable
from pathlib import Path

import pytest
import yaml

from cardgen.cli import main
from cardgen.make import draw, work
from cardgen.spec import read

ROOT = Path(__file__).parents[2]
DEMO = sorted((ROOT / "specs" / "jobs").glob("*.yaml"))
REFUSED = sorted((ROOT / "specs" / "refused").glob("*.yaml"))
OLDEST, NEWEST = 11, 13
PACKED = re.compile(rb"stream\r?\n(.*?)endstream", re.DOTALL)


def unpacked(pdf: bytes) -> list[bytes]:
    """Return what a PDF's packed streams hold: the same, whichever zlib packed them."""
    parts = []
    for packed in PACKED.findall(pdf):
        try:
            parts.append(zlib.decompressobj().decompress(packed))
        except zlib.error:  # reportlab puts fonts into letters as well; those bytes are plain
            parts.append(packed)
    return parts


def test_no_floats_are_added_by_sum(monkeypatch: pytest.MonkeyPatch) -> None:
    """``sum`` of floats is compensated since Python 3.12: it differs in the last place."""
    real, wrong = builtins.sum, set()

    def watched(items: Iterable[object], /, start: object = 0) -> object:
        parts = list(items)
        if any(isinstance(part, float) and not part.is_integer() for part in parts):
            frame = sys._getframe(1)
            file = Path(frame.f_code.co_filename)
            if file.is_relative_to(ROOT / "cardgen"):
                wrong.add(f"{file.relative_to(ROOT)}:{frame.f_lineno}")
        return real(parts, start)  # type: ignore[call-overload]

    monkeypatch.setattr(builtins, "sum", watched)
    for job in [*DEMO, *REFUSED]:
        worked = work(job)
        if not worked.sheets.refused:
            draw(worked)
    assert not wrong, f"take math.fsum: {sorted(wrong)}"


def test_the_fast_parser_of_yaml_makes_no_difference(monkeypatch: pytest.MonkeyPatch) -> None:
    if not yaml.__with_libyaml__:
        pytest.skip("this pyyaml has no C parts to do without")
    jobs = DEMO[:4]
    fast = [draw(work(job)) for job in jobs]
    monkeypatch.setattr(read, "_FAST", yaml.SafeLoader)
    assert [draw(work(job)) for job in jobs] == fast


@pytest.mark.parametrize("packages", [("numpy", "scipy", "yaml._yaml", "jsonschema")])
def test_optional_packages_make_no_difference(tmp_path: Path, packages: tuple[str, ...]) -> None:
    """Nor do the working folder and the way in which a job is named."""
    job = DEMO[0]
    away = f"import sys; sys.modules.update(dict.fromkeys({packages}))"
    program = f"{away}; from cardgen.cli import main; sys.exit(main())"
    subprocess.run(
        [sys.executable, "-c", program, "make", str(job), "--out", str(tmp_path / "without")],
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        check=True,
        capture_output=True,
        timeout=120,
    )
    assert (tmp_path / "without" / f"{job.stem}.pdf").read_bytes() == draw(work(job))


def test_the_place_of_the_folder_makes_no_difference(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    cards = []
    for name, where, jobs in (("one", ".", "specs/jobs"), ("another é", "specs", "jobs")):
        shutil.copytree(ROOT / "specs", tmp_path / name / "specs")
        shutil.copytree(ROOT / "templates", tmp_path / name / "templates")
        monkeypatch.chdir(tmp_path / name / where)
        assert main(["make", f"{jobs}/{DEMO[1].name}", "--out", "made"]) == 0
        cards.append(Path("made", f"{DEMO[1].stem}.pdf").read_bytes())
    assert cards[0] == cards[1] == draw(work(DEMO[1]))


def test_another_zlib_changes_only_the_packing(monkeypatch: pytest.MonkeyPatch) -> None:
    usual = draw(work(DEMO[2]))
    real = zlib.compress
    monkeypatch.setattr(zlib, "compress", lambda data, *_, **__: real(data, 1))
    other = draw(work(DEMO[2]))
    assert other != usual
    assert unpacked(other) == unpacked(usual)


def pythons(project: Path, folder: Path) -> list[Path]:
    """Return other Pythons that have cardgen: those named, or else of each version found here."""
    named = os.environ.get("CARDGEN_PYTHONS")
    if named:
        return [Path(name) for name in named.split(os.pathsep)]
    own = Path.home() / ".pyenv" / "versions"
    ready = []
    for minor in range(OLDEST, NEWEST + 1):
        on_path = shutil.which(f"python3.{minor}")
        found = [*own.glob(f"3.{minor}.*/bin/python"), *([Path(on_path)] if on_path else [])]
        if minor == sys.version_info.minor or not found:
            continue
        there = folder / f"3.{minor}"
        python = there / "bin" / "python"
        steps = [
            [str(found[0]), "-m", "venv", str(there)],
            [str(python), "-m", "pip", "install", "--quiet", str(project)],
        ]
        # A shim for a version that is not there, or no packages to be had: it is left out.
        if all(not subprocess.run(step, capture_output=True).returncode for step in steps):
            ready.append(python)
    return ready


@pytest.mark.slow
def test_every_python_gives_the_same_bytes(tmp_path: Path) -> None:
    """Set CARDGEN_PYTHONS to interpreters that have cardgen to spare their installation."""
    # A copy, so that all have the same files, whoever is at work in the checkout.
    project = tmp_path / "project"
    for name in ("cardgen", "specs", "templates"):
        shutil.copytree(ROOT / name, project / name, ignore=shutil.ignore_patterns("*.pyc"))
    for name in ("pyproject.toml", "README.md", "LICENSE"):
        shutil.copy(ROOT / name, project)
    asked = "import sys, zlib; print(sys.version.split()[0], zlib.ZLIB_RUNTIME_VERSION)"
    cards: dict[tuple[str, str], dict[str, bytes]] = {}
    for number, python in enumerate([Path(sys.executable), *pythons(project, tmp_path)]):
        out = tmp_path / str(number)
        version, packer = subprocess.run(
            [str(python), "-c", asked], capture_output=True, text=True, check=True
        ).stdout.split()
        subprocess.run(
            [str(python), "-m", "cardgen", "make", "--out", str(out)],
            cwd=project,
            capture_output=True,
            check=True,
        )
        made = {path.name: path.read_bytes() for path in out.glob("*.pdf")}
        assert len(made) == len(DEMO)
        cards[version, packer] = made
    if len(cards) < 2:
        pytest.skip("no other Python is here")
    ((_, own_packer), own), *others = cards.items()
    for (version, packer), made in others:
        for name, card in made.items():
            assert unpacked(card) == unpacked(own[name]), f"{name} on {version}"
            # Another zlib may pack the same content otherwise.
            assert packer != own_packer or card == own[name], f"{name} on {version}"
    print(f"same bytes: {', '.join(version for version, _ in cards)}")
