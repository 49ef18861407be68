"""The three panels fit their column in colour and in one ink, and nothing overlaps."""

from __future__ import annotations

import pytest

from cardgen.card.panels import heat, load, safety
from cardgen.card.pen import Pen
from cardgen.card.view import UNCHECKED, Style, View
from cardgen.pdf.fonts import metrics
from cardgen.spec.job import Duty, Job
from tests.parts import hardenable, job, step, worked

HEATS = (step("normalise", 880), step("harden"), step("temper", 280, 3600), step("blacken", 260))
DUTY = Duty(8000, 300, 0.12)


def drawn(of: Job, width: float, *, mono: bool = False) -> tuple[Pen, float]:
    """Draw the panels under one another; return the pen and the height."""
    sheets = worked(of)
    figures = {id: figure for sheet in sheets.values() for id, figure in sheet.figures.items()}
    view = View(
        figures=figures,
        passes=(),
        outlines={k: v for sheet in sheets.values() for k, v in sheet.outlines.items()},
        steps={topic: tuple(sheet.steps) for topic, sheet in sheets.items()},
        findings=tuple(f for sheet in sheets.values() for f in sheet.findings),
        facts={},
        inch=False,
        style=Style(9, 14, 11, 7.5, mono),
    )
    pen = Pen(metrics(), 7.5, mono)
    y = 0.0
    for panel in (heat.PANEL, load.PANEL, safety.PANEL):
        if not view.has(*panel.needs):
            continue
        for block in panel.blocks(view, pen, width):
            with pen.part(panel.name, (0, y, width, y + block.height)):
                block.draw(pen, 0, y, width)
            y += block.height
    return pen, y


@pytest.mark.parametrize("mono", [False, True])
@pytest.mark.parametrize("width", [65.0, 95.0])
@pytest.mark.parametrize("steel", ["c45", "o1", "s7"])
def test_nothing_leaves_its_block_or_overlaps(steel: str, width: float, mono: bool) -> None:
    pen, _ = drawn(job(steel, heats=HEATS, duty=DUTY), width, mono=mono)
    texts = [box for box in pen.boxes if box.kind == "text"]
    parts = [box for box in pen.boxes if box.kind == "part"]
    for text in texts:
        assert any(text.inside(part) for part in parts), text.owner
    for index, one in enumerate(texts):
        assert not [two.owner for two in texts[index + 1 :] if one.overlaps(two)], one.owner


def said(pen: Pen) -> str:
    # A number and its unit may be held together by a hard space.
    return " ".join(m.text for m in pen.marks if hasattr(m, "text")).replace("\u00a0", " ")


def test_numbers_of_the_heats_are_big() -> None:
    pen, _ = drawn(job(heats=HEATS), 65)
    pen.marks = [mark for mark in pen.marks if getattr(mark, "size", 0) >= 14]
    big = said(pen)
    for number in ("880 °C", "840 °C", "280 °C", "260 °C", "1 h"):
        assert number in big


def test_one_ink_has_no_colour_but_as_many_patterns() -> None:
    colour, _ = drawn(job(heats=HEATS), 65)
    mono, _ = drawn(job(heats=HEATS), 65, mono=True)
    assert said(colour) == said(mono)
    assert len(mono.marks) > len(colour.marks)


def test_what_rests_on_memory_is_marked() -> None:
    pen, _ = drawn(job("1084", heats=HEATS), 65)
    assert f"Final hardness{UNCHECKED}" in said(pen)
    assert f"oven. {UNCHECKED}" in said(pen)


def test_panels_stay_away_where_they_do_not_apply() -> None:
    pen, _ = drawn(job(), 65)
    assert "Temper" not in said(pen)
    assert "Torque" not in said(pen)
    assert "Local rules" in said(pen)


@pytest.mark.parametrize("steel", hardenable())
def test_every_shipped_steel_fits_the_narrow_column(steel: str) -> None:
    _, height = drawn(job(steel, heats=HEATS, stock=12), 65)
    assert height < 470
