"""A nut through all its sheets: against published sizes, against its screw's card, mirrored."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from functools import cache
from math import isfinite
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cardgen.core.figure import Figure, Sheets
from cardgen.forms.form import read
from cardgen.sheets import every
from cardgen.spec.job import Hand, Job, Thread
from cardgen.spec.load import load
from tests.ledger import evaluate
from tests.rows import rows

SPECS = Path(__file__).parents[2] / "specs" / "jobs"
INCH = Fraction(254, 10)
FORMS = {
    "trapezoidal": ("7H", "7e"),
    "metric": ("6H", "6g"),
    "acme": ("2G", "2G"),
    "square": ("", ""),
}


@cache
def demo() -> Job:
    return load(SPECS / "nipping-press-nut.yaml")


def nut(
    form: str = "trapezoidal",
    diameter: float = 28.0,
    pitch: Fraction = Fraction(5),
    *,
    starts: int = 1,
    hand: Hand = "right",
    surface: str = "internal",
    cls: str | None = None,
) -> Job:
    given, screw = FORMS[form]
    internal = surface == "internal"
    thread = Thread(
        form=form,
        surface="internal" if internal else "external",
        diameter=diameter,
        pitch_exact=pitch,
        starts=starts,
        hand=hand,
        class_=(given if internal else screw) if cls is None else cls,
        length=30.0,
        inch=form in ("acme", "square"),
    )
    job = demo()
    assert job.mate is not None
    bit = max(2.0, 0.2 * (diameter - float(pitch)))
    return replace(
        job,
        thread=thread,
        mate=replace(job.mate, class_=screw if internal else given),
        work=replace(job.work, stock=2 * diameter, stickout=60.0),
        tool=replace(job.tool, blank=bit),
        places={},
    )


def figures(job: Job) -> dict[str, Figure]:
    return every.work_out(job).figures


# --- against print ----------------------------------------------------------------------------


@pytest.mark.parametrize("row", rows("iso_2904_sizes"), ids=lambda row: row["designation"])
def test_trapezoidal_nuts_have_the_printed_sizes(row: dict[str, str]) -> None:
    """ISO 2904:1977 by a reference page: D4, D2 and D1 to the last digit."""
    found = figures(nut("trapezoidal", float(row["d"]), Fraction(row["p"])))
    for id, key, printed in (
        ("major", "nut_major", "D4"),
        ("pitch", "d2", "d2"),
        ("minor", "nut_minor", "D1"),
    ):
        if printed not in row["misprinted"].split(";"):
            assert found[f"thread.{id}_diameter"].number == pytest.approx(
                float(row[key]), abs=0.0005
            )


@pytest.mark.parametrize(
    "row",
    [row for row in rows("iso_965_1_limits") if not row["note"] and float(row["d"]) >= 8],
    ids=lambda row: row["designation"],
)
def test_metric_nuts_keep_the_printed_limits_of_6h(row: dict[str, str]) -> None:
    """Within a digit: the table adds two rounded values, as tests/published says of the rule."""
    found = figures(nut("metric", float(row["d"]), Fraction(row["p"])))
    for id, symbol in (("minor", "d1"), ("pitch", "d2")):
        figure = found[f"thread.{id}_diameter"]
        assert figure.low == pytest.approx(float(row[f"nut_{symbol}_min"]), abs=0.0011)
        assert figure.high == pytest.approx(float(row[f"nut_{symbol}_max"]), abs=0.0011)
    assert found["thread.blank_diameter"].low == found["thread.minor_diameter"].low


@pytest.mark.parametrize("cls", ["6H", "6G", "7G"])
def test_the_bore_is_one_that_the_class_allows(cls: str) -> None:
    """ISO 965-1: G stands off the basic profile by EI at the bore and at the root alike."""
    found = figures(nut("metric", 16.0, Fraction(2), cls=cls))
    bore = found["thread.blank_diameter"]
    assert bore.low is not None
    assert bore.number == bore.low
    off = 0.0 if cls == "6H" else 0.038
    assert bore.number == pytest.approx(13.835 + off, abs=0.0005)
    assert found["thread.depth"].number == pytest.approx((16 - 13.835) / 2, abs=0.0005)


@pytest.mark.parametrize(("cls", "pitch_high"), [("2G", 0.9194), ("3G", 0.9091), ("4G", 0.9065)])
def test_acme_nut_of_one_inch(cls: str, pitch_high: float) -> None:
    """1-5: Machinery's Handbook, limiting dimensions, internal; from memory, and marked so."""
    found = figures(nut("acme", 25.4, INCH / 5, cls=cls))
    expected = {"major": (1.02, 1.04), "pitch": (0.9, pitch_high), "minor": (0.8, 0.81)}
    for id, (low, high) in expected.items():
        figure = found[f"thread.{id}_diameter"]
        assert figure.low is not None
        assert figure.high is not None
        assert figure.low / 25.4 == pytest.approx(low, abs=0.00006)
        assert figure.high / 25.4 == pytest.approx(high, abs=0.00006)
        assert figure.evidence == "memory"


# --- what must always hold --------------------------------------------------------------------

SIZES = st.sampled_from(
    [
        ("trapezoidal", 20.0, Fraction(4)),
        ("trapezoidal", 28.0, Fraction(5)),
        ("trapezoidal", 60.0, Fraction(9)),
        ("metric", 16.0, Fraction(2)),
        ("metric", 36.0, Fraction(4)),
        ("acme", 25.4, INCH / 5),
        ("acme", 50.8, INCH / 4),
        ("square", 31.75, INCH / 4),
    ]
)


@settings(max_examples=25, deadline=None)
@given(SIZES, st.integers(1, 3), st.sampled_from(["right", "left"]))
def test_a_nut_is_what_its_screws_card_says(
    size: tuple[str, float, Fraction], starts: int, hand: Hand
) -> None:
    """Each card gives both parts: the nut's own and the mate's on the other are the same sizes."""
    inner = figures(nut(*size, starts=starts, hand=hand))
    outer = figures(nut(*size, starts=starts, hand=hand, surface="external"))
    for id in ("major_diameter", "pitch_diameter", "minor_diameter", "groove_width"):
        for own, mate in (
            (inner[f"thread.{id}"], outer[f"mate.{id}"]),
            (outer[f"thread.{id}"], inner[f"mate.{id}"]),
        ):
            assert own.number == pytest.approx(mate.number, abs=1e-9)
            assert own.low == mate.low
            assert own.high == mate.high
    for id in ("backlash", "engagement_least", "crest_clearance", "root_clearance"):
        assert inner[f"mate.{id}"].low == pytest.approx(outer[f"mate.{id}"].low)
        assert inner[f"mate.{id}"].number == pytest.approx(outer[f"mate.{id}"].number)
    least = outer["mate.backlash"].low
    assert least is not None
    assert least > -1e-9


@settings(max_examples=25, deadline=None)
@given(SIZES, st.integers(1, 3), st.sampled_from(["right", "left"]))
def test_every_formula_of_a_nut_gives_its_value(
    size: tuple[str, float, Fraction], starts: int, hand: Hand
) -> None:
    for figure in figures(nut(*size, starts=starts, hand=hand)).values():
        if isinstance(figure.value, str):
            continue
        assert isfinite(figure.value)
        if figure.low is not None and figure.high is not None:
            assert figure.low <= figure.high, figure.id
        if figure.formula and not figure.formula.startswith("method:"):
            inputs = {symbol: part.value for symbol, part in figure.inputs.items()}
            again = evaluate(figure.formula, inputs)  # type: ignore[arg-type]
            assert again == pytest.approx(figure.value, rel=1e-9, abs=1e-9), figure.id


@pytest.mark.parametrize(
    "size", [("trapezoidal", 28.0, Fraction(5)), ("metric", 36.0, Fraction(4))]
)
def test_hands_are_mirror_images(size: tuple[str, float, Fraction]) -> None:
    sheets: list[Sheets] = [
        every.work_out(nut(*size, hand=hand))
        for hand in ("right", "left")  # type: ignore[arg-type]
    ]
    right, left = (each.figures for each in sheets)
    assert right["tool.leading_side"].value == "chuck"
    assert left["tool.leading_side"].value == "tailstock"
    for id, figure in right.items():
        if id.startswith(("thread.", "tool.", "measure.")) and not isinstance(figure.value, str):
            assert left[id].number == pytest.approx(figure.number), id
    fronts = [each["tool"].outlines["tool.front"].points for each in sheets]
    mirrored = sorted((-x, y) for x, y in fronts[1])
    assert sorted(fronts[0]) == [pytest.approx(point) for point in mirrored]


def test_a_nuts_tool_is_the_mirror_of_its_screws() -> None:
    """Face up, point towards the reader: a screw's tool has its chuck side right, a nut's left.

    The leading side is the chuck's for both right hands, and the one that is relieved the more: in
    the front view its foot stands in farther under the edge.
    """
    for surface, leads_on in (("external", 1), ("internal", -1)):
        sheets = every.work_out(nut(starts=2, surface=surface))
        a, b, c, d = sheets["tool"].outlines["tool.front"].points
        lean = {-1: d[0] - a[0], 1: b[0] - c[0]}
        assert lean[leads_on] > lean[-leads_on]


def test_dial_is_wound_out_from_nought() -> None:
    """Bites add up outwards: each reading tells turns and the number that runs down."""
    made = nut()
    sheets = every.work_out(replace(made, tool=replace(made.tool, infeed="plunge")))
    dial = demo().machine.cross_slide
    total = 0
    for line in sheets.passes:
        total += round(line.increment / float(dial.radial_step_exact))
        turns, _, shown = line.dial.partition(", at ")
        out = int(turns.split()[0]) * dial.divisions_per_turn
        out += (dial.divisions_per_turn - int(shown)) % dial.divisions_per_turn
        assert out == total
    assert total * float(dial.radial_step_exact) == pytest.approx(
        sheets.figures["thread.depth"].number, abs=0.01
    )


# --- what is refused --------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("changes", "id"),
    [
        ({"bar": 18.0}, "tool.bar_too_large"),
        ({"bar": 6.0}, "tool.bar_too_thin"),
        ({"overhang": 20.0}, "tool.bar_too_short"),
        ({"blank": 10.0}, "tool.heel_rubs"),
    ],
)
def test_tools_that_cannot_cut_a_nut_are_refused(changes: dict[str, float], id: str) -> None:
    job = nut()
    job = replace(job, tool=replace(job.tool, **changes))  # type: ignore[arg-type]
    refusals = [finding for finding in every.work_out(job).findings if finding.refuses]
    assert id in [finding.id for finding in refusals]
    assert all("What helps" in finding.text or "What would help" in finding.text
               for finding in refusals)  # fmt: skip


def test_a_nut_without_a_wall_is_refused() -> None:
    job = nut()
    thin = replace(job, work=replace(job.work, stock=30.0))
    assert "thread.thin_nut" in [finding.id for finding in every.work_out(thin).findings]


def test_blind_holes_give_the_run_out_that_is_left() -> None:
    """Thread to 30, hole to 40, a bit of 5: half the bit from 10 leaves 7.5."""
    job = nut()
    tool = replace(job.tool, blank=5.0)
    blind = replace(job.work, blind=40.0, thread_end="shoulder")
    found = figures(replace(job, work=blind, tool=tool))
    assert found["setup.groove_given"].number == pytest.approx(7.5)
    through = figures(job)
    assert "setup.groove_given" not in through


def test_the_usual_classes_pair_up() -> None:
    job = nut()
    assert job.mate is not None
    found = figures(replace(job, mate=replace(job.mate, class_="")))
    assert found["mate.class"].value == "7e"
    assert read("trapezoidal").usual_mate["7e"] == job.thread.class_
