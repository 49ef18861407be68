"""What the temper leaves: the figures of it, the hardness of the part, and its curve."""

from __future__ import annotations

from dataclasses import replace

from cardgen.core.figure import Input, Outline, weakest
from cardgen.core.words import told
from cardgen.rules.temper import (
    bracket,
    equivalent_temperature,
    hardness_between,
)
from cardgen.sheets._constants import constant, source, value
from cardgen.sheets._heat_films import film, record_colour, shows_colour
from cardgen.sheets._heat_soak import record_temper_heating
from cardgen.sheets._heat_tempering import row_inputs, time_inputs, twice
from cardgen.sheets._heat_treatment import TABLE, Treatment, Warmth


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
        note=told("the colour is {colour}", colour=film(at))
        if film(at)
        else "it is past the temper colours",
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
            **row_inputs(steel, lower, upper),
            **time_inputs(steel, time),
            "T": temperature,
        },
        source=steel.temper_source,
        basis="data",
        evidence=weakest(steel.temper_evidence),
        note=told(
            "ruled by the {kind} step; of the skin, in the published test bar", kind=ruling.kind
        ),
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
