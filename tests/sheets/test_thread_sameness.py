"""The same thread asked for in other words: in the other unit, with the other hand, from its nut.

Over all forms and both surfaces, through the files a maker writes.
"""

from __future__ import annotations

from functools import cache
from math import isclose
from pathlib import Path

import pytest

from cardgen.core.figure import Figure, Sheet
from cardgen.forms.form import names
from cardgen.sheets import mate, measure, thread
from cardgen.spec.job import Job
from cardgen.spec.load import load
from tests.spec.shop_floor import lay_out

SURFACES = ("external", "internal")
# Diameter and pitch whose millimetres are finite decimals: in, tpi, mm, mm.
SIZES = (
    ("1 1/4", "5", "31.75", "5.08"),
    ("2", "8", "50.8", "3.175"),
    ("1/2", "16", "12.7", "1.5875"),
)
STATED = "custom: {leading-flank: 5 deg, trailing-flank: 10 deg, depth: DEPTH, clearance: CLEAR}"
UNLIKE = {"thread.designation", "mate.designation"}
"""What is written in the maker's own unit."""
SHOP = {"thread.drill", "mate.drill", "mate.blank", "mate.tap_drill", "mate.tap_engagement"}
"""What is taken from a drawer of metric or inch tools."""


def written(form: str, *, inch: bool, surface: str, size: tuple[str, ...], hand: str) -> str:
    name, _, variant = form.partition("+")
    diameter, tpi, mm, pitch = size
    lines = [f"form: {name}", f"surface: {surface}", f"hand: {hand}", "length: 20 mm"]
    lines.append(f"diameter: {diameter} in" if inch else f"diameter: {mm} mm")
    if variant == "module":
        lines.append("module: 1/16 in" if inch else "module: 1.5875 mm")
    else:
        lines.append(f"pitch: {tpi} tpi" if inch else f"pitch: {pitch} mm")
    if variant:
        lines.append(f"variant: {variant}")
    if name == "custom":
        depth, clear = ("1/40 in", "1/500 in") if inch else ("0.635 mm", "0.0508 mm")
        lines.append(STATED.replace("DEPTH", depth).replace("CLEAR", clear))
    body = "\n  ".join(lines)
    return (
        f"cardgen: 1\njob: same\nthread:\n  {body}\nmate: {{kind: nut, length: 20 mm}}\n"
        "work: {material: c45, stock: 90 mm}\ntool: {wires: [3 mm]}\n"
    )


def figures(job: Job) -> dict[str, Figure]:
    known: dict[str, Figure] = {}
    for topic, module in (("thread", thread), ("measure", measure), ("mate", mate)):
        sheet = Sheet(topic, dict(known), internal=job.thread.surface == "internal")
        module.work_out(job, sheet)
        known |= sheet.figures
    return known


@cache
def _at(folder: Path, text: str) -> dict[str, Figure]:
    return figures(load(lay_out(folder, text)))


def limits(figure: Figure) -> tuple[object, ...]:
    return figure.value, figure.low, figure.high


CASES = [
    (form, surface, size)
    for form in names()
    for surface in SURFACES
    for size in SIZES
    # Parallel pipe threads have limits at four pitches only; a size of 1/2-16 has no room for some.
    if form != "pipe-parallel"
]


@pytest.mark.parametrize(("form", "surface", "size"), CASES)
def test_inch_and_metric_specs_give_the_same_figures(
    tmp_path: Path, form: str, surface: str, size: tuple[str, ...]
) -> None:
    one, other = (
        _at(tmp_path, written(form, inch=inch, surface=surface, size=size, hand="right"))
        for inch in (True, False)
    )
    assert set(one) - SHOP == set(other) - SHOP
    for id in set(one) - UNLIKE - SHOP:
        for mine, theirs in zip(limits(one[id]), limits(other[id]), strict=True):
            same = mine == theirs
            if isinstance(mine, float) and isinstance(theirs, float):
                same = isclose(mine, theirs, rel_tol=1e-9, abs_tol=1e-12)
            assert same, (id, mine, theirs)


@pytest.mark.parametrize(("form", "surface", "size"), CASES)
def test_the_other_hand_has_the_same_sizes(
    tmp_path: Path, form: str, surface: str, size: tuple[str, ...]
) -> None:
    right, left = (
        _at(tmp_path, written(form, inch=True, surface=surface, size=size, hand=hand))
        for hand in ("right", "left")
    )
    assert set(right) == set(left)
    for id in set(right) - UNLIKE - {"thread.hand"}:
        assert limits(right[id]) == limits(left[id]), id
    if "thread.pitch_diameter" in right:
        assert "L" in str(left["thread.designation"].value)


@pytest.mark.parametrize(("form", "surface", "size"), CASES)
def test_the_pitch_diameter_lies_between_crest_and_root(
    tmp_path: Path, form: str, surface: str, size: tuple[str, ...]
) -> None:
    """At every limit, of screw and nut; and no screw is larger than its nut."""
    found = _at(tmp_path, written(form, inch=True, surface=surface, size=size, hand="right"))
    screw, nut = ("thread", "mate") if surface == "external" else ("mate", "thread")
    if f"{screw}.pitch_diameter" not in found or f"{nut}.pitch_diameter" not in found:
        pytest.skip("refused with a reason")
    for part in (screw, nut):
        major, pitch, minor = (
            found[f"{part}.{which}_diameter"] for which in ("major", "pitch", "minor")
        )
        assert minor.number < pitch.number < major.number
        if pitch.low is not None and pitch.high is not None:
            assert minor.high is not None
            assert minor.high < pitch.low if part == screw else minor.high < pitch.high
            if major.low is not None:
                assert pitch.high < major.low
    for which in ("major", "pitch", "minor"):
        outer, inner = found[f"{nut}.{which}_diameter"], found[f"{screw}.{which}_diameter"]
        if outer.low is not None and inner.high is not None:
            assert inner.high <= outer.low + 1e-9, which
