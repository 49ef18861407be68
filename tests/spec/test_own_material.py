"""A maker's own steel in specs/materials: the form of a shipped file, all faults at once."""

from __future__ import annotations

from dataclasses import replace

import pytest

from cardgen.rules.temper import hollomon_jaffe
from cardgen.spec.material import material
from tests.parts import job, refusals, step, worked

GOOD = """\
cardgen: 1
material: yard-axle
title: Axle from the yard
yield: 380 MPa
strength: 690 MPa
modulus: 205 GPa
composition: {C: 0.42, Mn: 0.80, Si: 0.25, Cr: 0.9, source: "spark test and a guess"}
cutting: {kc11: 1700 MPa, mc: 0.24, speed: 8 m/min, rake: 3 deg}
heat:
  normalise: 880 degC
  harden: {value: 850 degC, low: 830 degC, high: 870 degC}
  quench: oil
  temper:
    source: "my own bench, three pieces"
    evidence: read
    parameter:
      - [9.5, 54 HRC]
      - [13.5, 45 HRC]
      - [17.5, 34 HRC]
source: "my own notes"
"""


def test_parameter_instead_of_temperatures() -> None:
    """One hour at 400 degC is 673.15 x 20 / 1000 = 13.463, and 425 degC for 20 min 13.631."""
    outcome = material(GOOD.encode(), "yard-axle.yaml", "yard-axle")
    assert outcome.record is not None, outcome.problems
    steel = outcome.record
    assert steel.composition_evidence == "practice"
    part = job(heats=(step("harden"), step("temper", 425, 1200)))
    sheet = worked(replace(part, work=replace(part.work, material=steel)))["heat"]
    assert not refusals(sheet)
    parameter = hollomon_jaffe(425, 1200, 20, 273.15)
    by_hand = 45 - 11 * (parameter - 13.5) / 4
    assert sheet.number("heat.hardness_final") == pytest.approx(by_hand, abs=0.05)
    assert sheet.number("heat.ideal_diameter") > 60
    assert 55 < sheet.number("heat.hardness_quenched") < 60
    assert sheet["heat.a1"].evidence == "practice"


BAD = GOOD.replace("850 degC, low: 830 degC", "850 degC, low: 890 degC").replace(
    "  quench: oil\n", ""
).replace("[13.5, 45 HRC]", "[8.5, 45 HRC]").replace("C: 0.42", "Carbon: 0.42").replace(
    "yield: 380 MPa", "yield: 380"
)  # fmt: skip


def test_all_mistakes_at_once() -> None:
    outcome = material(BAD.encode(), "yard-axle.yaml", "yard-axle")
    assert outcome.record is None
    found = {(problem.place.line, problem.key) for problem in outcome.problems}
    keys = {key for _, key in found}
    assert {"yield", "heat.harden.low", "heat.quench", "heat.temper.parameter.2.1"} <= keys
    assert any(key.startswith("composition") for key in keys)
    assert dict((key, line) for line, key in found)["yield"] == 4


def test_tempering_in_both_ways_or_in_none() -> None:
    rows = "    rows: [[200 degC, 54 HRC], [400 degC, 45 HRC]]\n    parameter:"
    both = material(GOOD.replace("    parameter:", rows).encode(), "y.yaml", "yard-axle")
    assert any("both ways" in problem.found for problem in both.problems)
    head, _, _ = GOOD.partition("    parameter:")
    none = material(f'{head}source: "my own notes"\n'.encode(), "y.yaml", "yard-axle")
    assert any("no rows" in problem.found for problem in none.problems)


def test_regressions_refused_by_carbon() -> None:
    """Above 0.6 % carbon a maker's steel gets no Ac1, Ac3 or Ms; at 0.55 % it gets all three."""
    rich = material(GOOD.replace("C: 0.42", "C: 0.7").encode(), "y.yaml", "yard-axle").record
    lean = material(GOOD.replace("C: 0.42", "C: 0.55").encode(), "y.yaml", "yard-axle").record
    assert rich is not None
    assert lean is not None
    part = job(heats=(step("harden"), step("temper", 400, 3600)))
    critical = {"heat.a1", "heat.ac3", "heat.ms"}
    for steel, known in ((rich, set()), (lean, critical)):
        sheet = worked(replace(part, work=replace(part.work, material=steel)))["heat"]
        assert critical & set(sheet.figures) == known
        assert any("0.6 % carbon" in s.text for s in sheet.steps) == (not known)
