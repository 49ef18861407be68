"""The finish: black by heat or by burnt oil, cold blue, wax; what each does to fit and hardness."""

from __future__ import annotations

from math import cos, fsum, radians

from cardgen import library
from cardgen.core.figure import Evidence, Input
from cardgen.core.rounding import with_unit
from cardgen.core.words import joined, told
from cardgen.rules.diffusion import reaction_depth
from cardgen.sheets._constants import evidence, source, value
from cardgen.sheets._heat_conflict import finish_hold, spoils, stands, undoes
from cardgen.sheets._heat_treatment import (
    TABLE,
    Treatment,
    Warmth,
    degrees,
    record_once,
    sentences,
)
from cardgen.spec.job import HeatStep

_FERROUS = ("carbon-steel", "alloy-steel", "tool-steel", "free-cutting-steel", "cast-iron")
_FINISHES = "heat/finishes"


def finish(t: Treatment, index: int, step: HeatStep) -> None:
    """Work out one finish and note it on the part."""
    if step.step != "wax" and t.job.work.material.group not in _FERROUS:
        t.sheet.refuse(
            "heat.no_black",
            told(
                "{title} takes no black oxide by heat; leave the {step} step out.",
                title=t.title,
                step=step.step,
            ),
        )
        return
    if step.step == "cold-blue":
        _cold_blue(t, step)
        return
    at = _temperature(t, index, step)
    temperature = float(at.value)
    hold = finish_hold(index, step)
    row = _row(step)
    if step.step == "blacken":
        # Recorded even where it is refused: the hardness that it would leave must be explained.
        said = source(TABLE, "blacken-soft-low")
        record_once(t, "heat.blacken_temperature", at, said, "practice", "practice")
    spoils(t, step, temperature)
    if undoes(t, index, step, temperature, hold):
        return
    if t.hardened and step.step != "wax":
        t.warmths.append(Warmth(step.step, at, hold))
    t.finishes.append((step.step, stands(step, temperature)))
    _TELL[step.step](t, temperature, row["source"])


def _row(step: HeatStep) -> dict[str, str]:
    return next(dict(row) for row in library.table(_FINISHES) if row["name"] == step.step)


def _temperature(t: Treatment, index: int, step: HeatStep) -> Input:
    if step.temperature is not None:
        return Input(step.temperature, "degC", f"spec:heat.{index}.temperature", "read")
    if step.step == "blacken":
        low, high = value(TABLE, "blacken-soft-low"), value(TABLE, "blacken-soft-high")
        return Input((low + high) / 2, "degC", "table:heat/constants blacken-soft-low", "practice")
    row = _row(step)
    low, high = float(row["low"]), float(row["high"])
    # A hard part is warmed as little as will do.
    at = low if t.hardened else (low + high) / 2
    return Input(at, "degC", f"table:{_FINISHES} {step.step}", "practice")


def _cold_blue(t: Treatment, step: HeatStep) -> None:
    row = _row(step)
    t.finishes.append((step.step, stands(step, 0.0)))
    limit = value(TABLE, "pickle-hardness")
    hard = t.hardened
    acid = (
        told(
            "No acid pickle: above {limit} HRC it lets hydrogen in and cracks the part later.",
            limit=f"{limit:.0f}",
        )
        if hard
        else ""
    )
    t.tell(
        sentences(
            "Cold blue. Degrease, swab the blue on evenly, rinse, dry, oil. It takes no "
            "hardness and adds nothing to the fit; it is thin and wears off the flanks first.",
            acid,
        ),
        "cold-blue",
        row["source"],
    )


def _blacken(t: Treatment, temperature: float, said: str) -> None:
    if t.hardened:
        left = told("It stays below the temper and leaves {hardness}.", hardness=t.hardness_now)
    else:
        scales = temperature >= value(TABLE, "blacken-soft-low")
        left = sentences(
            "The part is used as it is cut, not hardened.",
            t.job.work.material.heat_note,
            "Scale grows on the flanks: run the nut over the thread afterwards." if scales else "",
        )
    t.tell(
        told(
            "Blacken {temperature}. Degrease and polish first, heat evenly, oil or wax "
            "while warm. {left}",
            temperature=degrees(temperature),
            left=left,
        ),
        "blacken",
        said,
    )


def _oil_black(t: Treatment, temperature: float, said: str) -> None:
    t.tell(
        sentences(
            told(
                "Oil black {temperature}. Degrease, heat until oil smokes on it, dip in oil, "
                "let it drip, heat and dip again until it is black. Rub the flanks down.",
                temperature=degrees(temperature),
            ),
            told("It leaves {hardness}.", hardness=t.hardness_now) if t.hardened else "",
        ),
        "oil-black",
        said,
    )


def _wax(t: Treatment, temperature: float, said: str) -> None:
    t.tell(
        told(
            "Wax {temperature}. Warm the part until wax melts on it, wipe it thin, and "
            "wipe the flanks clean. It takes no hardness.",
            temperature=degrees(temperature),
        ),
        "wax",
        said,
    )


_TELL = {"blacken": _blacken, "oil-black": _oil_black, "wax": _wax}


def record_finish(t: Treatment) -> None:
    """Record what the finishes are, how thick they make each surface, and what the fit loses."""
    if not t.finishes:
        return
    sheet = t.sheet
    words = [name for name, _ in t.finishes]
    labels = {row["name"]: row["label"] for row in library.table(_FINISHES)}
    sheet.add(
        "heat.finish",
        joined((labels[word] for word in words), ", "),
        source="the job",
        basis="data",
        evidence="read",
    )
    coats = {f"t{number}": _coat(t, word) for number, word in enumerate(words, 1)}
    coats = {name: coat for name, coat in coats.items() if coat is not None}
    if not coats:
        return
    thick = fsum(float(coat.value) for coat in coats.values() if coat)
    sheet.add(
        "heat.finish_thickness",
        thick,
        formula=" + ".join(coats),
        inputs={name: coat for name, coat in coats.items() if coat},
        source="; ".join(_source(word) for word in dict.fromkeys(words)),
        basis="practice",
        evidence="practice",
        note="at most",
    )
    if "thread.leading_flank" in sheet:
        _record_backlash(t, thick)


def _source(word: str) -> str:
    if word == "blacken":
        return source(TABLE, "scale-prefactor")
    return next(row["source"] for row in library.table(_FINISHES) if row["name"] == word)


def _coat(t: Treatment, word: str) -> Input | None:
    """Return the greatest thickness of a finish on a surface [mm]; none for a thin oxide film."""
    if word != "blacken":
        row = next(row for row in library.table(_FINISHES) if row["name"] == word)
        return Input(
            float(row["thick"]), "mm", f"table:{_FINISHES} {word}", evidence(row["evidence"])
        )
    temperature = t.sheet.number("heat.blacken_temperature")
    if temperature < value(TABLE, "scale-begins"):
        return None
    kind: Evidence = "memory"
    step = next(step for step in t.job.heat if step.step == "blacken")
    depth = reaction_depth(
        value(TABLE, "scale-prefactor"),
        value(TABLE, "scale-activation"),
        temperature + value(TABLE, "kelvin"),
        float(finish_hold(0, step).value),
    )
    return Input(depth, "mm", "heat.blacken_temperature", kind)


def _record_backlash(t: Treatment, thick: float) -> None:
    sheet = t.sheet
    flanks = [sheet.number(f"thread.{side}_flank") for side in ("leading", "trailing")]
    taken = thick * fsum(1 / cos(radians(flank)) for flank in flanks)
    sheet.add(
        "heat.finish_backlash",
        taken,
        formula="t (1 / cos(a) + 1 / cos(b))",
        inputs={
            "t": sheet.ref("heat.finish_thickness"),
            "a": sheet.ref("thread.leading_flank"),
            "b": sheet.ref("thread.trailing_flank"),
        },
        source="geometry of a coat on two flanks",
        basis="computed",
        note="if it were left on the flanks; twice that if the nut is finished too",
    )
    if "mate.backlash" not in sheet:
        return
    least = sheet["mate.backlash"].low
    grown = "heat.growth_backlash"
    growth = sheet.number(grown) if grown in sheet else 0.0
    # Where growth alone binds, that has been said.
    if least is not None and growth <= least < taken + growth:
        takes = told("The finish may take {taken} of backlash", taken=with_unit(taken, "mm", 3))
        if growth:
            takes = told(
                "{takes} and growth {growth}", takes=takes, growth=with_unit(growth, "mm", 3)
            )
        sheet.warn(
            "heat.finish_binds",
            told(
                "{takes}, and the pair has {least} at the least: clean the flanks, or "
                "run the nut over them before the finish sets.",
                takes=takes,
                least=with_unit(least, "mm", 3),
            ),
        )
