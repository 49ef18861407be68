"""Sizes to measure, written into instructions in the job's own unit."""

from __future__ import annotations

from collections.abc import Iterable

from cardgen.core.names import Side
from cardgen.core.rounding import MM_PER_INCH, rounded, with_unit
from cardgen.core.words import told
from cardgen.spec.job import Job


def length(job: Job, value: float, side: Side = "nearest", decimals: int = 3) -> str:
    """Write a length; an inch takes one decimal more."""
    if job.inch:
        return with_unit(value / MM_PER_INCH, "in", decimals + 1, side)
    return with_unit(value, "mm", decimals, side)


def span(job: Job, low: float, high: float, decimals: int = 3) -> str:
    """Write limits, neither rounded outwards; closer ones with as many decimals as they need."""
    scale, places = (MM_PER_INCH, decimals + 1) if job.inch else (1.0, decimals)
    least = rounded(low / scale, places, "up")
    if float(least) > float(rounded(high / scale, places, "down")):
        return span(job, low, high, decimals + 1)
    return told("{least} to {most}", least=least, most=length(job, high, "down", decimals))


def in_a_row(job: Job, values: Iterable[float]) -> str:
    """Write several sizes in one row, as short as they are; decimal commas may stand in them."""
    if job.inch:
        return "; ".join(f"{value / MM_PER_INCH:.4f}" for value in values) + " in"
    return "; ".join(f"{value:g}" for value in values) + " mm"
