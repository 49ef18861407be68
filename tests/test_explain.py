"""How a figure came about can be read down to the line of the spec."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from cardgen import make
from cardgen.explain import why
from tests.ledger import evaluate

ROOT = Path(__file__).parents[1]
JOB = ROOT / "specs" / "jobs" / "nipping-press-screw.yaml"


@pytest.fixture(scope="module")
def worked() -> make.Worked:
    return make.work(JOB)


def told(worked: make.Worked, id: str) -> list[str]:
    job = worked.job
    return why(worked.sheets.figures, id, job.places, job.machine.places).splitlines()


def test_the_working_reads_as_one_writes_it(worked: make.Worked) -> None:
    lines = [line.strip() for line in told(worked, "thread.minor_diameter")]
    assert "= d - P - 2 ac" in lines
    assert "= 28 - 5 - 2 × 0.25" in lines


def test_the_chain_ends_at_the_line_of_the_spec(worked: make.Worked) -> None:
    lines = told(worked, "tool.relief_leading")
    number = 1 + JOB.read_text("utf-8").splitlines().index("  diameter: 28 mm")
    assert any(
        line.endswith(f"nipping-press-screw.yaml:{number} thread.diameter]") for line in lines
    )


def test_a_formula_that_only_repeats_its_input_is_not_printed(worked: make.Worked) -> None:
    assert not any(line.strip() == "= P" for line in told(worked, "thread.lead"))


def test_limits_that_went_in_are_named(worked: make.Worked) -> None:
    lines = [line.strip() for line in told(worked, "tool.tip_width")]
    assert "E1 = 25.094 mm   lower limit of Pitch diameter (thread.pitch_diameter)" in lines
    assert "E2 = 25.394 mm   upper limit of Pitch diameter (thread.pitch_diameter)" in lines


def test_wires_of_the_shop_are_not_called_assumed(worked: make.Worked) -> None:
    lines = told(worked, "measure.wire_chosen")
    assert any("shop.yaml:" in line and "tool.wires]" in line for line in lines)
    assert not any("assumed" in line and "wires" in line for line in lines)


def test_every_figure_can_be_explained_and_negative_numbers_stand_in_brackets(
    worked: make.Worked,
) -> None:
    for id in worked.sheets.figures:
        lines = told(worked, id)
        assert lines[0].endswith(f"({id})")
        for line in lines:
            if line.strip().startswith("= "):
                assert not re.search(r"[-+*/] *-\d", line), line


def test_the_numbers_in_the_working_give_the_value(worked: make.Worked) -> None:
    figure = worked.sheets.figures["load.torque_raise"]
    workings = [line.strip() for line in told(worked, figure.id) if line.strip().startswith("= ")]
    written = workings[1].removeprefix("= ")
    assert evaluate(written.replace("×", "*"), {}) == pytest.approx(figure.number, rel=1e-5)


def test_steps_of_heat_are_found_in_the_spec() -> None:
    worked = make.work(ROOT / "specs" / "jobs" / "ratchet-stud.yaml")
    lines = told(worked, "heat.temper_temperature")
    assert any("ratchet-stud.yaml:" in line and "heat.2.temperature]" in line for line in lines)
