"""The measuring sheet: the size over wires, or the groove's width where a wire does not wedge."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, cos, floor, pi, radians, sin

from cardgen import library
from cardgen.core.figure import Input, Sheet, Step
from cardgen.core.rounding import rounded
from cardgen.core.words import told
from cardgen.forms.sizes import Sizes, basic_sizes
from cardgen.rules.wires import (
    Groove,
    NoSeatError,
    best_wire,
    over_wires,
    over_wires_short,
    seat,
    wire_flush,
    wire_on_root,
    wire_touching,
)
from cardgen.sheets._form import form_of
from cardgen.sheets._measure_common import SHORT_FORMULA_ERROR, chosen, record_sensitivity
from cardgen.sheets._measure_few import record_caliper, record_few_wires
from cardgen.sheets._measure_nut import work_out_nut
from cardgen.sheets._measure_picture import record_over
from cardgen.sheets._measure_round import record_round
from cardgen.sheets._measure_square import record_square
from cardgen.sheets._measure_stages import record_stages
from cardgen.sheets._measure_words import in_a_row, length, span
from cardgen.spec.job import Job

_ROUND = 72
"""Corners of the outline of a wire."""

_EXACT = "seat of a wire between helicoidal flanks, solved numerically"
_SHORT = "Machinery's Handbook 31st ed. p.2135"
_NEEDED = ("thread.pitch_diameter", "thread.groove_width", "thread.lead", "thread.minor_diameter")


@dataclass(frozen=True, slots=True)
class _Screw:
    """What the wires meet [mm].

    Attributes
    ----------
    basic, tight, loose
        The groove at the basic pitch diameter, its upper and its lower limit.
    crest_low, crest_high, root_high
        Limits of the crest and the largest root: diameters.
    crest_rounding
        Depth below the crest to which the largest rounding of its corners reaches.
    """

    basic: Groove
    tight: Groove
    loose: Groove
    crest_low: float
    crest_high: float
    root_high: float
    crest_rounding: float


def work_out(job: Job, sheet: Sheet) -> None:
    """Record the wires and the size over them, and how to measure; for a nut, the balls."""
    _readings(job, sheet)
    record_stages(job, sheet)


def _readings(job: Job, sheet: Sheet) -> None:
    if sheet.internal:
        work_out_nut(job, sheet)
        return
    if any(id not in sheet for id in _NEEDED):
        return
    if sheet.number("thread.leading_flank") + sheet.number("thread.trailing_flank") == 0:
        record_square(job, sheet)
        return
    screw = _screw(sheet)
    if screw is None:
        return
    try:
        _over_wires(job, screw, sheet)
    except NoSeatError as error:
        sheet.warn(
            "measure.no_wire", told("Not to be measured over wires: {reason}.", reason=str(error))
        )


def _screw(sheet: Sheet) -> _Screw | None:
    pitch, crest, root = (
        sheet[f"thread.{id}"] for id in ("pitch_diameter", "blank_diameter", "minor_diameter")
    )
    limits = (pitch.low, pitch.high, crest.low, crest.high, root.high)
    if any(limit is None for limit in limits):
        return None
    low, high, crest_low, crest_high, root_high = (limit for limit in limits if limit is not None)
    lead, width = sheet.number("thread.lead"), sheet.number("thread.pitch") / 2
    near, far = (radians(sheet.number(f"thread.{side}_flank")) for side in ("leading", "trailing"))
    basic, tight, loose = (
        Groove(lead, diameter, width, near, far) for diameter in (pitch.number, high, low)
    )
    rounding = sheet.number("thread.crest_radius") if "thread.crest_radius" in sheet else 0.0
    if "thread.crest_shape" in sheet:
        # The arc leaves a flank of angle a where it is R (1 - sin a) below its top.
        rounding *= 1 - sin(min(near, far))
    return _Screw(
        basic,
        tight,
        loose,
        crest_low,
        crest_high,
        root_high,
        rounding,
    )


def _sizes(job: Job) -> Sizes:
    return basic_sizes(form_of(job), job.thread.diameter, job.thread.pitch)


def _over_wires(job: Job, screw: _Screw, sheet: Sheet) -> None:
    best = best_wire(screw.basic)
    # A wire must stand proud of the highest crest in the widest groove, and must not sink to the
    # root; it must touch straight flank below the lowest crest in the narrowest.
    smallest = max(
        wire_flush(screw.loose, screw.crest_high), wire_on_root(screw.loose, screw.root_high)
    )
    largest = wire_touching(screw.tight, screw.crest_low - 2 * screw.crest_rounding)
    known = form_of(job).cited["diameters"].evidence
    basic = {"d2": Input(screw.basic.pitch_diameter, "mm", "thread.pitch_diameter", known)}
    limited = {"d2": sheet.ref("thread.pitch_diameter"), "d": sheet.ref("thread.blank_diameter")}
    flanks = {
        symbol: sheet.ref(f"thread.{id}")
        for symbol, id in (
            ("L", "lead"),
            ("P", "pitch"),
            ("a1", "leading_flank"),
            ("a2", "trailing_flank"),
        )
    }
    for id, value, sizes, note in (
        ("best", best, basic, "touches the flanks at the pitch diameter"),
        ("smallest", smallest, limited, "stands proud of the highest crest, clear of the root"),
        ("largest", largest, limited, "touches the straight flank below the lowest crest"),
    ):
        sheet.add(
            f"measure.wire_{id}",
            value,
            formula=f"method: {_EXACT}",
            inputs=flanks | sizes,
            source=_EXACT,
            basis="computed",
            note=note,
        )
    if smallest > largest:
        sheet.warn(
            "measure.no_wire",
            told(
                "No wire fits at all limits of the class: it should be over {smallest} mm to "
                "stand proud of the crest and under {largest} mm to touch straight flank. "
                "Check with the mate instead.",
                smallest=f"{smallest:.3f}",
                largest=f"{largest:.3f}",
            ),
        )
        return
    wire = _choose(job, sheet, best, smallest, largest)
    _size(screw, wire, sheet)
    record_few_wires(job, sheet)
    _steps(job, sheet)
    if "thread.crest_shape" in sheet:
        record_round(job, sheet, _sizes(job).root_arc)
    record_caliper(job, sheet)
    _picture(job, screw.basic, wire, sheet)


def _choose(job: Job, sheet: Sheet, best: float, smallest: float, largest: float) -> float:
    """Record the usable wire nearest to the best: one that is owned, else a common drill shank."""
    usable = [wire for wire in job.tool.wires if smallest <= wire <= largest]
    if usable:
        wire = min(usable, key=lambda owned: abs(owned - best))
        origin = Input(wire, "mm", "spec:tool.wires", "read")
        note = "the usable one that is owned, nearest to the best"
        return chosen(sheet, "wire", wire, origin, note, "derived")
    if job.tool.wires:
        owned = in_a_row(job, job.tool.wires)
        text = told(
            "None of the wires owned ({owned}) is usable here: take a drill shank.", owned=owned
        )
        sheet.steps.append(Step(text, "caution", "geometry of the seat"))
    shop = {row["system"]: row for row in library.table("threads/shop_wires")}
    for system in ("in", "mm") if job.inch else ("mm", "in"):
        step = float(shop[system]["step_mm"])
        first, last = ceil(smallest / step - 1e-9), floor(largest / step + 1e-9)
        if first <= last:
            wire = step * min(max(round(best / step), first), last)
            origin = Input(wire, "mm", "table:threads/shop_wires", "practice")
            note = f"a {shop[system]['what']}, nearest to the best"
            return chosen(sheet, "wire", wire, origin, note, "practice")
    nearest = "smallest" if best < smallest else "largest" if best > largest else "best"
    origin = sheet.ref(f"measure.wire_{nearest}")
    note = f"no common drill shank is usable: the {nearest} wire itself"
    return chosen(sheet, "wire", sheet.number(f"measure.wire_{nearest}"), origin, note, "practice")


def _size(screw: _Screw, wire: float, sheet: Sheet) -> None:
    grooves = (screw.basic, screw.loose, screw.tight)
    exact = [over_wires(groove, wire) for groove in grooves]
    short = [over_wires_short(groove, wire) for groove in grooves]
    symmetric = screw.basic.near == screw.basic.far
    error = max(abs(a - b) for a, b in zip(exact, short, strict=True))
    inputs = {
        "d2": sheet.ref("thread.pitch_diameter"),
        "w": sheet.ref("measure.wire_chosen"),
        "P": sheet.ref("thread.pitch"),
        "a": sheet.ref("thread.leading_flank"),
        "L": sheet.ref("thread.lead_angle_pitch"),
    }
    if symmetric and error < SHORT_FORMULA_ERROR:
        value, low, high = short
        sheet.add(
            "measure.over_wires",
            value,
            low=low,
            high=high,
            formula=("d2 + w (1 + 1 / sin(a)) - P / (2 tan(a)) + w / 2 tan(L)^2 cos(a) / tan(a)"),
            inputs=inputs,
            source=_SHORT,
            basis="handbook",
            evidence="read",
            note=f"within {error * 1000:.1f} um of the exact seat",
        )
    else:
        value, low, high = exact
        sheet.add(
            "measure.over_wires",
            value,
            low=low,
            high=high,
            formula=f"method: {_EXACT}",
            inputs=inputs,
            source=_EXACT,
            basis="computed",
            note=f"the usual short formula would be {error * 1000:.0f} um out at this lead angle",
        )
    note = "so the wire's own diameter must be known well: measure it"
    record_sensitivity(sheet, "wire", lambda size: over_wires(screw.basic, size), note)


def _steps(job: Job, sheet: Sheet) -> None:
    if "measure.over_one_wire" not in sheet:
        return
    one, two = (sheet[f"measure.over_{count}"] for count in ("one_wire", "two_wires"))
    assert one.low is not None and one.high is not None  # noqa: PT018, S101
    assert two.low is not None and two.high is not None  # noqa: PT018, S101
    crest = length(job, sheet.number("thread.blank_diameter"))
    factor = rounded(sheet.number("measure.wire_sensitivity"), 1)
    texts = (
        (
            "wires",
            "Two wires in neighbouring grooves below, one above, the micrometer's faces flat on"
            " all three.",
        ),
        # Half a turn on, an even number of starts brings another groove to the same place.
        (
            "two-wires",
            "Two wires straight opposite one another will do: the starts are even."
            if sheet.number("measure.two_wire_shift") == 0
            else told(
                "With two wires only, the lower one lies half a pitch along: ball points or "
                "narrow jaws in line with both, rocked for the largest, {reading}.",
                reading=span(job, two.low, two.high),
            ),
        ),
        (
            "one-wire",
            told(
                "One wire, the other face on a crest that measures {crest}: {reading}. Half of "
                "what the crest is smaller comes off.",
                crest=crest,
                reading=span(job, one.low, one.high),
            ),
        ),
        (
            "wires",
            told(
                "Measure the wires: their error appears {factor} times in the reading.",
                factor=factor,
            ),
        ),
    )
    sheet.steps.extend(Step(text, kind, "common practice") for kind, text in texts)


def _picture(job: Job, groove: Groove, wire: float, sheet: Sheet) -> None:
    placed = seat(groove, wire)
    turns = [2 * pi * step / _ROUND for step in range(_ROUND)]
    record_over(
        job,
        sheet,
        "wire",
        [
            (placed.shift + wire / 2 * cos(turn), placed.centre + wire / 2 * sin(turn))
            for turn in turns
        ],
    )
