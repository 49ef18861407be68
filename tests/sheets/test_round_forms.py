"""Whitworth, pipe, BA, saw-tooth and knuckle threads from their designation to the cutter."""

from __future__ import annotations

import shutil
from functools import cache
from math import cos, dist, hypot, pi, radians, sin, tan
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from scipy.optimize import brentq
from shapely.geometry import LineString, Point, Polygon

from cardgen.core.figure import Sheets
from cardgen.sheets import every
from cardgen.spec.load import load

ROOT = Path(__file__).parent.parent.parent

# What is written, what is printed of it, major diameter [mm], pitch [mm].
WRITTEN = [
    ("whitworth", "1/2 BSW", "1/2 in - 12 BSW, medium", 12.7, 25.4 / 12),
    ("whitworth", "1 in - 10 BSF, free LH", "1 in - 10 BSF LH, free", 25.4, 2.54),
    ("whitworth", "BSF 3/4", "3/4 in - 12 BSF, medium", 19.05, 25.4 / 12),
    ("pipe-parallel", "G 1 1/2", "G 1 1/2 A", 47.803, 25.4 / 11),
    ("pipe-parallel", "G 3/4 B LH", "G 3/4 B LH", 26.441, 25.4 / 14),
    ("ba", "0BA, close", "0 BA, close", 6.0, 1.0),
    ("buttress-metric", "S 30x6", "S 30x6-7e", 30.0, 6.0),
    ("knuckle", "Rd 40x1/6", "Rd 40x1/6-7h", 40.0, 25.4 / 6),
    ("knuckle", "Rd 30x1/4 P1/8 LH-7e", "Rd 30x1/4 P1/8 LH-7e", 30.0, 25.4 / 8),
]


@cache
def worked(form: str, size: str, extra: str = "", mate: str = "") -> Sheets:
    with TemporaryDirectory() as name:
        folder = Path(name)
        shutil.copy(ROOT / "specs" / "machines" / "floor-inch.yaml", folder)
        text = (
            f'cardgen: 1\njob: round\nthread:\n  form: {form}\n  size: "{size}"\n  length: 30 mm\n'
            f"{extra}mate: {{kind: nut{mate}}}\n"
            "work: {material: 11smnpb30}\ntool: {material: hss, blank: 12 mm}\n"
            "machine: floor-inch.yaml\n"
        )
        (folder / "round.yaml").write_text(text)
        return every.work_out(load(folder / "round.yaml"))


@pytest.mark.parametrize("row", WRITTEN, ids=lambda row: row[1])
def test_designations_go_through_and_are_printed(row: tuple[str, str, str, float, float]) -> None:
    form, size, printed, diameter, pitch = row
    figures = worked(form, size).figures
    assert figures["thread.designation"].value == printed
    assert figures["thread.major_diameter"].value == pytest.approx(diameter)
    assert figures["thread.pitch"].value == pytest.approx(pitch)
    assert not any(
        f.id in {"thread.unlisted", "thread.impossible"} for f in worked(form, size).findings
    )
    for topic in ("thread", "tool", "measure", "mate"):
        assert worked(form, size)[topic].figures, topic


@pytest.mark.parametrize("row", WRITTEN, ids=lambda row: row[1])
def test_the_point_is_ground_to_the_root(row: tuple[str, str, str, float, float]) -> None:
    """The tool's own outline holds a disc of the root's radius at its end, and no corner."""
    sheets = worked(*row[:2])
    figures = sheets.figures
    radius = figures["tool.corner_radius"].number
    assert radius == pytest.approx(figures["thread.root_radius"].number, rel=0.02)
    face = Polygon(sheets["tool"].outlines["tool.silhouette"].points)
    low = min(y for _, y in sheets["tool"].outlines["tool.face"].points)
    middle = sum(x for x, y in sheets["tool"].outlines["tool.face"].points if y == low) / 2
    disc = [
        (x / 50 * radius, y / 50 * radius)
        for x in range(-60, 61, 4)
        for y in range(0, 60, 4)
        if hypot(x, y - 50) < 49
    ]
    # The disc's middle stands where both flanks are as far off: found by trying.
    best = max(
        sum(face.contains(Point(middle + shift + x, low + y)) for x, y in disc)
        for shift in (step * radius / 100 for step in range(-40, 41))
    )
    assert best == len(disc)
    corners = sheets["tool"].outlines["tool.face"].points[1:3]
    assert not any(face.buffer(-1e-6).intersects(Point(corner)) for corner in corners)
    assert min(face.distance(Point(corner)) for corner in corners) > 0.1 * radius


@pytest.mark.parametrize("row", WRITTEN, ids=lambda row: row[1])
def test_a_round_crest_is_not_forgotten(row: tuple[str, str, str, float, float]) -> None:
    steps = worked(*row[:2])["tool"].steps
    told = [step.text for step in steps if "crests" in step.text]
    # Only the saw-tooth's crest is flat.
    assert len(told) == (row[0] != "buttress-metric")


def test_whitworth_limits_are_marked_and_its_sizes_are_not() -> None:
    figures = worked("whitworth", "1/2 BSW").figures
    assert figures["thread.major_diameter"].evidence == "memory"
    assert "memory" in figures["thread.pitch_diameter"].source
    assert figures["thread.depth"].evidence != "memory"
    assert figures["thread.lead_angle_pitch"].evidence != "memory"


@pytest.mark.parametrize(
    ("form", "size"),
    [("whitworth", "1/2 BSW"), ("knuckle", "Rd 40x1/6"), ("buttress-metric", "S 30x6")],
)
def test_hands_are_mirrors(form: str, size: str) -> None:
    right, left = (worked(form, size, f"  hand: {hand}\n").figures for hand in ("right", "left"))
    for id, figure in right.items():
        if id.startswith(("thread.", "measure.", "mate.")) and not isinstance(figure.value, str):
            assert figure.number == left[id].number, id
    if form != "buttress-metric":
        assert right["tool.relief_leading"].number == left["tool.relief_leading"].number
    assert right["tool.leading_side"].value != left["tool.leading_side"].value


def test_a_knuckle_root_is_measured_over_pins() -> None:
    """The pins' centres lie opposite, half a pitch apart along the axis: a straight line in space.

    A pin that touches the bottom clears the sides of the arc, square to the helix.
    """
    sheets = worked("knuckle", "Rd 40x1/6")
    figures = sheets.figures
    pin, root = figures["measure.pin_chosen"].number, figures["thread.minor_diameter"].number
    shift = figures["thread.pitch"].number / 2
    assert figures["measure.over_root_wires"].number == pytest.approx(
        dist((root / 2 + pin / 2, 0.0), (-root / 2 - pin / 2, shift)) + pin
    )
    assert pin / 2 < figures["thread.root_radius"].number
    assert any("two pins" in step.text for step in sheets["measure"].steps if step.kind == "root")


def test_a_knuckle_nuts_root_is_measured_between_balls() -> None:
    sheets = worked("knuckle", "Rd 40x1/6", extra="  surface: internal\n")
    figures = sheets.figures
    ball, root = figures["measure.pin_chosen"].number, figures["thread.major_diameter"].number
    shift = figures["thread.pitch"].number / 2
    assert figures["measure.over_root_wires"].number == pytest.approx(
        dist((root / 2 - ball / 2, 0.0), (ball / 2 - root / 2, shift)) - ball
    )
    assert ball / 2 < figures["thread.root_radius"].number


def test_knife_edges_do_not_reach_a_round_root() -> None:
    sheet = worked("knuckle", "Rd 40x1/6")["measure"]
    assert "measure.caliper_root" not in sheet.figures
    assert any("crest only" in step.text for step in sheet.steps if step.kind == "caliper")


def test_a_pin_tells_the_width_of_a_knuckle_groove() -> None:
    """In the section through the axis: a circle between two lines, lifted by the twist."""
    figures = worked("knuckle", "Rd 40x1/6").figures
    crest, width = figures["thread.blank_diameter"].number, figures["thread.pitch"].number / 2
    pitch_line = figures["thread.pitch_diameter"].number / 2
    wire, angle = figures["measure.wire_chosen"].number, radians(15)
    foot, along = (width / 2, pitch_line), (sin(angle), cos(angle))
    wall = LineString([(foot[0] + t * along[0], foot[1] + t * along[1]) for t in (-9, 9)])
    flat = brentq(lambda y: Point(0, y).distance(wall) - wire / 2, pitch_line - 1, pitch_line + 3)
    lifted = figures["measure.pin_proud"].number + crest / 2 - wire / 2
    assert 0 < lifted - flat < 0.01
    # A groove wider by x lets the wire sink by x / (2 tan a).
    short = figures["measure.pin_short"].number
    assert short == pytest.approx(2 * (lifted - flat) * tan(angle), rel=1e-6)


def test_a_wire_touches_the_straight_part_of_a_knuckle_flank() -> None:
    figures = worked("knuckle", "Rd 40x1/6").figures
    best, pitch = figures["measure.wire_best"].number, figures["thread.pitch"].number
    assert best == pytest.approx(pitch / 2 / (1 + tan(radians(15)) ** 2) ** -0.5, rel=0.01)
    assert figures["measure.wire_smallest"].number <= best <= figures["measure.wire_largest"].number
    assert figures["thread.lead_angle_pitch"].number == pytest.approx(
        180 / pi * pitch / pi / figures["thread.pitch_diameter"].number, rel=0.01
    )


@pytest.mark.parametrize(
    ("size", "length", "warned"),
    [("Tr 28x5-7e", 35, False), ("Tr 28x5-7e", 80, True), ("Tr 28x5-8e", 80, False)],
)
def test_a_long_nut_wants_another_class(size: str, length: int, warned: bool) -> None:
    """ISO 2903: over 22.4 mm at 5 mm, normal is 2.24 P d^0.2 = 21 to 6.7 P d^0.2 = 62 mm."""
    nut = ", class: 8H" if "8e" in size else ""
    sheets = worked("trapezoidal", size, mate=f", length: {length} mm{nut}")
    assert sheets.figures["mate.normal_low"].number == pytest.approx(20.9, abs=0.05)
    assert sheets.figures["mate.normal_high"].number == pytest.approx(62.4, abs=0.05)
    assert any(f.id == "mate.length_group" for f in sheets.findings) == warned
