"""Stress raised by the inner corners of a stepped flat bar; ``fillets.csv``.

J. Carvill, Mechanical Engineer's Data Handbook p. 21, tables of K for bending and tension of a
stepped flat bar with fillets: read off charts by another hand than the fit that we use (W. D.
Pilkey, Peterson's Stress Concentration Factors). The two differ by up to 6 %, at sharp radii on
deep steps; that is how well either knows the factor.
"""

from __future__ import annotations

import csv
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardgen import library
from cardgen.rules.fillet import Fit

ROWS = list(
    csv.DictReader((Path(__file__).parent.parent / "data" / "fillets.csv").read_text().splitlines())
)


def fit(load: str) -> Fit:
    rows = [row for row in library.table("cutting/shoulder_fillets") if row["load"] == load]
    shallow, deep = (
        tuple(
            (float(r["a"]), float(r["b"]), float(r["d"])) for r in rows if float(r["from"]) == low
        )
        for low in (0.1, 2.0)
    )
    return Fit(shallow, deep)


@pytest.mark.parametrize("load", ["bending", "tension"])
def test_stepped_flat_bar(load: str) -> None:
    checked = 0
    for row in ROWS:
        wide, radius = float(row["wide_over_narrow"]), float(row["radius_over_narrow"])
        if row["load"] != load or (wide - 1) / 2 / radius > 20:
            continue
        checked += 1
        assert fit(load).factor(wide, 1.0, radius) == pytest.approx(
            float(row["factor"]), rel=0.06, abs=float(row["half_digit"])
        )
    assert checked > 40


def test_beyond_what_was_measured() -> None:
    with pytest.raises(ValueError, match="over 20 times its radius"):
        fit("bending").factor(10.0, 2.0, 0.15)


@given(
    st.sampled_from(["bending", "tension"]),
    st.floats(1.1, 3.0),
    st.floats(0.06, 0.3),
    st.floats(1.0, 2.0),
)
def test_a_rounder_corner_is_never_worse(
    load: str, wide: float, radius: float, more: float
) -> None:
    # The two halves of the fit do not quite meet at a step of two radii.
    sharp, round_ = (fit(load).factor(wide, 1.0, r) for r in (radius, radius * more))
    assert 1.0 <= round_ <= sharp * 1.02
