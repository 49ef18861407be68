"""Thread-dial marks that others have printed.

Sources
-------
- Lathe manuals, Clarke CL300M p.21 and mini-lathe user guide p.28: 16 tpi leadscrew.
- South Bend SB1053 p.60, Fig. 89 (leadscrew of 4 tpi inferred from the chart).
- F. D. Jones, Turning and Boring (Industrial Press, 1919), text at Fig. 5.
- Machine-shop training text, p.192: dial with four numbered and four plain lines.
- tests/data/thread_dial_metric.csv: which dial wheel serves which metric lead.
"""

from __future__ import annotations

import csv
from fractions import Fraction
from pathlib import Path

import pytest

from cardgen.rules.thread_dial import (
    closes_anywhere,
    dial_gear_divisor,
    repeat_distance,
    start_marks,
    usable_marks,
)

DATA = Path(__file__).parent.parent / "data"


def rows(name: str) -> list[dict[str, str]]:
    return list(csv.DictReader((DATA / name).read_text("utf-8").splitlines()))


CHARTS = rows("thread_dial_charts.csv")
METRIC = rows("thread_dial_metric.csv")

SOUTH_BEND = {
    # What the chart says, as marks counted from 1 with the numbered lines at 1, 3, 5, 7.
    "8": tuple(range(1, 9)),
    # The maker allows the plain lines only; the groove comes back at every line.
    "6": tuple(range(1, 9)),
    "7": (1, 3, 5, 7),
    "23/2": (1, 5),
    "9/4": (1,),
    "11/4": (1,),
    "23/8": (),
}


def marks(row: dict[str, str]) -> tuple[int, ...]:
    leadscrew = 1 / Fraction(row["leadscrew_tpi"])
    gear = Fraction(row["inches_per_dial_turn"]) / leadscrew
    assert gear.denominator == 1
    return usable_marks(leadscrew, 1 / Fraction(row["tpi_cut"]), int(gear), int(row["marks"]))


@pytest.mark.parametrize("row", CHARTS, ids=lambda row: f"{row['leadscrew_tpi']}-{row['tpi_cut']}")
def test_printed_charts(row: dict[str, str]) -> None:
    printed = row["published"]
    if row["leadscrew_tpi"] == "4":
        assert marks(row) == SOUTH_BEND[row["tpi_cut"]]
    elif printed == "any":
        assert marks(row) == tuple(range(1, int(row["marks"]) + 1))
    else:
        assert marks(row) == tuple(int(mark) for mark in printed.split(","))


@pytest.mark.parametrize("count", [6, 12, 18])
def test_jones_half_nuts_may_be_closed_anywhere(count: int) -> None:
    assert closes_anywhere(Fraction(1, 6), Fraction(1, count))
    assert not closes_anywhere(Fraction(1, 6), Fraction(1, count + 1))


@pytest.mark.parametrize(
    ("count", "expected"),
    [
        ("10", tuple(range(1, 9))),  # even: any of the eight lines
        ("11", (1, 3, 5, 7)),  # odd: any of the four numbered
        ("23/2", (1, 5)),  # a half: two opposite lines
        ("21/4", (1,)),  # a quarter: the same line every time
    ],
)
def test_training_text_rule_for_eight_lines(count: str, expected: tuple[int, ...]) -> None:
    """One turn of this dial is 4 in of carriage travel: a wheel of 16 on 4 tpi."""
    assert usable_marks(Fraction(1, 4), 1 / Fraction(count), 16, 8) == expected


@pytest.mark.parametrize("row", METRIC, ids=lambda row: f"{row['leadscrew_mm']}-{row['lead_mm']}")
def test_metric_leads(row: dict[str, str]) -> None:
    leadscrew, lead = Fraction(row["leadscrew_mm"]), Fraction(row["lead_mm"])
    assert repeat_distance(leadscrew, lead) == Fraction(row["repeat_mm"])
    assert dial_gear_divisor(leadscrew, lead) == int(row["leadscrew_turns"])
    for gear in (14, 15, 16, 18, 20, 21):
        serves = bool(usable_marks(leadscrew, lead, gear, 8))
        assert serves == (row[f"wheel{gear}"] == "yes")


def test_metric_thread_on_an_inch_leadscrew_keeps_the_half_nut_closed() -> None:
    for lead in ("0.5", "1", "1.5", "2", "3", "5"):
        assert usable_marks(Fraction(127, 40), Fraction(lead), 16, 8) == ()


def test_two_starts_take_turns_on_the_dial() -> None:
    """Lead 1/4 in, two starts, 8 tpi leadscrew: half a lead is one leadscrew turn.

    A shift of one leadscrew turn, 1/8 in, puts the tool on the other start.
    """
    found = start_marks(Fraction(1, 8), Fraction(1, 4), 2, 16, 16)
    assert found[1] == (1, 3, 5, 7, 9, 11, 13, 15)
    assert found[2] == (2, 4, 6, 8, 10, 12, 14, 16)
