"""The colours of hot steel as a chart, for no job in particular; and what heat does to cutters."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import pairwise

from cardgen import library
from cardgen.core.figure import Step
from cardgen.core.words import told
from cardgen.rules.diffusion import quick_temperature
from cardgen.rules.temper import (
    bracket,
    bracket_hardness,
    equivalent_temperature,
    hardness_between,
    temperature_between,
)
from cardgen.sheets._constants import value
from cardgen.sheets._heat_depth import medium
from cardgen.sheets._heat_films import film, film_source, film_swatches
from cardgen.sheets._heat_glow import glow, glow_source, glow_swatches
from cardgen.sheets._heat_treatment import TABLE, degrees, duration, hrc
from cardgen.spec.substance import Heat, Material

_TAP_HARDNESS = 61.0
"""What a tap of carbon steel is tempered to: straw on the chart [HRC]."""
_TAP_TIME = 3600.0
_KEEPS = 60.0
"""Hardness from which down a cutter of high-speed steel is spoilt [HRC]."""


def colour_chart(carbon: Material, taps: Mapping[str, Material]) -> dict[str, tuple[Step, ...]]:
    """Return the charts and their words by panel, as the steps that panels read.

    Parameters
    ----------
    carbon
        The plain carbon tool steel by which the hardness that a colour leaves is told.
    taps
        Name in words to the steel, of those that taps and chasers are made of in the shop.
    """
    return {
        "films": tuple(_films(carbon)),
        "glow": tuple(_glow()),
        "tools": tuple(_tools(carbon)),
        "taps": tuple(_taps(taps)),
    }


def _films(carbon: Material) -> Iterator[Step]:
    for swatch in film_swatches():
        held = quick_temperature(
            swatch.temperature,
            value(TABLE, "colour-quick"),
            value(TABLE, "colour-longest"),
            value(TABLE, "colour-activation"),
            value(TABLE, "kelvin"),
        )
        left = _left(carbon, swatch.temperature, value(TABLE, "colour-quick"))
        yield Step(swatch.written(), "swatch", film_source())
        yield Step(
            told(
                "{low} to {high}; an hour {held}; {left}",
                low=f"{swatch.low:.0f}",
                high=f"{swatch.high:.0f}",
                held=f"{held:.0f}",
                left=hrc(left),
            ),
            "beside",
            film_source(),
        )
    for text in (
        "First number: °C in a heat of minutes, the middle of ten published tables; then from the "
        "least to the most of them; about what an hour takes, a rough estimate; and the hardness "
        "that a carbon-steel tool keeps, drawn to that colour in minutes.",
        "Print, light, polish and holding time shift a colour: try it on scrap, and go by the "
        "thermometer where there is one. Alloy and stainless steels colour hotter.",
        "Patches by calculation for an ideal oxide film; steel in the hand is duller.",
    ):
        yield Step(text, "note", film_source())


def _glow() -> Iterator[Step]:
    for swatch in glow_swatches():
        yield Step(swatch.written(), "swatch", glow_source())
        yield Step("", "beside", glow_source())
    for text in (
        "°C, judged in shade; books differ by 100 °C in these names, and sunlight hides 100 °C.",
        "Hue by calculation: a hot body's light as the eye sees it. How bright and how white a "
        "patch is, is a drawing's choice.",
        "Black heat burns: steel that shows no glow may be at 500 °C. Look into a fire through "
        "glasses that stop infrared. Aluminium melts before it glows.",
    ):
        yield Step(text, "note", glow_source())


def _left(steel: Material, temperature: float, seconds: float) -> float:
    """Return what a temper leaves of a carbon tool steel's hardness [HRC]."""
    heat = _heat(steel)
    at = equivalent_temperature(
        temperature,
        seconds,
        heat.temper_time,
        value(TABLE, "hollomon-jaffe"),
        value(TABLE, "kelvin"),
    )
    return hardness_between(*bracket(heat.temper, at), at)


def _heat(steel: Material) -> Heat:
    if steel.heat is None:
        msg = f"{steel.name} does not harden"
        raise ValueError(msg)
    return steel.heat


def _tools(carbon: Material) -> Iterator[Step]:
    rows = library.table("heat/cutter_heat")
    said = rows[0]["source"]
    marks = [(float(row["temperature"]), float(row["hardness"])) for row in rows]
    last = next((low, high) for low, high in pairwise(marks) if low[1] >= _KEEPS > high[1])
    hottest, softest = marks[-1]
    blue = next(s for s in film_swatches() if s.name == "light blue")
    left = _left(carbon, blue.temperature, value(TABLE, "colour-quick"))
    for text in (
        told(
            "High-speed steel keeps {hard} to {hot} and falls to {softest} at "
            "{hottest}. A temper colour on it means that its skin got warm, not that it "
            "is soft.",
            hard=hrc(last[0][1]),
            hot=degrees(last[0][0]),
            softest=hrc(softest),
            hottest=degrees(hottest),
        ),
        told(
            "Carbon steel that shows {colour} is down to {left}: grind the colour away, "
            "and what lies under it, or harden the tool again.",
            colour=blue.name,
            left=hrc(left),
        ),
        "Either is spoilt at the edge before it shows: a skin hotter than Ac1 hardens again, "
        "untempered and cracked. Too hot to hold is too hot.",
        "Grind light, keep the tool moving, dress the wheel. Cool early and often, or not at all: "
        "a hot tool that is plunged cracks. Carbide is never quenched.",
        "A hardened tool that was red and black with scale is soft: it must be hardened again.",
    ):
        yield Step(text, "item", said)


def _taps(taps: Mapping[str, Material]) -> Iterator[Step]:
    growth = [1000 * float(medium(_heat(steel).quench)["growth"]) for steel in taps.values()]
    for text in (
        told(
            "Finish it first, with its flutes and its relief, and without a sharp nick. "
            "It may grow {least} to {most} in 1000: make it to the low limit. Soap "
            "or chalk on it keeps scale off.",
            least=f"{min(growth):g}",
            most=f"{max(growth):g}",
        ),
        told(
            "Heat slowly and evenly, shank first, past where a magnet lets go; hold "
            "{duration} at heat and no hotter. Quench upright, thread first, and keep it "
            "moving till it is hand warm.",
            duration=duration(60 * value(TABLE, "soak-least")),
        ),
        "Brighten the flutes and temper at once. Draw the shank on to blue.",
    ):
        yield Step(text, "step", "common practice")
    for word, steel in taps.items():
        yield from _tap(word, steel)


def _tap(word: str, steel: Material) -> Iterator[Step]:
    heat = _heat(steel)
    if heat.harden is None or heat.as_quenched is None or not heat.temper:
        return
    at = heat.harden.value
    temper = temperature_between(*bracket_hardness(heat.temper, _TAP_HARDNESS), _TAP_HARDNESS)
    oven, torch = (
        equivalent_temperature(
            temper,
            heat.temper_time,
            seconds,
            value(TABLE, "hollomon-jaffe"),
            value(TABLE, "kelvin"),
        )
        for seconds in (_TAP_TIME, 60 * value(TABLE, "quick-temper"))
    )
    named = told(
        "{steel}: {temperature}, {glow}, {quench}",
        steel=word,
        temperature=degrees(at),
        glow=glow(at),
        quench=heat.quench,
    )
    yield Step(named, "heading", heat.harden.source)
    yield Step(
        told(
            "File-hard {hardness}. Temper to {tempered}: {oven} for {time} in an "
            "oven, or {colour}, {torch}, by torch.",
            hardness=hrc(heat.as_quenched.value),
            tempered=hrc(_TAP_HARDNESS),
            oven=degrees(oven),
            time=duration(_TAP_TIME),
            colour=film(torch),
            torch=degrees(torch),
        ),
        "item",
        heat.temper_source,
    )
