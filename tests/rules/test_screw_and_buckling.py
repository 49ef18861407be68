"""Invariants of the power screw, and columns against an eigenvalue solution."""

from __future__ import annotations

from math import pi, radians

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardgen.rules.buckling import (
    buckling_load,
    euler_load,
    johnson_load,
    limit_slenderness,
    slenderness,
)
from cardgen.rules.helix import lead_angle
from cardgen.rules.screw import (
    efficiency,
    locking_friction,
    normal_flank,
    torque_lower,
    torque_raise,
)

screws = st.tuples(st.floats(8, 100), st.floats(0.02, 0.3), st.floats(0, 45), st.floats(0.01, 0.3))


@given(screws)
def test_raising_costs_more_than_the_work_done(screw: tuple[float, float, float, float]) -> None:
    d2, share, flank, mu = screw
    lead = share * d2
    phi = lead_angle(lead, d2)
    normal = normal_flank(radians(flank), phi)
    up = torque_raise(1000, d2, phi, normal, mu)
    assert 0 < efficiency(1000, lead, up) < 1
    assert torque_lower(1000, d2, phi, normal, mu) < up
    assert torque_raise(2000, d2, phi, normal, mu) == pytest.approx(2 * up)
    assert torque_raise(1000, d2, phi, normal, mu * 1.1) > up


@given(screws)
def test_it_locks_where_no_torque_lets_it_down(screw: tuple[float, float, float, float]) -> None:
    d2, share, flank, _ = screw
    phi = lead_angle(share * d2, d2)
    normal = normal_flank(radians(flank), phi)
    edge = locking_friction(phi, normal)
    assert torque_lower(1000, d2, phi, normal, edge) == pytest.approx(0, abs=1e-6)
    assert torque_lower(1000, d2, phi, normal, edge * 1.01) > 0
    assert torque_lower(1000, d2, phi, normal, edge * 0.99) < 0


def test_without_friction_all_work_arrives() -> None:
    phi = lead_angle(5, 25.5)
    up = torque_raise(1000, 25.5, phi, normal_flank(radians(15), phi), 0)
    assert efficiency(1000, 5, up) == pytest.approx(1)


def test_a_thread_too_steep_to_turn() -> None:
    with pytest.raises(ValueError, match="locks"):
        torque_raise(1000, 20, radians(80), 0, 0.3)


@pytest.mark.parametrize("ends", ["pinned", "free"])
def test_euler_by_eigenvalues(ends: str) -> None:
    """The column's equation on a grid: w'' = -(P / E I) w, least P that has a solution."""
    core, length, modulus, n = 10.0, 500.0, 205000.0, 400
    h = length / n
    size = n - 1 if ends == "pinned" else n
    matrix = 2 * np.eye(size) - np.eye(size, k=1) - np.eye(size, k=-1)
    if ends == "free":
        # Built in at one end: measured from the free end's tangent, w' = 0 there.
        matrix[-1, -1] = 1
    inertia = pi * core**4 / 64
    load = np.linalg.eigvalsh(matrix)[0] / h**2 * modulus * inertia
    constant = 1.0 if ends == "pinned" else 0.25
    assert euler_load(core, length, constant, modulus) == pytest.approx(load, rel=0.005)


@given(st.floats(3, 60), st.floats(100, 1500), st.sampled_from((0.25, 1.0, 1.2)))
def test_columns_meet_without_a_step(core: float, stress: float, ends: float) -> None:
    modulus = 205000
    length = limit_slenderness(ends, modulus, stress) * core / 4
    johnson = johnson_load(core, length, ends, modulus, stress)
    assert johnson == pytest.approx(euler_load(core, length, ends, modulus))
    # Half of the yield load, where Johnson's parabola is tangent to Euler's curve.
    assert johnson == pytest.approx(stress * pi * core**2 / 8)
    nearer = buckling_load(core, length * 0.99, ends, modulus, stress)
    farther = buckling_load(core, length * 1.01, ends, modulus, stress)
    assert farther < johnson < nearer < stress * pi * core**2 / 4


def test_slenderness_is_length_over_radius_of_gyration() -> None:
    assert slenderness(100, 20) == pytest.approx(100 / (pi * 20**4 / 64 / (pi * 20**2 / 4)) ** 0.5)
