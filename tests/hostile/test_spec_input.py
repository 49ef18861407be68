"""Spec files, names and folders that are out to do harm, given to the command line."""

from __future__ import annotations

import os
import resource
import subprocess
import sys
from pathlib import Path

import pytest

from tests.hostile.floor import FILES, JOB_FILE, Answer, ask, check, lay_out, state

ROOT = Path(__file__).parents[2]
JOB, MACHINE, SHOP, MATERIAL, TEMPLATE = (
    FILES[kind][1] for kind in ("job", "machine", "shop", "material", "template")
)
MOST_MEMORY = 200 * 1024 * 1024


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    inner = tmp_path / "deep" / "home"
    lay_out(inner)
    monkeypatch.chdir(inner)
    return inner


def ask_all(home: Path, job: str | Path = JOB_FILE) -> list[Answer]:
    """Give a job to each command that reads one; nothing may change but the output folder."""
    before = state(home.parents[1], home / "out")
    answers = [
        ask(["check", job]),
        ask(["figures", job, "--json"]),
        ask(["why", job, "thread.lead"]),
        ask(["make", job, "--out", "out"]),
        ask(["binder", job, "--out", "out/binder.pdf"]),
    ]
    for answer in answers:
        check(answer)
    assert state(home.parents[1], home / "out") == before
    return answers


NAMES = [
    "../../evil",
    "/tmp/evil",
    "..",
    ".",
    ".hidden",
    "a/b",
    "a\\b",
    "C:evil",
    "evil.pdf",
    "-rf",
    "~",
    "$HOME",
    "e" * 300,
    '"ev\\0il"',
    '"ev\\nil"',
    "évil",
    "",
]


@pytest.mark.parametrize("name", NAMES)
def test_no_job_is_named_like_a_path(home: Path, name: str) -> None:
    lay_out(home, job=JOB.replace("job: press-main-screw", f"job: {name}"))
    assert {answer.code for answer in ask_all(home)} == {3}
    assert not (home / "out").exists()


@pytest.mark.parametrize("name", [*NAMES, "../materials/bar", "/etc/passwd", "bar.yaml"])
def test_no_material_or_template_is_named_like_a_path(home: Path, name: str) -> None:
    lay_out(home, job=JOB.replace("material: bar", f"material: {name}"))
    assert {answer.code for answer in ask_all(home)} == {3}
    lay_out(home, job=JOB.replace("template: a5-two-column", f"template: {name}"))
    assert {answer.code for answer in ask_all(home)} == {3}
    answer = ask(["make", JOB_FILE, "--out", "out", f"--template={name}".replace('"', "")])
    check(answer)
    assert answer.code == 3
    assert not (home / "out").exists()


@pytest.mark.parametrize(
    "path",
    [
        "/etc/passwd",
        "/etc/passwd.yaml",
        "../../../../../../../../etc/hosts.yaml",
        "~/x.yaml",
        "file:///etc/passwd.yaml",
        "C:/x.yaml",
        "\\\\\\\\host\\\\share\\\\x.yaml",
        "../machines/",
        "../machines/.yaml",
        "../jobs/press-main-screw.yaml",
        "../shop.yaml",
        "x" * 190 + ".yaml",
        "x/" * 90 + "x.yaml",
        '"a\\0b.yaml"',
        "folder.yaml",
        "pipe.yaml",
        "loop.yaml",
        "zero.yaml",
        "long.yaml",
    ],
)
def test_a_machine_that_is_no_machine(home: Path, path: str) -> None:
    beside = home / "specs" / "jobs"
    (beside / "folder.yaml").mkdir()
    os.mkfifo(beside / "pipe.yaml")
    (beside / "loop.yaml").symlink_to("loop.yaml")
    (beside / "zero.yaml").symlink_to("/dev/zero")
    (beside / "long.yaml").write_text("x" * 3_000_000)
    lay_out(home, job=JOB.replace("../machines/bench-metric.yaml", path))
    assert {answer.code for answer in ask_all(home)} == {3}
    assert not (home / "out").exists()


@pytest.mark.parametrize(
    "path",
    ["/etc/passwd", "..", "", "no/such.yaml", "e" * 300, "e" * 5000, "a\nb", "-", "/dev/zero"],
)
def test_a_job_that_is_no_job(home: Path, path: str) -> None:
    (home.parent / "stray.yaml").write_text(MACHINE)
    before = state(home.parents[1], home / "out")
    for words in (
        ["check", "--", path],
        ["figures", "--json", "--", path],
        ["why", "--", path, "thread.lead"],
        ["make", "--out", "out", "--", path],
        ["chart", "--out", "out", "--", path],
    ):
        answer = ask(words)
        check(answer)
        # An empty word is the folder itself, whose jobs are good.
        assert answer.code in ({0, 3} if path == "" else {3}), words
    assert state(home.parents[1], home / "out") == before


@pytest.mark.parametrize("name", ["../../evil", "/tmp/evil", "..", "a/b", "", "e" * 300, "a\nb"])
def test_new_files_stay_in_their_folder(home: Path, name: str) -> None:
    before = state(home.parents[1], home / "out")
    for words in (["new", "--", name], ["new", f"--machine={name}"]):
        answer = ask(words)
        check(answer)
        assert answer.code == 2
    assert state(home.parents[1], home / "out") == before


def outside(home: Path) -> Path:
    away = home.parent / "precious"
    away.mkdir()
    (away / "press-main-screw.pdf").write_text("mine")
    (away / "press-main-screw.txt").write_text("mine")
    return away


@pytest.mark.parametrize(
    ("link", "goal"),
    [
        ("out/press-main-screw.pdf", "../../precious/press-main-screw.pdf"),
        ("out/press-main-screw.pdf", "../../precious/new.pdf"),
        ("out/press-main-screw.pdf", "press-main-screw.pdf"),
        ("out/.cardgen", "../../precious"),
        ("out/.cardgen", "../../nowhere"),
        ("out/.cardgen/press-main-screw.txt", "../../../precious/press-main-screw.txt"),
        ("out/binder.pdf", "../../precious/press-main-screw.pdf"),
        ("specs/jobs/more", "../../specs"),
        ("specs/jobs/more.yaml", "../../../precious/press-main-screw.txt"),
        ("specs/materials/bar.yaml", "/dev/zero"),
        ("templates/a5-two-column.yaml", "../../precious/press-main-screw.txt"),
        ("specs/shop.yaml", "shop.yaml"),
    ],
)
def test_links_lead_no_writing_outside(home: Path, link: str, goal: str) -> None:
    away = outside(home)
    (home / link).parent.mkdir(parents=True, exist_ok=True)
    (home / link).unlink(missing_ok=True)
    (home / link).symlink_to(goal)
    before = state(away, away)
    for words in (
        ["make", "--out", "out"],
        ["make", "--out", "out"],
        ["binder", "--out", "out/binder.pdf"],
        ["stale", "out"],
    ):
        answer = ask(words)
        check(answer)
    assert state(away, away) == before
    assert not (home.parent / "nowhere").exists()


KINDS = {"job": JOB, "machine": MACHINE, "shop": SHOP, "material": MATERIAL, "template": TEMPLATE}
FLOODS = {
    "nothing": "",
    "blanks": " \n" * 30_000,
    "a null": "\x00" * 1000,
    "not text": b"\xff\xfe\x00" * 1000,
    "too long": "# " + "x" * 100_000,
    "deep lists": "[" * 60_000,
    "deep tables": "{a: " * 15_000,
    "deep lines": "".join(" " * depth + "a:\n" for depth in range(300)),
    "unknown keys": "".join(f"k{number}: 1\n" for number in range(6000)),
    "one key": "k: 1\n" * 12_000,
    "long keys": f"{'k' * 30_000}: {'v' * 30_000}\n",
    "laughs": "a: &a [x, x]\n"
    + "".join(f"{n}: &{n} [*{p}, *{p}]\n" for p, n in zip("abcdefgh", "bcdefghi", strict=True)),
    "itself": "a: &a [*a]\n",
    "a program": "job: !!python/object/apply:os.system ['touch evil']\n",
    "merging": "<<: {job: x}\n",
    "documents": "---\n" * 10_000,
    "numbers": f"gears: [{'9, ' * 15_000}9]\n",
    "a long number": f"cardgen: {'9' * 60_000}\n",
    "powers": "gears: [9**9**9, 1e999999, 0x" + "f" * 9000 + "]\n",
    "quotes": "'" * 60_001,
    "comments": "#\n" * 30_000,
    "colons": ": " * 30_000,
    "anchors": "".join(f"&a{number} " for number in range(6000)),
    "signs": "%TAG ! tag:x,2000:\n---\nx: !y z\n",
}


@pytest.mark.parametrize("kind", sorted(KINDS))
@pytest.mark.parametrize("flood", sorted(FLOODS))
def test_floods(home: Path, kind: str, flood: str) -> None:
    """As the whole file, and behind all that a good job says."""
    text = FLOODS[flood]
    as_bytes = text if isinstance(text, bytes) else text.encode()
    behind = [KINDS[kind].encode() + as_bytes] if kind == "job" else []
    for content in (as_bytes, *behind):
        lay_out(home, **{kind: content})
        before = state(home.parents[1], home / "out")
        answer = ask(["check", JOB_FILE])
        check(answer)
        assert answer.code in {0, 3}
        assert state(home.parents[1], home / "out") == before


def test_a_flood_of_faults_is_counted(home: Path) -> None:
    lay_out(home, job=JOB + "".join(f"k{number}: 1\n" for number in range(3000)))
    answer = ask(["check", JOB_FILE])
    check(answer)
    assert answer.err.count("is not a key known here") == 100
    assert "2900 more keys follow" in answer.err


HEAVY = {
    "a long fine thread": JOB.replace("28 mm", "500 mm")
    .replace("pitch: 5 mm", "pitch: 0.1 mm")
    .replace("120 mm", "9000 mm")
    .replace("stock: 30 mm", "stock: 600 mm")
    .replace("stickout: 160 mm", "stickout: 10000 mm"),
    "many starts": JOB.replace("starts: 1", "starts: 8").replace("pitch: 5 mm", "pitch: 3 mm"),
    "a deep thread": JOB.replace("28 mm", "500 mm")
    .replace("pitch: 5 mm", "pitch: 44 mm")
    .replace("stock: 30 mm", "stock: 510 mm"),
    "much to show": JOB.replace("Cut the nut first.", "W" * 600).replace("title: ", "title: W"),
    "many steps": JOB.replace(
        "  - {step: blacken, temperature: 300 degC}\n",
        "  - {step: temper, temperature: 320 degC, time: 1 h}\n" * 9,
    ),
}
MANY_WHEELS = MACHINE.replace(
    "gears: [20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 75, 80, 120, 127]",
    f"gears: [{', '.join(str(20 + number) for number in range(100))}]",
).replace("[single, compound]", "[single, compound, double-compound]")


@pytest.mark.skipif(not Path("/proc/self/status").exists(), reason="no such mark is kept here")
@pytest.mark.parametrize(
    ("heavy", "kind"), [*((text, "job") for text in HEAVY.values()), (MANY_WHEELS, "machine")]
)
def test_a_heavy_job_takes_neither_long_nor_much(home: Path, heavy: str, kind: str) -> None:
    lay_out(home, **{kind: heavy})
    program = (
        "import resource, sys, time; from cardgen.cli import main; "
        f"code = main(['make', '{JOB_FILE}', '--out', 'out']); "
        "used = resource.getrusage(resource.RUSAGE_SELF); "
        # The kernel's mark of this program alone: that of getrusage begins with what the tests
        # themselves had in memory when they started it.
        "status = open('/proc/self/status').read(); "
        "most = int(status.split('VmHWM:')[1].split()[0]); "
        "print(code, used.ru_utime + used.ru_stime, most * 1024)"
    )
    told = subprocess.run(
        [sys.executable, "-c", program],
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        timeout=60,
        check=True,
        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_CPU, (20, 20)),
    )
    code, seconds, memory = told.stdout.splitlines()[-1].split()
    assert int(code) in {0, 1, 3}, told.stderr[-2000:]
    assert "Traceback" not in told.stderr
    assert float(seconds) < 2
    assert int(memory) < MOST_MEMORY
