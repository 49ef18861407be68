"""What the sheet says of bar and blade under load, worked out again another way."""

from __future__ import annotations

from math import pi
from pathlib import Path

import pytest

from cardgen.core.figure import Sheets
from cardgen.make import work
from cardgen.rules.holding import Work
from cardgen.sheets._cutting_case import gather
from cardgen.spec.load import load
from tests.rules.test_beam_springs import elements

SPECS = Path(__file__).parent.parent.parent / "specs" / "jobs"
SCREWS = ("slender-adjuster", "cider-press-spindle", "nipping-press-screw", "ratchet-stud")

ROUGHED = "cider-press-spindle"
"""Its passes do not tell what the roughing tool left before the form tool came."""


@pytest.fixture(scope="module")
def worked() -> dict[str, Sheets]:
    return {job: work(SPECS / f"{job}.yaml").sheets for job in SCREWS}


def bar(job: str, sheets: Sheets) -> Work:
    found = gather(load(SPECS / f"{job}.yaml"), sheets["cutting"], {}).lathe.work
    assert isinstance(found, Work)
    return found


@pytest.mark.parametrize("job", [job for job in SCREWS if job != ROUGHED])
def test_bend_of_the_hardest_pass_by_finite_elements(job: str, worked: dict[str, Sheets]) -> None:
    """The same bar in the same hands, pressed by the radial force of the pass that bends most."""
    sheets = worked[job]
    held, figures = bar(job, sheets), sheets.figures
    bend = figures["cutting.deflection_max"]
    line = sheets.passes[int(bend.note.split(";")[0].removeprefix("pass ")) - 1]
    core = held.blank - 2 * line.depth
    beam, share = held.beam(core), 0.5
    gives = [elements(beam, x, held.follow_pins(x)) for x in held.places(81)]
    assert share * line.force * max(gives) == pytest.approx(bend.number, rel=5e-3)


@pytest.mark.parametrize("job", SCREWS)
def test_what_is_safe_as_it_is(job: str, worked: dict[str, Sheets]) -> None:
    figures = {id: f.value for id, f in worked[job].figures.items()}
    number = {id: value for id, value in figures.items() if isinstance(value, float)}
    held = bar(job, worked[job])
    # The schedule is safe at the stick-out and on the core that it has.
    assert number["cutting.stickout_safe"] >= held.stickout - 1
    assert number["cutting.core_least"] <= held.blank - 2 * number["thread.depth"] + 0.11
    assert number["cutting.dig_in_force"] == pytest.approx(3 * number["cutting.force_max"])
    assert number["cutting.overhang_safe"] >= number["tool.overhang"]
    if "cutting.thrust" in number:
        assert 3 * number["cutting.thrust"] <= number["cutting.buckling_load"]


@pytest.mark.parametrize("job", SCREWS)
def test_spring_passes_bring_the_size_home(job: str, worked: dict[str, Sheets]) -> None:
    sheets = worked[job]
    figures = sheets.figures
    made, needed = figures["cutting.spring_passes"], figures["cutting.spring_needed"]
    assert made.number >= needed.number
    assert sum(line.step == "spring" for line in sheets.passes) == made.number
    left, allowed = figures["cutting.size_left"], figures["cutting.size_allowed"]
    assert left.number <= allowed.number * (1 + 1e-9)
    before = sheets["cutting"].outlines["cutting.bend"].points
    after = sheets["cutting"].outlines["cutting.bend_after"].points
    assert max(size for _, size in before) == pytest.approx(figures["cutting.left_most"].number)
    assert max(size for _, size in after) == pytest.approx(left.number)
    assert before[-1][1] - before[0][1] == pytest.approx(figures["cutting.taper"].number)
    assert all(b <= a for (_, a), (_, b) in zip(before, after, strict=True))


def test_why_a_follow_rest_pays(worked: dict[str, Sheets]) -> None:
    figures = worked["nipping-press-screw"].figures
    bend = figures["cutting.deflection_max"].number
    assert figures["cutting.bend_follow"].number < bend / 2
    assert figures["cutting.bend_steady"].number <= bend * (1 + 1e-9)
    assert "cutting.bend_follow" not in worked["slender-adjuster"].figures


def test_a_whip_between_chuck_and_centre(tmp_path: Path) -> None:
    """Tr 9x1.5 out 420 mm: Euler with 1.2 for its ends, and what the centre presses."""
    text = (SPECS / "slender-adjuster.yaml").read_text()
    for old, new in (
        ("Tr 14x3", "Tr 9x1.5"),
        ("stock: 14 mm", "stock: 9 mm"),
        ("length: 180 mm", "length: 60 mm"),
        ("stickout: 210 mm", "stickout: 420 mm"),
    ):
        assert old in text
        text = text.replace(old, new)
    machine = (SPECS.parent / "machines" / "bench-metric.yaml").read_text()
    (tmp_path / "lathe.yaml").write_text(machine.replace("250 mm}", "900 mm}"))
    (tmp_path / "whip.yaml").write_text(f"{text}\nmachine: lathe.yaml\n")
    sheets = work(tmp_path / "whip.yaml", template="a5-two-column").sheets
    figures = sheets.figures
    core = 9.0 - 2 * max(line.depth for line in sheets.passes)
    load = 1.2 * pi**3 * 210_000 * core**4 / (64 * 420**2)
    assert figures["cutting.buckling_load"].number == pytest.approx(load, rel=0.03)
    thrust = figures["cutting.thrust"].number
    assert thrust == pytest.approx(500 + figures["cutting.force_max"].number / 2)
    assert load < 3 * thrust
    said = {finding.id: finding.text for finding in sheets.findings}
    assert f"{figures['cutting.buckling_load'].number:.0f}"[:3] in said["cutting.buckling_near"]
