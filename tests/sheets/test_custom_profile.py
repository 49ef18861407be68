"""A profile that the maker states: every key of it is found again in the working."""

from __future__ import annotations

from math import radians, tan
from pathlib import Path

import pytest

from cardgen.core.figure import Figure, Sheet
from cardgen.sheets import mate, thread
from cardgen.spec.job import Job
from cardgen.spec.load import load
from tests.ledger import evaluate
from tests.spec.shop_floor import lay_out

KEYS = ("leading-flank", "trailing-flank", "depth", "crest", "root-radius", "clearance")


def figures(tmp_path: Path, crest: str, surface: str) -> dict[str, Figure]:
    text = f"""\
cardgen: 1
job: demo
thread:
  form: custom
  surface: {surface}
  diameter: 30 mm
  pitch: 6 mm
  length: 40 mm
  custom: {{leading-flank: 5 deg, trailing-flank: 10 deg, depth: 3 mm{crest}, root-radius: 0.3 mm,
           clearance: 0.1 mm}}
mate: {{kind: nut, length: 30 mm}}
work: {{material: c45, stock: 60 mm}}
"""
    job: Job = load(lay_out(tmp_path, text))
    known: dict[str, Figure] = {}
    for topic, module in (("thread", thread), ("mate", mate)):
        sheet = Sheet(topic, dict(known), internal=surface == "internal")
        module.work_out(job, sheet)
        known |= sheet.figures
    return known


@pytest.mark.parametrize("surface", ["external", "internal"])
@pytest.mark.parametrize("crest", ["", ", crest: 2.5 mm"])
def test_every_key_is_an_input(tmp_path: Path, crest: str, surface: str) -> None:
    found = figures(tmp_path, crest, surface)
    named = {part.origin for figure in found.values() for part in figure.inputs.values()}
    wanted = {f"spec:thread.custom.{key}" for key in KEYS}
    if not crest:
        wanted.discard("spec:thread.custom.crest")
    if surface == "internal":
        # The corners' radius is the screw's; a nut's bottom is as its tool leaves it.
        wanted.discard("spec:thread.custom.root-radius")
    assert wanted <= named
    for figure in found.values():
        if isinstance(figure.value, str) or figure.formula.startswith("method:"):
            continue
        if figure.formula:
            inputs = {symbol: part.value for symbol, part in figure.inputs.items()}
            again = evaluate(figure.formula, inputs)  # type: ignore[arg-type]
            assert again == pytest.approx(figure.value, rel=1e-9), figure.id


def test_the_pitch_line_halves_the_pitch(tmp_path: Path) -> None:
    """By plane trigonometry: below a crest of 2.5 mm the ridge grows to 3 mm at the pitch line."""
    found = figures(tmp_path, ", crest: 2.5 mm", "external")
    below = (30 - found["thread.pitch_diameter"].number) / 2
    assert 2.5 + below * (tan(radians(5)) + tan(radians(10))) == pytest.approx(3.0)
    assert found["thread.crest_flat"].number == pytest.approx(2.5)
    assert found["thread.depth"].number == pytest.approx(3.0)
