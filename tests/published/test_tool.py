"""The cutter against what others have printed.

Sources
-------
- Krar et al., Technology of Machine Tools, unit on threads: relief of a square-thread tool, worked
  example 1 1/4-4 (from memory: it checks our arithmetic and our sense of the signs, not the book).
- Machinery's Handbook, 27th ed. (2004), p. 1828 Table 1: root flats of Acme threads (read).
- ISO 2904 / DIN 103: root flat 0.366 P - 0.5359 ac (read as a closing profile).
"""

from __future__ import annotations

import csv
from math import degrees, radians
from pathlib import Path

import pytest

from cardgen.rules import tool
from cardgen.rules.clearance import side_touch, solid
from cardgen.rules.helicoid import Groove
from cardgen.rules.helix import lead_angle
from cardgen.rules.tool import Nose, Side
from tests.tool_job import job, worked

DATA = Path(__file__).parent.parent / "data"
INCH = 25.4
MINUTE = 1 / 60


def rows(name: str) -> list[dict[str, str]]:
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.mark.parametrize(
    ("diameter", "printed", "slack"),
    [
        # 3 deg 38.6 min is printed as 3 deg 38: the book drops the fraction.
        (1.250, (3, 38), 1.0),
        (1.000, (4, 33), 0.5),
        (0.750, (6, 3.4), 0.05),
    ],
)
def test_lead_angles_of_square_threads(
    diameter: float, printed: tuple[int, float], slack: float
) -> None:
    lean = degrees(lead_angle(0.25 * INCH, diameter * INCH))
    assert lean == pytest.approx(printed[0] + printed[1] / 60, abs=slack * MINUTE + 1e-9)


def test_reliefs_of_a_square_tool_by_the_one_degree_rule() -> None:
    """1 1/4-4 square: leading 4 deg 33 + 1 = 5 deg 33; following 3 deg 38 - 1 = 2 deg 38.

    The book names the second as an angle that runs with the helix; seen from square to the face
    the side leans out, so that ours is -2 deg 38.
    """
    groove = Groove(0.25 * INCH, 0.5 * INCH, 0.625 * INCH, 0.0, 0.0, 0.125 * INCH)
    upright = Side(0.0, 0.0)
    nose = Nose(groove.width, upright, upright, radians(8), 0.0, 0.0, 4.0, 9.5)
    leading, trailing = (
        degrees(side_touch(solid(nose, groove), sign, groove.crest).relief) + 1
        for sign in (-1.0, 1.0)
    )
    assert leading == pytest.approx(5 + 33 / 60, abs=0.5 * MINUTE)
    assert trailing == pytest.approx(-(2 + 38 / 60), abs=1.0 * MINUTE)


@pytest.mark.parametrize("row", rows("acme_root_flats.csv"), ids=lambda row: row["tpi"])
def test_basic_tip_is_the_root_flat_of_machinerys_handbook(row: dict[str, str]) -> None:
    pitch = 1 / float(row["tpi"])
    clearance = 0.010 if pitch >= 0.0999 else 0.005
    a = radians(14.5)
    tip = tool.tip_width(pitch, -pitch / 2, -pitch - 2 * clearance, a, a)
    # The table is rounded from rounded factors: 2 tpi is printed 0.1802 for 0.18018.
    assert tip == pytest.approx(float(row["root_flat_in"]), abs=0.00005 + 0.00003)


@pytest.mark.parametrize(("pitch", "ac"), [(1.5, 0.15), (3, 0.25), (5, 0.25), (8, 0.5), (18, 1)])
def test_basic_tip_is_the_root_flat_of_iso_trapezoidal(pitch: float, ac: float) -> None:
    a = radians(15)
    tip = tool.tip_width(pitch, -pitch / 2, -pitch - 2 * ac, a, a)
    assert tip == pytest.approx(0.366025 * pitch - 0.535898 * ac, abs=1e-5 * pitch)


@pytest.mark.parametrize("pitch", [0.2, 1.0, 6.0])
def test_a_metric_root_is_one_arc_of_a_sixth_of_h(pitch: float) -> None:
    """ISO 68-1: with d3 17/24 H below the crest, the tool's two corners make one arc of H / 6."""
    a = radians(30)
    tip = tool.tip_width(pitch, -0.649519 * pitch, -1.226869 * pitch, a, a)
    assert tool.corner_radius_largest(tip, a, a) == pytest.approx(0.144338 * pitch, abs=2e-6)


def test_working_clearance_is_what_the_training_text_says() -> None:
    """3 to 5 degrees at the sides; about 5 on V tools, flat on top (issuhub 4752 p. 185, read)."""
    _, trapezoidal = worked(job())
    _, metric = worked(job("metric", 16.0, pitch=job().thread.pitch_exact * 2 / 5))
    assert 3.0 <= trapezoidal.number("tool.clearance_working") <= 5.0
    assert metric.number("tool.clearance_working") == 5.0
    assert trapezoidal.number("tool.rake") == 0.0
