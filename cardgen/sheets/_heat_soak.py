"""How long the part takes to come to heat, and how long it soaks there."""

from __future__ import annotations

from dataclasses import dataclass

from cardgen import library
from cardgen.core.figure import Input
from cardgen.core.words import told
from cardgen.rules import heat
from cardgen.sheets._constants import constant, evidence, source, value
from cardgen.sheets._heat_treatment import TABLE, Treatment, material_input

_STEPS = 200
"""Steps in which the radiant heating is summed up."""


@dataclass(frozen=True, slots=True)
class Warming:
    """How a part comes to heat.

    Attributes
    ----------
    seconds
        Until it is at heat [s].
    biot, film
        Biot number, and the heat transfer that it was taken with, at heat [W/(m2 K)].
    even
        Whether it is at one temperature throughout; else the seconds are those of its core.
    where
        What it is heated in, in words.
    """

    seconds: float
    biot: float
    film: float
    even: bool
    where: str


def furnace(name: str) -> dict[str, str]:
    """Return the row of a kind of furnace."""
    return next(dict(row) for row in library.table("heat/furnaces") if row["name"] == name)


def usual_furnace(temperature: float) -> str:
    """Return what is used for a heat below red where the job does not say."""
    return "oven" if temperature <= value(TABLE, "oven-hottest") else "muffle"


def specific_heat(heat: float) -> float:
    """Return the mean specific heat of steel from cold to a heat [J/(kg K)]."""
    cold, red = value(TABLE, "specific-heat-cold"), value(TABLE, "specific-heat")
    low, high = value(TABLE, "specific-heat-cold-to"), value(TABLE, "specific-heat-red-from")
    share = min(1.0, max(0.0, (heat - low) / (high - low)))
    return cold + (red - cold) * share


def warming(t: Treatment, kind: str, furnace_heat: float, margin: float) -> Warming:
    """Return how the part comes to within a margin of a furnace's heat.

    A part of small Biot number is at one temperature throughout, and its radiant heating is summed
    up over its temperature. A thicker one is worked out as a bar with a core, with the constant
    film that would warm a thin part as fast as the radiation does.
    """
    row = furnace(kind)
    kelvin, room = value(TABLE, "kelvin"), value(TABLE, "room")
    end = max(furnace_heat - margin, room)
    at = [room + (end - room) * k / _STEPS for k in range(_STEPS + 1)]
    film = [
        heat.radiant_film(
            float(row["convection"]),
            float(row["emissivity"]),
            value(TABLE, "stefan-boltzmann"),
            furnace_heat + kelvin,
            part + kelvin,
        )
        for part in at
    ]
    length = heat.round_bar_length(t.section)
    steel = {
        "density": t.job.work.material.density.value,
        "specific_heat": specific_heat(end),
        "conductivity": value(TABLE, "conductivity"),
    }
    per_area = steel["density"] * steel["specific_heat"] * length / 1000
    seconds = heat.radiant_heating_time(per_area, film, at, furnace_heat)
    number = heat.biot(film[-1], length, steel["conductivity"])
    even = number < value(TABLE, "biot-limit") or seconds == 0
    if not even:
        left = (furnace_heat - end) / (furnace_heat - room)
        equal = heat.equal_film(per_area, left, seconds)
        seconds = heat.core_heating_time(t.section, equal, left, steel)
    return Warming(seconds, number, film[-1], even, row["label"])


def record_heating(t: Treatment, temperature: float, kind: str) -> None:
    """Record how long the part takes to come to hardening heat and how long it soaks there."""
    if "heat.soak" in t.sheet:
        return
    _record_soak(t)
    margin = value(TABLE, "furnace-margin")
    found = warming(t, kind, temperature + margin, margin)
    at = Input(temperature, "degC", "heat.harden_temperature", "derived")
    _record_biot(t, found)
    limit = value(TABLE, "biot-limit")
    lag = (
        "the part is at one temperature throughout"
        if found.even
        else "the core lags behind the skin, and the time is the core's"
    )
    t.sheet.add(
        "heat.heating_time",
        found.seconds,
        formula=_method(found),
        inputs={**_inputs(t, kind, temperature), "T": at, "Bi": t.sheet.ref("heat.biot")},
        source=_SOURCES[found.even],
        basis="computed",
        note=told(
            "in {where} at heat, one bar; Biot number {biot} against {limit}: {lag}",
            where=found.where,
            biot=f"{found.biot:.2f}",
            limit=f"{limit:g}",
            lag=lag,
        ),
    )


def record_temper_heating(t: Treatment, temperature: float, kind: str) -> Warming:
    """Record how long the part takes to come to tempering heat; return how it does."""
    found = warming(t, kind, temperature, value(TABLE, "oven-margin"))
    if "heat.temper_heating_time" not in t.sheet:
        t.sheet.add(
            "heat.temper_heating_time",
            found.seconds,
            formula=_method(found),
            inputs={
                **_inputs(t, kind, temperature),
                "T": t.sheet.ref("heat.temper_temperature"),
                "m": constant(TABLE, "oven-margin"),
            },
            source=_SOURCES[found.even],
            basis="computed",
            note=told("in {where} at heat, one bar, to 5 °C below it", where=found.where),
        )
    return found


_SOURCES = {
    True: "heat balance of a part at one temperature throughout",
    False: "series of the infinite cylinder, Carslaw and Jaeger (1959)",
}


def _method(found: Warming) -> str:
    if found.even:
        return "method: radiation and convection to a long round bar, integrated over temperature"
    return "method: conduction to the core of a long round bar, by the series of the cylinder"


def _inputs(t: Treatment, kind: str, heat: float) -> dict[str, Input]:
    row = furnace(kind)
    origin, how = f"table:heat/furnaces {kind}", evidence(row["evidence"])
    return {
        "D": Input(t.section, "mm", "spec:work.stock", "read"),
        "rho": material_input(t.job.work.material.density, "kg/m3", "density"),
        "c": Input(specific_heat(heat), "J/(kg K)", "table:heat/constants specific-heat", "memory"),
        "k": constant(TABLE, "conductivity"),
        "e": Input(float(row["emissivity"]), "", origin, how),
        "h": Input(float(row["convection"]), "W/(m2 K)", origin, how),
    }


def _record_biot(t: Treatment, found: Warming) -> None:
    t.sheet.add(
        "heat.biot",
        found.biot,
        formula="h D / (4000 k)",
        inputs={
            "h": Input(found.film, "W/(m2 K)", "constant", "derived"),
            "D": Input(t.section, "mm", "spec:work.stock", "read"),
            "k": constant(TABLE, "conductivity"),
        },
        source=source(TABLE, "biot-limit"),
        basis="computed",
        note="heat transfer at heat, by radiation and convection",
    )


def _record_soak(t: Treatment) -> None:
    section = Input(t.section, "mm", "spec:work.stock", "read")
    rate = {side: value(TABLE, f"soak-{side}") for side in ("low", "usual", "high")}
    least = value(TABLE, "soak-least")
    by = {side: max(least * 60, 60 * minutes * t.section / 25.4) for side, minutes in rate.items()}
    t.sheet.add(
        "heat.soak",
        by["usual"],
        low=by["low"],
        high=by["high"],
        formula="max(60 s, 60 k D / 25.4)",
        inputs={
            "s": constant(TABLE, "soak-least"),
            "k": constant(TABLE, "soak-usual"),
            "D": section,
        },
        source=source(TABLE, "soak-usual"),
        basis="practice",
        note="counted from when the part is at heat; published rules differ by three to one",
    )
