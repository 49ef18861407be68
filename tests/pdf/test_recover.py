"""A card is enough to make the same card again, whatever it was made from."""

from __future__ import annotations

import shlex
import shutil
from pathlib import Path

import pytest

from cardgen import shelf
from cardgen.cli import main

ROOT = Path(__file__).parents[2]
JOB = "specs/jobs/mine.yaml"


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return a shop where job, machine, material, shop and template are the maker's own."""
    made = tmp_path / "home"
    for folder in ("jobs", "machines", "materials"):
        (made / "specs" / folder).mkdir(parents=True)
    (made / "templates").mkdir()

    def own(source: Path, target: str, **changes: str) -> None:
        text = source.read_text("utf-8")
        for old, new in changes.items():
            assert old in text
            text = text.replace(old, new)
        (made / target).write_text(text, "utf-8")

    specs = ROOT / "specs"
    renamed = {"nipping-press-screw": "mine", "c45": "my-steel"}
    own(specs / "jobs" / "nipping-press-screw.yaml", JOB, **renamed)
    machine = {"bench-metric": "my-lathe"}
    own(specs / "machines" / "bench-metric.yaml", "specs/machines/my-lathe.yaml", **machine)
    shutil.copy(specs / "machines" / "floor-inch.yaml", made / "specs" / "machines")
    steel = {"material: c45": "material: my-steel"}
    own(ROOT / "cardgen/data/materials/c45.yaml", "specs/materials/my-steel.yaml", **steel)
    shape = {"a5-two-column": "my-card"}
    own(ROOT / "templates" / "a5-two-column.yaml", "templates/my-card.yaml", **shape)
    own(specs / "shop.yaml", "specs/shop.yaml", **shape, **machine)
    monkeypatch.chdir(made)
    return made


@pytest.mark.parametrize(
    ("asked", "embedded"),
    [
        ([], {"specs/machines/my-lathe.yaml", "templates/my-card.yaml"}),
        (
            ["--machine", "specs/machines/floor-inch.yaml", "--template", "a6-portrait"],
            {"specs/machines/floor-inch.yaml", "templates/a6-portrait.yaml"},
        ),
    ],
    ids=["as the job says", "with another machine and template"],
)
def test_all_files_are_embedded_and_make_the_same_card_again(
    home: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    asked: list[str],
    embedded: set[str],
) -> None:
    assert main(["make", JOB, *asked]) == 0
    card = home / "build" / "mine.pdf"
    shipped = {"specs/materials/bronze-pb1.yaml"}
    own = {JOB, "specs/shop.yaml", "specs/materials/my-steel.yaml"}
    assert set(shelf.record_of(card).files) == own | embedded | shipped
    back = home.parent / "back"
    capsys.readouterr()
    assert main(["recover", str(card), "--out", str(back)]) == 0
    told = capsys.readouterr()
    assert {Path(line) for line in told.out.split()} == {
        back / name for name in own | embedded | shipped
    }
    command = shlex.split(told.err.strip().partition(f"in {back}: ")[2])
    assert command[:2] == ["cardgen", "make"]
    monkeypatch.chdir(back)
    assert main(command[1:]) == 0
    assert (back / "build" / "mine.pdf").read_bytes() == card.read_bytes()
