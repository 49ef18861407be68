"""``cardgen binder`` as a contract: exit codes, streams, what is written and what is left out."""

from __future__ import annotations

import shutil
from collections import Counter
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader

from cardgen.cli import main

ROOT = Path(__file__).parents[2]
JOBS = ["specs/jobs/nipping-press-screw.yaml", "specs/jobs/ratchet-stud.yaml"]
REFUSED = "specs/refused/blued-pawl-pin.yaml"


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    shutil.copytree(ROOT / "specs", tmp_path / "specs")
    shutil.copytree(ROOT / "templates", tmp_path / "templates")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def texts(file: Path) -> list[str]:
    return [page.extract_text() for page in PdfReader(BytesIO(file.read_bytes())).pages]


def test_it_prints_the_file_and_no_progress_when_piped(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["binder", *JOBS]) == 0
    out, err = capsys.readouterr()
    assert out.strip() == str(Path("build") / "binder.pdf")
    assert "[1/" not in err
    assert texts(home / "build" / "binder.pdf")[0].startswith("Contents")


def test_what_is_unchanged_is_not_written_again(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["binder", *JOBS, "--out", "b.pdf"]) == 0
    first = (home / "b.pdf").read_bytes()
    capsys.readouterr()
    assert main(["binder", *JOBS, "--out", "b.pdf"]) == 0
    assert capsys.readouterr().out == ""
    # A torn file, another sheet or another job is not the same binder.
    (home / "b.pdf").write_bytes(first[:-50])
    assert main(["binder", *JOBS, "--out", "b.pdf"]) == 0
    assert (home / "b.pdf").read_bytes() == first
    assert main(["binder", *JOBS, "--out", "b.pdf", "--sheet", "a4"]) == 0
    assert (home / "b.pdf").read_bytes() != first


def test_refused_and_faulty_jobs_are_left_out_and_named(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["binder", JOBS[0], REFUSED, "--out", "b.pdf"]) == 1
    assert f"{REFUSED}: left out" in capsys.readouterr().err.replace("\\", "/")
    (home / "bad.yaml").write_text("cardgen: 1\njob: [\n")
    assert main(["binder", "bad.yaml", REFUSED, JOBS[0], "--out", "c.pdf"]) == 3
    out, err = capsys.readouterr()
    assert out.strip() == "c.pdf"
    assert "bad.yaml:" in err
    assert not any("pawl" in text for text in texts(home / "c.pdf"))


def test_an_unchanged_binder_still_tells_what_is_left_out(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    words = ["binder", JOBS[0], REFUSED, "--out", "b.pdf"]
    assert main(words) == 1
    capsys.readouterr()
    assert main(words) == 1
    out, err = capsys.readouterr()
    assert out == ""
    assert "left out" in err


def test_an_unchanged_binder_says_the_same_without_working_anything_out(
    home: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    (home / "bad.yaml").write_text("cardgen: 1\njob: [\n")
    words = ["binder", JOBS[1], REFUSED, "bad.yaml", "--out", "b.pdf"]
    others = ["binder", JOBS[0], "--out", "c.pdf"]
    assert main(words) == 3
    first = capsys.readouterr().err
    assert main(others) == 0
    with monkeypatch.context() as patch:
        patch.setattr("cardgen.sheets.every.work_out", lambda *_: pytest.fail("worked out"))
        capsys.readouterr()
        assert main(words) == 3
        assert capsys.readouterr().err == first
        assert main(others) == 0
    other = (home / ".cardgen" / "c.json").read_bytes()
    # Where what was said is lost or damaged, the binder is made again.
    capsys.readouterr()
    for kept in (b"", b"[]", b'{"x": 1}', other):
        (home / ".cardgen" / "b.json").write_bytes(kept)
        assert main(words) == 3
        out, err = capsys.readouterr()
        assert out.strip() == "b.pdf"
        assert err == first


def test_what_is_too_large_for_an_unchanged_binder_is_said_again(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    large = (home / JOBS[0]).read_text().replace("nipping-press-screw", "wall")
    wall = "specs/jobs/wall.yaml"
    (home / wall).write_text(large + "\ncard: {template: a4-wall}\n")
    words = ["binder", JOBS[1], wall, "--out", "b.pdf", "--sheet", "letter"]
    assert main(words) == 2
    first = capsys.readouterr()
    assert "210 x 297 mm does not fit a sheet of 215.9 x 279.4 mm" in first.err
    assert main(words) == 2
    again = capsys.readouterr()
    assert (again.out, again.err) == ("", first.err)


def test_progress_is_shown_on_a_terminal(
    home: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sys.stderr.isatty", lambda: True, raising=False)
    assert main(["binder", *JOBS]) == 0
    out, err = capsys.readouterr()
    assert "[1/2] nipping-press-screw.yaml" in err
    assert "[2/2] ratchet-stud.yaml" in err
    assert out.strip() == str(Path("build") / "binder.pdf")


def test_without_a_card_there_is_no_binder(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["binder", REFUSED]) == 1
    assert capsys.readouterr().out == ""
    assert not (home / "build").exists()


def test_a_folder_in_the_way_leaves_nothing_behind(home: Path) -> None:
    (home / "out.pdf").mkdir()
    (home / "out.pdf" / "kept").write_text("x")
    before = sorted(home.rglob("*"))
    assert main(["binder", JOBS[0], "--out", "out.pdf"]) == 3
    assert sorted(home.rglob("*")) == before


def test_a_card_that_is_larger_than_the_sheet_is_left_out(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    large = (home / "templates" / "a5-two-column.yaml").read_text()
    large = large.replace("page: A5", "page: A4").replace("a5-two-column", "a4-large")
    (home / "templates" / "a4-large.yaml").write_text(large)
    words = ["binder", JOBS[0], "--template", "a4-large", "--out", "b.pdf"]
    assert main([*words, "--sheet", "letter"]) == 2
    assert "does not fit a sheet" in capsys.readouterr().err
    assert not (home / "b.pdf").exists()
    assert main([*words, "--sheet", "a4"]) == 0


def test_another_machine_gives_the_cards_that_make_gives(home: Path) -> None:
    machine = ["--machine", "specs/machines/floor-inch.yaml"]
    assert main(["make", JOBS[0], *machine, "--out", "cards"]) == 0
    assert main(["binder", JOBS[0], *machine, "--out", "b.pdf"]) == 0
    cards = texts(home / "cards" / "nipping-press-screw.pdf")
    # A card alone is tagged, and so read in an order; in a binder it bears a page number.
    bound = [
        Counter("".join(text.removesuffix(f"page {number}").split()))
        for number, text in enumerate(texts(home / "b.pdf"), start=1)
    ]
    assert any("Floor lathe" in text for text in cards)
    for card in cards:
        assert Counter("".join(card.split())) in bound


def test_a_binder_among_the_cards_does_not_make_them_stale(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["make", JOBS[0]]) == 0
    assert main(["binder", JOBS[0]]) == 0
    capsys.readouterr()
    assert main(["stale", "build"]) == 0
    out, err = capsys.readouterr()
    assert "nipping-press-screw.pdf: holds" in out
    assert "binder.pdf: this is a binder" in err
    assert main(["stale", "build/binder.pdf"]) == 3


@pytest.mark.parametrize("words", [["--sheet", "a2"], ["--by", "colour"], ["--notes", "-1"]])
def test_wrong_words_are_wrong_usage(home: Path, words: list[str]) -> None:
    with pytest.raises(SystemExit) as exit:
        main(["binder", *JOBS, *words])
    assert exit.value.code == 2


@pytest.mark.parametrize("template", ["id-1-portrait", "letter-landscape"])
def test_another_template_can_be_bound(home: Path, template: str) -> None:
    assert main(["binder", *JOBS, "--template", template, "--sheet", "a3"]) == 0
