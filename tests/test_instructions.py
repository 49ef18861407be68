"""This test ensures that no command takes more and more instructions without anyone noticing.

Renew the stored counts with ``python -m tests.instructions``, and say in the commit what the code
does more for it.
"""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.instructions import COMMANDS, VALGRIND, counted, stored
from tests.measure import ROOT

SLACK = 1.10


@pytest.mark.slow
@pytest.mark.skipif(VALGRIND is None, reason="valgrind is not installed")
@pytest.mark.parametrize("name", COMMANDS)
def test_a_command_takes_no_more_instructions_than_stored(name: str, tmp_path: Path) -> None:
    known = stored()
    if name not in known:
        pytest.skip("nothing is stored for this build of Python")
    shutil.copytree(ROOT / "specs", tmp_path / "specs")
    assert counted(COMMANDS[name], tmp_path) <= SLACK * known[name]
