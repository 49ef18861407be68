"""The picture of a bar in its holding: what is drawn stays within its part."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from cardgen import make

MACHINE = Path(__file__).parents[2] / "specs" / "machines" / "bench-metric.yaml"
JOB = """
cardgen: 1
job: short-stud
title: Short stud
thread: {{form: metric, diameter: 12 mm, pitch: 1 mm, length: {length}}}
work: {{material: 11smnpb30, rest: follow, thread-end: open, cut-towards: {towards}}}
machine: bench-metric.yaml
"""


@pytest.mark.parametrize("towards", ["chuck", "tailstock"])
@pytest.mark.parametrize("length", ["3 mm", "8 mm", "150 mm"])
def test_a_follow_rest_is_drawn_on_the_bar_however_short_that_is(
    tmp_path: Path, length: str, towards: str
) -> None:
    shutil.copy(MACHINE, tmp_path)
    job = tmp_path / "short-stud.yaml"
    job.write_text(JOB.format(length=length, towards=towards))
    # Every part is checked as it is placed.
    assert make.picture(make.work(job, template="a4-wall")).pages
