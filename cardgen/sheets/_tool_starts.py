"""What an error in finding the next start does to the ridges of a thread of several starts."""

from __future__ import annotations

from cardgen.core.figure import Sheet
from cardgen.spec.job import Job

_GEOMETRY = "geometry of the helix"
_TURN = 360.0


def starts(job: Job, sheet: Sheet) -> None:
    """Record how far along the axis a degree of the spindle goes, and how much may be missed."""
    if job.thread.starts == 1:
        return
    lead = sheet.ref("thread.lead")
    sheet.add(
        "tool.index_degree",
        float(lead.value) / _TURN,
        formula="L / 360",
        inputs={"L": lead},
        source=_GEOMETRY,
        basis="computed",
        note="for each degree that the spindle is out when the next start is begun, one ridge is"
        " thicker by this and its neighbour thinner",
    )
    groove = sheet["thread.groove_width"]
    if groove.low is None or groove.high is None or groove.low == groove.high:
        return
    sheet.add(
        "tool.index_allowed",
        (groove.high - groove.low) / 2 / sheet.number("tool.index_degree"),
        formula="(S2 - S1) / 2 / q",
        inputs={
            "S1": sheet.low("thread.groove_width"),
            "S2": sheet.high("thread.groove_width"),
            "q": sheet.ref("tool.index_degree"),
        },
        source=_GEOMETRY,
        basis="computed",
        note="uses up half the tolerance of the groove's width; the other half is the cutter's",
    )
