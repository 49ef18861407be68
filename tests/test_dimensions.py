"""Each formula of the demo jobs worked out with units: what comes out has the figure's own.

Inputs carry their units through pint, so that a length added to a force, an area given for a length
or a factor of 60 or 1000 that hides a unit is found, whatever the numbers are. Two things differ
from pint's own habits: angles have a dimension, so that degrees cannot pass for ratios, and
temperatures are intervals. A bare number has no dimension; beside an angle it is degrees.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from functools import cache
from typing import Any

import pint
import pytest

from cardgen.core.figure import Figure
from tests.ledger import Evaluator
from tests.test_ledger import figures

UNITS = """\
millimetre = [length] = mm
metre = 1000 * millimetre = m
inch = 25.4 * millimetre = in
second = [time] = s
minute = 60 * second = min
newton = [force] = N
megapascal = newton / millimetre ** 2 = MPa
joule = newton * metre = J
watt = joule / second = W
degree = [angle] = deg
celsius = [temperature] = degC
kelvin = celsius = K
mole = [substance] = mol
rockwell = [hardness] = HRC
part_per_million = 1e-6 = ppm
"""

METRE, MINUTE = "mm/m", "s/min"
"""What 1000 and 60 stand for where a formula passes from one unit to another: each is 1."""

LITERALS: dict[str, dict[str, str]] = {
    # Passing between units, as one must on a shop calculator.
    "setup.train_2_error_ppm": {"1000000": "ppm"},
    "setup.train_3_error_ppm": {"1000000": "ppm"},
    "setup.cutting_speed": {"1000": METRE},
    "setup.carriage_speed": {"60": MINUTE},
    "cutting.force_allowed": {"60": MINUTE},
    "cutting.pass_time": {"60": MINUTE},
    "cutting.return_time": {"60": MINUTE},
    "cutting.time": {"60": MINUTE},
    "cutting.torque_max": {"2000": METRE},
    "cutting.power_max": {"60000": "mm/m s/min"},
    "load.torque_raise": {"1000": METRE},
    "load.torque_lower": {"1000": METRE},
    "load.thread_torque_raise": {"1000": METRE},
    "load.thread_torque_lower": {"1000": METRE},
    "load.collar_torque": {"2000": METRE},
    "load.efficiency": {"1000": METRE},
    "load.handle_force": {"1000": METRE},
    "load.core_stress": {"16000": METRE},
    "load.root_stress": {"16000": METRE},
    "heat.soak": {"60": MINUTE, "25.4": "mm/in"},
    "heat.biot": {"4000": METRE},
    "heat.decarb_depth": {"1000": METRE},
    # Tempering parameters take the logarithm of a time in hours.
    "heat.torch_temperature": {"3600": "s", "60": "min"},
    "heat.hardness_final": {"3600": "s"},
    # Fitted to measurements: the coefficients are of the figure's own unit for a share in percent.
    "heat.a1": dict.fromkeys(("723", "10.7", "29.1", "16.9"), "degC"),
    "heat.ac3": dict.fromkeys(("910", "203", "44.7", "104", "30", "11"), "degC"),
    "heat.ms": dict.fromkeys(("539", "423", "30.4", "12.1"), "degC"),
    "heat.hardness_quenched": dict.fromkeys(
        ("33.087", "50.723", "33.662", "2.7048", "107.02", "43.523"), "HRC"
    ),
    # Grossmann's factors multiply a diameter of one inch.
    "heat.ideal_diameter": {"25.4": "mm"},
    # The standard's tolerance of a length of engagement holds for millimetres.
    "mate.normal_low": {"2.24": "mm**-0.2"},
    "mate.normal_high": {"6.7": "mm**-0.2"},
    "cutting.worst_before": {"0": "mm"},
    # Half of what one degree, q, moves the tool by.
    "tool.index_allowed": {"2": "1/deg"},
}
"""Numbers in formulas that have a unit, by figure: without it the formula would be wrong."""

EXEMPT = {
    "cutting.force_max": "Kienzle's law raises a chip's thickness in mm to a measured power",
}
"""Figures whose formula cannot be given dimensions, and why that is right."""


@cache
def registry() -> Any:
    made = pint.UnitRegistry(None)
    for line in UNITS.splitlines():
        made.define(line)
    return made


def quantity(value: float, unit: str) -> Any:
    unit = unit.replace("mm/m s/min", "mm*s/(m*min)")
    spelt = unit.replace("mm2", "mm**2").replace("m2", "m**2").replace("N m", "N*m")
    spelt = spelt.replace("(m**2 K)", "(m**2*K)").replace("(m K)", "(m*K)")
    return registry().Quantity(value, spelt.replace("(mol K)", "(mol*K)") or "dimensionless")


class Amount:
    """A quantity to which a bare number may be added where that means something."""

    def __init__(self, held: Any, *, bare: bool = False) -> None:
        self.held, self.bare = held, bare

    def _beside(self, other: Amount | float) -> tuple[Any, Any]:
        """Return both in the terms of one another."""
        mine, its = self, other if isinstance(other, Amount) else number(other)
        for one, two in ((mine, its), (its, mine)):
            if one.bare and (one.held.magnitude == 0 or two.held.check("[angle]")):
                as_two = quantity(one.held.magnitude, "deg" if two.held.check("[angle]") else "")
                if one.held.magnitude == 0:
                    as_two = 0 * two.held
                return (as_two, its.held) if one is mine else (mine.held, as_two)
        return mine.held, its.held

    def _bare(self, other: Amount | float) -> bool:
        """Whether both are numbers of a formula, so that what comes of them is one."""
        return self.bare and (other.bare if isinstance(other, Amount) else True)

    def __add__(self, other: Amount | float) -> Amount:
        mine, its = self._beside(other)
        return Amount(mine + its, bare=self._bare(other))

    def __sub__(self, other: Amount | float) -> Amount:
        mine, its = self._beside(other)
        return Amount(mine - its, bare=self._bare(other))

    def __rsub__(self, other: float) -> Amount:
        return number(other) - self

    __radd__ = __add__

    def __mul__(self, other: Amount | float) -> Amount:
        its = other if isinstance(other, Amount) else number(other)
        return Amount(self.held * its.held, bare=self._bare(its))

    __rmul__ = __mul__

    def __truediv__(self, other: Amount | float) -> Amount:
        its = other if isinstance(other, Amount) else number(other)
        return Amount(self.held / its.held, bare=self._bare(its))

    def __rtruediv__(self, other: float) -> Amount:
        return number(other) / self

    def __pow__(self, power: Amount | float) -> Amount:
        exact = power.plain() if isinstance(power, Amount) else power
        return Amount(self.held**exact, bare=self._bare(power))

    def __rpow__(self, base: float) -> Amount:
        return number(base ** self.plain())

    def __neg__(self) -> Amount:
        return Amount(-self.held, bare=self.bare)

    def plain(self) -> float:
        """Return the number of what has no dimension."""
        return float(self.held.m_as("dimensionless"))

    def degrees(self) -> float:
        """Return the number of an angle; a bare number is one."""
        return self.plain() if self.bare else float(self.held.m_as("deg"))


def number(value: float) -> Amount:
    return Amount(quantity(value, ""), bare=True)


def _amount(value: Amount | float) -> Amount:
    return value if isinstance(value, Amount) else number(value)


def _of_angle(function: Callable[[float], float]) -> Callable[[Any], Amount]:
    return lambda x: Amount(quantity(function(math.radians(_amount(x).degrees())), ""))


def _to_angle(function: Callable[[float], float]) -> Callable[[Any], Amount]:
    return lambda x: Amount(quantity(math.degrees(function(_amount(x).plain())), "deg"))


def _of_plain(function: Callable[[float], float]) -> Callable[[Any], Amount]:
    return lambda x: Amount(quantity(function(_amount(x).plain()), ""))


def _first(pick: Callable[[float, float], bool]) -> Callable[..., Amount]:
    def choose(*parts: Any) -> Amount:
        chosen = _amount(parts[0])
        for part in parts[1:]:
            here, there = chosen._beside(part)
            chosen = Amount(here if pick((here - there).magnitude, 0) else there)
        return chosen

    return choose


FUNCTIONS: dict[str, Callable[..., Any]] = {
    "sqrt": lambda x: _amount(x) ** 0.5,
    "sin": _of_angle(math.sin),
    "cos": _of_angle(math.cos),
    "tan": _of_angle(math.tan),
    "asin": _to_angle(math.asin),
    "acos": _to_angle(math.acos),
    "atan": _to_angle(math.atan),
    "exp": _of_plain(math.exp),
    "ln": _of_plain(math.log),
    "log10": _of_plain(math.log10),
    "min": _first(lambda a, b: a <= b),
    "max": _first(lambda a, b: a >= b),
    "abs": lambda x: Amount(abs(_amount(x).held)),
    "floor": _of_plain(math.floor),
    "ceil": _of_plain(math.ceil),
    "round": _of_plain(round),
}


class Dimensions(Evaluator):
    """The ledger's evaluator over amounts; some of its numbers may have units."""

    def __init__(
        self, text: str, inputs: Mapping[str, Amount], units: Mapping[str, str] | None = None
    ) -> None:
        super().__init__(text, inputs, FUNCTIONS)
        self.units = units or {}

    def number(self, text: str) -> Amount:
        unit = self.units.get(text)
        return number(float(text)) if unit is None else Amount(quantity(float(text), unit))


def amount(figure: Figure) -> Any:
    """Return what a figure's formula gives, with its unit, in the figure's own."""
    inputs = {
        symbol: Amount(quantity(part.value, part.unit))
        for symbol, part in figure.inputs.items()
        if not isinstance(part.value, str)
    }
    units = LITERALS.get(figure.id)
    return _amount(Dimensions(figure.formula, inputs, units).value()).held


def fault(figure: Figure) -> str:
    try:
        given = amount(figure).m_as(quantity(1.0, figure.name.unit).units)
    except pint.DimensionalityError as error:
        return str(error)
    wanted = pytest.approx(figure.number, rel=1e-6, abs=1e-3 if figure.name.unit == "ppm" else 1e-6)
    return "" if given == wanted else f"gives {given:g} {figure.name.unit}, not {figure.value:g}"


def test_the_units_themselves() -> None:
    # 1 N over 1 mm2 is 1 MPa; 60 N at 1 m/min is 1 W; a quarter turn is 90 degrees.
    assert quantity(5, "MPa").m_as("N/mm**2") == pytest.approx(5)
    assert (quantity(60, "N") * quantity(1, "m/min")).m_as("W") == pytest.approx(1)
    assert FUNCTIONS["asin"](1).held.m_as("deg") == pytest.approx(90)
    d, P, a = Amount(quantity(20, "mm")), Amount(quantity(4, "mm")), Amount(quantity(15, "deg"))
    assert Dimensions("d - 0.5 P", {"d": d, "P": P}).value().held.m_as("mm") == 18
    assert Dimensions("90 - a", {"a": a}).value().held.m_as("deg") == 75
    for wrong in ("d - 0.5", "d + a", "d + d P", "tan(d)", "exp(d)", "d^a", "max(d, 1)", "a + d/P"):
        with pytest.raises(pint.DimensionalityError):
            Dimensions(wrong, {"d": d, "P": P, "a": a}).value()


def test_every_formula_has_the_dimension_of_its_figure() -> None:
    faults: dict[str, str] = {}
    checked = set()
    for job, figure in figures():
        if isinstance(figure.value, str) or not figure.formula:
            continue
        if figure.formula.startswith("method:"):
            continue
        checked.add(figure.id)
        told = fault(figure)
        if told:
            units = {symbol: part.unit for symbol, part in figure.inputs.items()}
            faults[figure.id] = f"{job}: {figure.formula!r} of {units}: {told}"
    wrong = [f"{id}: {told}" for id, told in faults.items() if id not in EXEMPT]
    assert not wrong, "\n".join(wrong)
    assert not (checked & set(EXEMPT)) - set(faults), "exempt without need"
    assert set(LITERALS) <= checked, "units for a figure that no demo job has"
    assert len(checked) > 100
