"""The temper: which temperature for which hardness, its colour, and what later heats leave."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from cardgen.core.figure import Evidence, Input
from cardgen.core.words import sentence, told
from cardgen.rules.temper import (
    OutsideRowsError,
    Row,
    bracket_hardness,
    equivalent_temperature,
    temperature_between,
)
from cardgen.sheets._constants import constant, value
from cardgen.sheets._heat_conflict import spoils
from cardgen.sheets._heat_soak import usual_furnace, warming
from cardgen.sheets._heat_treatment import (
    TABLE,
    Treatment,
    Warmth,
    degrees,
    duration,
    hrc,
    sentences,
)
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
            sentences(
                told(
                    "Tempering at {degrees} is above Ac1, {a1}: it undoes the hardening.",
                    degrees=degrees(found.degrees),
                    a1=degrees(a1),
                ),
                sentence(told("{hardness} is what there is to temper", hardness=t.hardness_now)),
            ),
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
            sentences("Say the temperature or the hardness of the temper.", _what_it_reaches(t)),
        )
        return None
    key = f"spec:heat.{index}.hardness" if step.hardness is not None else "spec:heat.hardness"
    return _for_hardness(t, Input(target, "HRC", key, "read"), time)


def _for_hardness(t: Treatment, target: Input, time: Input) -> Warmth | None:
    steel, asked = t.heat, float(target.value)
    if steel is None or not t.rows:
        t.sheet.refuse(
            "heat.no_rows",
            told(
                "No tempering rows are published for {title}; state the temperature of the temper.",
                title=t.title,
            ),
        )
        return None
    try:
        lower, upper = bracket_hardness(t.rows, asked)
    except OutsideRowsError:
        t.sheet.refuse(
            "heat.hardness_not_reached",
            sentences(
                told(
                    "{asked} cannot be had by tempering {title}.", asked=hrc(asked), title=t.title
                ),
                _what_it_reaches(t),
            ),
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
    inputs = {"H": target, **row_inputs(steel, lower, upper), **time_inputs(steel, time)}
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


def row_inputs(steel: Heat, lower: Row, upper: Row) -> Mapping[str, Input]:
    kind: Evidence = steel.temper_evidence
    return {
        "T1": Input(lower[0], "degC", "material:heat.temper", kind),
        "H1": Input(lower[1], "HRC", "material:heat.temper", kind),
        "T2": Input(upper[0], "degC", "material:heat.temper", kind),
        "H2": Input(upper[1], "HRC", "material:heat.temper", kind),
    }


def time_inputs(steel: Heat, time: Input) -> Mapping[str, Input]:
    return {
        "C": constant(TABLE, "hollomon-jaffe"),
        "K": constant(TABLE, "kelvin"),
        "t": time,
        "t0": Input(steel.temper_time, "s", "material:heat.temper.time", "derived"),
    }


def _what_it_reaches(t: Treatment) -> str:
    if not t.rows or t.heat is None:
        return told("No tempering rows are published for {title}.", title=t.title)
    (cold, hardest), (hot, softest) = t.published[0], t.published[-1]
    return told(
        "{title}, tempered {time}, runs from {hardest} at {cold} to {softest} "
        "at {hot} in the published rows.",
        title=t.title,
        time=duration(t.heat.temper_time),
        hardest=hrc(hardest),
        cold=degrees(cold),
        softest=hrc(softest),
        hot=degrees(hot),
    )


def _check_brittle(t: Treatment, found: Warmth) -> None:
    steel = t.heat
    if steel is None:
        return
    at = found.degrees
    if steel.embrittlement is not None:
        low, high = steel.embrittlement
        if low <= at <= high:
            below, above = (_left(t, end, found.seconds) for end in (low, high))
            t.sheet.warn(
                "heat.brittle_temper",
                told(
                    "{at} lies in the tempering range {low} to {high} that leaves this steel "
                    "brittle. Where shocks come, temper below it ({below}) or above it ({above}).",
                    at=degrees(at),
                    low=f"{low:.0f}",
                    high=degrees(high),
                    below=below,
                    above=above,
                ),
            )
    if _cools_fast(t, at):
        t.sheet.warn(
            "heat.slow_cooling",
            told(
                "Cool fast, in water or oil, after tempering at {at}: slow cooling through "
                "{low} to {high} leaves alloy steel brittle.",
                at=degrees(at),
                low=f"{value(TABLE, 'temper-brittle-low'):.0f}",
                high=degrees(value(TABLE, "temper-brittle-high")),
            ),
        )


def _cools_fast(t: Treatment, at: float) -> bool:
    """Whether slow cooling from a temper makes the steel brittle; molybdenum hinders that."""
    low, high = value(TABLE, "temper-brittle-low"), value(TABLE, "temper-brittle-high")
    material = t.job.work.material
    molybdenum = material.composition.get("Mo", 0.0) > 0
    return material.group == "alloy-steel" and low <= at <= high and not molybdenum


def _left(t: Treatment, temperature: float, seconds: float) -> str:
    """Return what a temper leaves: the bare number where there is one."""
    hardness = t.hardness_after(temperature, seconds)
    return t.hardness_words(temperature, seconds) if hardness is None else hrc(hardness)


def _check_agreement(t: Treatment, step: HeatStep, found: Warmth) -> None:
    """Compare the hardness that the job asks for with what its temperature gives."""
    got = t.hardness_after(found.degrees, found.seconds)
    scatter = value(TABLE, "hardness-scatter")
    if got is None or step.temperature is None:
        return
    if step.hardness is not None and abs(got - step.hardness) > scatter:
        t.sheet.refuse(
            "heat.temper_disagrees",
            sentences(
                told(
                    "A temper of {degrees} for {time} gives {got}, not the {hardness} that is "
                    "asked.",
                    degrees=degrees(found.degrees),
                    time=duration(found.seconds),
                    got=hrc(got),
                    hardness=hrc(step.hardness),
                ),
                _instead(t, step.hardness, found),
            ),
        )
    elif step.hardness is None and t.asked is not None and got < t.asked - scatter:
        t.sheet.warn(
            "heat.softer_than_asked",
            sentences(
                told(
                    "The quench is asked to give {asked}; tempering at {degrees} leaves {got}.",
                    asked=hrc(t.asked),
                    degrees=degrees(found.degrees),
                    got=hrc(got),
                ),
                _instead(t, t.asked, found),
            ),
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
    return told("For {hardness} temper at {at}.", hardness=hrc(hardness), at=degrees(at))


def _tell(t: Treatment, found: Warmth) -> None:
    warm = warming(t, found.furnace, found.degrees, value(TABLE, "oven-margin"))
    t.tell(
        sentences(
            told(
                "Temper {degrees}, {time}. Start as soon as it is hand warm; count from "
                "when it is at heat: it takes about {warm} to get there in {furnace}.",
                degrees=degrees(found.degrees),
                time=duration(found.seconds),
                warm=duration(warm.seconds),
                furnace=warm.where,
            ),
            "Then cool it fast, in water or oil." if _cools_fast(t, found.degrees) else "",
            told("Leaves {hardness}.", hardness=t.hardness_words(found.degrees, found.seconds)),
            "Let it cool to room temperature and temper a second time." if twice(t) else "",
        ),
        "temper",
        found.source,
    )


def twice(t: Treatment) -> bool:
    """Whether to temper twice: practice for the steel, or for the austenite that is left."""
    steel, left = t.heat, "heat.retained_austenite"
    much = left in t.sheet and t.sheet.number(left) > value(TABLE, "austenite-warning")
    return much or (steel is not None and steel.double_temper)
