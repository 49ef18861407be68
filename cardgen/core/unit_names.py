"""Units that the closed table does not hold, looked up in pint one name at a time.

A unit is taken apart by a grammar of ours, and pint is asked for plain names only: its expression
parser never sees what a user wrote. Pint is loaded when the first such unit turns up.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from functools import cache
from typing import Any

from cardgen.core.unit_table import Dimension

# Dimensions for which pint may be asked: its dimension, and our house unit in its root units
# (gram, metre, second). Angles, ratios and revolutions are left out, because pint counts them all
# as plain numbers and would let one pass for another; temperatures, because a scale has a zero.
_OPEN: Mapping[Dimension, tuple[Mapping[str, int], Fraction]] = {
    "length": ({"[length]": 1}, Fraction(1, 1000)),
    "pitch": ({"[length]": 1}, Fraction(1, 1000)),
    "force": ({"[mass]": 1, "[length]": 1, "[time]": -2}, Fraction(1000)),
    "stress": ({"[mass]": 1, "[length]": -1, "[time]": -2}, Fraction(10**9)),
    "power": ({"[mass]": 1, "[length]": 2, "[time]": -3}, Fraction(1000)),
    "time": ({"[time]": 1}, Fraction(1)),
    "speed": ({"[length]": 1, "[time]": -1}, Fraction(1, 60)),
    "torque": ({"[mass]": 1, "[length]": 2, "[time]": -2}, Fraction(1000)),
    "density": ({"[mass]": 1, "[length]": -3}, Fraction(1000)),
}

_BASES = {"gram": "[mass]", "meter": "[length]", "second": "[time]"}

_NAME = r"[A-Za-z_]{1,30}(?:\^-?[1-4])?"
_COMPOUND = re.compile(rf"{_NAME}(?: ?[*/] ?{_NAME}){{0,3}}")
_PART = re.compile(r"([*/]?) ?([A-Za-z_]+)(?:\^(-?[1-4]))?")

NAMED = _COMPOUND.pattern
"""The grammar of such a unit, for a JSON Schema."""


class OtherDimensionError(ValueError):
    """A unit that is known, and measures something else."""


def is_open(dimension: Dimension) -> bool:
    """Whether a dimension takes units beyond the closed table."""
    return dimension in _OPEN


def factor_of(unit: str, dimension: Dimension) -> Fraction | None:
    """Return the size of a unit in the house unit of a dimension; ``None`` if it is unknown.

    Raises
    ------
    OtherDimensionError
        If the unit is known and is not of that dimension.
    """
    if dimension not in _OPEN or not _COMPOUND.fullmatch(unit):
        return None
    found = _ask(unit)
    if found is None:
        return None
    wanted, house = _OPEN[dimension]
    factor, dimensions = found
    if dimensions != wanted:
        raise OtherDimensionError(unit)
    return factor / house


@cache
def _registry() -> Any:
    from pint import UnitRegistry

    return UnitRegistry(non_int_type=Fraction)


@cache
def _ask(unit: str) -> tuple[Fraction, Mapping[str, int]] | None:
    """Return a unit's size in gram, metre and second, and its dimensions.

    ``None`` if a name is unknown, or if the unit is made of anything but mass, length and time
    (plain numbers such as pint's radian and percent would pass unseen).
    """
    from pint import UndefinedUnitError
    from pint.util import UnitsContainer

    registry = _registry()
    factor = Fraction(1)
    dimensions: dict[str, int] = {}
    for sign, name, power in _PART.findall(unit):
        times = int(power or 1) * (-1 if sign == "/" else 1)
        try:
            canonical = registry.get_name(name)
        except UndefinedUnitError:
            return None
        if not canonical:
            return None
        size, root = registry.get_root_units(UnitsContainer({canonical: 1}))
        root = dict(root._units)
        if not root or not set(root) <= set(_BASES):
            return None
        factor *= Fraction(size) ** times
        for base, count in root.items():
            kind = _BASES[base]
            dimensions[kind] = dimensions.get(kind, 0) + int(count) * times
    return factor, {kind: count for kind, count in dimensions.items() if count}
