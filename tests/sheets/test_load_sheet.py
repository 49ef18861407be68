"""The load sheet: against formulas written out here, and where it says no."""

from __future__ import annotations

from math import pi, sqrt

import pytest

from cardgen.core.figure import Sheet
from cardgen.spec.job import Duty, Job
from tests.ledger import evaluate
from tests.parts import job, refusals, warnings, worked

PRESS = Duty(8000, 300, 0.12)


def loaded(of: Job) -> Sheet:
    sheet = worked(of)["load"]
    for figure in sheet.figures.values():
        if isinstance(figure.value, str):
            continue
        inputs = {name: part.value for name, part in figure.inputs.items()}
        found = evaluate(figure.formula, inputs)  # type: ignore[arg-type]
        assert found == pytest.approx(figure.value, rel=1e-9), figure.id
    return sheet


def test_no_duty_no_figures() -> None:
    sheet = worked(job())["load"]
    assert not sheet.figures
    assert not sheet.steps


def test_the_press_screw() -> None:
    """Tr 28x5: d2 25.5, d3 22.5, 8 kN."""
    sheet = loaded(job(duty=PRESS))
    torque = sheet.number("load.torque_raise")
    assert torque == pytest.approx(19.2, abs=0.05)
    axial, shear = 4 * 8000 / (pi * 22.5**2), 16 * torque * 1000 / (pi * 22.5**3)
    assert sheet.number("load.core_stress") == pytest.approx(sqrt(axial**2 + 3 * shear**2))
    assert sheet.number("load.bearing_pressure") == pytest.approx(8000 / (pi * 25.5 * 2.5 * 35 / 5))
    assert sheet.number("load.handle_force") == pytest.approx(torque * 1000 / 300)
    assert sheet["load.self_locking"].value == "yes"
    assert not refusals(sheet)
    assert any("people" in s.text for s in sheet.steps)


def test_a_two_start_screw_may_run_back() -> None:
    sheet = loaded(job(pitch=6, diameter=32, starts=2, duty=Duty(10000, None, 0.12)))
    assert sheet["load.self_locking"].value == "within the friction range"
    assert sheet.number("load.torque_lower") < 0
    assert "load.runs_back" in warnings(sheet)
    assert "load.handle_force" not in sheet


def test_friction_of_the_pair() -> None:
    """Shigley table 8-5: steel on bronze, oiled 0.10 to 0.16, dry 0.15 to 0.23."""
    sheet = loaded(job(duty=Duty(8000, None, None)))
    friction = sheet["load.friction"]
    assert (friction.low, friction.number, friction.high) == (0.10, pytest.approx(0.13), 0.23)
    sheet = loaded(job(nut=None, duty=Duty(8000, None, None)))
    assert (sheet["load.friction"].low, sheet["load.friction"].high) == (0.10, 0.25)
    sheet = worked(job(nut="acetal", duty=Duty(8000, None, None)))["load"]
    assert "load.no_friction" in warnings(sheet)
    assert "load.torque_raise" not in sheet
    assert "load.bearing_pressure" in sheet


def test_a_screw_that_yields() -> None:
    sheet = loaded(job(diameter=10, pitch=2, duty=Duty(15000, 200, 0.12), length=40))
    text = refusals(sheet)["load.core_stress_too_high"]
    assert "305 MPa" in text
    assert " N" in text


def test_a_screw_that_buckles() -> None:
    """Euler, both ends pivoted: pi^2 E I / l^2 with d3 = 7.5."""
    sheet = loaded(job(diameter=10, pitch=2, length=600, duty=Duty(250, None, 0.12)))
    euler = pi**2 * 205000 * pi * 7.5**4 / 64 / 600**2
    assert sheet.number("load.buckling_load") == pytest.approx(euler)
    assert sheet["load.buckling_load"].low == pytest.approx(euler / 4)
    assert "load.buckling_near" in warnings(sheet)
    assert "load.buckles" in refusals(
        loaded(job(diameter=10, pitch=2, length=600, duty=Duty(1500, None, 0.12)))
    )


def test_a_short_nut_bears_too_much() -> None:
    sheet = loaded(job(nut_length=8, duty=PRESS))
    text = warnings(sheet)["load.bearing_pressure_high"]
    assert "memory" in text
    assert "mm" in text


def test_no_nut_length() -> None:
    sheet = loaded(job(nut_length=None, duty=PRESS))
    assert "load.no_nut_length" in warnings(sheet)
    assert "load.thread_shear" not in sheet


def test_without_a_thread_there_is_nothing_to_say() -> None:
    assert not worked(job(duty=PRESS), with_thread=False)["load"].figures
