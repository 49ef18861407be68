"""Change wheels that others have printed.

Sources
-------
- F. D. Jones, Turning and Boring (Industrial Press, 1919), chapter Thread Cutting.
- J. Rose, Modern Machine-Shop Practice (1887-88), change-gear chapter.
- The American Mechanic (19th c.), how to determine the proportion of wheels.
- A 19th c. mechanics' handbook, selection of screwing wheels.
- Lathe user manual, Clarke CL300M p.21: gear chart of a 16 tpi leadscrew (tests/data).
- Lathe manual, OTMT SC4 p.38: inch threads from a metric leadscrew.
- University workshop notes, exercises 1 and 2.
- Hobby shop log, Mini-Lathe Metric Threading: 21 Tooth Gear (2020): trains tried on the machine.
"""

from __future__ import annotations

import csv
from fractions import Fraction
from pathlib import Path

import pytest

from cardgen.rules.meshing import Quadrant, goes_together, idlers_for, teeth_to_spare
from cardgen.rules.train import Train, lead_error
from tests.trains import best_train

INCH = Fraction(127, 5)
DATA = Path(__file__).parent.parent / "data"
CHART = list(csv.DictReader((DATA / "gear_chart_16tpi.csv").read_text("utf-8").splitlines()))
APPROX = list(csv.DictReader((DATA / "approx_127.csv").read_text("utf-8").splitlines()))
CHART_WHEELS = [20, 30, 35, 40, 40, 45, 50, 55, 57, 60, 65]


def tpi(count: Fraction | int | str) -> Fraction:
    return INCH / Fraction(count)


def lead(leadscrew: Fraction, *pairs: tuple[int, int]) -> Fraction:
    return leadscrew * Train(pairs).ratio


def test_jones_three_millimetre_lead_on_an_inch_lathe() -> None:
    """Screw constant 6: 90 on the stud and 127 on the leadscrew cut 3 mm."""
    assert lead(tpi(6), (90, 127)) == 3
    assert str(best_train(Fraction(3), tpi(6), [40, 60, 90, 127])) == "90/127"


def test_rose_compound_counted_from_the_leadscrew() -> None:
    """Rose counts from the leadscrew: his 36/48 and 66/18 are 48/36 and 18/66 from the spindle."""
    assert lead(tpi(4), (48, 36), (18, 66)) == tpi(11)


def test_american_mechanic_five_threads_from_two() -> None:
    assert str(best_train(tpi(5), tpi(2), [40, 100])) == "40/100"


def test_mechanics_handbook_seven_threads_from_one() -> None:
    assert str(best_train(tpi(7), tpi(1), [20, 140])) == "20/140"


def test_one_inch_pitch_from_a_two_to_one_compound() -> None:
    """72 on the head shaft, 36 on the leadscrew, a 48 and 24 between: 1 tpi from 4 tpi."""
    assert lead(tpi(4), (72, 36), (48, 24)) == tpi(1)


def test_transposing_pair_turns_eight_threads_into_three_millimetres() -> None:
    assert lead(tpi(8), (120, 127)) == 3


@pytest.mark.parametrize(
    ("wanted", "pairs"), [(12, ((50, 100), (127, 60))), (20, ((30, 120), (127, 50)))]
)
def test_otmt_inch_threads_from_two_millimetres(
    wanted: int, pairs: tuple[tuple[int, int], ...]
) -> None:
    assert lead(Fraction(2), *pairs) == tpi(wanted)
    found = best_train(tpi(wanted), Fraction(2), [teeth for pair in pairs for teeth in pair])
    assert found is not None
    assert lead_error(found, Fraction(2), tpi(wanted)) == 0


@pytest.mark.parametrize(
    ("wanted", "pairs"),
    [
        (18, [(12, 36), (18, 54), (24, 72)]),
        (17, [(12, 34), (18, 51), (24, 68)]),
        (16, [(12, 32), (18, 48), (24, 64)]),
        (15, [(12, 30), (18, 45), (24, 60)]),
        (14, [(12, 28), (18, 42), (24, 56)]),
        (13, [(12, 26), (18, 39), (24, 52)]),
    ],
)
def test_rose_table_for_a_six_thread_leadscrew(wanted: int, pairs: list[tuple[int, int]]) -> None:
    assert all(lead(tpi(6), pair) == tpi(wanted) for pair in pairs)
    # Of the three pairs that he prints, the one with the larger small wheel is taken.
    found = best_train(tpi(wanted), tpi(6), [teeth for pair in pairs for teeth in pair])
    assert str(found) == f"24/{4 * wanted}"


@pytest.mark.parametrize("row", CHART, ids=lambda row: row["tpi"])
def test_chart_of_a_sixteen_thread_leadscrew(row: dict[str, str]) -> None:
    """Each printed train cuts what it says, and the search finds an exact one in the same set."""
    a, b, d = (int(row[key]) for key in "abd")
    pairs = ((a, d),) if row["b_role"] == "idler" else ((a, b), (int(row["c"]), d))
    wanted = tpi(row["tpi"])
    assert lead(tpi(16), *pairs) == wanted
    found = best_train(wanted, tpi(16), CHART_WHEELS)
    assert found is not None
    assert lead_error(found, tpi(16), wanted) == 0
    assert len(found.pairs) <= len(pairs)


def test_workshop_notes_left_hand_takes_two_idlers() -> None:
    """6 mm leadscrew: 2 mm right hand is 1/3, 1.5 mm left hand 1/4 with two idlers."""
    wheels = [20, 30, 40, 50, 60, 80]
    right = best_train(Fraction(2), Fraction(6), wheels)
    left = best_train(Fraction(3, 2), Fraction(6), wheels)
    assert right is not None
    assert right.ratio == Fraction(1, 3)
    assert left is not None
    assert left.ratio == Fraction(1, 4)
    for train, same_way, count in ((right, True, 1), (left, False, 2)):
        spare = [teeth for teeth in wheels if teeth not in train.wheels]
        idlers = idlers_for(train.pairs, same_way=same_way, spare=spare, quadrant=None)
        assert idlers is not None
        assert len(idlers) == count


# Trains tried on a machine with wheels of module 1 on 12 mm bores. The log's clearance, 4.5 mm
# from tip to axis, is what the retaining screw "almost touches".
TRIED = Quadrant(module=1.0, shaft_radius=4.5)


def test_shop_log_train_that_does_not_go_together() -> None:
    pairs = ((21, 30), (45, 50))
    assert teeth_to_spare(pairs) == 6
    assert not goes_together(pairs, (), TRIED)


def test_shop_log_train_that_just_goes_together() -> None:
    pairs = ((21, 50), (60, 40))
    assert teeth_to_spare(pairs) == 11
    assert goes_together(pairs, (), TRIED)


@pytest.mark.parametrize("row", APPROX, ids=lambda row: f"{row['driver']}-{row['driven']}")
def test_substitutes_for_the_127_wheel(row: dict[str, str]) -> None:
    """Errors are of the pitch, to the part in a million."""
    pair = (int(row["driver"]), int(row["driven"]))
    error = lead_error(Train((pair,)), INCH, Fraction(20))
    assert round(error * 10**6) == int(row["pitch_error_ppm"])


@pytest.mark.parametrize(
    ("owned", "ppm"),
    [
        ([100, 127, 63, 80, 37, 47], 0),  # the true wheel, where it is owned
        ([63, 80, 37, 47, 50], 125),  # else the nearest of its substitutes
        ([37, 47, 50, 40], -213),
        ([48, 61, 50], -656),
        ([22, 28, 26], -2143),
    ],
)
def test_the_conversion_wheels_that_are_owned_are_used(owned: list[int], ppm: int) -> None:
    """25.4 mm to 20 mm is 100/127: the error is that of the best substitute in the table."""
    found = best_train(Fraction(20), INCH, owned, arrangements=("single",))
    assert found is not None
    assert round(lead_error(found, INCH, Fraction(20)) * 10**6) == ppm


def test_the_transposing_pair_with_another_pair_cuts_metric_from_eight_to_the_inch() -> None:
    """120/127 makes 3 mm of 8 tpi, and 120/127 x 50/60 makes 2.5 mm."""
    found = best_train(Fraction(5, 2), tpi(8), [120, 127, 50, 60, 40, 65])
    assert found is not None
    assert lead_error(found, tpi(8), Fraction(5, 2)) == 0
    assert 127 in found.wheels[1::2]
