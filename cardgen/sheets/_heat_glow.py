"""The glow of hot steel: names by a published table, patches by the physics of a hot body."""

from __future__ import annotations

from functools import cache

from cardgen import library
from cardgen.core.swatch import Swatch
from cardgen.rules import colours
from cardgen.rules.glow import XYZ, adapted, hue, strength, tristimulus, written
from cardgen.sheets._constants import value
from cardgen.sheets._heat_treatment import TABLE, Treatment

_GLOW = "heat/glow_colours"


def glow(temperature: float) -> str:
    """Return the name of the glow at a temperature; empty below the first that is named."""
    found = colours.band(glow_bands(), temperature)
    return "" if found is None else library.table(_GLOW)[found]["name"]


def glow_source() -> str:
    """Return who names the colours."""
    return library.table(_GLOW)[0]["source"]


def glow_bands() -> list[tuple[float, float]]:
    """Return the band of temperatures of each glow colour [degC]."""
    marks = [float(row["temperature"]) for row in library.table(_GLOW)]
    # Half a step of the table beyond its ends.
    return colours.edges(marks, marks[0] - 25, marks[-1] + 50)


@cache
def _observer() -> tuple[tuple[float, XYZ], ...]:
    return tuple(
        (float(row["wavelength"]), (float(row["x"]), float(row["y"]), float(row["z"])))
        for row in library.table("heat/cie_1931")
    )


def seen(temperature: float) -> XYZ:
    """Return what the standard observer sees of hot steel; Y in cd/m2."""
    kelvin = temperature + value(TABLE, "kelvin")
    return tristimulus(_observer(), kelvin, value(TABLE, "glow-emissivity"))


def patch(temperature: float) -> str:
    """Return the colour by which a drawing shows a glow, as ``#rrggbb``.

    The eye is taken to be used to the fire, so that the hottest steel looks white to it.
    """
    light = seen(temperature)
    dark, bright = (seen(value(TABLE, f"glow-{end}"))[1] for end in ("coldest", "hottest"))
    full = strength(light[1], dark, bright, value(TABLE, "glow-dimmest"))
    red, green, blue = hue(adapted(light, seen(value(TABLE, "glow-white"))))
    return written((full * red, full * green, full * blue))


def glow_swatches(chosen: float | None = None) -> list[Swatch]:
    """Return the whole chart, with the colour of one temperature marked [degC]."""
    bands = glow_bands()
    found = None if chosen is None else colours.band(bands, chosen)
    return [
        Swatch(
            row["name"],
            float(row["temperature"]),
            low,
            high,
            patch(float(row["temperature"])),
            row["hatch"],
            index == found,
        )
        for index, (row, (low, high)) in enumerate(zip(library.table(_GLOW), bands, strict=True))
    ]


def glow_chart(t: Treatment) -> None:
    """Hand the glow colours next to the hardening heat to the panel."""
    swatches = glow_swatches(t.sheet.number("heat.harden_temperature"))
    found = next((k for k, swatch in enumerate(swatches) if swatch.chosen), None)
    if found is None:
        return
    for swatch in swatches[max(0, found - 1) : found + 2]:
        t.tell(swatch.written(), "glow", glow_source())
