"""Quantities: what is read, exactly; what is refused, and where; units held against pint."""

from __future__ import annotations

import subprocess
import sys
from fractions import Fraction
from typing import Any

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardgen.core.unit_names import _registry, factor_of
from cardgen.core.unit_table import KINDS, MEANT, UNITS, ZERO, Dimension
from cardgen.core.units import LONGEST, NUMBER, QuantityError, read

DIMENSIONS: tuple[Dimension, ...] = tuple(KINDS)

# Our word to the word of pint, where they differ.
IN_PINT = {
    '"': "inch",
    "thou": "thou",
    "pt": "point",
    "N/mm2": "N/mm**2",
    "N/mm²": "N/mm**2",
    "N m": "N*m",
    "Nm": "N*m",
    "N·m": "N*m",
    "lbf in": "lbf*inch",
    "lbf ft": "lbf*foot",
    "kg/m3": "kg/m**3",
    "kg/m³": "kg/m**3",
    "g/cm3": "g/cm**3",
    "g/cm³": "g/cm**3",
    "%": "percent",
    "°": "degree",
    "rev/min": "revolution/min",
    "1/min": "revolution/min",
    "min^-1": "revolution/min",
    "in": "inch",
    "in/min": "inch/min",
}
HOUSE_IN_PINT = {
    "rotation": "revolution/min",
    "torque": "N*m",
    "density": "kg/m**3",
    "ratio": "dimensionless",
}
NOT_IN_PINT = {"HRC", "HB", "tpi"}


@pytest.fixture(scope="module")
def registry() -> Any:
    return pint.UnitRegistry()


@pytest.mark.parametrize("unit", sorted(set(UNITS) - NOT_IN_PINT))
def test_the_closed_table_agrees_with_pint(unit: str, registry: Any) -> None:
    dimension, factor = UNITS[unit]
    house = HOUSE_IN_PINT.get(dimension, KINDS[dimension].house)
    for number in (1.0, 7.25):
        theirs = registry.Quantity(number, IN_PINT.get(unit, unit)).to(house).magnitude
        ours = Fraction(number) * factor + ZERO.get(unit, Fraction(0))
        assert float(ours) == pytest.approx(theirs, rel=1e-14, abs=1e-11)


def test_a_thread_count_is_turned_over_an_inch(registry: Any) -> None:
    theirs = registry.Quantity(1 / 8, "inch").to("mm").magnitude
    assert read("8 tpi", "pitch").value == theirs == 3.175


@pytest.mark.parametrize(
    ("text", "dimension", "exact"),
    [
        ("28 mm", "length", Fraction(28)),
        ("28mm", "length", Fraction(28)),
        ("  28   mm  ", "length", Fraction(28)),
        ("+28 mm", "length", Fraction(28)),
        ("-5 deg", "angle", Fraction(-5)),
        ("20.5 mm", "length", Fraction(41, 2)),
        ("20,5 mm", "length", Fraction(41, 2)),
        ("0,125 in", "length", Fraction("3.175")),
        (".125 in", "length", Fraction("3.175")),
        ("1234,567 mm", "length", Fraction("1234.567")),
        ("7/8 in", "length", Fraction("22.225")),
        ("1 1/8 in", "length", Fraction("28.575")),
        ('1 1/8"', "length", Fraction("28.575")),
        ("-1 1/2 in", "length", Fraction("-38.1")),
        ("9/8 in", "length", Fraction("28.575")),
        ("5 tpi", "pitch", Fraction("5.08")),
        ("11 1/2 tpi", "pitch", Fraction(254, 115)),
        ("0.2 in", "pitch", Fraction("5.08")),
        ("1.5 mm", "pitch", Fraction(3, 2)),
        ("8 kN", "force", Fraction(8000)),
        ("1 lbf", "force", Fraction("4.4482216152605")),
        ("200 degF", "temperature", Fraction(840, 9)),
        ("-40 °F", "temperature", Fraction(-40)),
        ("293.15 K", "temperature", Fraction(20)),
        ("90 rev/min", "rotation", Fraction(90)),
        ("90 1/min", "rotation", Fraction(90)),
        ("1 hp", "power", Fraction("745.69987158227022")),
        ("100 ft/min", "speed", Fraction("30.48")),
        ("7.85 g/cm3", "density", Fraction(7850)),
        ("75 %", "ratio", Fraction(3, 4)),
        ("52 HRC", "hardness", Fraction(52)),
        ("9 pt", "length", Fraction("3.175")),
    ],
)
def test_what_is_read_is_exact(text: str, dimension: Dimension, exact: Fraction) -> None:
    assert read(text, dimension).exact == exact


@pytest.mark.parametrize(
    ("text", "inch"),
    [("1 in", True), ('1"', True), ("8 tpi", True), ("5 thou", True), ("25.4 mm", False)],
)
def test_an_inch_quantity_is_known_as_one(text: str, inch: bool) -> None:
    assert read(text, "pitch").inch is inch


@pytest.mark.parametrize(
    ("text", "dimension", "offset", "words"),
    [
        ("", "length", 0, "nothing"),
        ("28", "length", 0, "28 has no unit"),
        ("1 1/8", "length", 0, "1 1/8 has no unit"),
        ("--5 mm", "length", 0, "does not begin with a number"),
        ("mm", "length", 0, "does not begin with a number"),
        ("nan mm", "length", 0, "does not begin with a number"),
        ("inf mm", "length", 0, "does not begin with a number"),
        ("NaN", "length", 0, "does not begin with a number"),
        ("-inf mm", "length", 0, "does not begin with a number"),
        ("−5 mm", "length", 0, "does not begin with a number"),
        ("２８ mm", "length", 0, "does not begin with a number"),
        ("٢٨ mm", "length", 0, "does not begin with a number"),
        ("(5) mm", "length", 0, "does not begin with a number"),
        ("1e5 mm", "length", 1, "not one plain number"),
        ("1E-5 mm", "length", 1, "not one plain number"),
        ("9**9**9 mm", "length", 1, "not one plain number"),
        ("9^9 mm", "length", 1, "not one plain number"),
        ("2*14 mm", "length", 1, "not one plain number"),
        ("5-3 mm", "length", 1, "not one plain number"),
        ("1,234.5 mm", "length", 5, "not one plain number"),
        ("1.234,5 mm", "length", 5, "not one plain number"),
        ("1.2.3 mm", "length", 3, "not one plain number"),
        ("3. mm", "length", 1, "not one plain number"),
        ("1/2/3 in", "length", 3, "not one plain number"),
        ("60,000 psi", "stress", 0, "60,000 may mean 60.000 or 60000"),
        ("1/0 in", "length", 2, "divides by nothing"),
        ("1 9/8 in", "length", 2, "not less than one"),
        ("1 1/8 1/8 in", "length", 6, "not a unit"),
        ("12345678901 mm", "length", 0, "too many digits"),
        ("0 tpi", "pitch", 0, "no pitch"),
        ("28 kg", "length", 3, "kg is not a unit known here"),
        ("28 degC", "length", 3, "the unit of a temperature, not of a length"),
        ("28 tpi", "length", 3, "the unit of a pitch, not of a length"),
        ("28 mm 3", "length", 3, "mm 3 is not a unit"),
        ("28 mm; rm", "length", 3, "is not a unit"),
        ("650 C", "temperature", 4, "C is not a unit"),
        ("5 mPa", "stress", 2, "mPa is not a unit"),
        ("28\u00a0mm", "length", 2, "U+00A0"),
        ("28\tmm", "length", 2, "U+0009"),
        ("3 acre", "length", 2, "not a unit of a length"),
        ("3 rad*mm", "length", 2, "not a unit"),
        ("3 percent*mm", "length", 2, "not a unit"),
        ("10 rad/s", "rotation", 3, "not a unit"),
        ("3 m^9", "length", 2, "not a unit"),
        ("300 HB", "hardness", 4, "the unit of a Brinell hardness"),
        ("5 " + "m" * 60, "length", 0, "62 characters long"),
    ],
)
def test_what_is_refused_is_pointed_at(
    text: str, dimension: Dimension, offset: int, words: str
) -> None:
    with pytest.raises(QuantityError) as caught:
        read(text, dimension)
    assert words in caught.value.found
    assert caught.value.offset == offset
    assert caught.value.allowed


@pytest.mark.parametrize(
    ("text", "dimension", "mend"),
    [
        ("28", "length", "write 28 mm or 28 in"),
        ("5", "pitch", "write 5 mm or 5 tpi"),
        ("650", "temperature", "write 650 degC or 650 degF"),
        ("52", "hardness", "write 52 HRC"),
        ("650 C", "temperature", "did you mean degC?"),
        ("28 mmm", "length", "did you mean mm?"),
        ("5 TPI", "pitch", "did you mean tpi?"),
        ("1800 lbs", "force", "did you mean lbf?"),
        ("−5 deg", "angle", "write the minus sign as -"),
        ("1,234 mm", "length", "write 1.234 or 1234"),
    ],
)
def test_a_refusal_says_how_to_mend_it(text: str, dimension: Dimension, mend: str) -> None:
    with pytest.raises(QuantityError) as caught:
        read(text, dimension)
    assert caught.value.mend == mend


@pytest.mark.parametrize(
    ("text", "dimension", "theirs"),
    [
        ("3 yard", "length", ("yard", "mm")),
        ("2 bar", "stress", ("bar", "MPa")),
        ("5 lbf/inch^2", "stress", ("lbf/inch**2", "MPa")),
        ("4 kN*mm", "torque", ("kN*mm", "N*m")),
        ("1 lb/inch^3", "density", ("lb/inch**3", "kg/m**3")),
        ("2 day", "time", ("day", "s")),
        ("3 foot/second", "speed", ("foot/second", "m/min")),
        ("2 kip", "force", ("kip", "N")),
        ("1 metric_horsepower", "power", ("metric_horsepower", "W")),
    ],
)
def test_further_units_are_known_by_name(
    text: str, dimension: Dimension, theirs: tuple[str, str], registry: Any
) -> None:
    number = float(text.split(" ")[0])
    expected = registry.Quantity(number, theirs[0]).to(theirs[1]).magnitude
    assert read(text, dimension).value == pytest.approx(expected, rel=1e-12)


def test_pint_never_parses_what_a_user_wrote(monkeypatch: pytest.MonkeyPatch) -> None:
    def forbidden(*args: object, **kwargs: object) -> None:
        raise AssertionError(f"pint was asked to parse {args}")

    registry = _registry()
    read("1 fathom", "length")
    for name in ("parse_expression", "parse_units", "parse_pattern", "parse_units_as_container"):
        for owner in type(registry).__mro__:
            if name in vars(owner):
                monkeypatch.setattr(owner, name, forbidden)
    monkeypatch.setattr(type(registry), "__call__", forbidden, raising=False)
    monkeypatch.setattr("pint.pint_eval.build_eval_tree", forbidden)
    monkeypatch.setattr("pint.util.ParserHelper.from_string", forbidden)
    with pytest.raises(AssertionError):
        registry.parse_expression("9**9")
    assert read("2 furlong", "length").value > 400_000
    for text in (
        "9**9**9 mm",
        "5 mm**9**9",
        "1 1/2 fathoms+1",
        "2 (mm)",
        "3 mm, mm",
        "4 __import__",
    ):
        with pytest.raises(QuantityError):
            read(text, "length")


def test_pint_is_not_loaded_for_common_units() -> None:
    code = (
        "import sys; from cardgen.core.units import read; "
        "[read(t, d) for t, d in (('1 1/8 in', 'length'), ('5 tpi', 'pitch'), ('8 kN', 'force'))]; "
        "sys.exit('pint' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


@given(st.text(max_size=60), st.sampled_from(DIMENSIONS))
def test_any_text_is_read_or_refused(text: str, dimension: Dimension) -> None:
    refusal = None
    try:
        assert read(text, dimension).text == text
    except QuantityError as error:
        refusal = error
    if refusal is not None:
        assert 0 <= refusal.offset <= max(len(text), LONGEST)
        assert 0 < len(refusal.found) < 300


_PIECES = st.lists(
    st.sampled_from(
        [*UNITS, *MEANT, "1", "28", ".", ",", "/", " ", "-", "+", "e", "*", "^", "(", "yard", "0"]
    ),
    max_size=7,
).map("".join)


@given(_PIECES, st.sampled_from(DIMENSIONS))
def test_anything_that_looks_like_a_quantity_is_read_or_refused(
    text: str, dimension: Dimension
) -> None:
    import re

    try:
        read(text, dimension)
    except QuantityError:
        return
    # What is let through is in the grammar that the schema publishes.
    assert re.match(rf" *{NUMBER} *\S", text)


@given(
    st.integers(0, 999),
    st.integers(1, 63),
    st.integers(2, 64),
    st.sampled_from(["in", "mm"]),
)
def test_a_mixed_number_is_its_sum(whole: int, top: int, bottom: int, unit: str) -> None:
    factor = UNITS[unit][1]
    if top < bottom:
        exact = read(f"{whole} {top}/{bottom} {unit}", "length").exact
        assert exact == (whole + Fraction(top, bottom)) * factor
    assert read(f"{top}/{bottom} {unit}", "length").exact == Fraction(top, bottom) * factor


@given(st.decimals(-9999, 9999, places=4))
def test_decimals_are_exact_with_point_or_comma(number: Any) -> None:
    text = f"{number:f}"
    assert read(f"{text} mm", "length").exact == Fraction(text)
    assert read(f"{text.replace('.', ',')} mm", "length").exact == Fraction(text)


def test_names_are_not_taken_for_what_they_are_not() -> None:
    assert factor_of("radian", "angle") is None
    assert factor_of("percent", "length") is None
    assert factor_of("", "length") is None
