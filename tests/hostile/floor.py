"""A shop on disk to be spoilt, and the promises that every command keeps whatever stands in it."""

from __future__ import annotations

import contextlib
import io
import json
import os
import re
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import pytest

from cardgen.cli import main
from tests.spec.shop_floor import JOB, MACHINE, MATERIAL, SHOP, TEMPLATE

FILES = {
    "job": ("specs/jobs/press-main-screw.yaml", JOB.replace("material: c45", "material: bar")),
    "machine": ("specs/machines/bench-metric.yaml", MACHINE),
    "shop": ("specs/shop.yaml", SHOP),
    "material": ("specs/materials/bar.yaml", MATERIAL.replace("spring-steel", "bar")),
    "template": ("templates/a5-two-column.yaml", TEMPLATE),
}
JOB_FILE = FILES["job"][0]
LONGEST_MESSAGE = 2000
LONGEST_WAIT = float(os.environ.get("CARDGEN_PATIENCE", "2"))
CODES = frozenset({0, 1, 2, 3, 4})
"""What a command may end in; 70, a fault of our own, is what these tests look for."""


@dataclass(frozen=True, slots=True)
class Answer:
    code: int
    out: str
    err: str
    seconds: float


def lay_out(home: Path, **texts: str | bytes) -> Path:
    """Write the shop, with other text in place of some of its files; return the job's file."""
    for kind, (name, good) in FILES.items():
        text = texts.get(kind, good)
        file = home / name
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(text if isinstance(text, bytes) else text.encode("utf-8", "surrogatepass"))
    return home / JOB_FILE


def state(top: Path, besides: Path) -> dict[str, tuple[int, int]]:
    """Return size and time of everything below a folder, links as links, apart from one folder."""
    seen = {}
    for folder, below, files in os.walk(top):
        below[:] = [name for name in below if Path(folder, name) != besides]
        for name in [*below, *files]:
            path = Path(folder, name)
            told = path.lstat()
            seen[str(path)] = (0, 0) if path.is_dir() else (told.st_size, told.st_mtime_ns)
    return seen


def ask(words: Sequence[str | Path]) -> Answer:
    """Run a command in this process."""
    out, err = io.StringIO(), io.StringIO()
    start = time.process_time()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        try:
            code = main([str(word) for word in words])
        except SystemExit as leave:  # argparse
            code = int(str(leave.code))
    return Answer(code, out.getvalue(), err.getvalue(), time.process_time() - start)


_INDENTED = re.compile(r"\n(?!\s)")


def check(answer: Answer) -> None:
    """Hold an answer against what every command promises."""
    assert answer.code in CODES, answer.err[-3000:]
    assert "Traceback" not in answer.err
    assert answer.seconds < LONGEST_WAIT, f"{answer.seconds:.1f} s"
    messages = _INDENTED.split(answer.err.strip("\n"))
    assert max(map(len, messages)) < LONGEST_MESSAGE, max(messages, key=len)[:3000]
    assert len(messages) <= 400, f"{len(messages)} messages"
    assert all(char.isprintable() or char == "\n" for char in answer.out + answer.err)
    (answer.out + answer.err).encode("utf-8")


def check_json(text: str) -> None:
    """Hold the lines of ``figures --json`` against the rules of JSON: no NaN, no infinity."""
    for line in text.splitlines():
        told = json.loads(line, parse_constant=lambda word: pytest.fail(f"{word} was printed"))
        assert {"job", "figures"} <= set(told)
