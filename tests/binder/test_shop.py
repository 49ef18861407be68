"""A shop of a thousand jobs: that it is bound, and what that takes."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.binder.shop import ROOT, open_shop

A_PAGE = 40_000
"""What memory may grow with each page [bytes]."""

MEASURED = """
import resource, sys
from cardgen.cli import main
code = main(sys.argv[1:])
print(code, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss)
"""


def bind(home: Path, count: int) -> tuple[PdfReader, int, int]:
    """Return the binder of so many jobs, its size and the memory that was taken [bytes]."""
    jobs = home / "specs" / "jobs"
    shutil.rmtree(jobs, ignore_errors=True)
    open_shop(jobs, count)
    done = subprocess.run(
        [sys.executable, "-c", MEASURED, "binder", "--out", "b.pdf"],
        cwd=home,
        env={"PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        check=True,
    )
    name, told = done.stdout.splitlines()
    code, kilobytes = map(int, told.split())
    assert (name, code) == ("b.pdf", 0)
    return PdfReader(home / name), (home / name).stat().st_size, 1024 * kilobytes


@pytest.mark.slow
@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="ru_maxrss is in kB on Linux")
def test_a_thousand_jobs(tmp_path: Path) -> None:
    shutil.copytree(ROOT / "specs", tmp_path / "specs")
    few, _, before = bind(tmp_path, 40)
    many, size, after = bind(tmp_path, 1000)
    assert after - before < A_PAGE * (len(many.pages) - len(few.pages))
    assert size < 50_000_000, "what stale and recover still read"
    jobs = [line for part in many.outline if isinstance(part, list) for line in part]
    assert len([line for line in jobs if "Chart" not in str(line["/Title"])]) == 1000
    for line in jobs[::97]:
        page = many.get_destination_page_number(line)
        assert "card 1 of" in many.pages[page].extract_text()
