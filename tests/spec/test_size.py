"""Designations in the words of their standards."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardgen.spec.size import Size, SizeError, read_size

F = Fraction


@pytest.mark.parametrize(
    ("text", "size"),
    [
        ("Tr 28x5", Size("trapezoidal", F(28), F(5), 1, None, None, inch=False)),
        ("Tr28×5", Size("trapezoidal", F(28), F(5), 1, None, None, inch=False)),
        ("tr 28 x 5 - 7e", Size("trapezoidal", F(28), F(5), 1, None, "7e", inch=False)),
        ("Tr 28", Size("trapezoidal", F(28), None, None, None, None, inch=False)),
        ("Tr 28x5-7e", Size("trapezoidal", F(28), F(5), 1, None, "7e", inch=False)),
        ("Tr 32x12 P6 LH", Size("trapezoidal", F(32), F(6), 2, "left", None, inch=False)),
        ("Tr 32x12 (P6) LH", Size("trapezoidal", F(32), F(6), 2, "left", None, inch=False)),
        ("Tr 32x12(P6)LH-8e", Size("trapezoidal", F(32), F(6), 2, "left", "8e", inch=False)),
        ("Tr 40x7 LH - 7e", Size("trapezoidal", F(40), F(7), 1, "left", "7e", inch=False)),
        ("M10", Size("metric", F(10), None, None, None, None, inch=False)),
        ("M10-6g", Size("metric", F(10), None, None, None, "6g", inch=False)),
        ("M10x1.5", Size("metric", F(10), F(3, 2), 1, None, None, inch=False)),
        ("M6x0,75-6g-LH", Size("metric", F(6), F(3, 4), 1, "left", "6g", inch=False)),
        ("M16xPh3P1.5-6g", Size("metric", F(16), F(3, 2), 2, None, "6g", inch=False)),
        ("M 16 x Ph 3 P 1.5", Size("metric", F(16), F(3, 2), 2, None, None, inch=False)),
        ("1-5 ACME-2G", Size("acme", F("25.4"), F("5.08"), 1, None, "2G", inch=True)),
        ("1-5 Acme - 3g", Size("acme", F("25.4"), F("5.08"), 1, None, "3g", inch=True)),
        ("1 1/2-4 ACME-2G-LH", Size("acme", F("38.1"), F("6.35"), 1, "left", "2G", inch=True)),
        ("3/4-6 ACME", Size("acme", F("19.05"), F(254, 60), 1, None, None, inch=True)),
        ("1.750-4 ACME-2G", Size("acme", F("44.45"), F("6.35"), 1, None, "2G", inch=True)),
        (".5-10 ACME-2G", Size("acme", F("12.7"), F("2.54"), 1, None, "2G", inch=True)),
        (
            "2.875-0.4P-0.8L-ACME-3G",
            Size("acme", F("73.025"), F("10.16"), 2, None, "3G", inch=True),
        ),
    ],
)
def test_a_designation_is_read_into_its_parts(text: str, size: Size) -> None:
    assert read_size(text) == size


@pytest.mark.parametrize(
    "text",
    [
        "",
        "28x5",
        "Tr",
        "Tr x5",
        "Tr 28x",
        "Tr 28x5x5",
        "Tr 32x12 P5",
        "Tr 32x0 P0",
        "Tr 0x5",
        "Tr -28x5",
        "Tr 28x5 RH LH",
        "M",
        "M10x",
        "M10x0",
        "M0x1",
        "MJ10",
        "M10x1e5",
        "M１０",
        "1-5",
        "1-0 ACME",
        "0-5 ACME",
        "1/0-5 ACME",
        "1-5 STUB ACME-5G",
        "1-5 ACME-2G-2G",
        "2.875-0.4P-0.7L-ACME-3G",
        "1" * 40 + "-5 ACME",
        "M" + "9" * 39,
        "9**9**9",
    ],
)
def test_what_is_no_designation_is_refused(text: str) -> None:
    with pytest.raises(SizeError) as caught:
        read_size(text)
    assert caught.value.found


@given(
    st.lists(
        st.sampled_from([*"TrMPphLHACMEx0123456789./-() ,", "ACME", "Tr ", "-LH", "1/2"]),
        max_size=14,
    ).map("".join)
)
def test_any_text_is_read_or_refused(text: str) -> None:
    try:
        size = read_size(text)
    except SizeError:
        return
    assert size.diameter > 0
    assert size.pitch is None or size.pitch > 0
    assert size.starts is None or size.starts >= 1
