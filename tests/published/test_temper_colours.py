"""The temper-colour chart against the published rows that it sums up.

Rows in tests/data/temper_colours.csv: Karmarsch in Lueger's Lexikon (c. 1904), Dooley's Applied
Science for Metal Workers, a gauge-plate maker, a plating lexicon, a strip maker, dictionaries.
Glow colours: a German table in an encyclopaedia article on stress-relief annealing.
"""

from __future__ import annotations

import csv
from pathlib import Path
from statistics import median

import pytest

from cardgen import library
from cardgen.rules.colours import band, edges
from cardgen.sheets._heat_films import film
from cardgen.sheets._heat_hardening import glow

with (Path(__file__).parents[1] / "data" / "temper_colours.csv").open(encoding="utf-8") as file:
    ROWS = list(csv.DictReader(file))
CHART = {row["name"]: row for row in library.table("heat/temper_colours")}


@pytest.mark.parametrize(
    "row", [row for row in ROWS if row["kind"].startswith("spread")], ids=lambda r: r["family"]
)
def test_spread_and_median_as_published(row: dict[str, str]) -> None:
    low, high = row["temp_C"].split("-")
    ours = CHART[row["family"]]
    assert (ours["low"], ours["high"]) == (low, high)
    assert ours["median"] == row["use_or_note"].rsplit(" ", 1)[1]


@pytest.mark.parametrize("family", ["dark straw", "brown", "dark blue"])
def test_spread_of_the_other_families(family: str) -> None:
    """Worked out from the single rows; "brown" takes in the strip between brown and purple."""
    values = [
        float(row["temp_C"])
        for row in ROWS
        if row["kind"] == "published"
        and (row["family"] == family or (family, row["family"]) == ("brown", "brown-purple"))
    ]
    ours = CHART[family]
    assert float(ours["low"]) == min(values)
    assert float(ours["high"]) == max(values)
    assert float(ours["median"]) == pytest.approx(median(values), abs=0.5)


def test_bands_follow_one_another() -> None:
    marks = [float(row["median"]) for row in CHART.values()]
    assert marks == sorted(marks)
    bands = edges(marks, 177, 427)
    assert all(band(bands, mark) == index for index, mark in enumerate(marks))
    assert band(bands, 176) is None
    assert band(bands, 427) is None


@pytest.mark.parametrize(
    ("temperature", "name"),
    [(221, "pale straw"), (229, "straw"), (249, "dark straw"), (255, "brown"), (275, "purple"),
     (282, "violet"), (295, "dark blue"), (302, "dark blue"), (330, "grey")],
)  # fmt: skip
def test_named_as_the_sources_name_it(temperature: float, name: str) -> None:
    assert film(temperature) == name


def test_no_colour_outside_the_chart() -> None:
    assert film(150) == ""
    assert film(500) == ""


@pytest.mark.parametrize(
    ("temperature", "name"),
    [(680, "dark red"), (780, "cherry"), (810, "light cherry"), (850, "light red"),
     (900, "good light red"), (1000, "light yellow red"), (1200, "light yellow")],
)  # fmt: skip
def test_glow_colours(temperature: float, name: str) -> None:
    assert glow(temperature) == name
    assert glow(400) == ""
