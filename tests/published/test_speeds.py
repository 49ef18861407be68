"""Spindle speeds that others have printed.

Sources
-------
- Lathe manual, Woodstock M1099 p.29: cutting speed table and example.
- Trade-school review list: speed in metric units.
"""

from __future__ import annotations

import pytest

from cardgen.rules.speeds import cutting_speed, speed_for_cutting_speed

FOOT = 0.3048


def test_woodstock_example() -> None:
    """120 ft/min on 1 in. The manual takes 4 v / d and prints 480; the circle has 458.

    The rule of four stands for 12 / pi = 3.82 and is 4.7 % too fast.
    """
    exact = speed_for_cutting_speed(120 * FOOT, 25.4)
    assert exact == pytest.approx(458, abs=0.5)
    assert 480 / exact == pytest.approx(1.047, abs=0.0005)


def test_metric_rule_of_320() -> None:
    """The review list has 320 v / d; the circle's own factor is 318.31."""
    assert speed_for_cutting_speed(1.0, 1.0) == pytest.approx(318.31, abs=0.005)


def test_cutting_speed_is_the_inverse() -> None:
    assert cutting_speed(28.0, speed_for_cutting_speed(9.0, 28.0)) == pytest.approx(9.0)
