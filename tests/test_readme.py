"""What the README prints is so: its commands, its specs, the numbers, and what there is.

Its two commands for a fresh machine are run as they stand by the check of every change; here all
others are run in a folder with the demo specs.
"""

from __future__ import annotations

import re
import shlex
import shutil
from pathlib import Path

import pytest

from cardgen.cli import main
from cardgen.core.problems import SpecError
from cardgen.core.unit_table import KINDS
from cardgen.core.units import QuantityError, read
from cardgen.sheets import every
from cardgen.spec.keys.words import forms
from cardgen.spec.load import load
from tests.spec.shop_floor import LEAST, lay_out

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text("utf-8")
FENCE = re.compile(r"(?:<!-- (?P<name>.+?) -->\n)?```(?P<kind>\w+)\n(?P<text>.*?)```", re.S)
BLOCKS = [(m["name"] or "", m["kind"], m["text"]) for m in FENCE.finditer(README)]


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    for folder in ("specs", "templates"):
        shutil.copytree(ROOT / folder, tmp_path / folder)
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_every_block_is_of_a_kind_that_is_checked() -> None:
    assert {kind for _, kind, _ in BLOCKS} == {"sh", "yaml", "text"}
    assert sum(name.endswith(" command") for name, _, _ in BLOCKS) == 2


def test_the_commands_run_and_give_what_is_printed(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for at, (name, kind, text) in enumerate(BLOCKS):
        if kind != "sh" or name.endswith(" command"):
            continue
        codes = []
        for line in text.splitlines():
            program, *words = shlex.split(line, comments=True)
            assert program == ".venv/bin/cardgen"
            codes.append(main(words))
        said = capsys.readouterr()
        promised = BLOCKS[at + 1][2] if BLOCKS[at + 1][1] == "text" else ""
        assert set(codes) == ({1} if "REFUSED" in promised else {0}), said.err
        told = (said.err + said.out).splitlines()
        assert [line for line in promised.splitlines() if line not in told] == []
        for file in re.findall(r"(?:build|specs)/[\w/-]+\.\w+(?= *,|$)", text, re.M):
            assert (home / file).is_file()


def test_the_spec_beside_the_picture_is_the_demo_job() -> None:
    ((name, text),) = [(n, t) for n, kind, t in BLOCKS if kind == "yaml" and n != "a job"]
    assert text == (ROOT / name).read_text("utf-8")
    assert f"build/gallery/{Path(name).stem}-1.png" in README


def test_the_short_job_makes_a_card_that_names_what_is_assumed(home: Path) -> None:
    ((_, _, text),) = [block for block in BLOCKS if block[0] == "a job"]
    path = home / "specs" / "jobs" / "vice-screw.yaml"
    path.write_text(text, encoding="utf-8")
    job = load(path)
    assert not every.work_out(job).refused
    assert {"thread.starts", "thread.class", "work.stickout"} <= {each.key for each in job.assumed}


def test_the_sizes_and_quantities_that_it_shows_can_be_written(tmp_path: Path) -> None:
    sizes = re.findall(r'`(?:size: )?"([^"]+)"`', README)
    assert len(sizes) == 5
    for size in (" ".join(size.split()) for size in sizes):
        assert [form for form in forms() if loads(tmp_path, form, size)], size
    line = re.search(r"carries its unit: ([^.]+)\.", README)
    assert line is not None
    for quantity in re.findall(r"`([^`]+)`", line[1]):
        assert any(reads(quantity, dimension) for dimension in KINDS), quantity


def loads(folder: Path, form: str, size: str) -> bool:
    text = LEAST.replace("form: metric, diameter: 10 mm", f'form: {form}, size: "{size}"')
    try:
        load(lay_out(folder, text))
    except SpecError:
        return False
    return True


def reads(text: str, dimension: str) -> bool:
    try:
        read(text, dimension)  # type: ignore[arg-type]
    except QuantityError:
        return False
    return True


# --- what there is --------------------------------------------------------------------------------


def names(folder: str, ending: str) -> list[str]:
    """Return what stands in a folder, by the names that a spec uses."""
    found = (path.name.removesuffix(ending) for path in (ROOT / folder).glob(f"*{ending}"))
    return sorted(name for name in found if not name.startswith("_"))


def row(of: str, words: list[str], own: str) -> str:
    return f"| {of} | {' '.join(f'`{word}`' for word in words)} | {own} |"


def lists() -> list[str]:
    """Return the rows of the README's table of what there is."""
    plain = [name for name in names("cardgen/data/forms", ".toml") if "+" not in name]
    variants = [
        name.replace("+", ": ") for name in names("cardgen/data/forms", ".toml") if "+" in name
    ]
    return [
        row("forms", plain, "`form: custom`"),
        row("variants", variants, ""),
        row("materials", names("cardgen/data/materials", ".yaml"), "`specs/materials/`"),
        row("templates", names("templates", ".yaml"), "`templates/`; copy one"),
        row("panels", names("cardgen/card/panels", ".py"), ""),
        row("demo machines", names("specs/machines", ".yaml"), "`specs/machines/`"),
        row("demo jobs", names("specs/jobs", ".yaml"), "`specs/jobs/`"),
    ]


def test_it_lists_what_stands_in_the_folders() -> None:
    table = README.partition("<!-- what stands in the folders -->\n")[2].split("\n\n")[0]
    assert table.splitlines()[2:] == lists(), "\n".join(lists())


def test_it_lists_the_commands(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        main(["--help"])
    commands = re.findall(r"^    (\w+) ", capsys.readouterr().out, re.M)
    assert len(commands) > 10
    section = README.partition("## Commands\n")[2].partition("\n## ")[0]
    told = re.findall(r"`cardgen (\w+)", section)
    assert set(told) == set(commands)


def test_it_says_what_the_licence_is() -> None:
    assert (ROOT / "LICENSE").read_text("utf-8").startswith("MIT License")
    assert "MIT, see `LICENSE`" in README


def test_it_names_the_version_whose_changes_it_tells() -> None:
    from cardgen import __version__

    changes = README.partition("## Changes\n")[2]
    assert changes.strip().startswith(f"**{__version__}**")
