"""Screw and nut of any class never meet: limits and both outlines at their fullest."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon

from cardgen import library
from cardgen.forms.form import FormError, read
from cardgen.forms.limits import nut_limits, screw_limits
from cardgen.forms.sizes import Sizes, basic_sizes, listed
from cardgen.rules.profile import Section, nut_outline, screw_outline

FORMS = (
    "metric",
    "trapezoidal",
    "whitworth",
    "pipe-parallel",
    "ba",
    "buttress-metric",
    "buttress-metric+pull",
    "knuckle",
)

REFUSED = ("no class", "no tolerance", "355 mm", "larger than")
"""Words of the refusals that are right: a class or a range that the standard does not have."""


def rows_of(form: str) -> list[tuple[float, float]]:
    return [
        (float(row["d_mm"]), float(row["p_mm"]))
        for table in read(form).sizes
        for row in library.table(table)
    ]


@st.composite
def pairs(draw: st.DrawFn) -> tuple[str, Sizes, int, str, str]:
    name = draw(st.sampled_from(FORMS))
    form = read(name)
    diameter, pitch = draw(st.sampled_from(rows_of(name)))
    assert listed(form, diameter, pitch) is not None
    return (
        name,
        basic_sizes(form, diameter, pitch),
        draw(st.integers(1, 4)),
        draw(st.sampled_from(form.classes)),
        draw(st.sampled_from(form.mate_classes or ("",))),
    )


def check(pair: tuple[str, Sizes, int, str, str]) -> None:
    name, sizes, starts, screw_class, nut_class = pair
    form = read(name)
    try:
        screw = screw_limits(form, sizes, starts, screw_class)
        nut = nut_limits(form, sizes, starts, nut_class)
    except FormError as error:
        if not any(word in str(error) for word in REFUSED):
            raise
        return
    tiny = 1e-9
    assert screw.pitch is not None
    assert nut.pitch is not None
    for band in (screw.major, screw.pitch, screw.minor, nut.pitch, nut.minor, screw.groove):
        assert band.low < band.high
    assert screw.minor.high < screw.pitch.low
    assert screw.pitch.high < screw.major.low
    assert nut.minor.high < nut.pitch.high
    assert screw.pitch.high <= nut.pitch.low + tiny
    assert nut.major.low is not None
    assert screw.major.high <= nut.major.low + tiny
    assert screw.minor.high <= nut.minor.low + tiny
    assert screw.groove.low + nut.groove.low >= sizes.pitch - tiny

    # Both outlines at their fullest: the screw's largest, the nut's smallest.
    length, bottom, top = 2.0 * sizes.pitch, screw.minor.low / 2 - 1, nut.major.low / 2 + 1
    full = Section(
        sizes.pitch,
        sizes.leading,
        sizes.trailing,
        screw.major.high / 2,
        screw.pitch.high / 2,
        screw.minor.high / 2,
    )
    lower = screw_outline(full, length, sizes.root_arc, crest_radius=sizes.crest_arc)
    upper = nut_outline(
        replace(full, pitch_line=nut.pitch.low / 2),
        nut.major.low / 2,
        nut.minor.low / 2,
        length,
        root_radius=sizes.nut_root_arc,
        crest_radius=sizes.nut_crest_arc,
    )
    bar = Polygon([*lower, (length, bottom), (0.0, bottom)])
    body = Polygon([*upper, (length, top), (0.0, top)])
    assert bar.is_valid
    assert body.is_valid
    assert bar.intersection(body).area <= 1e-5 * sizes.pitch**2


@settings(max_examples=400, deadline=None)
@given(pairs())
def test_no_pair_of_classes_interferes(pair: tuple[str, Sizes, int, str, str]) -> None:
    check(pair)


@pytest.mark.slow
@settings(max_examples=10_000, deadline=None)
@given(pairs())
def test_no_pair_of_ten_thousand_interferes(pair: tuple[str, Sizes, int, str, str]) -> None:
    check(pair)


@pytest.mark.parametrize("form", FORMS)
def test_every_class_reaches_some_listed_size(form: str) -> None:
    data = read(form)
    for cls in data.classes:
        assert any(_has(form, d, p, cls) for d, p in rows_of(form))
    for cls in data.usual_mate.values():
        assert cls in data.mate_classes


def _has(form: str, diameter: float, pitch: float, cls: str) -> bool:
    try:
        screw_limits(read(form), basic_sizes(read(form), diameter, pitch), 1, cls)
    except FormError:
        return False
    return True
