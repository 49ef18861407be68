"""The temper: which temperature for which hardness, its colour, and what later heats leave."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from cardgen.core.figure import Evidence, Input, Outline, weakest
from cardgen.rules.temper import (
    OutsideRowsError,
    Row,
    bracket,
    bracket_hardness,
    equivalent_temperature,
    hardness_between,
    temperature_between,
)
from cardgen.sheets._constants import constant, source, value
from cardgen.sheets._heat_conflict import spoils
from cardgen.sheets._heat_films import film, record_colour, shows_colour
from cardgen.sheets._heat_soak import record_temper_heating, usual_furnace, warming
from cardgen.sheets._heat_treatment import TABLE, Treatment, Warmth, degrees, duration, hrc
from cardgen.spec.job import HeatStep
from cardgen.spec.substance import Heat


def temper(t: Treatment, index: int, step: HeatStep) -> None:
    """Work out one temper and note it on the part; nothing where the quench was refused."""
    if not t.hardened:
        return
    found = _warmth(t, index, step)
    if found is None:
        return
    a1 = t.sheet.number("heat.a1") if "heat.a1" in t.sheet else None
    if a1 is not None and found.degrees >= a1:
        t.sheet.refuse(
            "heat.temper_too_hot",
            f"Tempering at {degrees(found.degrees)} is above Ac1, {degrees(a1)}: it undoes the "
            f"hardening. {t.hardness_now.capitalize()} is what there is to temper.",
        )
        return
    spoils(t, step, found.degrees)
    found = replace(found, furnace=step.furnace or usual_furnace(found.degrees))
    t.warmths.append(found)
    _check_brittle(t, found)
    _check_agreement(t, step, found)
    _tell(t, found)


def _warmth(t: Treatment, index: int, step: HeatStep) -> Warmth | None:
    time = t.hold(index, step)
    if step.temperature is not None:
        at = Input(step.temperature, "degC", f"spec:heat.{index}.temperature", "read")
        return Warmth("temper", at, time, "T", {"T": at}, "the job", "data", "read")
    target = t.asked if step.hardness is None else step.hardness
    if target is None:
        t.sheet.refuse(
            "heat.temper_unstated",
            f"Say the temperature or the hardness of the temper. {_what_it_reaches(t)}",
        )
        return None
    key = f"spec:heat.{index}.hardness" if step.hardness is not None else "spec:heat.hardness"
    return _for_hardness(t, Input(target, "HRC", key, "read"), time)


def _for_hardness(t: Treatment, target: Input, time: Input) -> Warmth | None:
    steel, asked = t.heat, float(target.value)
    if steel is None or not t.rows:
        t.sheet.refuse(
            "heat.no_rows",
            f"No tempering rows are published for {t.title}; state the temperature of the temper.",
        )
        return None
    try:
        lower, upper = bracket_hardness(t.rows, asked)
    except OutsideRowsError:
        t.sheet.refuse(
            "heat.hardness_not_reached",
            f"{hrc(asked)} cannot be had by tempering {t.title}. {_what_it_reaches(t)}",
        )
        return None
    seconds = float(time.value)
    at = equivalent_temperature(
        temperature_between(lower, upper, asked),
        steel.temper_time,
        seconds,
        value(TABLE, "hollomon-jaffe"),
        value(TABLE, "kelvin"),
    )
    inputs = {"H": target, **_row_inputs(steel, lower, upper), **_time_inputs(steel, time)}
    return Warmth(
        "temper",
        Input(at, "degC", "heat.temper_temperature", steel.temper_evidence),
        time,
        "(T1 + (H - H1) (T2 - T1) / (H2 - H1) + K) (C + log10(t0 / 3600)) / "
        "(C + log10(t / 3600)) - K",
        inputs,
        steel.temper_source,
        "data",
        steel.temper_evidence,
        "between two published rows, corrected for the time by Hollomon and Jaffe",
    )


def _row_inputs(steel: Heat, lower: Row, upper: Row) -> Mapping[str, Input]:
    kind: Evidence = steel.temper_evidence
    return {
        "T1": Input(lower[0], "degC", "material:heat.temper", kind),
        "H1": Input(lower[1], "HRC", "material:heat.temper", kind),
        "T2": Input(upper[0], "degC", "material:heat.temper", kind),
        "H2": Input(upper[1], "HRC", "material:heat.temper", kind),
    }


def _time_inputs(steel: Heat, time: Input) -> Mapping[str, Input]:
    return {
        "C": constant(TABLE, "hollomon-jaffe"),
        "K": constant(TABLE, "kelvin"),
        "t": time,
        "t0": Input(steel.temper_time, "s", "material:heat.temper.time", "derived"),
    }


def _what_it_reaches(t: Treatment) -> str:
    if not t.rows or t.heat is None:
        return f"No tempering rows are published for {t.title}."
    (cold, hardest), (hot, softest) = t.published[0], t.published[-1]
    return (
        f"{t.title}, tempered {duration(t.heat.temper_time)}, runs from {hrc(hardest)} at "
        f"{degrees(cold)} to {hrc(softest)} at {degrees(hot)} in the published rows."
    )


def _check_brittle(t: Treatment, found: Warmth) -> None:
    steel = t.heat
    if steel is None:
        return
    at = found.degrees
    if steel.embrittlement is not None:
        low, high = steel.embrittlement
        if low <= at <= high:
            below = t.hardness_words(low, found.seconds).removeprefix("about ")
            above = t.hardness_words(high, found.seconds).removeprefix("about ")
            t.sheet.warn(
                "heat.brittle_temper",
                f"{degrees(at)} lies in the tempering range {low:.0f} to {degrees(high)} that "
                f"leaves this steel brittle. Where shocks come, temper below it ({below}) or "
                f"above it ({above}).",
            )
    low, high = value(TABLE, "temper-brittle-low"), value(TABLE, "temper-brittle-high")
    molybdenum = t.job.work.material.composition.get("Mo", 0.0) > 0
    if t.job.work.material.group == "alloy-steel" and low <= at <= high and not molybdenum:
        t.sheet.warn(
            "heat.slow_cooling",
            f"Cool fast, in water or oil, after tempering at {degrees(at)}: slow cooling through "
            f"{low:.0f} to {degrees(high)} leaves alloy steel brittle.",
        )


def _check_agreement(t: Treatment, step: HeatStep, found: Warmth) -> None:
    """Compare the hardness that the job asks for with what its temperature gives."""
    got = t.hardness_after(found.degrees, found.seconds)
    scatter = value(TABLE, "hardness-scatter")
    if got is None or step.temperature is None:
        return
    if step.hardness is not None and abs(got - step.hardness) > scatter:
        t.sheet.refuse(
            "heat.temper_disagrees",
            f"A temper of {degrees(found.degrees)} for {duration(found.seconds)} gives {hrc(got)},"
            f" not the {hrc(step.hardness)} that is asked. {_instead(t, step.hardness, found)}",
        )
    elif step.hardness is None and t.asked is not None and got < t.asked - scatter:
        t.sheet.warn(
            "heat.softer_than_asked",
            f"The quench is asked to give {hrc(t.asked)}; tempering at {degrees(found.degrees)} "
            f"leaves {hrc(got)}. {_instead(t, t.asked, found)}",
        )


def _instead(t: Treatment, hardness: float, found: Warmth) -> str:
    try:
        cold = temperature_between(*bracket_hardness(t.rows, hardness), hardness)
    except OutsideRowsError:
        return _what_it_reaches(t)
    steel = t.heat
    assert steel is not None  # noqa: S101  (there are rows)
    at = equivalent_temperature(
        cold,
        steel.temper_time,
        found.seconds,
        value(TABLE, "hollomon-jaffe"),
        value(TABLE, "kelvin"),
    )
    return f"For {hrc(hardness)} temper at {degrees(at)}."


def _tell(t: Treatment, found: Warmth) -> None:
    warm = warming(t, found.furnace, found.degrees, value(TABLE, "oven-margin"))
    got = f" Leaves {t.hardness_words(found.degrees, found.seconds)}."
    again = " Let it cool to room temperature and temper a second time." if twice(t) else ""
    t.tell(
        f"Temper {degrees(found.degrees)}, {duration(found.seconds)}. "
        f"Start as soon as it is hand warm; count from when it is at heat: it takes about "
        f"{duration(warm.seconds)} to get there in {warm.where}.{got}{again}",
        "temper",
        found.source,
    )


def twice(t: Treatment) -> bool:
    """Whether to temper twice: practice for the steel, or for the austenite that is left."""
    steel, left = t.heat, "heat.retained_austenite"
    much = left in t.sheet and t.sheet.number(left) > value(TABLE, "austenite-warning")
    return much or (steel is not None and steel.double_temper)


def record_temper(t: Treatment) -> None:
    """Record the temper that softened most, its colour, and the same temper by torch."""
    sheet = t.sheet
    tempers = [warmth for warmth in t.warmths if warmth.kind == "temper"]
    ruling = max(tempers, key=lambda w: t.equivalent(w.degrees, w.seconds), default=None)
    if ruling is None:
        return
    own = ruling.time.origin.startswith("spec:")
    sheet.add(
        "heat.temper_time",
        ruling.seconds,
        formula="t" if own else "max(60 s, 60 k D / 25.4)",
        inputs={"t": ruling.time}
        if own
        else {
            "s": constant(TABLE, "temper-least"),
            "k": constant(TABLE, "temper-usual"),
            "D": Input(t.section, "mm", "spec:work.stock", "read"),
        },
        source="the job" if own else source(TABLE, "temper-usual"),
        basis="data" if own else "practice",
    )
    time = sheet.ref("heat.temper_time")
    sheet.add(
        "heat.temper_temperature",
        ruling.degrees,
        formula=ruling.formula,
        inputs={**ruling.inputs, **({"t": time} if "t" in ruling.inputs else {})},
        source=ruling.source,
        basis=ruling.basis,
        evidence=ruling.evidence,
        note=ruling.note,
    )
    _record_tempers(t)
    record_temper_heating(t, ruling.degrees, ruling.furnace)
    if shows_colour(t):
        record_colour(t)
        _record_torch(t, ruling)


def _record_tempers(t: Treatment) -> None:
    again = twice(t)
    practice = t.heat is not None and t.heat.double_temper
    t.sheet.add(
        "heat.tempers",
        2.0 if again else 1.0,
        formula="n",
        inputs={"n": Input(2.0 if again else 1.0, "", "constant", "practice")},
        source="common practice",
        basis="practice",
        evidence="practice",
        note="practice for this steel"
        if practice
        else "the first temper turns austenite into fresh martensite, which the second tempers"
        if again
        else "",
    )


def _record_torch(t: Treatment, ruling: Warmth) -> None:
    sheet = t.sheet
    quick = value(TABLE, "quick-temper") * 60
    if ruling.seconds <= quick:
        return
    at = equivalent_temperature(
        ruling.degrees,
        ruling.seconds,
        quick,
        value(TABLE, "hollomon-jaffe"),
        value(TABLE, "kelvin"),
    )
    sheet.add(
        "heat.torch_temperature",
        at,
        formula="(T + K) (C + log10(t / 3600)) / (C + log10(q / 60)) - K",
        inputs={
            "T": sheet.ref("heat.temper_temperature"),
            "K": constant(TABLE, "kelvin"),
            "C": constant(TABLE, "hollomon-jaffe"),
            "t": sheet.ref("heat.temper_time"),
            "q": constant(TABLE, "quick-temper"),
        },
        source=source(TABLE, "hollomon-jaffe"),
        basis="handbook",
        note=f"the colour is {film(at)}" if film(at) else "it is past the temper colours",
    )


def record_final(t: Treatment) -> None:
    """Record the hardness after all heats."""
    steel, sheet = t.heat, t.sheet
    if not t.hardened or steel is None:
        return
    ruling = t.ruling
    if ruling is None:
        if "heat.hardness_quenched" in sheet:
            sheet.add(
                "heat.hardness_final",
                sheet.number("heat.hardness_quenched"),
                formula="H",
                inputs={"H": sheet.ref("heat.hardness_quenched")},
                source="no heat after the quench",
                basis="data",
            )
        return
    at = t.equivalent(ruling.degrees, ruling.seconds)
    rows = t.rows
    if not rows or at > rows[-1][0] or at < rows[0][0]:
        return
    lower, upper = bracket(rows, at)
    hardness = hardness_between(lower, upper, at)
    scatter = value(TABLE, "hardness-scatter")
    temperature, time = _ruling_inputs(t, ruling)
    sheet.add(
        "heat.hardness_final",
        hardness,
        low=hardness - scatter,
        high=hardness + scatter,
        formula="H1 + (H2 - H1) ((T + K) (C + log10(t / 3600)) / (C + log10(t0 / 3600)) "
        "- K - T1) / (T2 - T1)",
        inputs={
            **_row_inputs(steel, lower, upper),
            **_time_inputs(steel, time),
            "T": temperature,
        },
        source=steel.temper_source,
        basis="data",
        evidence=weakest(steel.temper_evidence),
        note=f"ruled by the {ruling.kind} step; of the skin, in the published test bar",
    )


def _ruling_inputs(t: Treatment, ruling: Warmth) -> tuple[Input, Input]:
    sheet = t.sheet
    if ruling.kind == "temper" and "heat.temper_temperature" in sheet:
        return sheet.ref("heat.temper_temperature"), sheet.ref("heat.temper_time")
    return replace(ruling.temperature), ruling.time


def curve(t: Treatment) -> None:
    """Hand the tempering curve to the panel: its rows, its source, and the range to avoid."""
    steel = t.heat
    if steel is None or not t.rows:
        return
    t.sheet.outlines["heat.temper_curve"] = Outline(t.rows)
    t.tell(steel.temper_source, f"curve-{steel.temper_evidence}", steel.temper_source)
    if steel.embrittlement is not None:
        cold, hot = steel.embrittlement
        t.sheet.outlines["heat.avoid_temper"] = Outline(((cold, 0.0), (hot, 0.0)))
