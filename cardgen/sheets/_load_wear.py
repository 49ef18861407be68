"""How the flanks wear, and how the maker sees that a nut is done."""

from __future__ import annotations

from cardgen.core.figure import Sheet
from cardgen.rules.screw import rubbing_ratio
from cardgen.sheets._constants import constant, source, value
from cardgen.spec.job import Job

_TABLE = "load/constants"


def record_wear(job: Job, sheet: Sheet) -> None:
    """Record how far the flanks rub, how fast, and the backlash at which the nut is worn out."""
    assert job.duty is not None  # noqa: S101  (looked at before)
    diameter, lead = sheet.ref("thread.pitch_diameter"), sheet.ref("thread.lead")
    sheet.add(
        "load.rubbing_ratio",
        rubbing_ratio(float(diameter.value), float(lead.value)),
        formula="sqrt((pi d2 / L)^2 + 1)",
        inputs={"d2": diameter, "L": lead},
        source="geometry of the helix",
        basis="computed",
    )
    if "mate.backlash" not in sheet or sheet["mate.backlash"].high is None:
        return
    backlash = sheet.high("mate.backlash")
    share = value(_TABLE, "nut-worn")
    sheet.add(
        "load.wear_backlash",
        float(backlash.value) + share * sheet.number("thread.pitch") / 2,
        formula="j + q P / 2",
        inputs={
            "j": backlash,
            "q": constant(_TABLE, "nut-worn"),
            "P": sheet.ref("thread.pitch"),
        },
        source=source(_TABLE, "nut-worn"),
        basis="practice",
        note="a new pair's greatest backlash and a quarter of the nut's thread",
    )
