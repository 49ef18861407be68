"""What the sheet of the set-up shares: practice's numbers, inputs by name, and lengths in words."""

from __future__ import annotations

from cardgen.core.figure import Input, Sheet
from cardgen.core.names import Side
from cardgen.core.rounding import MM_PER_INCH, with_unit
from cardgen.sheets._constants import constant, value
from cardgen.spec.job import Job

TABLE = "setup/practice"


def practice(name: str) -> Input:
    """Return a number of the trade's practice, as an input that names its row."""
    return constant(TABLE, name)


def practised(name: str) -> float:
    """Return only the number of :func:`practice`."""
    return value(TABLE, name)


def given(said: float | str, unit: str, origin: str) -> Input:
    """Return an input that the maker wrote."""
    return Input(said, unit, origin, "read")


def known(sheet: Sheet, id: str, otherwise: Input) -> Input:
    """Return a figure as an input, or what the job says where the figure is missing."""
    return sheet.ref(id) if id in sheet else otherwise


def lead(job: Job, sheet: Sheet) -> Input:
    """Return the lead as an input."""
    return known(sheet, "thread.lead", given(job.thread.lead, "mm", "spec:thread.pitch"))


def setting(sheet: Sheet, id: str) -> Input:
    """Return a chosen setting as an input.

    Its evidence is not that of the reasons for the choice: what follows from a speed that is set
    does not depend on how well the cutting speed is known.
    """
    return Input(sheet.number(id), sheet[id].name.unit, id, "derived")


def length(job: Job, mm: float, side: Side = "nearest", *, decimals: int = 1) -> str:
    """Return a length as the card's reader thinks of it: 4.2 mm, or 0.17 in."""
    if job.inch:
        return with_unit(mm / MM_PER_INCH, "in", decimals + 1, side)
    return with_unit(mm, "mm", decimals, side)


def surface_speed(job: Job, metres: float) -> str:
    """Return a cutting speed [m/min] as the card's reader thinks of it: 9.0 m/min, or 30 ft/min."""
    if job.inch:
        return with_unit(metres * 1000 / MM_PER_INCH / 12, "ft/min", 0)
    return with_unit(metres, "m/min", 1)
