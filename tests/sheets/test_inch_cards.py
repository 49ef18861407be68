"""What the sheets make of unlike flanks, and the one check of hand that every cutter has."""

from __future__ import annotations

from pathlib import Path

import pytest

from cardgen.make import work
from tests.spec.shop_floor import lay_out

JOBS = sorted((Path(__file__).parents[2] / "specs" / "jobs").glob("*.yaml"))
NUT = """\
cardgen: 1
job: nut
thread:
  form: {form}
  surface: internal
  size: "{size}"
  length: 30 mm
work: {{material: bronze-pb1}}
tool: {{blank: 3/16 in}}
"""
SCREW = """\
cardgen: 1
job: screw
thread: {{form: buttress-inch, size: "1 1/2-6 {kind}-2A", length: 40 mm}}
work: {{material: c45}}
duty: {{load: 3 kN}}
"""


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
def test_every_cutter_has_one_check_of_its_hand(path: Path) -> None:
    sheets = work(path).sheets
    checks = [step.text for sheet in sheets for step in sheet.steps if step.kind == "check"]
    assert len([text for text in checks if text.startswith("CHECK")]) == 1, checks


@pytest.mark.parametrize(
    ("form", "size", "told"),
    [
        ("buttress-inch", "2-6 BUTT-2B", True),
        ("buttress-inch", "2-6 PUSH-BUTT-2B", True),
        ("unified", "1-8 UNC-2B", False),
    ],
)
def test_a_nut_of_unlike_flanks_is_to_be_marked(
    tmp_path: Path, form: str, size: str, told: bool
) -> None:
    sheets = work(lay_out(tmp_path, NUT.format(form=form, size=size))).sheets
    found = {finding.id for sheet in sheets for finding in sheet.findings}
    assert ("thread.which_way_round" in found) == told


def test_a_buttress_bears_on_its_steep_flank_pulling_or_pushing(tmp_path: Path) -> None:
    """The same torque both ways, and less than a symmetric thread of 45 degrees would take."""
    pull, push = (
        work(lay_out(tmp_path / kind, SCREW.format(kind=kind))).sheets.figures
        for kind in ("BUTT", "PUSH-BUTT")
    )
    assert pull["load.torque_raise"].value == pytest.approx(push["load.torque_raise"].number)
    for figures, side in ((pull, "trailing"), (push, "leading")):
        origins = {part.origin for part in figures["load.torque_raise"].inputs.values()}
        assert f"thread.{side}_flank" in origins
        assert figures[f"thread.{side}_flank"].value == pytest.approx(7)
