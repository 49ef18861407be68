"""Jobs for the tests of the cutter, worked out by the real thread sheet and the tool sheet."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from math import radians
from typing import Literal

from cardgen.core.figure import Sheet
from cardgen.rules.tool import Nose, Side
from cardgen.sheets import thread, tool
from cardgen.spec.job import Hand, Job
from cardgen.spec.substance import Sourced
from tests.setup_job import JOB

CLASSES = {"trapezoidal": "7e", "acme": "2G", "metric": "6g", "square": ""}


def job(
    form: str = "trapezoidal",
    diameter: float = 28.0,
    pitch: Fraction = Fraction(5),
    starts: int = 1,
    hand: Hand = "right",
    setting: Literal["level", "tipped"] = "level",
    blank: float = 10.0,
    rake: float = 0.0,
    inch: bool = False,
) -> Job:
    steel = JOB.work.material
    cutting = replace(steel.cutting, rake_deg=Sourced(rake, rake, None, "test", "read"))
    return replace(
        JOB,
        inch=inch,
        thread=replace(
            JOB.thread,
            form=form,
            class_=CLASSES[form],
            diameter=diameter,
            pitch_exact=pitch,
            starts=starts,
            hand=hand,
        ),
        tool=replace(JOB.tool, setting=setting, blank=blank),
        work=replace(JOB.work, material=replace(steel, cutting=cutting)),
    )


def worked(job: Job) -> tuple[Sheet, Sheet]:
    """Return the thread sheet and the tool sheet of a job."""
    first = Sheet("thread", {})
    thread.work_out(job, first)
    second = Sheet("tool", first.figures)
    tool.work_out(job, second)
    return first, second


def recorded_nose(sheet: Sheet) -> Nose:
    """Return the solid that the recorded figures alone describe."""
    n = sheet.number
    leading, trailing = (
        Side(radians(n(f"tool.flank_{side}")), radians(n(f"tool.relief_{side}")))
        for side in ("leading", "trailing")
    )
    return Nose(
        n("tool.tip_width"),
        leading,
        trailing,
        radians(n("tool.end_relief")),
        radians(n("tool.rake")),
        radians(n("tool.tilt")) if "tool.tilt" in sheet else 0.0,
        n("tool.blade_length"),
        n("tool.blade_height"),
    )
