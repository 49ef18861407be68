"""The tool sheet: its working, its mirror image, its fit in the groove, and what it refuses."""

from __future__ import annotations

from fractions import Fraction
from math import atan2, cos, degrees, hypot, pi, radians, sin, tan
from typing import Literal

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon
from shapely.ops import unary_union

from cardgen.core.figure import Sheet
from cardgen.rules.clearance import square_to_edge
from cardgen.rules.helicoid import Groove
from cardgen.rules.tool import Side
from tests.ledger import evaluate
from tests.rules.cloud import Cloud
from tests.tool_job import job, recorded_nose, worked

Setting = Literal["level", "tipped"]
FORMS = ("square", "trapezoidal", "acme", "metric")

THREADS = st.fixed_dictionaries(
    {
        "form": st.sampled_from(FORMS),
        "diameter": st.sampled_from([12.0, 20.0, 28.0, 44.0]),
        "pitch": st.sampled_from([Fraction(2), Fraction(3), Fraction(4), Fraction(127, 25)]),
        "starts": st.integers(1, 4),
        "setting": st.sampled_from(["level", "tipped"]),
        "blank": st.sampled_from([6.35, 8.0, 10.0, 16.0]),
        "rake": st.sampled_from([0.0, 0.0, 6.0]),
    }
)


def refused(sheet: Sheet) -> set[str]:
    return {finding.id for finding in sheet.findings if finding.refuses}


@settings(max_examples=80, deadline=None)
@given(THREADS)
def test_every_formula_gives_its_value(case: dict[str, object]) -> None:
    _, sheet = worked(job(**case))  # type: ignore[arg-type]
    for figure in sheet.figures.values():
        if isinstance(figure.value, str) or not figure.formula:
            continue
        if figure.formula.startswith("method:"):
            continue
        inputs = {symbol: float(part.value) for symbol, part in figure.inputs.items()}
        found = evaluate(figure.formula, inputs)
        assert found == pytest.approx(figure.value, rel=1e-9, abs=1e-9), figure.id
        assert figure.low is None or figure.high is None or figure.low <= figure.high


@settings(max_examples=80, deadline=None)
@given(THREADS)
def test_left_hand_is_the_mirror_image(case: dict[str, object]) -> None:
    _, right = worked(job(hand="right", **case))  # type: ignore[arg-type]
    _, left = worked(job(hand="left", **case))  # type: ignore[arg-type]
    # Beyond 45 deg at the root there is no tool for either hand.
    assume("tool.leading_side" in right)
    assert right["tool.leading_side"].value == "chuck"
    assert left["tool.leading_side"].value == "tailstock"
    for id, figure in right.figures.items():
        if id != "tool.leading_side":
            assert left[id].value == figure.value, id
    for name in ("tool.front", "tool.front.blank", "tool.silhouette.end"):
        if name in right.outlines:
            one, other = (Polygon(sheet.outlines[name].points) for sheet in (right, left))
            mirrored = Polygon([(-x, y) for x, y in one.exterior.coords])
            assert mirrored.symmetric_difference(other).area < 1e-9, name
    if "tool.side" in right.outlines:
        assert right.outlines["tool.side"] == left.outlines["tool.side"]


@settings(max_examples=80, deadline=None)
@given(THREADS)
def test_what_is_not_refused_can_be_ground_and_clears(case: dict[str, object]) -> None:
    thread, sheet = worked(job(**case))  # type: ignore[arg-type]
    if not sheet.figures or refused(sheet):
        assert not sheet.outlines
        return
    assert sheet.number("tool.clearance_least") > 0.8
    assert sheet.number("tool.foot_width") >= 0.25 * sheet.number("tool.tip_width") - 1e-9
    assert sheet.number("tool.blade_length") > thread.number("thread.depth")
    blank = Polygon(sheet.outlines["tool.front.blank"].points).buffer(1e-9)
    assert blank.contains(Polygon(sheet.outlines["tool.front"].points))
    assert blank.contains(Polygon(sheet.outlines["tool.silhouette.end"].points))
    assert Polygon(sheet.outlines["tool.silhouette"].points).is_valid


@pytest.mark.parametrize("form", ["trapezoidal", "acme", "metric"])
def test_ground_tool_brings_both_diameters_in(form: str) -> None:
    """Shapely measures the tool's own face, sunk to the root, at the pitch line: half a pitch."""
    pitch = Fraction(127, 20) if form == "acme" else Fraction(4)
    thread, sheet = worked(job(form, 36.0, pitch))
    face = Polygon(sheet.outlines["tool.silhouette"].points)
    drawn = sheet.number("tool.tip_width")
    root = thread["thread.minor_diameter"]
    d2 = thread["thread.pitch_diameter"]
    assert d2.low is not None
    assert d2.high is not None
    assert root.low is not None
    assert root.high is not None
    full_depth = thread.number("thread.blank_diameter") - 2 * thread.number("thread.depth")
    tip = sheet["tool.tip_width"]
    assert tip.low is not None
    assert tip.high is not None
    for width, at_root, at_pitch in (
        (drawn, full_depth, (d2.low + d2.high) / 2),
        (tip.low, root.low, d2.high),
        (tip.high, root.high, d2.low),
    ):
        level = (at_pitch - at_root) / 2
        cut = LineString([(-99, level), (99, level)]).intersection(face)
        assert cut.length + width - drawn == pytest.approx(float(pitch) / 2, abs=1e-6)
    # The standard's limits are rounded, by up to half of 0.0001 in.
    assert root.low - 0.0013 <= full_depth <= root.high + 0.0013


def test_tool_fits_the_groove_it_cuts() -> None:
    """Level and flat: the face, sunk to full depth, fills the thread's own groove, no more."""
    thread, sheet = worked(job("square", 31.75, Fraction(127, 20), blank=9.525))
    groove = thread.outlines["thread.groove"].points
    bottom = min(y for _, y in groove)
    blade = Polygon([(x, y + bottom) for x, y in sheet.outlines["tool.silhouette"].points])
    above = max(y for _, y in groove)
    in_work = blade.intersection(Polygon([(-9, bottom), (9, bottom), (9, above), (-9, above)]))
    assert Polygon(groove).buffer(1e-6).contains(in_work)
    assert in_work.bounds[2] - in_work.bounds[0] == pytest.approx(3.175)


@pytest.mark.parametrize("setting", ["level", "tipped"])
@pytest.mark.parametrize("form", FORMS)
def test_reliefs_follow_the_lead_angles(form: str, setting: Setting) -> None:
    """Leading: root + clearance; trailing: clearance - crest; both less the tilt when tipped."""
    thread, sheet = worked(job(form, 20.0, Fraction(4), starts=2, setting=setting, blank=8.0))
    c = sheet.number("tool.clearance_working")
    tilt = sheet.number("tool.tilt") if setting == "tipped" else 0.0
    leading = thread.number("thread.lead_angle_minor") + c - tilt
    trailing = c - thread.number("thread.lead_angle_major") + tilt
    # Tipped, a slanted edge stands off the axis's level, which counts with the flank's slope, and
    # one that narrows behind the point is clear of the wall all along but at the point.
    tipped = {"square": 0.6, "trapezoidal": 0.35, "acme": 0.35, "metric": 0.9}[form]
    slack = 1e-9 if setting == "level" else tipped
    assert sheet.number("tool.relief_leading") == pytest.approx(leading, abs=slack)
    assert sheet.number("tool.relief_trailing") == pytest.approx(trailing, abs=slack)


def test_end_relief_alone_would_not_clear_the_leading_flank() -> None:
    thread, sheet = worked(job("trapezoidal", 20.0, Fraction(4), starts=2, blank=8.0))
    assert sheet.number("tool.relief_leading") > thread.number("thread.lead_angle_minor") > 9
    assert sheet.number("tool.clearance_least") == pytest.approx(2.90, abs=0.05)


def test_a_blank_too_narrow_is_refused_with_one_that_does() -> None:
    _, sheet = worked(job("trapezoidal", 60.0, Fraction(12), blank=6.0))
    assert refused(sheet) == {"tool.blank_too_small"}
    (finding,) = sheet.findings
    assert "What helps: a blank of " in finding.text
    better = float(finding.text.split("a blank of ")[1].split()[0])
    _, again = worked(job("trapezoidal", 60.0, Fraction(12), blank=better))
    assert not refused(again)
    _, smaller = worked(job("trapezoidal", 60.0, Fraction(12), blank=8.0))
    assert refused(smaller) == (set() if better <= 8 else {"tool.blank_too_small"})


def test_a_blade_too_thin_at_its_foot_is_refused_with_a_lower_blank() -> None:
    _, sheet = worked(job("square", 20.0, Fraction(2), starts=3, blank=16.0))
    assert refused(sheet) == {"tool.foot_too_thin"}
    better = float(sheet.findings[0].text.split("a blank of ")[1].split()[0])
    assert better < 16
    _, again = worked(job("square", 20.0, Fraction(2), starts=3, blank=better))
    assert not refused(again)


def test_clearance_is_given_up_before_the_foot_is() -> None:
    usual, slender = (
        worked(job("square", 30.0, pitch, blank=10.0))[1] for pitch in (Fraction(8), Fraction(3))
    )
    assert usual.number("tool.clearance_working") == 3.0
    assert 1.0 <= slender.number("tool.clearance_working") < 3.0
    assert slender["tool.clearance_working"].evidence == "memory"
    assert slender.number("tool.foot_width") >= 0.5 * slender.number("tool.tip_width")


def test_a_steep_level_tool_is_warned_of() -> None:
    _, level = worked(job("trapezoidal", 20.0, Fraction(4), starts=3, blank=8.0))
    _, tipped = worked(job("trapezoidal", 20.0, Fraction(4), starts=3, blank=8.0, setting="tipped"))
    assert {finding.id for finding in level.findings} == {"tool.steep_for_level"}
    assert not tipped.findings


@pytest.mark.parametrize(
    ("hand", "side", "lean"), [("right", "RIGHT", "/"), ("left", "LEFT", "\\")]
)
def test_the_hand_check_says_what_the_drawing_shows(
    hand: Literal["right", "left"], side: str, lean: str
) -> None:
    """With the point towards the reader: the top view's right is the chuck's."""
    thread, sheet = worked(job("trapezoidal", 20.0, Fraction(4), starts=2, hand=hand, blank=8.0))
    check = next(step.text for step in sheet.steps if step.kind == "check")
    assert f"your {side} hand" in check
    assert check.endswith(lean)
    top_left, top_right, foot_right, foot_left = sheet.outlines["tool.front"].points
    middle_top = (top_left[0] + top_right[0]) / 2
    middle_foot = (foot_left[0] + foot_right[0]) / 2
    assert (middle_foot < middle_top) == (lean == "/")
    # The groove itself: screw the tool's point down through a small turn, forward spindle. The
    # work's front runs down, the tool travels towards the chuck for a right-hand thread, so what
    # it cut lies below it and towards the tailstock, which is the reader's left.
    travel = thread.number("thread.lead") * (1 if hand == "right" else -1)  # towards the chuck
    below_towards_chuck = -travel
    assert (middle_foot - middle_top) * below_towards_chuck > 0


@pytest.mark.parametrize("starts", [1, 3])
@pytest.mark.parametrize(("rake", "setting"), [(8.0, "level"), (0.0, "tipped"), (8.0, "tipped")])
def test_the_ground_edges_cut_the_form(rake: float, setting: Setting, starts: int) -> None:
    """Points of both recorded edges, screwed into the axial plane, lie on the thread's flanks."""
    thread, sheet = worked(
        job("trapezoidal", 28.0, Fraction(5), starts=starts, rake=rake, setting=setting, blank=12.0)
    )
    n = sheet.number
    root, crest = (thread.number(f"thread.{at}_diameter") / 2 for at in ("minor", "major"))
    tilt = radians(n("tool.tilt")) if setting == "tipped" else 0.0
    p = thread.number("thread.lead") / (2 * pi)
    d2 = thread["thread.pitch_diameter"]
    assert d2.low is not None
    assert d2.high is not None
    worst = 0.0
    for side, sign in (("leading", -1), ("trailing", 1)):
        for k in range(101):
            u = k / 100 * (crest - root)
            across = sign * (n("tool.tip_width") / 2 + u * tan(radians(n(f"tool.flank_{side}"))))
            down = u * tan(radians(n("tool.rake")))
            y, z = (
                down * cos(tilt) - across * sin(tilt),
                across * cos(tilt) + down * sin(tilt),
            )
            radius = hypot(root + u, y)
            place = z - p * atan2(y, root + u)
            groove = 2.5 / 2 + (radius - (d2.low + d2.high) / 4) * tan(radians(15))
            worst = max(worst, abs(sign * place - groove) * cos(radians(15)))
    assert worst < 0.02
    hollow = hypot(root, n("tool.tip_width") / 2 * sin(tilt)) - root
    # The root diameter of the standard differs from the depth that is cut by its own rounding.
    assert max(worst, hollow) == pytest.approx(n("tool.form_error"), abs=0.0006)


def test_views_agree_with_one_another() -> None:
    """Third angle: what the front and the top view share, they place alike."""
    _, sheet = worked(job("trapezoidal", 20.0, Fraction(4), starts=2, blank=8.0))
    front, top = sheet.outlines["tool.front"].points, sheet.outlines["tool.top"].points
    assert (front[0][0], front[1][0]) == (top[3][0], top[4][0])
    blank = sheet.outlines["tool.front.blank"].points
    assert (blank[0][0], blank[1][0]) == (top[0][0], top[-1][0])
    feet = {
        round(x, 9)
        for name, outline in sheet.outlines.items()
        if name.startswith("tool.top.")
        for x, y in outline.points
    }
    assert {round(front[2][0], 9), round(front[3][0], 9)} <= feet
    face = Polygon(sheet.outlines["tool.silhouette"].points)
    for name, outline in sheet.outlines.items():
        edge = LineString(outline.points)
        if name.startswith("tool.top.hidden"):
            assert face.buffer(1e-6).contains(edge), name
        if name.startswith("tool.top.visible"):
            assert face.buffer(-1e-6).intersection(edge).length < 1e-6, name
    end = Polygon(front)
    behind = unary_union([end]).buffer(-1e-6)
    for name, outline in sheet.outlines.items():
        if name.startswith("tool.front.visible"):
            assert behind.intersection(LineString(outline.points)).length < 1e-6, name


def test_swept_clearance_is_that_of_the_recorded_figures() -> None:
    """Rebuild the solid from the printed figures alone and sweep it again, with a cloud."""
    thread, sheet = worked(job("acme", 31.75, Fraction(127, 20), starts=2, blank=12.7))
    n = sheet.number
    nose = recorded_nose(sheet)
    leading, trailing = nose.leading, nose.trailing
    groove = Groove(
        thread.number("thread.lead"),
        thread.number("thread.minor_diameter") / 2,
        thread.number("thread.major_diameter") / 2,
        leading.angle,
        trailing.angle,
        nose.tip_width,
    )
    cloud = Cloud(nose, groove)
    clear = [
        square_to_edge(side, 0.0) - square_to_edge(Side(side.angle, cloud.touching(sign)), 0.0)
        for sign, side in ((-1.0, leading), (1.0, trailing))
    ]
    assert n("tool.clearance_least") == pytest.approx(degrees(min(clear)), abs=0.02)
    assert sheet["tool.clearance_place"].value == "trailing side"
    assert n("tool.clearance_diameter") == pytest.approx(31.75, abs=0.01)
    assert n("tool.clearance_below") == pytest.approx(0.0, abs=0.01)
