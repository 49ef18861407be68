"""The load sheet: against formulas written out here, and where it says no."""

from __future__ import annotations

from dataclasses import replace
from math import pi, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

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


def test_a_collar_takes_its_share() -> None:
    """Shigley eq. 8-6: F f dc / 2, at the thread's friction or its own."""
    alone = loaded(job(duty=PRESS))
    sheet = loaded(job(duty=replace(PRESS, collar=40)))
    taken = 8000 * 0.12 * 40 / 2000
    assert sheet.number("load.collar_torque") == pytest.approx(taken)
    for way in ("raise", "lower"):
        thread = alone.number(f"load.torque_{way}")
        assert sheet.number(f"load.thread_torque_{way}") == pytest.approx(thread)
        assert sheet.number(f"load.torque_{way}") == pytest.approx(thread + taken)
    assert sheet.number("load.efficiency") < alone.number("load.efficiency")
    assert sheet.number("load.core_stress") > alone.number("load.core_stress")
    sheet = loaded(job(duty=replace(PRESS, collar=40, collar_friction=0.06)))
    assert sheet.number("load.collar_torque") == pytest.approx(taken / 2)


def test_how_the_ends_are_held() -> None:
    """Euler: a free end quarters the load of pivoted ends, and half the length is four times it."""
    slim = {"diameter": 10, "pitch": 2, "length": 600}
    duty = Duty(50, None, 0.12)
    pinned = loaded(job(duty=duty, **slim)).number("load.buckling_load")
    free = loaded(job(duty=replace(duty, ends="free"), **slim)).number("load.buckling_load")
    short = loaded(job(duty=replace(duty, free_length=300), **slim)).number("load.buckling_load")
    assert pinned == pytest.approx(4 * free)
    assert short == pytest.approx(4 * pinned)
    assert "load.buckling_load" not in loaded(job(duty=replace(duty, way="pull"), **slim))


def test_the_usual_pressure_follows_the_speed() -> None:
    """Khurmi, Table 17.7 (from memory): steel on bronze by hand, and rubbing at 8 m/min."""
    by_hand = loaded(job(duty=PRESS))
    assert by_hand.number("load.bearing_allowed") == 24.5
    # 100 rev/min on d2 = 25.5 rub at 8.03 m/min.
    turned = loaded(job(duty=replace(PRESS, turns=100)))
    assert turned.number("load.rubbing_speed") == pytest.approx(8.03, abs=0.01)
    assert turned.number("load.bearing_allowed") == 9.8


@given(
    st.floats(500, 12000),
    st.floats(10, 80),
    st.sampled_from(["bronze-pb1", "gjl-250", "c45"]),
)
def test_at_its_limit_a_screw_is_at_its_limit(load: float, nut: float, metal: str) -> None:
    """Loaded with what was found as the first limit, the figure that rules stands at its bound."""
    sheet = worked(job(nut=metal, nut_length=nut, duty=Duty(load, 300, 0.12)))["load"]
    limit, rules = sheet.number("load.limit"), sheet["load.limit_rules"].value
    again = worked(job(nut=metal, nut_length=nut, duty=Duty(limit, 300, 0.12)))["load"]
    assert again.number("load.limit") == pytest.approx(limit, rel=1e-9)
    assert again["load.limit_rules"].value == rules
    assert again.number("load.factor") == pytest.approx(1)
    if rules == "one hand tires":
        assert again["load.handle_force"].high == pytest.approx(400)
    if rules == "flanks wear fast":
        pressure = again.number("load.bearing_pressure")
        assert pressure == pytest.approx(again.number("load.bearing_allowed"))


@given(st.floats(100, 9000), st.floats(1.01, 3), st.floats(12, 60))
def test_more_load_or_a_shorter_nut_is_never_safer(load: float, more: float, nut: float) -> None:
    base = worked(job(nut_length=nut, duty=Duty(load, 300, 0.12)))["load"]
    heavier = worked(job(nut_length=nut, duty=Duty(load * more, 300, 0.12)))["load"]
    shorter = worked(job(nut_length=nut / more, duty=Duty(load, 300, 0.12)))["load"]
    for worse in (heavier, shorter):
        assert worse.number("load.factor") <= base.number("load.factor") * (1 + 1e-9)
        for id in ("thread_shear", "nut_bending", "bearing_pressure", "root_stress"):
            assert worse.number(f"load.{id}") >= base.number(f"load.{id}") * (1 - 1e-9)
