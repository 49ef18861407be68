"""The mistakes that a newcomer is likeliest to make, and what each is told.

Every message says where (file, line, column), what was found, what is allowed, and the mend.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from cardgen.cli import main
from cardgen.core.problems import Problem, SpecError
from cardgen.spec.load import load
from tests.spec.shop_floor import JOB, LEAST, MACHINE, lay_out

# What is written, what the newcomer writes in its place, what stands under the caret, and words
# of the mend.
JOB_MISTAKES = [
    # Quantities.
    ("diameter: 28 mm", "diameter: 28", "28", "write 28 mm or 28 in"),
    ("diameter: 28 mm", "diameter: 5 tpi", "tpi", "go under pitch"),
    ("diameter: 28 mm", "diameter: Ø28", "Ø28", "write 28 with its unit, such as 28 mm"),
    ("diameter: 28 mm", "diameter: ⌀ 28 mm", "⌀ 28 mm", "write 28 mm"),
    ("diameter: 28 mm", "diameter: M28", "M28", "a designation with its letters goes under size"),
    ("diameter: 28 mm", "diameter: 1½ in", "½ in", "write 1 1/2 in"),
    ("diameter: 28 mm", "diameter: 1-1/8 in", "-1/8 in", "one number and its unit"),
    ("diameter: 28 mm", "diameter: 28 mm ±0.1", "mm ±0.1", "leave the tolerance out"),
    ("diameter: 28 mm", "diameter: 1 1/8''", "''", 'did you mean "?'),
    ("pitch: 5 mm", "pitch: 5 TPI", "TPI", "did you mean tpi?"),
    ("pitch: 5 mm", "pitch: 5 threads per inch", "threads", "did you mean tpi?"),
    ("length: 120 mm", "length: 1,200 mm", "1,200 mm", "write 1.200 or 1200"),
    ("length: 120 mm", "length: 120-130 mm", "-130 mm", "one number and its unit"),
    ("load: 8 kN", "load: 800 kg", "kg", "did you mean kgf?"),
    ("320 degC", "320 C", "C, time", "did you mean degC?"),
    ("hardness: 52 HRC", "hardness: HRC 52", "HRC 52", "write 52 HRC"),
    # Words.
    ("form: trapezoidal", "form: Tr", "Tr", "did you mean trapezoidal?"),
    ("form: trapezoidal", "form: trapezoid", "trapezoid", "did you mean trapezoidal?"),
    ("form: trapezoidal", "form: BSW", "BSW", "whitworth, with series: BSW?"),
    ("surface: external", "surface: nut", "nut", "did you mean internal?"),
    ("hand: right", "hand: LH", "LH", "did you mean left?"),
    ("class: 7e", "class: 2G", "2G", "leave class out for the usual one"),
    ("class: 7e", "class: 7E", "7E", "did you mean 7e?"),
    ("starts: 1", "starts: yes", "yes", "in digits"),
    ("material: c45", "material: c46", "c46", "did you mean c45?"),
    ("material: c45", "material: unobtainium", "unobt", "specs/materials/unobtainium.yaml"),
    ("material: c45", "material: mild steel", "mild steel", "write mild-steel"),
    ("rest: none", "rest: no", "no", "did you mean none?"),
    ("step: blacken", "step: blueing", "blueing", "blacken, by heat, or cold-blue?"),
    ("step: harden", "step: quench", "quench", "did you mean harden?"),
    ("template: a5-two-column", "template: a5", "a5", "did you mean a5-"),
    ("[3.0 mm, 3.5 mm]", "3.0 mm, 3.5 mm", "3.0 mm, 3.5", "write [3.0 mm, 3.5 mm]"),
    ("job: press-main-screw", "job: press main screw", "press main", "write press-main-screw"),
    ("job: press-main-screw", "job: press_main_screw", "press_main", "write press-main-screw"),
    # Keys.
    ("stickout: 160 mm", "stick-out: 160 mm", "stick-out", "did you mean stickout?"),
    ("diameter: 28 mm", "dia: 28 mm", "dia", "did you mean diameter?"),
    ("pitch: 5 mm", "Pitch: 5 mm", "Pitch", "did you mean pitch?"),
    ("pitch: 5 mm", "lead: 5 mm", "lead", "write pitch and starts"),
    ("thread-end: groove", "thread_end: groove", "thread_end", "did you mean thread-end?"),
    ("pitch: 5 mm", "pitch: 5 mm\n  pitch: 6 mm", "pitch: 6", "delete one of the two"),
    ("cardgen: 1\n", "", "job: press", "add cardgen"),
    ("  groove: 8 mm\n", "", "work:", "give its width"),
    # The machine, named as one names it elsewhere.
    ("../machines/bench-metric.yaml", "machines/bench-metric.yaml", "mach", "write ../machines/"),
    ("../machines/bench-metric.yaml", "../machines/bench-metric", "../", "bench-metric.yaml"),
    ("../machines/bench-metric.yaml", r"..\machines\bench-metric.yaml", "..", "write ../machines/"),
    # Signs.
    ("  pitch: 5 mm", "\tpitch: 5 mm", "\tpitch", "write blanks"),
    ("pitch: 5 mm", "pitch:5 mm", "pitch:5", "a colon and a blank after the key"),
    ("pitch: 5 mm", "pitch = 5 mm", "pitch =", "a colon and a blank after the key"),
    ("  pitch: 5 mm", "   pitch: 5 mm", ": 5 mm", "indent it as its neighbours are"),
    ("title: Main screw, n", "title: Main screw: n", ": nipping", "in quotes"),
    ("title: Main screw, n", 'title: "Main screw, n', '"Main', "close it"),
    ("title: Main screw, n", "title: #2 screw, n", "title:", "in quotes"),
    ("300 degC}", "300 degC", "{step: blacken", "close it"),
    ("tool:\n", "---\ntool:\n", "---", "make two files"),
    # The work.
    ("length: 120 mm", "length: 200 mm", "160 mm", "stick out further"),
    ("{step: harden, hardness: 52 HRC}", "{step: temper}\n  - {step: harden}", "temper}", "put"),
]

MACHINE_MISTAKES = [
    ("gears: [20, 25,", "gears: 20, 25,", "20, 25", "write [20, 25"),
    ("[60 rev/min, 110", "[60, 110", "60, 110", "write 60 rev/min"),
    ("[60 rev/min, 110", "[60 RPM, 110", "RPM", "did you mean rev/min?"),
    ("{pitch: 3 mm}", "{pitch: 3}", "3}", "write 3 mm or 3 tpi"),
    ("{pitch: 3 mm}", "3 mm", "3 mm", "write {pitch: 3 mm}"),
    ("reverse: true", "reverse: on", "on", "did you mean true?"),
    ("power: 550 W", "power: 0,5 HP", "HP", "did you mean hp?"),
    ("swivel: true", "swivel: Yes", "Yes", "did you mean yes?"),
    ("kind: fixed", "kind: no", "no", "did you mean none?"),
    ("compound]", "compounds]", "compounds]", "did you mean compound?"),
    ("reads: diameter", "reads: dia", "dia", "did you mean diameter?"),
]


def told(path: Path) -> Problem:
    """Return the one problem that a job is told."""
    with pytest.raises(SpecError) as caught:
        load(path)
    assert len(caught.value.problems) == 1, str(caught.value)
    return caught.value.problems[0]


def assert_complete(problem: Problem, text: str, file: Path, under: str, mend: str) -> None:
    place = problem.place
    assert str(problem).startswith(f"{file}:{place.line}:{place.column}")
    line = text.split("\n")[place.line - 1]
    assert line[place.column - 1 :].startswith(under)
    assert problem.found
    assert problem.allowed
    assert mend in problem.mend


@pytest.mark.parametrize(("good", "bad", "under", "mend"), JOB_MISTAKES)
def test_a_mistake_in_a_job(tmp_path: Path, good: str, bad: str, under: str, mend: str) -> None:
    text = JOB.replace(good, bad, 1)
    assert text != JOB
    path = lay_out(tmp_path, text)
    assert_complete(told(path), text, path, under, mend)


@pytest.mark.parametrize(("good", "bad", "under", "mend"), MACHINE_MISTAKES)
def test_a_mistake_in_a_machine(tmp_path: Path, good: str, bad: str, under: str, mend: str) -> None:
    text = MACHINE.replace(good, bad, 1)
    assert text != MACHINE
    path = lay_out(tmp_path)
    file = tmp_path / "specs" / "machines" / "bench-metric.yaml"
    file.write_text(text, encoding="utf-8")
    problem = told(path)
    assert problem.place.file.endswith("bench-metric.yaml")
    assert_complete(problem, text, Path(problem.place.file), under, mend)


def test_a_square_thread_without_a_pitch(tmp_path: Path) -> None:
    text = LEAST.replace("{form: metric, diameter: 10 mm,", "{form: square, diameter: 25 mm,")
    problem = told(lay_out(tmp_path, text))
    assert problem.key == "thread.pitch"
    assert "pitch: 5 mm" in problem.allowed
    assert "listed near it" in problem.mend


def test_a_nut_held_like_a_screw(tmp_path: Path) -> None:
    text = LEAST.replace("length: 25 mm}", "length: 25 mm, surface: internal}").replace(
        "{material: c45}", "{material: c45, holding: between-centres}"
    )
    problem = told(lay_out(tmp_path, text))
    assert problem.allowed == "chuck"
    assert "boring bar" in problem.mend


@pytest.mark.parametrize("code", ["utf-16", "latin-1"])
def test_a_file_saved_in_another_code(tmp_path: Path, code: str) -> None:
    path = lay_out(tmp_path)
    path.write_bytes(JOB.replace("Main", "Größte").encode(code))
    problem = told(path)
    assert str(problem).startswith(f"{path}:")
    assert "save the file as UTF-8" in problem.mend


@pytest.mark.parametrize(
    ("good", "written", "diameter"),
    [
        ("diameter: 28 mm", "diameter: 28mm", 28.0),
        ("diameter: 28 mm", 'diameter: 1 1/8"', 28.575),
        ("diameter: 28 mm", "diameter: 28,0 mm", 28.0),
        ("diameter: 28 mm", "diameter: '28 mm'", 28.0),
        ("pitch: 5 mm", "pitch: 5,5 mm", 28.0),
        ("material: c45", "material: C45", 28.0),
        ("320 degC", "320 °C", 28.0),
    ],
)
def test_what_looks_like_a_mistake_and_can_mean_one_thing_only(
    tmp_path: Path, good: str, written: str, diameter: float
) -> None:
    assert load(lay_out(tmp_path, JOB.replace(good, written, 1))).thread.diameter == diameter


def test_a_file_that_windows_wrote(tmp_path: Path) -> None:
    path = lay_out(tmp_path)
    path.write_bytes(b"\xef\xbb\xbf" + JOB.replace("\n", "\r\n").encode())
    assert load(path).name == "press-main-screw"


# --- words on the command line -------------------------------------------------------------------


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    lay_out(tmp_path)
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.mark.parametrize(
    ("words", "mend"),
    [
        (["check", "pres"], "did you mean press.yaml?"),
        (["check", "specs/jobs/pres.yaml"], "did you mean press.yaml?"),
        (["check", "specs/jobs/press.yml"], "did you mean press.yaml?"),
        (["check", "specs/machines/bench-metric.yaml"], "this is a machine file, not a job"),
        (["check", "empty"], "cardgen new NAME writes one"),
        (["make", "--machine", "bench-metrik", "press"], "did you mean bench-metric.yaml?"),
        (["make", "--template", "a5-two-colum", "press"], "did you mean a5-two-column?"),
    ],
)
def test_a_file_that_is_not_there(
    home: Path, capsys: pytest.CaptureFixture[str], words: list[str], mend: str
) -> None:
    (home / "empty").mkdir()
    assert main(words) == 3
    assert mend in capsys.readouterr().err


def test_a_folder_names_what_it_does_not_read(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (home / "specs" / "jobs" / "press.yaml").rename(home / "specs" / "jobs" / "press.yml")
    assert main(["check"]) == 3
    assert "press.yml: not read: name it press.yaml" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("words", "mend"),
    [
        (["new", "main screw"], "write main-screw"),
        (["new", "main_screw.yaml"], "write main-screw"),
        (["new", "--machine", "Bob's lathe"], "write Bob-s-lathe"),
        (["new", "main-screw", "--form", "trapez"], "did you mean trapezoidal?"),
        (["why", "press", "lead_angle"], "did you mean thread.lead_angle_major or thread.lead_"),
        (["why", "press", "thread.ptch"], "did you mean thread.pitch?"),
        (["why", "press", "xyz"], "cardgen figures press names all"),
    ],
)
def test_a_name_that_is_none(
    home: Path, capsys: pytest.CaptureFixture[str], words: list[str], mend: str
) -> None:
    assert main(words) == 2
    assert mend in capsys.readouterr().err


def test_no_command_tells_the_first_steps(capsys: pytest.CaptureFixture[str]) -> None:
    assert main([]) == 2
    assert "cardgen new --machine" in capsys.readouterr().err
