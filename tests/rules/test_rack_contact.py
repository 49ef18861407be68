"""The rack's straight teeth against a cloud of points of the screw's flank, turned in space.

An oracle of its own: the cloud is swept in three dimensions, the screw turned and the rack moved
along; nothing of the rule's formulas for gap or normal angle is used, only the motion it promises.
"""

from __future__ import annotations

from math import cos, pi, radians, sin, sqrt, tan

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cardgen.rules.helix import lead_angle
from cardgen.rules.rack import (
    Mesh,
    axial_gap,
    normal_angle,
    pitch_along_travel,
    reach_across,
    straight_tooth_excess,
)

# lead, pitch diameter, depth of thread, flank angle [deg], width of the rack
SCREWS = [
    (5.0, 21.5, 2.75, 15.0, 14.0),
    (5.0, 21.5, 2.75, 15.0, 6.0),
    (12.0, 25.0, 3.5, 15.0, 12.0),
    (18.0, 26.0, 3.5, 14.5, 20.0),
    (6.35, 28.575, 3.175, 0.0, 15.0),
    (1.5, 9.026, 0.92, 30.0, 5.0),
]


def mesh_of(lead: float, d2: float, depth: float, width: float) -> Mesh:
    crest = d2 / 2 + depth / 2
    return Mesh(lead, d2 / 2, crest, d2 / 2 - 0.9 * depth / 2, width)


def gaps(
    mesh: Mesh, flank: float, turn: float, over: float, slope: float, side: float
) -> np.ndarray:
    """Gap along the travel between the rack's plane and points of the turned screw.

    ``over`` turns the screw's axis out of the travel, ``slope`` the teeth out of square; ``side``
    is which flank of the screw's ridge it is.
    """
    p = mesh.lead / (2 * pi)
    r, phi = np.meshgrid(
        np.linspace(mesh.tips, mesh.crest, 81), np.linspace(-1.2, 1.2, 1601), indexing="ij"
    )
    # A ridge's flank of a right-hand helicoid, through (r2, 0, 0) before it is turned.
    z = p * phi - side * tan(flank) * (r - mesh.pitch_radius)
    # Turned by ``turn`` and looked for again near the rack: the same flank, moved along by p turn.
    z = z + p * turn
    x, y = r * np.cos(phi), r * np.sin(phi)
    along = z * cos(over) + y * -sin(over) if over else z
    across = z * sin(over) + y * cos(over) if over else y
    travel = p * turn * cos(over)
    angle = normal_angle(flank, over) if over else flank
    plane = travel - side * tan(angle) * (x - mesh.pitch_radius) + across * tan(slope)
    inside = (x >= mesh.tips) & (np.abs(across - p * turn * sin(over)) <= mesh.width / 2)
    return np.where(inside, side * (plane - along), np.inf)


@pytest.mark.parametrize("screw", SCREWS)
@pytest.mark.parametrize("side", [1.0, -1.0])
def test_the_excess_is_what_the_cloud_finds(screw: tuple[float, ...], side: float) -> None:
    lead, d2, depth, flank_deg, width = screw
    mesh, flank = mesh_of(lead, d2, depth, width), radians(flank_deg)
    slope = lead_angle(lead, d2)
    least = gaps(mesh, flank, 0.0, 0.0, slope, side).min()
    # The corners of the chord lie between points of the cloud: a few hundredths of the excess.
    found = straight_tooth_excess(mesh, flank)
    assert found == pytest.approx(max(0.0, -least), abs=2e-5 + 0.02 * found)
    # Set apart by it, the two touch and no more.
    assert (gaps(mesh, flank, 0.0, 0.0, slope, side) + found).min() > -2e-4


@pytest.mark.parametrize("screw", SCREWS)
@pytest.mark.parametrize("set_over", [False, True])
def test_the_teeth_stay_in_touch_as_the_screw_turns(
    screw: tuple[float, ...], set_over: bool
) -> None:
    """The travel in a turn is right if the gap is the same at every turn of the screw."""
    lead, d2, depth, flank_deg, width = screw
    mesh, flank = mesh_of(lead, d2, depth, width), radians(flank_deg)
    slope = lead_angle(lead, d2)
    over, slope = (slope, 0.0) if set_over else (0.0, slope)
    at_rest = gaps(mesh, flank, 0.0, over, slope, 1.0).min()
    for turn in (0.3, 1.1, 2 * pi):
        assert gaps(mesh, flank, turn, over, slope, 1.0).min() == pytest.approx(at_rest, abs=1e-9)
    assert pitch_along_travel(lead, over) == pytest.approx(lead * cos(over))
    touching = np.abs(gaps(mesh, flank, 0.0, over, slope, 1.0))
    # Line contact: along the flank under the axis, from tips to crest, nothing is between them.
    middle = touching[:, 800]
    assert middle[np.isfinite(middle)].max() < 1e-9


def test_flanks_meet_under_the_axis_at_every_depth() -> None:
    mesh = mesh_of(5.0, 21.5, 2.75, 14.0)
    for x in (mesh.tips, mesh.pitch_radius, mesh.crest):
        assert axial_gap(mesh, radians(15), x, 0.0) == 0.0


@settings(max_examples=60, deadline=None)
@given(
    lead=st.floats(0.5, 20),
    ratio=st.floats(0.05, 0.3),
    flank=st.floats(0, 40),
    width=st.floats(1, 30),
    part=st.floats(0.1, 0.9),
)
def test_a_narrower_rack_never_binds_more(
    lead: float, ratio: float, flank: float, width: float, part: float
) -> None:
    d2 = max(4.0, 1.5 * lead)
    mesh = mesh_of(lead, d2, ratio * d2, width)
    narrow = mesh_of(lead, d2, ratio * d2, part * width)
    wide = straight_tooth_excess(mesh, radians(flank))
    assert 0.0 <= straight_tooth_excess(narrow, radians(flank)) <= wide + 1e-9
    # Bound by what the lead angle can swing over half the chord, whatever the flank does.
    half = min(width / 2, sqrt(mesh.crest**2 - mesh.tips**2))
    swing = lead / (2 * pi) * half * (1 / mesh.tips - 1 / mesh.crest)
    assert wide <= swing + 1e-12


def test_a_crest_that_does_not_reach_the_rack_is_no_chord_wide() -> None:
    assert reach_across(5.0, 5.0) == 0.0
    assert reach_across(5.0, 6.0) == 0.0
