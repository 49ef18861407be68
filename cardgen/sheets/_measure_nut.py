"""How a nut's thread is measured: by balls in its groove, or by a gauge where none wedges."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, cos, floor, pi, radians, sin

from cardgen import library
from cardgen.core.figure import Input, Outline, Sheet, Step
from cardgen.core.rounding import rounded
from cardgen.core.words import told
from cardgen.forms.sizes import basic_sizes
from cardgen.rules.balls import (
    NutGroove,
    ball_flush,
    ball_on_root,
    ball_seat,
    ball_touching,
    best_ball,
    between_balls,
    between_short,
)
from cardgen.rules.wires import NoSeatError
from cardgen.sheets._constants import value
from cardgen.sheets._form import form_of
from cardgen.sheets._measure_common import (
    SHORT_FORMULA_ERROR,
    chosen,
    groove_gauges,
    record_sensitivity,
)
from cardgen.sheets._measure_few import record_caliper_in_nut, record_shift
from cardgen.sheets._measure_root import record_root
from cardgen.sheets._measure_round import largest_on_root
from cardgen.sheets._measure_words import length
from cardgen.spec.job import Job

_TABLE = "measure/caliper"
_ROUND = 72
_EXACT = "seat of a ball between helicoidal flanks, solved numerically"
_SHORT = "the short formula for wires, turned inside out"
_NEEDED = ("thread.pitch_diameter", "thread.groove_width", "thread.lead", "thread.minor_diameter")


@dataclass(frozen=True, slots=True)
class _Nut:
    """What the balls meet [mm]: the groove at basic, least and greatest pitch diameter."""

    basic: NutGroove
    tight: NutGroove
    loose: NutGroove
    bore_low: float
    bore_high: float
    root_low: float


def work_out_nut(job: Job, sheet: Sheet) -> None:
    """Record the balls and the gap between them, and how to measure."""
    if any(id not in sheet for id in _NEEDED):
        return
    if sheet.number("thread.leading_flank") + sheet.number("thread.trailing_flank") == 0:
        _by_gauge(job, sheet)
        return
    nut = _nut(sheet)
    if nut is None:
        return
    try:
        _by_balls(job, nut, sheet)
    except NoSeatError as error:
        sheet.warn(
            "measure.no_ball", told("Not to be measured by balls: {reason}.", reason=str(error))
        )
    if "thread.root_shape" in sheet:
        sizes = basic_sizes(form_of(job), job.thread.diameter, job.thread.pitch)
        record_root(job, sheet, largest_on_root(sheet, sizes.nut_root_arc))
    _screw_gauge(sheet)
    record_caliper_in_nut(job, sheet)


def _nut(sheet: Sheet) -> _Nut | None:
    pitch, bore, root = (sheet[f"thread.{id}_diameter"] for id in ("pitch", "minor", "major"))
    low, high, bore_low, bore_high = pitch.low, pitch.high, bore.low, bore.high
    if low is None or high is None or bore_low is None or bore_high is None:
        return None
    lead, width = sheet.number("thread.lead"), sheet.number("thread.pitch") / 2
    near, far = (radians(sheet.number(f"thread.{side}_flank")) for side in ("trailing", "leading"))
    basic, tight, loose = (
        NutGroove(lead, diameter, width, near, far) for diameter in (pitch.number, low, high)
    )
    root_low = root.number if root.low is None else root.low
    return _Nut(basic, tight, loose, bore_low, bore_high, root_low)


def _by_balls(job: Job, nut: _Nut, sheet: Sheet) -> None:
    best = best_ball(nut.basic)
    # A ball must stand proud of the smallest bore in the widest groove and must not reach the
    # root; it must touch straight flank outside the widest bore in the narrowest groove.
    smallest = max(ball_flush(nut.loose, nut.bore_low), ball_on_root(nut.loose, nut.root_low))
    largest = ball_touching(nut.tight, nut.bore_high)
    inputs = {
        symbol: sheet.ref(f"thread.{id}")
        for symbol, id in (
            ("L", "lead"),
            ("P", "pitch"),
            ("a1", "leading_flank"),
            ("a2", "trailing_flank"),
            ("D2", "pitch_diameter"),
            ("D1", "minor_diameter"),
        )
    }
    for id, size, note in (
        ("best", best, "touches the flanks at the pitch diameter"),
        ("smallest", smallest, "stands proud of the smallest bore, clear of the root"),
        ("largest", largest, "touches the straight flank outside the widest bore"),
    ):
        sheet.add(
            f"measure.ball_{id}",
            size,
            formula=f"method: {_EXACT}",
            inputs=inputs,
            source=_EXACT,
            basis="computed",
            note=note,
        )
    if smallest > largest:
        sheet.warn(
            "measure.no_ball",
            told(
                "No ball fits at all limits of the class: it should be over {smallest} mm to "
                "stand proud of the bore and under {largest} mm to touch straight flank. Try "
                "it with its screw instead.",
                smallest=f"{smallest:.3f}",
                largest=f"{largest:.3f}",
            ),
        )
        return
    ball = _choose(job, sheet, best, smallest, largest)
    if ball < value(_TABLE, "ball-least"):
        text = told(
            "Too fine for balls: {ball} is not to be handled. Go by the screw.",
            ball=length(job, ball),
        )
        sheet.steps.append(Step(text, "caution", "common practice"))
        return
    if between_balls(nut.tight, ball) <= 0:
        sheet.warn(
            "measure.no_room",
            told(
                "Two balls of {ball} mm leave no gap in this bore: try it with its screw instead.",
                ball=f"{ball:.3f}",
            ),
        )
        return
    _size(nut, ball, sheet)
    _steps(job, sheet)
    _outlines(job, nut, ball, sheet)


def _choose(job: Job, sheet: Sheet, best: float, smallest: float, largest: float) -> float:
    """Record the usable ball nearest to the best: one that is owned, else a common size."""
    owned = [ball for ball in job.tool.wires if smallest <= ball <= largest]
    if owned:
        ball = min(owned, key=lambda size: abs(size - best))
        origin = Input(ball, "mm", "spec:tool.wires", "read")
        return chosen(
            sheet, "ball", ball, origin, "the usable one that is owned, nearest", "derived"
        )
    for row in library.table("threads/shop_balls"):
        step = float(row["step_mm"])
        if (row["system"] == "in") != job.inch:
            continue
        first, last = ceil(smallest / step - 1e-9), floor(largest / step + 1e-9)
        if first <= last:
            ball = step * min(max(round(best / step), first), last)
            origin = Input(ball, "mm", "table:threads/shop_balls", "practice")
            return chosen(
                sheet,
                "ball",
                ball,
                origin,
                f"a {row['what']}, nearest to the best",
                "practice",
            )
    nearest = "smallest" if best < smallest else "largest" if best > largest else "best"
    origin = sheet.ref(f"measure.ball_{nearest}")
    note = f"no common ball is usable: the {nearest} itself"
    return chosen(sheet, "ball", sheet.number(f"measure.ball_{nearest}"), origin, note, "practice")


def _size(nut: _Nut, ball: float, sheet: Sheet) -> None:
    grooves = (nut.basic, nut.tight, nut.loose)
    exact = [between_balls(groove, ball) for groove in grooves]
    short = [between_short(groove, ball) for groove in grooves]
    symmetric = nut.basic.near == nut.basic.far
    error = max(abs(a - b) for a, b in zip(exact, short, strict=True))
    inputs = {
        "D2": sheet.ref("thread.pitch_diameter"),
        "b": sheet.ref("measure.ball_chosen"),
        "P": sheet.ref("thread.pitch"),
        "a": sheet.ref("thread.leading_flank"),
        "L": sheet.ref("thread.lead_angle_pitch"),
    }
    if symmetric and error < SHORT_FORMULA_ERROR:
        (basic, low, high), source = short, _SHORT
        formula = "D2 - b (1 + 1 / sin(a)) + P / (2 tan(a)) - b / 2 tan(L)^2 cos(a) / tan(a)"
        note = f"within {error * 1000:.1f} um of the exact seat"
    else:
        (basic, low, high), source = exact, _EXACT
        formula = f"method: {_EXACT}"
        note = f"the short formula would be {error * 1000:.0f} um out at this lead angle"
    sheet.add(
        "measure.between_balls",
        basic,
        low=low,
        high=high,
        formula=formula,
        inputs=inputs,
        source=source,
        basis="computed",
        note=note,
    )
    note = "the gap shrinks by so much for a ball that is larger: measure the balls"
    record_sensitivity(sheet, "ball", lambda size: between_balls(nut.basic, size), note)


def _steps(job: Job, sheet: Sheet) -> None:
    ball = sheet.number("measure.ball_chosen")
    factor = rounded(sheet.number("measure.ball_sensitivity"), 1)
    texts = (
        "Stick two balls in the groove with grease, straight opposite one another: the starts"
        " are even. Take the gap between them."
        if record_shift(job, sheet) == 0
        else "Stick two balls with grease in neighbouring turns and one opposite, between"
        " them: half a turn on the groove has moved by half a lead. Take the gap between the"
        " one and a bar across the two.",
        told(
            "Take it with slips, a parallel bar and feelers, or a telescoping gauge held "
            "square to the axis. Over the balls it is {more} more.",
            more=length(job, 2 * ball),
        ),
        told(
            "Measure the balls themselves: their error appears {factor} times in the gap.",
            factor=factor,
        ),
    )
    sheet.steps.extend(Step(text, "balls", "common practice") for text in texts)


def _screw_gauge(sheet: Sheet) -> None:
    text = (
        "Its screw, or a plug turned to the screw's largest sizes, must go in by hand from end to"
        " end; its shake along the axis must lie within the backlash of the pair."
    )
    sheet.steps.append(Step(text, "gauge", "common practice"))


def _by_gauge(job: Job, sheet: Sheet) -> None:
    """Record a gauge for the groove's width: between square flanks a ball does not wedge."""
    groove = sheet["thread.groove_width"]
    if groove.low is None or groove.high is None:
        return
    groove_gauges(sheet, "bore")
    go, not_go = (sheet.number(f"measure.groove_{id}") for id in ("go", "not_go"))
    text = told(
        "Try the groove with a stub ground parallel on a cranked handle, no longer "
        "along the groove than it is wide: {go} goes to the root, {not_go} does not. "
        "A longer slip binds in the twist of the groove and reads too small.",
        go=length(job, go, "down"),
        not_go=length(job, not_go, "up"),
    )
    sheet.steps.append(Step(text, "gauge", "common practice"))
    # A ball is as wide as the stub at one place only: it goes wherever the stub does.
    record_root(job, sheet, go)
    _screw_gauge(sheet)
    record_caliper_in_nut(job, sheet)


def _outlines(job: Job, nut: _Nut, ball: float, sheet: Sheet) -> None:
    """Give the picture of a ball in its groove: ``measure.ball`` in ``thread.profile``'s frame."""
    placed = ball_seat(nut.basic, ball)
    centre = placed.centre
    section = basic_sizes(form_of(job), job.thread.diameter, job.thread.pitch).section
    # The nut's groove is where the screw's ridge is; unlike flanks put both beside the middle.
    at = section.pitch / 2 + section.groove_offset + placed.shift
    sheet.outlines["measure.ball"] = Outline(
        tuple(
            (at + ball / 2 * cos(turn), centre + ball / 2 * sin(turn))
            for turn in (2 * pi * step / _ROUND for step in range(_ROUND))
        ),
        closed=True,
    )
