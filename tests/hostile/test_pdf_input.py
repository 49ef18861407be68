"""PDF files that are not what they seem, given to ``recover`` and ``stale``.

Whatever comes: no traceback, an exit code of the contract, an answer of bounded length that cannot
steer a terminal, and no file outside the folder asked for.
"""

from __future__ import annotations

import json
import random
import shutil
import time
import zlib
from collections.abc import Callable
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfWriter

from cardgen.cli import main

ROOT = Path(__file__).parents[2]
JOB = "specs/jobs/quick-clamp-screw.yaml"


@pytest.fixture(scope="module")
def card(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    """A real card, made once."""
    out = tmp_path_factory.mktemp("card")
    assert main(["make", str(ROOT / JOB), "--out", str(out)]) == 0
    return (out / "quick-clamp-screw.pdf").read_bytes()


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    inner = tmp_path / "deep" / "home"
    shutil.copytree(ROOT / "specs", inner / "specs")
    shutil.copytree(ROOT / "templates", inner / "templates")
    monkeypatch.chdir(inner)
    return inner


def files_of(top: Path) -> set[Path]:
    return {path for path in top.rglob("*") if path.is_file()}


def ask(
    home: Path, pdf: bytes, capsys: pytest.CaptureFixture[str], allowed: tuple[int, ...]
) -> str:
    """Give a PDF to both commands, and return all that they said."""
    before = files_of(home.parents[1])
    (home / "x.pdf").write_bytes(pdf)
    start = time.process_time()
    assert main(["recover", "x.pdf", "--out", "back"]) in allowed
    assert main(["stale", "x.pdf"]) in allowed
    assert time.process_time() - start < 4
    after = files_of(home.parents[1]) - before - {home / "x.pdf"}
    assert all(path.is_relative_to(home / "back") for path in after), after
    told = "".join(capsys.readouterr())
    assert "Traceback" not in told
    assert all(char.isprintable() or char == "\n" for char in told)
    return told


def with_files(files: dict[str, bytes]) -> bytes:
    writer = PdfWriter()
    writer.add_blank_page(100, 100)
    for name, content in files.items():
        writer.add_attachment(name, content)
    out = BytesIO()
    writer.write(out)
    return out.getvalue()


def record(job: str = "j", **more: object) -> bytes:
    told = {"job": job, "version": "0", "code": "c", "figures": [], **more}
    return json.dumps(told).encode()


@pytest.mark.parametrize(
    "name",
    [
        "../../evil.yaml",
        "/tmp/evil.yaml",
        "specs/jobs/../../../evil.yaml",
        "specs/jobs/..",
        "specs\\jobs\\..\\..\\evil.yaml",
        "C:/evil.yaml",
        "specs/jobs/evil.sh",
        "specs/jobs/.yaml",
        "specs/jobs/ev\x00il.yaml",
        "specs/jobs/ev\x1b[2Jil.yaml",
        "specs/jobs/" + "e" * 400 + ".yaml",
        "specs/jobs/evil.yaml/",
        "~/evil.yaml",
        "evil.yaml",
        "specs/jobs//evil.yaml\n",
    ],
)
def test_no_file_is_written_outside(
    home: Path, capsys: pytest.CaptureFixture[str], name: str
) -> None:
    told = ask(home, with_files({"record.json": record(), name: b"cardgen: 1\n"}), capsys, (3,))
    assert len(told) < 2000
    assert not (home / "back").exists()


@pytest.mark.parametrize(
    "job", ["../../../etc/passwd", "/etc/passwd", "a/b", "..", "a\x00b", "e" * 5000, "\x1b[2J", ""]
)
def test_a_record_cannot_name_a_job_elsewhere(
    home: Path, capsys: pytest.CaptureFixture[str], job: str
) -> None:
    told = ask(home, with_files({"record.json": record(job)}), capsys, (3,))
    assert len(told) < 2000


def test_a_record_cannot_steer_the_terminal(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    figures = [
        {"id": f"thread.\x1b[31m{number}\n" * 50, "value": "\x1b[2J" * 500} for number in range(500)
    ]
    name = "quick-clamp-screw"
    told = ask(home, with_files({"record.json": record(name, figures=figures)}), capsys, (0, 3, 4))
    lines = told.split("\n")
    assert max(map(len, lines)) < 500
    assert sum("x.pdf: " in line for line in lines) == 1


def _damaged(random_: random.Random, pdf: bytes) -> bytes:
    data = bytearray(pdf)
    kind = random_.randrange(4)
    if kind == 0:
        return bytes(data[: random_.randrange(len(data))])
    if kind == 1:
        at = random_.randrange(len(data))
        return bytes(data[:at] + data[at + random_.randrange(1, 3000) :])
    if kind == 2:
        at, to = sorted(random_.randrange(len(data)) for _ in range(2))
        return bytes(data[:to] + data[at:])
    for _ in range(random_.randrange(1, 60)):
        data[random_.randrange(len(data))] = random_.randrange(256)
    return bytes(data)


def test_damaged_cards(home: Path, card: bytes, capsys: pytest.CaptureFixture[str]) -> None:
    random_ = random.Random(4)
    for _ in range(40):
        # What damage leaves readable is a card still, fresh or stale.
        ask(home, _damaged(random_, card), capsys, (0, 2, 3, 4))
        shutil.rmtree(home / "back", ignore_errors=True)


def _bomb() -> bytes:
    """A stream of 400 MB that is packed into 400 kB, as the attached record."""
    packer = zlib.compressobj(9)
    packed = b"".join(packer.compress(b" " * 1_000_000) for _ in range(400)) + packer.flush()
    parts = [
        b"<< /Type /Catalog /Pages 2 0 R /Names << /EmbeddedFiles << /Names [(record.json) 4 0 R] "
        b">> >> >>",
        b"<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
        b"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 9 9] >>",
        b"<< /Type /Filespec /F (record.json) /UF (record.json) /EF << /F 5 0 R >> >>",
        b"<< /Type /EmbeddedFile /Filter /FlateDecode /Length %d >>\nstream\n%b\nendstream"
        % (len(packed), packed),
    ]
    return _numbered(parts)


def _numbered(parts: list[bytes]) -> bytes:
    out, places = b"%PDF-1.7\n", []
    for number, part in enumerate(parts, start=1):
        places.append(len(out))
        out += b"%d 0 obj\n%b\nendobj\n" % (number, part)
    start = len(out)
    out += b"xref\n0 %d\n0000000000 65535 f \n" % (len(parts) + 1)
    out += b"".join(b"%010d 00000 n \n" % place for place in places)
    size = len(parts) + 1
    return out + b"trailer << /Size %d /Root 1 0 R >>\nstartxref\n%d\n%%%%EOF" % (size, start)


def _loop() -> bytes:
    """A tree of names that holds itself."""
    return _numbered(
        [
            b"<< /Type /Catalog /Pages 2 0 R /Names << /EmbeddedFiles 4 0 R >> >>",
            b"<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
            b"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 9 9] >>",
            b"<< /Kids [4 0 R 4 0 R] >>",
        ]
    )


def _locked() -> bytes:
    writer = PdfWriter()
    writer.add_blank_page(100, 100)
    writer.add_attachment("record.json", record())
    writer.encrypt("secret", algorithm="RC4-128")
    out = BytesIO()
    writer.write(out)
    return out.getvalue()


@pytest.mark.parametrize(
    "make",
    [
        _bomb,
        _loop,
        _locked,
        lambda: b"",
        lambda: b"%PDF-1.7",
        lambda: b"\x00" * 100_000,
        lambda: b"cardgen: 1\n",
        lambda: with_files({}),
        lambda: with_files({"record.json": b"[" * 100_000}),
        lambda: with_files({"record.json": b"{}"}),
        lambda: with_files({"record.json": b'{"job": 1e999, "figures": {"a": 1}}'}),
        lambda: with_files({"record.json": record(figures=[1, None, "x"])}),
        lambda: with_files({"record.json": record(figures="x" * 10)}),
        lambda: with_files({"record.json": b"\xff\xfe\x00"}),
        lambda: with_files({"binder.json": b"\x00"}),
        lambda: with_files({"chart.json": b'{"machine": [], "lines": []}'}),
    ],
)
def test_files_made_to_hurt(
    home: Path, capsys: pytest.CaptureFixture[str], make: Callable[[], bytes]
) -> None:
    told = ask(home, make(), capsys, (3,))
    assert len(told) < 2000


@pytest.mark.parametrize(
    "code",
    ["", "0000-0000", "K7MQ-29XG", "\x1b[2J", "-", "--", "k7mq" * 500, "../../etc/passwd", "é" * 9],
)
def test_codes_that_are_none(home: Path, capsys: pytest.CaptureFixture[str], code: str) -> None:
    try:
        answer = main(["stale", "--", code])
    except SystemExit as leave:
        answer = int(str(leave.code))
    assert answer in (2, 3)
    told = "".join(capsys.readouterr())
    assert "Traceback" not in told
    assert len(told) < 2000
    assert all(char.isprintable() or char == "\n" for char in told)
