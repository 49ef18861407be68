"""The order in which the sheets build on one another, and the working of all of them."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from importlib import import_module

from cardgen.core.figure import Figure, Sheet, Sheets
from cardgen.spec.job import Job

ORDER = (
    "thread",
    "tool",
    "setup",
    "cutting",
    "slides",
    "starts",
    "measure",
    "mate",
    "heat",
    "load",
    "safety",
)
"""Topics in order; each is a module of this folder with a function ``work_out(job, sheet)``."""


_ASKED: Mapping[str, Callable[[Job], object]] = {
    "heat": lambda job: job.heat,
    "load": lambda job: job.duty,
}
"""Topics that a job need not ask for: they are not even loaded then, some 30 modules."""


def work_out(job: Job) -> Sheets:
    """Work out every sheet of a job.

    A sheet leaves out what cannot be computed and says why in a finding; the sheets after it do
    without the missing figures, so that a refused job still shows all that is known.

    Parameters
    ----------
    job
        As the door let it through.

    Returns
    -------
    Sheets
        One sheet for each topic, in the order in which they build on one another.
    """
    known: dict[str, Figure] = {}
    sheets: list[Sheet] = []
    for topic in ORDER:
        sheet = Sheet(topic, known, internal=job.thread.surface == "internal")
        if topic not in _ASKED or _ASKED[topic](job):
            import_module(f"cardgen.sheets.{topic}").work_out(job, sheet)
        known = known | sheet.figures
        sheets.append(sheet)
    return Sheets(tuple(sheets))
