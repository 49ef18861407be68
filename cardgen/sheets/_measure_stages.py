"""What the thread should read before it is finished, so that the rest is cut by measurement."""

from __future__ import annotations

from math import radians, sin, sqrt

from cardgen.core.figure import Sheet, Step
from cardgen.core.rounding import MM_PER_INCH, rounded
from cardgen.core.words import joined, told
from cardgen.rules.wires import Groove, NoSeatError, over_wires
from cardgen.sheets._cutting_stops import STOPS
from cardgen.spec.job import Job

_SOURCE = (
    "geometry: the tool stands back by the depth that is left, and the groove's flanks with it"
)


def record_stages(job: Job, sheet: Sheet) -> None:
    """Record the reading that is expected at each stop of the schedule, and what to do with it."""
    for id, words, way in (
        ("measure.over_wires", "over three wires", 1.0),
        ("measure.between_balls", "between two balls", -1.0),
        ("measure.caliper_root", "root by caliper, in line", 1.0),
    ):
        if id in sheet and sheet[id].low is not None and sheet[id].high is not None:
            _record(sheet, id, way)
            _say(job, sheet, id, words, way)
            return


def _record(sheet: Sheet, id: str, way: float) -> None:
    low, high = sheet.low(id), sheet.high(id)
    middle = (float(low.value) + float(high.value)) / 2
    for count in STOPS:
        if f"cutting.stop_{count}_left" not in sheet:
            continue
        left = sheet.number(f"cutting.stop_{count}_left")
        inputs = {"Ml": low, "Mh": high, "r": sheet.ref(f"cutting.stop_{count}_left")}
        formula = f"(Ml + Mh) / 2 {'+' if way > 0 else '-'} 2 r"
        value = middle + way * 2 * left
        if id == "measure.over_wires":
            formula = "method: seat of the wire in the groove whose pitch diameter is larger by 2 r"
            seated = _over_wires(sheet, left)
            if seated is None:
                continue
            value = seated
        elif id == "measure.caliper_root":
            shift = sheet.number("measure.two_wire_shift")
            inputs["s"] = sheet.ref("measure.two_wire_shift")
            formula = "sqrt((sqrt(((Ml + Mh) / 2)^2 - s^2) + 2 r)^2 + s^2)"
            value = sqrt((sqrt(middle**2 - shift**2) + 2 * left) ** 2 + shift**2)
        sheet.add(
            f"measure.stop_{count}",
            value,
            formula=formula,
            inputs=inputs,
            source=_SOURCE,
            basis="computed",
            note="to end in the middle of the limits",
        )


def _over_wires(sheet: Sheet, left: float) -> float | None:
    """Return the size over wires of the groove as far as it is cut [mm].

    ``None`` where the wire would lie on the corners of the crests: the groove is still too narrow.
    """
    pitch = sheet["thread.pitch_diameter"]
    near, far = (radians(sheet.number(f"thread.{side}_flank")) for side in ("leading", "trailing"))
    middle = (float(sheet.low(pitch.id).value) + float(sheet.high(pitch.id).value)) / 2
    groove = Groove(
        sheet.number("thread.lead"),
        middle + 2 * left,
        sheet.number("thread.pitch") / 2,
        near,
        far,
    )
    wire = sheet.number("measure.wire_chosen")
    try:
        reading = over_wires(groove, wire)
    except NoSeatError:
        return None
    touching = reading - wire - wire * sin(min(near, far))
    crest = sheet["thread.blank_diameter"]
    return None if touching > (crest.number if crest.low is None else crest.low) else reading


def _say(job: Job, sheet: Sheet, id: str, words: str, way: float) -> None:
    """Add the instruction: what is read at each stop, and how the rest follows from it."""
    stops = [
        told(
            "{reading} after pass {number}",
            number=f"{sheet.number(f'cutting.stop_{count}_pass'):.0f}",
            reading=_length(job, sheet.number(f"measure.stop_{count}")),
        )
        for count in STOPS
        if f"measure.stop_{count}" in sheet
    ]
    if not stops:
        return
    readings = joined(stops, "; ")
    low, high = (_length(job, float(limit.value)) for limit in (sheet.low(id), sheet.high(id)))
    parts = {"how": words, "readings": readings, "low": low, "high": high}
    text = (
        told(
            "Finish by measuring, {how}: {readings}. Half of what it reads too large is still to "
            "be cut besides the list; half of what it reads too small is left off its end. Done "
            "between {low} and {high}.",
            **parts,
        )
        if way > 0
        else told(
            "Finish by measuring, {how}: {readings}. Half of what it reads too small is still to "
            "be cut besides the list; half of what it reads too large is left off its end. Done "
            "between {low} and {high}.",
            **parts,
        )
    )
    sheet.steps.append(Step(text, "stages", _SOURCE))


def _length(job: Job, value: float) -> str:
    if job.inch:
        return f"{rounded(value / MM_PER_INCH, 4)} in"
    return f"{rounded(value, 3)} mm"
