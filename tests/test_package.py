"""What is shipped: a wheel that works in an empty folder, a whole source archive, public names."""

from __future__ import annotations

import os
import subprocess
import sys
import tarfile
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
FOLDERS = ("cardgen", "specs", "templates", "tests", "build/gallery")
JOB = """\
cardgen: 1
job: one
thread: {form: trapezoidal, diameter: 24 mm, pitch: 5 mm, length: 90 mm}
work: {material: c45}
machine: lathe.yaml
"""


def run(*words: str, cwd: Path, path: Path | None = None) -> subprocess.CompletedProcess[str]:
    """Run Python in a folder, with nothing of the checkout on its path."""
    environment = {k: v for k, v in os.environ.items() if not k.startswith("PYTHON")}
    if path is not None:
        environment["PYTHONPATH"] = str(path)
    return subprocess.run(
        [sys.executable, *words], cwd=cwd, env=environment, capture_output=True, text=True
    )


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    from hatchling.builders.wheel import WheelBuilder

    return Path(next(WheelBuilder(str(ROOT)).build(directory=str(tmp_path_factory.mktemp("w")))))


@pytest.fixture(scope="module")
def unpacked(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the folder of an unpacked wheel, which is what installing it comes to."""
    folder = tmp_path_factory.mktemp("site")
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(folder)
    return folder


def test_a_wheel_holds_the_package_whole_and_nothing_else(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as archive:
        names = set(archive.namelist())
    shipped = {name for name in names if not name.split("/")[0].endswith(".dist-info")}
    package = {
        path.relative_to(ROOT).as_posix()
        for path in (ROOT / "cardgen").rglob("*")
        if path.is_file() and "__pycache__" not in path.parts
    }
    templates = {f"cardgen/data/templates/{path.name}" for path in (ROOT / "templates").iterdir()}
    assert shipped == package | templates
    assert "cardgen/py.typed" in shipped
    assert any(name.endswith("licenses/LICENSE") for name in names)


def test_its_metadata_says_what_a_newcomer_asks(unpacked: Path) -> None:
    from email.parser import Parser

    (file,) = unpacked.glob("*.dist-info/METADATA")
    told = Parser().parsestr(file.read_text("utf-8"))
    assert told["Name"] == "cardgen"
    assert told["Version"] in file.parent.name
    assert told["License-Expression"] == "MIT"
    assert told["License-File"] == "LICENSE"
    assert told["Requires-Python"] == ">=3.11"
    assert "Typing :: Typed" in told.get_all("Classifier", [])
    assert told["Description-Content-Type"] == "text/markdown"
    assert told.get_payload() == (ROOT / "README.md").read_text("utf-8")


def test_a_wheel_makes_a_card_in_an_empty_folder(unpacked: Path, tmp_path: Path) -> None:
    (tmp_path / "one.yaml").write_text(JOB, encoding="utf-8")
    lathe = (ROOT / "specs" / "machines" / "bench-metric.yaml").read_bytes()
    (tmp_path / "lathe.yaml").write_bytes(lathe)
    # -P: the current folder is not searched for packages.
    done = run("-P", "-m", "cardgen", "make", "one.yaml", cwd=tmp_path, path=unpacked)
    assert done.returncode == 0, done.stderr
    assert done.stdout.split() == [str(Path("build", "one.pdf"))]
    card = (tmp_path / "build" / "one.pdf").read_bytes()
    assert card.startswith(b"%PDF")
    where = run("-P", "-c", "import cardgen; print(cardgen.__file__)", cwd=tmp_path, path=unpacked)
    assert where.stdout.startswith(str(unpacked))


def test_a_source_archive_holds_what_the_tests_need(tmp_path: Path) -> None:
    from hatchling.builders.sdist import SdistBuilder

    archive = next(SdistBuilder(str(ROOT)).build(directory=str(tmp_path)))
    with tarfile.open(archive) as packed:
        names = {name.partition("/")[2] for name in packed.getnames()}
    for word in ("README.md", "DEVELOPERS.md", "LICENSE", "pyproject.toml", "PKG-INFO"):
        assert word in names
    for folder in FOLDERS:
        held = {
            path.relative_to(ROOT).as_posix()
            for path in (ROOT / folder).rglob("*")
            if path.is_file() and "__pycache__" not in path.parts
        }
        assert held <= names


# --- from Python ---------------------------------------------------------------------------------

SCRIPT = """\
from pathlib import Path

from cardgen import CardgenError, Sheet, load, make_binder, make_card, work

job = Path("one.yaml")
try:
    load(Path("lost.yaml"))
except CardgenError as error:
    print("no" in str(error))
thread: Sheet = work(job).sheets["thread"]
print(load(job).name, thread["thread.lead"].number)
print(make_card(job, Path("out")).status, make_binder([job], Path("out/all.pdf")))
"""


def test_the_public_names_do_what_they_say(unpacked: Path, tmp_path: Path) -> None:
    (tmp_path / "one.yaml").write_text(JOB, encoding="utf-8")
    lathe = (ROOT / "specs" / "machines" / "bench-metric.yaml").read_bytes()
    (tmp_path / "lathe.yaml").write_bytes(lathe)
    done = run("-P", "-c", SCRIPT, cwd=tmp_path, path=unpacked)
    assert done.stderr == ""
    assert done.stdout.splitlines() == ["True", "one 5.0", "made ()"]
    assert (tmp_path / "out" / "all.pdf").read_bytes().startswith(b"%PDF")


def test_the_package_loads_nothing_before_it_is_asked() -> None:
    script = "import sys, cardgen; print([m for m in sys.modules if m.startswith('cardgen.')])"
    assert run("-c", script, cwd=ROOT).stdout.strip() == "[]"


def test_a_name_that_is_not_there() -> None:
    import cardgen

    with pytest.raises(AttributeError, match="has no attribute 'make_cards'"):
        _ = cardgen.make_cards  # type: ignore[attr-defined]
    for name in cardgen.__all__:
        assert getattr(cardgen, name) is not None


def test_the_types_reach_a_user(unpacked: Path, tmp_path: Path) -> None:
    file = tmp_path / "mine.py"
    wrong = 'make_card("one.yaml", 5)\n'
    file.write_text(SCRIPT + wrong, encoding="utf-8")
    check = ["-m", "mypy", "--strict", "--cache-dir", str(tmp_path / "cache"), str(file)]
    told = run(*check, cwd=tmp_path, path=unpacked).stdout
    assert 'Argument 1 to "make_card" has incompatible type "str"; expected "Path"' in told
    assert 'Argument 2 to "make_card" has incompatible type "int"; expected "Path"' in told
    assert "Found 2 errors in 1 file" in told
