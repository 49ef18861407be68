"""Generated files of all five kinds through the command line: every end is one of the contract.

The ordinary run takes 150, a run for landing (``CI`` set) 2,000. The long run is
``pytest -m slow tests/hostile/test_spec_fuzz.py``: 100,000 in all, cut into shards so that it can
be spread over machines or nights. ``CARDGEN_FUZZ_SEED``, ``_COUNT`` and ``_SHARD`` (``3/20``)
rule it.
"""

from __future__ import annotations

import os
import random
import shutil
from pathlib import Path

import pytest

from tests.hostile.floor import JOB_FILE, ask, check, check_json, lay_out, state
from tests.hostile.spoil import SHAPES, spoilt

SEED = os.environ.get("CARDGEN_FUZZ_SEED", "1")
USUAL = 2000 if os.environ.get("CI") else 150
LONG = int(os.environ.get("CARDGEN_FUZZ_COUNT", "100000"))
SHARD = os.environ.get("CARDGEN_FUZZ_SHARD", "1/1")
KINDS = sorted(SHAPES)


def try_one(home: Path, name: str) -> int:
    """Spoil one file, or two, of a shop and give the shop to a command; return the exit code."""
    chance = random.Random(f"{SEED} {name}")
    kinds = chance.sample(KINDS, chance.choice([1, 1, 1, 2]))
    texts = {kind: spoilt(kind, chance) for kind in kinds}
    lay_out(home, **texts)
    out = home / "out"
    before = state(home.parent, out)
    making = chance.random() < 0.15
    command = ["make", JOB_FILE, "--out", "out"] if making else ["figures", JOB_FILE, "--json"]
    told = f"example {name} of seed {SEED}: {command}\n" + "\n".join(
        f"--- {kind}\n{text[:3000]}" for kind, text in texts.items()
    )
    try:
        answer = ask(command)
        check(answer)
        assert answer.code in {0, 1, 3}
        if not making:
            check_json(answer.out)
        assert state(home.parent, out) == before
        written = [path for path in out.rglob("*") if path.is_file()] if out.exists() else []
        cards = [path for path in written if path.suffix == ".pdf"]
        assert len(cards) == (making and answer.code == 0)
        assert all(path.parent in {out, out / ".cardgen"} for path in written)
    except BaseException as fault:
        fault.add_note(told)
        raise
    shutil.rmtree(out, ignore_errors=True)
    return answer.code


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    inner = tmp_path / "deep" / "home"
    inner.mkdir(parents=True)
    monkeypatch.chdir(inner)
    return inner


def test_spoilt_files_end_well(home: Path) -> None:
    ends = [try_one(home, f"usual {number}") for number in range(USUAL)]
    # Were nearly all refused at the door, the fuzzing would reach nothing behind it.
    assert ends.count(3) < 0.8 * USUAL
    assert ends.count(0) > 0.05 * USUAL


@pytest.mark.slow
def test_a_hundred_thousand_spoilt_files_end_well(home: Path) -> None:
    shard, shards = map(int, SHARD.split("/"))
    for number in range(shard - 1, LONG, shards):
        try_one(home, f"long {number}")
