"""The closed table of units: what each measures, and its exact size in our house unit."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

Dimension = Literal[
    "length",
    "pitch",
    "force",
    "stress",
    "power",
    "temperature",
    "angle",
    "time",
    "rotation",
    "speed",
    "torque",
    "density",
    "hardness",
    "brinell",
    "ratio",
]


@dataclass(frozen=True, slots=True)
class Kind:
    """A dimension in words.

    Attributes
    ----------
    house
        Our unit for it: what :attr:`cardgen.core.units.Quantity.exact` is in.
    phrase
        With its article.
    examples
        For messages; the first is the usual one.
    """

    house: str
    phrase: str
    examples: tuple[str, ...]


KINDS: Mapping[Dimension, Kind] = {
    "length": Kind("mm", "a length", ("28 mm", "1 1/8 in")),
    "pitch": Kind("mm", "a pitch", ("5 mm", "5 tpi")),
    "force": Kind("N", "a force", ("8 kN", "1800 lbf")),
    "stress": Kind("MPa", "a stress", ("345 MPa", "50 ksi")),
    "power": Kind("W", "a power", ("550 W", "3/4 hp")),
    "temperature": Kind("degC", "a temperature", ("650 degC", "1200 degF")),
    "angle": Kind("deg", "an angle", ("8 deg",)),
    "time": Kind("s", "a time", ("1 h", "90 min", "0.8 s")),
    "rotation": Kind("1/min", "a rotational speed", ("90 rev/min",)),
    "speed": Kind("m/min", "a speed", ("10 m/min", "33 ft/min")),
    "torque": Kind("N m", "a torque", ("20 N m", "180 lbf in")),
    "density": Kind("kg/m3", "a density", ("7850 kg/m3", "7.85 g/cm3")),
    "hardness": Kind("HRC", "a Rockwell C hardness", ("52 HRC",)),
    "brinell": Kind("HB", "a Brinell hardness", ("200 HB",)),
    "ratio": Kind("", "a ratio", ("75 %",)),
}

INCH = Fraction(254, 10)
_POUND_FORCE = Fraction(45359237, 10**8) * Fraction(980665, 10**5)
_PSI = _POUND_FORCE / INCH**2
# To 30 places: far beyond what a float can hold.
_PI = Fraction(3141592653589793238462643383280, 10**30)

_TABLE: Mapping[Dimension, Mapping[str, Fraction | int]] = {
    "length": {
        "mm": 1,
        "cm": 10,
        "m": 1000,
        "um": Fraction(1, 1000),
        "µm": Fraction(1, 1000),
        "in": INCH,
        "inch": INCH,
        "inches": INCH,
        '"': INCH,
        "thou": INCH / 1000,
        "ft": INCH * 12,
        "pt": INCH / 72,
    },
    # The count is turned over; the factor is the inch that is divided.
    "pitch": {"tpi": INCH},
    "force": {"N": 1, "kN": 1000, "lbf": _POUND_FORCE, "kgf": Fraction(980665, 10**5)},
    "stress": {
        "MPa": 1,
        "GPa": 1000,
        "kPa": Fraction(1, 1000),
        "N/mm2": 1,
        "N/mm^2": 1,
        "N/mm²": 1,
        "psi": _PSI,
        "ksi": _PSI * 1000,
    },
    # A horsepower is 550 foot pounds-force in a second.
    "power": {"W": 1, "kW": 1000, "hp": 550 * _POUND_FORCE * INCH * 12 / 1000},
    "temperature": {"degC": 1, "°C": 1, "degF": Fraction(5, 9), "°F": Fraction(5, 9), "K": 1},
    "angle": {"deg": 1, "degree": 1, "degrees": 1, "°": 1, "rad": 180 / _PI},
    "time": {
        "s": 1,
        "sec": 1,
        "ms": Fraction(1, 1000),
        "min": 60,
        "h": 3600,
        "hour": 3600,
        "hours": 3600,
    },
    "rotation": {"rev/min": 1, "rpm": 1, "1/min": 1, "min^-1": 1},
    "speed": {
        "m/min": 1,
        "ft/min": INCH * 12 / 1000,
        "in/min": INCH / 1000,
        "mm/min": Fraction(1, 1000),
        "mm/s": Fraction(60, 1000),
        "m/s": 60,
    },
    "torque": {
        "N m": 1,
        "N*m": 1,
        "N·m": 1,
        "Nm": 1,
        "lbf in": _POUND_FORCE * INCH / 1000,
        "lbf ft": _POUND_FORCE * INCH * 12 / 1000,
    },
    "density": {
        "kg/m3": 1,
        "kg/m^3": 1,
        "kg/m³": 1,
        "g/cm3": 1000,
        "g/cm^3": 1000,
        "g/cm³": 1000,
    },
    "hardness": {"HRC": 1},
    "brinell": {"HB": 1},
    "ratio": {"%": Fraction(1, 100)},
}

UNITS: Mapping[str, tuple[Dimension, Fraction]] = {
    unit: (dimension, Fraction(factor))
    for dimension, units in _TABLE.items()
    for unit, factor in units.items()
}
"""Unit to its dimension and its size in the house unit; scales with a zero: see :data:`ZERO`."""

ZERO: Mapping[str, Fraction] = {
    "degF": -Fraction(160, 9),
    "°F": -Fraction(160, 9),
    "K": -Fraction(27315, 100),
}
"""Where a temperature scale's zero stands [degC]."""

INCH_FAMILY = frozenset({"in", "inch", "inches", '"', "thou", "ft", "tpi"})
"""Units by which one knows an inch drawing."""

MEANT: Mapping[str, str] = {
    "C": "degC",
    "F": "degF",
    "RPM": "rev/min",
    "mPa": "MPa",
    "Mpa": "MPa",
    "lb": "lbf",
    "lbs": "lbf",
    "kg": "kgf",
    "Rc": "HRC",
    "HRc": "HRC",
    "hrc": "HRC",
    "TPI": "tpi",
    "threads per inch": "tpi",
    "mil": "thou",
    "''": '"',
    "\N{DOUBLE PRIME}": '"',
    "\N{RIGHT DOUBLE QUOTATION MARK}": '"',
}
"""What people write who mean something else: never looked up, always pointed out."""


def words_for(dimension: Dimension) -> tuple[str, ...]:
    """Return the units of the closed table that a dimension takes."""
    further = _TABLE["length"] if dimension == "pitch" else {}
    return (*_TABLE[dimension], *further)
