"""The swept solid against a cloud of points that knows none of its formulas."""

from __future__ import annotations

from dataclasses import replace
from math import atan, cos, degrees, pi, radians, tan

import numpy as np
import pytest
from hypothesis import Phase, assume, given, settings
from hypothesis import strategies as st

from cardgen.rules import boring
from cardgen.rules.clearance import (
    least_clearances,
    side_touch,
    solid,
)
from cardgen.rules.form_error import form_error, hollow
from cardgen.rules.helicoid import Groove, straight_edge
from cardgen.rules.tool import Nose, Side
from tests.rules.cloud import Cloud

WITHIN = 0.02  # deg
QUICK = (Phase.explicit, Phase.reuse, Phase.generate)
"""Without shrinking, which takes minutes with so large a cloud."""


def ground(
    groove: Groove, rake: float, tilt: float, height: float, end_relief: float, taper: float = 0.0
) -> Nose:
    """Return the nose whose straight edges stand for a groove, its sides still upright."""
    edges = [straight_edge(groove, sign, rake, tilt) for sign in (-1.0, 1.0)]
    leading, trailing = (Side(atan(edge.slope) - taper, 0.0) for edge in edges)
    length = abs(groove.crest - groove.root) + 1
    width = edges[0].half + edges[1].half
    return Nose(width, leading, trailing, end_relief, rake, tilt, length, height)


def relieved(nose: Nose, groove: Groove, corner: float, clearance: float) -> Nose:
    """Return the nose with both sides relieved by a clearance beyond what just touches."""
    tool = solid(nose, groove, corner)
    reliefs = [side_touch(tool, sign, groove.crest).relief + clearance for sign in (-1.0, 1.0)]
    return replace(
        nose,
        leading=replace(nose.leading, relief=reliefs[0]),
        trailing=replace(nose.trailing, relief=reliefs[1]),
    )


@st.composite
def cases(draw: st.DrawFn, rakes: tuple[float, ...] = (0.0,)) -> tuple[Groove, Nose]:
    """Draw a screw or a nut of up to four starts and 30 deg of lead, and the nose for it."""
    pitch_radius = draw(st.floats(4.0, 40.0))
    pitch = draw(st.floats(0.08, 0.4)) * pitch_radius
    depth = 0.55 * pitch
    internal = draw(st.booleans())
    flanks = st.sampled_from([0.0, 3.0, 7.0, 14.5, 15.0, 30.0, 45.0])
    leading, trailing = radians(draw(flanks)), radians(draw(flanks))
    half = depth / 2 if not internal else -depth / 2
    root, crest = pitch_radius - half, pitch_radius + half
    starts = draw(st.integers(1, 4))
    lead = starts * pitch
    while atan(lead / (2 * pi * min(root, crest))) > radians(30):
        lead -= pitch
    lead = max(lead, pitch)
    width = max(pitch / 2 - depth / 2 * (tan(leading) + tan(trailing)), 0.1 * pitch)
    groove = Groove(lead, root, crest, leading, trailing, width)
    tilt = draw(st.sampled_from([0.0, atan(lead / (2 * pi * pitch_radius))]))
    rake = radians(draw(st.sampled_from(rakes)))
    height, end = draw(st.floats(0.1, 0.6)) * pitch_radius, radians(8)
    if internal:
        end = boring.heel_relief(boring.heel_angle(height, 2 * crest)) + radians(3)
    taper = radians(1) if groove.parallel else 0.0
    return groove, ground(groove, rake, tilt, height, end, taper)


@settings(max_examples=16, deadline=None, phases=QUICK)
@given(cases(rakes=(0.0, 6.0, 12.0)), st.sampled_from([0.0, 0.08]))
def test_a_side_touches_where_the_cloud_does(case: tuple[Groove, Nose], rounded: float) -> None:
    """The relief of the touch, and so the angle to grind, agrees for every kind of tool."""
    groove, nose = case
    corner = rounded * nose.tip_width
    for sign in (-1.0, 1.0):
        found = side_touch(solid(nose, groove, corner), sign, groove.crest).relief
        assert degrees(found) == pytest.approx(
            degrees(Cloud(nose, groove, corner).touching(sign)), abs=WITHIN
        )


@settings(max_examples=15, deadline=None, phases=QUICK)
@given(cases(rakes=(0.0, 8.0)))
def test_the_end_touches_where_the_cloud_does(case: tuple[Groove, Nose]) -> None:
    groove, nose = case
    nose = relieved(nose, groove, 0.0, radians(2))
    assume(nose.foot_width > 0)
    found = least_clearances(nose, groove)
    oracle = nose.end_relief - Cloud(nose, groove).end_touching()
    assert degrees(found.end) == pytest.approx(degrees(oracle), abs=WITHIN)


@settings(max_examples=4, deadline=None, phases=QUICK)
@given(cases())
def test_rounded_corners_clear_by_what_the_cloud_finds(case: tuple[Groove, Nose]) -> None:
    """The cloud looks at coarser places, so that it may find a little more."""
    groove, nose = case
    corner = 0.1 * nose.tip_width
    nose = relieved(nose, groove, corner, radians(3))
    assume(nose.foot_width > 0)
    found = least_clearances(nose, groove, corner).corners
    oracle = min(Cloud(nose, groove, corner).corner_clearance(sign) for sign in (-1.0, 1.0))
    assert degrees(found) <= degrees(oracle) + WITHIN
    assert degrees(found) == pytest.approx(degrees(oracle), abs=0.1)


@settings(max_examples=60, deadline=None)
@given(cases(), st.floats(1.02, 1.5))
def test_more_lead_never_asks_for_less_relief_on_the_leading_side(
    case: tuple[Groove, Nose], more: float
) -> None:
    """Level: a longer lead leans the wall out under the leading edge, away from the trailing."""
    groove, nose = case
    nose = replace(nose, tilt=0.0)
    leading, trailing = (
        [
            side_touch(solid(nose, replace(groove, lead=lead)), sign, groove.crest).relief
            for lead in (groove.lead, more * groove.lead)
        ]
        for sign in (-1.0, 1.0)
    )
    assert leading[1] > leading[0]
    assert trailing[1] < trailing[0]


@pytest.mark.parametrize("internal", [False, True])
@pytest.mark.parametrize("tipped", [False, True])
@pytest.mark.parametrize("flank", [0.0, 15.0, 30.0])
def test_thirty_degrees_of_lead(internal: bool, tipped: bool, flank: float) -> None:
    """The steepest that is asked for, screw and nut: the cloud's angles, and no small one."""
    pitch_radius, depth = 10.0, 2.0
    root, crest = (11.0, 9.0) if internal else (9.0, 11.0)
    lead = 2 * pi * pitch_radius * tan(radians(30))
    a = radians(flank)
    groove = Groove(lead, root, crest, a, a, 3.0 - depth * tan(a))
    tilt = radians(30) if tipped else 0.0
    end = boring.heel_relief(boring.heel_angle(3.0, 18.0)) + radians(3) if internal else radians(8)
    nose = ground(groove, 0.0, tilt, 3.0, end, radians(1) if groove.parallel else 0.0)
    for sign in (-1.0, 1.0):
        found = side_touch(solid(nose, groove), sign, crest).relief
        assert degrees(found) == pytest.approx(
            degrees(Cloud(nose, groove).touching(sign)), abs=WITHIN
        )
    if not tipped:
        least = min(root, crest)
        assert degrees(side_touch(solid(nose, groove), -1.0, crest).relief) > 28
        assert lead / (2 * pi * least) > tan(radians(30))


def test_reliefs_changed_over_are_found_out() -> None:
    """Ground the wrong way round, a tool of two starts digs in, in screw and nut."""
    for root, crest in ((7.75, 10.0), (12.0, 9.5)):
        a = radians(15)
        groove = Groove(16.0, root, crest, a, a, 1.3)
        nose = relieved(ground(groove, 0.0, 0.0, 3.0, radians(14)), groove, 0.0, radians(3))
        wrong = replace(
            nose,
            leading=replace(nose.leading, relief=nose.trailing.relief),
            trailing=replace(nose.trailing, relief=nose.leading.relief),
        )
        found = least_clearances(wrong, groove)
        assert found.leading < 0
        assert found.face == "leading"
        inside = Cloud(wrong, groove)
        assert inside.side_inside(-1.0, wrong.leading.relief, inside.walls(-1.0, 0.0)) > 0.05


@settings(max_examples=60, deadline=None)
@given(cases(rakes=(0.0, 8.0)))
def test_straight_edges_keep_the_form_as_the_cloud_measures_it(
    case: tuple[Groove, Nose],
) -> None:
    """The wall that the cloud's edges leave, against the groove's own flank."""
    groove, nose = case
    found = form_error(solid(nose, groove), groove)
    worst = 0.0
    for sign in (-1.0, 1.0):
        radius, wall = Cloud(nose, groove).walls(sign, 0.0)
        out = groove.outwards
        for k in range(2, 33):
            at = groove.root + (groove.crest - groove.root) * k / 32
            cut = float(np.interp(out * at, out * radius, sign * wall))
            own = groove.width / 2 + out * (at - groove.root) * tan(groove.flank(sign))
            worst = max(worst, abs(cut - own) * cos(groove.flank(sign)))
    # The cloud has no wall within the hollow that a tipped point leaves of the root.
    rim = abs(hollow(solid(nose, groove)))
    assert found == pytest.approx(worst, abs=1e-5 + rim)
    if not nose.tilt and not nose.rake and not groove.parallel:
        assert found == pytest.approx(0.0, abs=1e-9)
