"""Inch forms and stated profiles: no pair interferes, and inch and metric specs agree."""

from __future__ import annotations

from dataclasses import replace
from math import radians, tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Point, Polygon

from cardgen.forms.custom import Profile, custom_form
from cardgen.forms.form import Form, FormError, read
from cardgen.forms.limits import nut_limits, screw_limits
from cardgen.forms.sizes import Sizes, basic_sizes
from cardgen.rules.profile import Section, nut_outline, screw_outline
from cardgen.rules.wires import Groove, seat, wire_on_root

INCH = 25.4
SERIES = ("UNC", "UNF", "UNEF", "UN", "UNS")
NAMES = (
    "unified",
    "acme",
    "acme+centralizing",
    "stub-acme",
    "stub-acme+modified-1",
    "stub-acme+modified-2",
    "buttress-inch",
    "buttress-inch+push",
    "square",
    "square+modified",
    "worm",
    "worm+module",
)
Pair = tuple[Form, float, float, int, str, str]


@st.composite
def pairs(draw: st.DrawFn) -> Pair:
    """Any size in sixty-fourths and any count of threads, listed or not, and any two classes."""
    diameter = draw(st.integers(4, 320)) / 64 * INCH
    pitch = INCH / draw(st.integers(2, 40))
    name = draw(st.sampled_from((*NAMES, "custom")))
    if name == "custom":
        flanks = [radians(draw(st.integers(0, 60))) for _ in range(2)]
        depth = pitch * draw(st.integers(5, 80)) / 100
        clearance = pitch * draw(st.integers(0, 10)) / 100
        try:
            form = custom_form(Profile(flanks[0], flanks[1], depth, None, 0.0, clearance), pitch)
        except FormError:
            form = read("square")
    else:
        form = read(name, draw(st.sampled_from(SERIES)) if name == "unified" else "")
    return (
        form,
        diameter,
        pitch,
        draw(st.integers(1, 4)),
        draw(st.sampled_from(form.classes or ("",))),
        draw(st.sampled_from(form.mate_classes or ("",))),
    )


def check(pair: Pair) -> None:
    form, diameter, pitch, starts, screw_class, nut_class = pair
    try:
        sizes = basic_sizes(form, diameter, pitch)
        screw = screw_limits(form, sizes, starts, screw_class)
        nut = nut_limits(form, sizes, starts, nut_class)
    except FormError:
        return
    if screw.minor.low is None or screw.minor.low <= 0:
        return  # no metal is left at the core: refused by the sheets
    # Limits are rounded to ten-thousandths of an inch, each by itself.
    rest = 0.0001 * INCH if form.places else 1e-9
    assert sizes.minor < sizes.pitch_diameter < sizes.major
    for band in (screw.major, screw.minor, nut.minor, screw.groove, nut.groove):
        assert band.low < band.high
    assert nut.major.low is not None
    assert screw.major.high <= nut.major.low + rest
    assert screw.minor.high <= nut.minor.low + rest
    assert screw.groove.low + nut.groove.low >= pitch - 1e-9
    if screw.pitch is not None and nut.pitch is not None:
        assert screw.pitch.low < screw.pitch.high <= nut.pitch.low + 1e-9
        assert nut.pitch.low < nut.pitch.high
    check_outlines(sizes, screw.groove.low, nut.groove.low, pair)


def check_outlines(sizes: Sizes, screw_groove: float, nut_groove: float, pair: Pair) -> None:
    """Lay the fullest screw in the middle of the fullest nut: nothing of them overlaps."""
    form, _, pitch, starts, screw_class, nut_class = pair
    screw = screw_limits(form, sizes, starts, screw_class)
    nut = nut_limits(form, sizes, starts, nut_class)
    assert nut.major.low is not None
    full = Section(
        pitch,
        sizes.leading,
        sizes.trailing,
        screw.major.high / 2,
        sizes.pitch_diameter / 2,
        screw.minor.high / 2,
    )
    if screw.pitch is not None and nut.pitch is not None:
        full = replace(full, pitch_line=screw.pitch.high / 2)
        wide = replace(full, pitch_line=nut.pitch.low / 2)
    else:
        assert screw_groove + nut_groove >= pitch
        wide = full
    length = 2 * pitch
    lower = screw_outline(full, length)
    upper = nut_outline(wide, nut.major.low / 2, nut.minor.low / 2, length)
    bar = Polygon([*lower, (length, 0.0), (0.0, 0.0)])
    body = Polygon([*upper, (length, 2 * sizes.major), (0.0, 2 * sizes.major)])
    assert bar.is_valid
    assert body.is_valid
    # Rounded limits may overlap by a ten-thousandth of an inch along crest or root.
    most = 0.0001 * INCH * length if form.places else 1e-6 * pitch**2
    assert bar.intersection(body).area <= most


@settings(max_examples=300, deadline=None)
@given(pairs())
def test_no_pair_interferes(pair: Pair) -> None:
    check(pair)


@pytest.mark.slow
@settings(max_examples=10_000, deadline=None)
@given(pairs())
def test_no_pair_of_ten_thousand_interferes(pair: Pair) -> None:
    check(pair)


@pytest.mark.parametrize("name", NAMES)
@given(st.integers(16, 200), st.integers(3, 20))
@settings(max_examples=20, deadline=None)
def test_flanks_change_sides_with_the_profile(name: str, sixteenths: int, tpi: int) -> None:
    """A form and its mirror image have the same diameters and the same limits."""
    form = read(name)
    mirrored = replace(form, leading=form.trailing, trailing=form.leading)
    try:
        own, other = (
            screw_limits(
                f, basic_sizes(f, sixteenths / 16 * INCH, INCH / tpi), 1, (*f.classes, "")[0]
            )
            for f in (form, mirrored)
        )
    except FormError:
        return
    assert own.major == other.major
    assert own.minor == other.minor
    assert own.groove.low == pytest.approx(other.groove.low)


def test_a_stated_profile_closes() -> None:
    pitch = 5.0
    profile = Profile(radians(7), radians(45), 2.0, 1.2, 0.3, 0.1)
    form = custom_form(profile, pitch)
    sizes = basic_sizes(form, 40.0, pitch)
    section = sizes.section
    assert section.depth == pytest.approx(2.0)
    assert section.crest_flat == pytest.approx(1.2)
    assert section.groove_width(sizes.pitch_diameter / 2) == pytest.approx(pitch / 2)
    assert sizes.nut_major == pytest.approx(40.2)
    assert sizes.nut_minor == pytest.approx(36.2)
    assert sizes.root_radius == pytest.approx(0.3)


@pytest.mark.parametrize(
    ("crest", "words"), [(2.6, "nowhere equally wide"), (0.1, "nowhere equally wide")]
)
def test_a_profile_without_a_pitch_line_is_refused(crest: float, words: str) -> None:
    with pytest.raises(FormError, match=words):
        custom_form(Profile(radians(5), radians(5), 1.0, crest, 0.0, 0.0), 5.0)


@pytest.mark.parametrize("name", ["buttress-inch", "buttress-inch+push"])
def test_a_wire_as_round_as_the_root_lies_in_it(name: str) -> None:
    """The root is one arc that touches both flanks: a wire of its radius fits."""
    form, pitch = read(name), INCH / 6
    sizes = basic_sizes(form, 38.1, pitch)
    groove = Groove(0.001, sizes.pitch_diameter, pitch / 2, form.leading, form.trailing)
    assert sizes.root_radius is not None
    wire = wire_on_root(groove, sizes.minor)
    assert wire == pytest.approx(2 * sizes.root_radius, rel=1e-3)


@given(st.integers(1, 60), st.integers(1, 60), st.integers(2, 12))
@settings(max_examples=100, deadline=None)
def test_a_wire_touches_both_flanks_of_the_profile(a: int, b: int, tenths: int) -> None:
    """With next to no lead the seat is that of a circle in a notch, unlike flanks or not."""
    pitch, radius = 5.0, 20.0
    section = Section(pitch, radians(a), radians(b), radius + 0.5, radius, radius - 0.5)
    wire = tenths * pitch / 10
    at = seat(Groove(1e-6, 2 * radius, pitch / 2, radians(a), radians(b)), wire)
    middle = pitch / 2 + section.groove_offset
    centre = Point(middle + at.shift, at.centre)
    for side, angle in ((-1, radians(a)), (1, radians(b))):
        foot = (middle + side * pitch / 4, radius)
        ends = [
            (foot[0] + side * reach * tan(angle), foot[1] + reach) for reach in (-1000.0, 1000.0)
        ]
        assert LineString(ends).distance(centre) == pytest.approx(wire / 2, abs=1e-6)
    outline = screw_outline(section, 2 * pitch)
    crossing = [x for x, y in outline if abs(y - section.crest) < 1e-9]
    # The groove at the crest lies about its middle by its own two flanks.
    assert crossing[1] == pytest.approx(middle - pitch / 4 - 0.5 * tan(radians(a)))
