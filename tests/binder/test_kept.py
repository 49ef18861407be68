"""A binder that is built again: what did not change is not worked out, and no byte differs."""

from __future__ import annotations

import re
import shutil
from pathlib import Path
from zlib import compress

import pytest

from cardgen import bindery, make
from cardgen.binder.kept import Kept, _checksum, packed, unpacked
from cardgen.cli import main
from cardgen.core.figure import Sheets
from cardgen.sheets import every
from cardgen.spec.job import Job

ROOT = Path(__file__).parents[2]
GERMAN, OTHER, INCH = "specs/jobs/ger.yaml", "specs/jobs/ratchet-stud.yaml", "specs/jobs/inch.yaml"
REFUSED = "specs/refused/blued-pawl-pin.yaml"
MARK = "5a" * 32


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    shutil.copytree(ROOT / "specs", tmp_path / "specs")
    shutil.copytree(ROOT / "templates", tmp_path / "templates")
    jobs = tmp_path / "specs" / "jobs"
    german = (jobs / "nipping-press-screw.yaml").read_text("utf-8")
    german = german.replace("nipping-press-screw", "ger") + "\nlanguage: de\ndecimals: comma\n"
    # What the maker wrote keeps its point and its words.
    german = re.sub("^title: .*$", "title: Contents of drawer 2.5", german, flags=re.MULTILINE)
    (jobs / "ger.yaml").write_text(german, "utf-8")
    inch = (jobs / "cider-press-spindle.yaml").read_text("utf-8")
    (jobs / "inch.yaml").write_text(inch.replace("cider-press-spindle", "inch"), "utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.fixture
def worked(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The names of the jobs that are worked out."""
    names: list[str] = []
    work_out = every.work_out

    def noted(job: Job) -> Sheets:
        names.append(job.name)
        return work_out(job)

    monkeypatch.setattr("cardgen.sheets.every.work_out", noted)
    return names


def bind(*words: str, out: str = "b.pdf") -> int:
    return main(["binder", GERMAN, OTHER, INCH, REFUSED, "--out", out, *words])


def change(home: Path) -> None:
    file = home / OTHER
    file.write_text(file.read_text("utf-8") + "# looked at again\n", "utf-8")


@pytest.mark.parametrize("words", [[], ["--sheet", "a4", "--by", "form"]])
def test_only_what_changed_is_worked_out_and_the_bytes_are_the_same(
    home: Path,
    worked: list[str],
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
    words: list[str],
) -> None:
    assert bind(*words) == 1
    assert len(worked) == 4
    first = capsys.readouterr().err
    change(home)
    worked.clear()
    monkeypatch.setattr("sys.stderr.isatty", lambda: True, raising=False)
    assert bind(*words) == 1
    assert worked == ["ratchet-stud"]
    lines = capsys.readouterr().err.splitlines()
    steps = [line for line in lines if line.startswith("[")]
    assert [line.endswith("worked out anew") for line in steps] == [False, True, False, False]
    assert [line for line in lines if line not in steps] == first.splitlines()
    assert bind(*words, out="anew/b.pdf") == 1
    assert (home / "b.pdf").read_bytes() == (home / "anew" / "b.pdf").read_bytes()


def test_another_style_works_nothing_out(home: Path, worked: list[str]) -> None:
    assert bind() == 1
    worked.clear()
    assert bind("--sheet", "a3", "--by", "material") == 1
    assert not worked


def test_a_machine_that_changed_changes_its_jobs_alone(home: Path, worked: list[str]) -> None:
    assert bind() == 1
    worked.clear()
    machines = {job: make.load(home / job).machine.title for job in (GERMAN, OTHER, INCH)}
    assert len(set(machines.values())) > 1
    sources = make.load(home / OTHER).sources
    named = next(source.name for source in sources if source.role == "machine")
    file = (home / OTHER).parent / named
    file.write_text(file.read_text("utf-8") + "# greased\n", "utf-8")
    assert bind() == 1
    same = {Path(job).stem for job, title in machines.items() if title == machines[OTHER]}
    assert same <= set(worked)
    assert not {Path(job).stem for job in machines} - same & set(worked)


def test_what_is_damaged_or_another_jobs_is_made_again(home: Path, worked: list[str]) -> None:
    assert bind() == 1
    folder = home / ".cardgen" / "b.jobs"
    whole = {file: file.read_bytes() for file in sorted(folder.iterdir())}
    bound = (home / "b.pdf").read_bytes()
    foreign = dict(zip(whole, [*whole.values()][1:] + [*whole.values()][:1], strict=True))
    for spoilt in (
        dict.fromkeys(whole, b""),
        {file: content[:-1] for file, content in whole.items()},
        {file: b"\x80\x04N." + content for file, content in whole.items()},
        foreign,
    ):
        for file, content in spoilt.items():
            file.write_bytes(content)
        (home / "b.pdf").unlink()
        worked.clear()
        assert bind() == 1
        assert len(worked) == 4
        assert (home / "b.pdf").read_bytes() == bound
        assert {file: file.read_bytes() for file in folder.iterdir()} == whole


def test_a_chart_that_holds_is_not_drawn_again(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert bind() == 1
    bound = (home / "b.pdf").read_bytes()
    (home / "b.pdf").unlink()
    monkeypatch.setattr("cardgen.machine_chart.picture", lambda *_: pytest.fail("drawn again"))
    assert bind() == 1
    assert (home / "b.pdf").read_bytes() == bound


def test_another_version_believes_nothing(
    home: Path, worked: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    assert bind() == 1
    old = set((home / ".cardgen" / "b.jobs").iterdir())
    worked.clear()
    for module in ("make", "bindery"):
        monkeypatch.setattr(f"cardgen.{module}.__version__", "999.0")
    assert bind() == 1
    assert len(worked) == 4
    assert not old & set((home / ".cardgen" / "b.jobs").iterdir())


def test_jobs_that_are_gone_are_forgotten_and_nothing_else(home: Path) -> None:
    assert bind() == 1
    folder = home / ".cardgen" / "b.jobs"
    (folder / "mine.job").write_text("x")
    assert main(["binder", OTHER, "--out", "b.pdf"]) == 0
    # The job, its machine's chart, and what is not ours.
    assert len(list(folder.iterdir())) == 3
    assert (folder / "mine.job").read_text() == "x"


def test_a_binder_that_was_cut_short_goes_on_from_there(
    home: Path, worked: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def cut(*_: object) -> bytes:
        raise KeyboardInterrupt

    with monkeypatch.context() as patch:
        patch.setattr("cardgen.bindery.finish", cut)
        assert bind() == 130
    worked.clear()
    assert bind() == 1
    assert worked == ["blued-pawl-pin"]


def test_a_job_under_another_name_is_another(home: Path, worked: list[str]) -> None:
    """Its file's name stands on the card."""
    assert bind() == 1
    (home / OTHER).rename(home / "specs" / "jobs" / "stud.yaml")
    worked.clear()
    renamed = ["binder", GERMAN, "specs/jobs/stud.yaml"]
    assert main([*renamed, "--out", "b.pdf"]) == 0
    assert worked == ["ratchet-stud"]
    assert main([*renamed, "--out", "c.pdf"]) == 0
    assert (home / "b.pdf").read_bytes() == (home / "c.pdf").read_bytes()


def test_a_link_leads_nothing_out_of_the_folder(home: Path) -> None:
    precious = home / "precious"
    precious.mkdir()
    (precious / f"{MARK}.job").write_text("x")
    (home / ".cardgen").mkdir()
    (home / ".cardgen" / "b.jobs").symlink_to(precious)
    assert bind() == 3
    assert [file.name for file in precious.iterdir()] == [f"{MARK}.job"]


@pytest.fixture(scope="module")
def kept() -> Kept:
    return bindery.drawn(make.work(ROOT / OTHER))


def test_a_kept_job_comes_back_whole(kept: Kept) -> None:
    back = unpacked(packed(kept, MARK), MARK)
    assert back is not None
    assert (back.findings, back.entry) == (kept.findings, kept.entry)
    assert back.picture is not None
    assert kept.picture is not None
    for page, was in zip(back.picture.pages, kept.picture.pages, strict=True):
        assert (page.width, page.height) == (was.width, was.height)
        assert (page.marks, page.spans) == (was.marks, was.spans)


def test_no_changed_byte_and_no_other_fingerprint_is_believed(kept: Kept) -> None:
    content = packed(kept, MARK)
    for at in range(0, len(content), 97):
        wrong = bytearray(content)
        wrong[at] ^= 1 << at % 8
        assert unpacked(bytes(wrong), MARK) is None
    assert unpacked(content, "5b" * 32) is None


@pytest.mark.parametrize(
    "said",
    [
        b"",
        b"{}\n[]",
        b"[]\n[]",
        b"[" * 100_000,
        b'{"findings": [], "entry": {"job": 1}, "figures": [{}], "inks": []}\n[]',
        b'{"findings": [[1]], "entry": null}\n[]',
        b" " * 70_000_000,
    ],
)
def test_a_form_that_is_not_ours_is_not_read(said: bytes) -> None:
    for content in (said, compress(said)):
        assert unpacked(_checksum(content, MARK) + content, MARK) is None
