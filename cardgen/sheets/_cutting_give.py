"""How far chuck, centres and rest yield: as the machine's file says, or as is usual."""

from __future__ import annotations

from cardgen.core.figure import Input
from cardgen.rules.holding import Gives
from cardgen.sheets._constants import constant, value
from cardgen.spec.job import Job

_TABLE = "cutting/give"


def give(job: Job, part: str) -> Input:
    """Return how far a part of the lathe yields to 100 N [mm], and who says so.

    Parameters
    ----------
    part
        ``chuck``, ``tilt``, ``head-centre``, ``centre`` or ``rest``.
    """
    measured = job.machine.give.get(part)
    if measured is not None:
        return Input(measured, "mm", f"machine:give.{part}", "read")
    return constant(_TABLE, part)


def gives(job: Job) -> Gives:
    """Return how far all parts yield to 1 N."""
    pull, arm = value(_TABLE, "pull"), value(_TABLE, "arm")

    def each(part: str) -> float:
        return float(give(job, part).value) / pull

    return Gives(
        chuck=each("chuck"),
        # 100 N at 100 mm turns the bar by its movement over that arm.
        tilt=each("tilt") / arm**2,
        head=each("head-centre"),
        centre=each("centre"),
        rest=each("rest"),
    )


def give_inputs(job: Job) -> dict[str, Input]:
    """Return what the holding and rest of a job rest on, by symbol."""
    parts = {
        "chuck": ("chuck", "tilt"),
        "chuck-and-centre": ("chuck", "tilt", "centre"),
        "between-centres": ("head-centre", "centre"),
    }[job.work.holding]
    rest = () if job.work.rest == "none" else ("rest",)
    symbols = {"chuck": "uj", "tilt": "ut", "head-centre": "uh", "centre": "uc", "rest": "ur"}
    return {symbols[part]: give(job, part) for part in (*parts, *rest)}
