"""The root over two pins that lie on its bottom; in a nut, between two balls."""

from __future__ import annotations

from math import floor

from cardgen import library
from cardgen.core.figure import Input, Sheet, Step
from cardgen.core.words import told
from cardgen.rules.pins import over_two
from cardgen.sheets._constants import value
from cardgen.sheets._measure_few import record_shift
from cardgen.sheets._measure_words import length, span
from cardgen.spec.job import Job

_TABLE = "measure/caliper"


def record_root(job: Job, sheet: Sheet, most: float) -> None:
    """Record the pin or ball on the root, the size over two of them, and how it is taken.

    Parameters
    ----------
    most
        The largest that still lies on the bottom of the groove [mm].
    """
    root = sheet["thread.major_diameter" if sheet.internal else "thread.minor_diameter"]
    if root.low is None or not _choose(job, sheet, most):
        return
    shift, pin = record_shift(job, sheet), sheet.number("measure.pin_chosen")
    # Pins stand on a screw's root, balls hang from a nut's.
    pin = -pin if sheet.internal else pin
    sign = "-" if sheet.internal else "+"
    value, low = (over_two(size + pin, pin, shift) for size in (root.number, root.low))
    high = None if root.high is None else over_two(root.high + pin, pin, shift)
    sheet.add(
        "measure.over_root_wires",
        value,
        low=low,
        high=high,
        formula=f"sqrt(({root.name.symbol} {sign} w)^2 + s^2) {sign} w",
        inputs={
            root.name.symbol: sheet.ref(root.id),
            "w": sheet.ref("measure.pin_chosen"),
            "s": sheet.ref("measure.two_wire_shift"),
        },
        source="geometry of the helix",
        basis="computed",
        note="in line with both: half a turn on, the groove may lie half a pitch along",
    )
    sheet.steps.append(Step(_text(job, sheet, low, high), "root", "common practice"))


def _text(job: Job, sheet: Sheet, low: float, high: float | None) -> str:
    pin = length(job, sheet.number("measure.pin_chosen"))
    read = (
        told("{least} or more", least=length(job, low, "up"))
        if high is None
        else span(job, low, high)
    )
    if sheet.internal:
        return told(
            "Root by two balls of {pin} on the bottom of the groove, opposite one "
            "another: the gap between them, in line with both, is {read}.",
            pin=pin,
            read=read,
        )
    return told(
        "Root over two pins of {pin} on the bottom of opposite grooves: they lie "
        "below the crests, so take them with a caliper's knife edges, in line with "
        "both: {read}.",
        pin=pin,
        read=read,
    )


def _choose(job: Job, sheet: Sheet, most: float) -> bool:
    """Record the largest pin or ball that goes in, if one is worth laying there."""
    what = "ball" if sheet.internal else "pin"
    owned = [size for size in job.tool.wires if size <= most]
    if owned:
        size, origin = owned[-1], Input(owned[-1], "mm", "spec:tool.wires", "read")
        note = f"the largest {what} owned that lies on the bottom"
    else:
        table = "threads/shop_balls" if sheet.internal else "threads/shop_wires"
        system = "in" if job.inch else "mm"
        row = next(row for row in library.table(table) if row["system"] == system)
        size = float(row["step_mm"]) * floor(most / float(row["step_mm"]) + 1e-9)
        origin = Input(size, "mm", f"table:{table} {system}", "practice")
        note = f"the largest {row['what']} that lies on the bottom"
    if size < value(_TABLE, "pin-least"):
        return False
    sheet.add(
        "measure.pin_chosen",
        size,
        formula="w",
        inputs={"w": origin},
        source="common practice",
        basis="practice",
        evidence="practice",
        note=note,
    )
    return True
