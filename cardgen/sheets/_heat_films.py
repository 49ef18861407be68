"""Temper colours: by temperature in a quick heat, and how far they run ahead in a long one.

No film thickness is given anywhere: published figures differ by a factor of two.
"""

from __future__ import annotations

from cardgen import library
from cardgen.core.figure import Input
from cardgen.core.swatch import Swatch
from cardgen.core.words import told
from cardgen.rules import colours
from cardgen.rules.diffusion import GAS, quick_temperature
from cardgen.sheets._constants import constant, source, value
from cardgen.sheets._heat_treatment import TABLE, Treatment

_FILMS = "heat/temper_colours"
_SHOWS_COLOUR = ("carbon-steel", "alloy-steel", "tool-steel", "free-cutting-steel")
PAST = "grey, past the colours"


def shows_colour(t: Treatment) -> bool:
    """Whether the steel shows the colours of the chart at their temperatures."""
    return t.job.work.material.group in _SHOWS_COLOUR


def film_bands() -> list[tuple[float, float]]:
    """Return the band of temperatures of each temper colour of the chart [degC]."""
    rows = library.table(_FILMS)
    return colours.edges(
        [float(row["median"]) for row in rows], float(rows[0]["low"]), float(rows[-1]["high"])
    )


def film(temperature: float) -> str:
    """Return the name of the temper colour at a temperature; empty outside the chart."""
    found = colours.band(film_bands(), temperature)
    return "" if found is None else library.table(_FILMS)[found]["name"]


def film_swatches(chosen: str = "") -> list[Swatch]:
    """Return the chart; its limits are the spread between the published tables [degC]."""
    return [
        Swatch(
            row["name"],
            float(row["median"]),
            float(row["low"]),
            float(row["high"]),
            row["srgb"],
            row["hatch"],
            row["name"] == chosen,
        )
        for row in library.table(_FILMS)
    ]


def film_source() -> str:
    """Return where the chart comes from."""
    return library.table(_FILMS)[0]["source"]


def held_temperature(temperature: float, time: float) -> float:
    """Return the temperature whose quick colour shows after a hold [degC].

    Parameters
    ----------
    time
        Of the hold [s]; no more is counted than has been compared, an hour.
    """
    return quick_temperature(
        temperature,
        min(time, value(TABLE, "colour-longest")),
        value(TABLE, "colour-quick"),
        value(TABLE, "colour-activation"),
        value(TABLE, "kelvin"),
    )


def record_colour(t: Treatment) -> None:
    """Record the colour of the temper in a quick heat, and about that after its hold."""
    sheet = t.sheet
    temperature, time = (sheet.number(f"heat.temper_{word}") for word in ("temperature", "time"))
    name = film(temperature)
    if name:
        row = next(row for row in library.table(_FILMS) if row["name"] == name)
        sheet.add(
            "heat.temper_colour",
            name,
            inputs={"T": sheet.ref("heat.temper_temperature")},
            source=row["source"],
            basis="data",
            evidence="read",
            note="for a heat of a few minutes; held an hour, light blue shows from 230 °C (Rapatz)",
        )
    if time <= value(TABLE, "colour-quick"):
        return
    held = held_temperature(temperature, time)
    later = film(held) or (PAST if held > film_bands()[-1][0] else "")
    if later:
        sheet.add(
            "heat.temper_colour_held",
            later,
            inputs={
                "T": sheet.ref("heat.temper_temperature"),
                "t": sheet.ref("heat.temper_time"),
                "q": constant(TABLE, "colour-quick"),
                "Q": constant(TABLE, "colour-activation"),
                "R": Input(GAS, "J/(mol K)", "constant", "read"),
            },
            source=source(TABLE, "colour-activation"),
            basis="computed",
            note=told(
                "as if heated quickly to {held} °C; a rough estimate, go by the thermometer",
                held=f"{held:.0f}",
            ),
        )


def chart(t: Treatment) -> None:
    """Hand the temper colours to the panel, the one to work to marked; none where none shows.

    A temper that is past the colours has none to show; a later blackening may.
    """
    if not shows_colour(t):
        return
    sheet, black = t.sheet, "heat.blacken_temperature"
    chosen = str(sheet["heat.temper_colour"].value) if "heat.temper_colour" in sheet else ""
    if not chosen and black in sheet:
        chosen = film(sheet.number(black))
    if not chosen:
        return
    for swatch in film_swatches(chosen):
        t.tell(swatch.written(), "swatch", film_source())
