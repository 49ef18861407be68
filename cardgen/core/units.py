"""Quantities as text, ``1 1/8 in`` or ``20,5 mm``, read exactly or refused.

The grammar is ours and bounded: a sign, a number (decimal point or comma, or a whole number and a
fraction), one unit. Numbers stay exact fractions, because wheels are counted and an inch is
exactly 25.4 mm. Common units stand in a closed table; any further unit of an open dimension is
looked up in pint **by name**. No text of a user ever reaches an expression parser.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from typing import Any, Literal

from cardgen.core.problems import nearest

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

HOUSE: Mapping[Dimension, str] = {
    "length": "mm",
    "pitch": "mm",
    "force": "N",
    "stress": "MPa",
    "power": "W",
    "temperature": "degC",
    "angle": "deg",
    "time": "s",
    "rotation": "1/min",
    "speed": "m/min",
    "torque": "N m",
    "density": "kg/m3",
    "hardness": "HRC",
    "brinell": "HB",
    "ratio": "",
}
"""The house unit of each dimension: what :attr:`Quantity.exact` is in."""

PHRASE: Mapping[Dimension, str] = {
    "length": "a length",
    "pitch": "a pitch",
    "force": "a force",
    "stress": "a stress",
    "power": "a power",
    "temperature": "a temperature",
    "angle": "an angle",
    "time": "a time",
    "rotation": "a rotational speed",
    "speed": "a speed",
    "torque": "a torque",
    "density": "a density",
    "hardness": "a Rockwell C hardness",
    "brinell": "a Brinell hardness",
    "ratio": "a ratio",
}

EXAMPLE: Mapping[Dimension, tuple[str, ...]] = {
    "length": ("28 mm", "1 1/8 in"),
    "pitch": ("5 mm", "5 tpi"),
    "force": ("8 kN", "1800 lbf"),
    "stress": ("345 MPa", "50 ksi"),
    "power": ("550 W", "3/4 hp"),
    "temperature": ("650 degC", "1200 degF"),
    "angle": ("8 deg",),
    "time": ("1 h", "90 min", "0.8 s"),
    "rotation": ("90 rev/min",),
    "speed": ("10 m/min", "33 ft/min"),
    "torque": ("20 N m", "180 lbf in"),
    "density": ("7850 kg/m3",),
    "hardness": ("52 HRC",),
    "brinell": ("200 HB",),
    "ratio": ("75 %",),
}

_INCH = Fraction(254, 10)
_POUND_FORCE = Fraction(45359237, 10**8) * Fraction(980665, 10**5)
_PSI = _POUND_FORCE / _INCH**2
# Machin-like closeness is not needed: 30 digits of pi, far beyond a float.
_PI = Fraction(3141592653589793238462643383280, 10**30)

UNITS: Mapping[str, tuple[Dimension, Fraction]] = {
    "mm": ("length", Fraction(1)),
    "cm": ("length", Fraction(10)),
    "m": ("length", Fraction(1000)),
    "um": ("length", Fraction(1, 1000)),
    "µm": ("length", Fraction(1, 1000)),
    "in": ("length", _INCH),
    "inch": ("length", _INCH),
    "inches": ("length", _INCH),
    '"': ("length", _INCH),
    "thou": ("length", _INCH / 1000),
    "ft": ("length", _INCH * 12),
    "pt": ("length", _INCH / 72),
    # ``tpi`` turns the number over; its factor is the inch that is divided.
    "tpi": ("pitch", _INCH),
    "N": ("force", Fraction(1)),
    "kN": ("force", Fraction(1000)),
    "lbf": ("force", _POUND_FORCE),
    "kgf": ("force", Fraction(980665, 10**5)),
    "MPa": ("stress", Fraction(1)),
    "GPa": ("stress", Fraction(1000)),
    "kPa": ("stress", Fraction(1, 1000)),
    "N/mm2": ("stress", Fraction(1)),
    "N/mm^2": ("stress", Fraction(1)),
    "N/mm²": ("stress", Fraction(1)),
    "psi": ("stress", _PSI),
    "ksi": ("stress", _PSI * 1000),
    "W": ("power", Fraction(1)),
    "kW": ("power", Fraction(1000)),
    # 550 foot pounds-force in a second.
    "hp": ("power", 550 * _POUND_FORCE * _INCH * 12 / 1000),
    "degC": ("temperature", Fraction(1)),
    "°C": ("temperature", Fraction(1)),
    "degF": ("temperature", Fraction(5, 9)),
    "°F": ("temperature", Fraction(5, 9)),
    "K": ("temperature", Fraction(1)),
    "deg": ("angle", Fraction(1)),
    "degree": ("angle", Fraction(1)),
    "degrees": ("angle", Fraction(1)),
    "°": ("angle", Fraction(1)),
    "rad": ("angle", 180 / _PI),
    "s": ("time", Fraction(1)),
    "sec": ("time", Fraction(1)),
    "ms": ("time", Fraction(1, 1000)),
    "min": ("time", Fraction(60)),
    "h": ("time", Fraction(3600)),
    "hour": ("time", Fraction(3600)),
    "hours": ("time", Fraction(3600)),
    "rev/min": ("rotation", Fraction(1)),
    "rpm": ("rotation", Fraction(1)),
    "1/min": ("rotation", Fraction(1)),
    "min^-1": ("rotation", Fraction(1)),
    "m/min": ("speed", Fraction(1)),
    "ft/min": ("speed", _INCH * 12 / 1000),
    "in/min": ("speed", _INCH / 1000),
    "mm/min": ("speed", Fraction(1, 1000)),
    "mm/s": ("speed", Fraction(60, 1000)),
    "m/s": ("speed", Fraction(60)),
    "N m": ("torque", Fraction(1)),
    "N*m": ("torque", Fraction(1)),
    "N·m": ("torque", Fraction(1)),
    "Nm": ("torque", Fraction(1)),
    "lbf in": ("torque", _POUND_FORCE * _INCH / 1000),
    "lbf ft": ("torque", _POUND_FORCE * _INCH * 12 / 1000),
    "kg/m3": ("density", Fraction(1)),
    "kg/m^3": ("density", Fraction(1)),
    "kg/m³": ("density", Fraction(1)),
    "g/cm3": ("density", Fraction(1000)),
    "g/cm^3": ("density", Fraction(1000)),
    "g/cm³": ("density", Fraction(1000)),
    "HRC": ("hardness", Fraction(1)),
    "HB": ("brinell", Fraction(1)),
    "%": ("ratio", Fraction(1, 100)),
}
"""The closed table: unit to its dimension and its size in the house unit (see ``_ZERO`` too)."""

_ZERO: Mapping[str, Fraction] = {
    "degF": -Fraction(160, 9),
    "°F": -Fraction(160, 9),
    "K": -Fraction(27315, 100),
}
"""Where a temperature scale's zero stands [degC]."""

_INCH_FAMILY = frozenset({"in", "inch", "inches", '"', "thou", "ft", "tpi"})

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

LONGEST = 40
"""Characters that a quantity may have."""

NUMBER = (
    r"[+-]?(?:[0-9]{1,9} +[0-9]{1,4}/[0-9]{1,4}|[0-9]{1,9}/[0-9]{1,4}"
    r"|[0-9]{1,9}(?:[.,][0-9]{1,9})?|[.,][0-9]{1,9})"
)
"""The grammar of a number, for a JSON Schema too; :func:`read` knows a few refusals more."""

_NUMBER = re.compile(
    r"(?P<sign>[+-]?)(?:"
    r"(?P<whole>[0-9]{1,9}) +(?P<over>[0-9]{1,4})/(?P<under>[0-9]{1,4})(?![0-9])"
    r"|(?P<top>[0-9]{1,9})/(?P<bottom>[0-9]{1,4})(?![0-9])"
    r"|(?P<decimal>[0-9]{1,9}(?:[.,][0-9]{1,9})?|[.,][0-9]{1,9})(?![0-9])"
    r")"
)
_THOUSANDS = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")
_EXPONENT = re.compile(r"[eE][+-]?[0-9]")
_COMPOUND = re.compile(
    r"[A-Za-z_]{1,30}(?:\^-?[1-4])?(?: ?[*/] ?[A-Za-z_]{1,30}(?:\^-?[1-4])?){0,3}"
)
_ATOM = re.compile(r"([*/]?) ?([A-Za-z_]+)(?:\^(-?[1-4]))?")

# What people write who mean something else; the table's own words would be a poor guess.
_MEANT: Mapping[str, str] = {
    "C": "degC",
    "F": "degF",
    "RPM": "rev/min",
    "mPa": "MPa",
    "lb": "lbf",
    "lbs": "lbf",
    "kg": "kgf",
    "Rc": "HRC",
    "HRc": "HRC",
    "hrc": "HRC",
    "TPI": "tpi",
    "″": '"',
    "''": '"',
    "“": '"',
    "”": '"',
}


class QuantityError(ValueError):
    """A text that is not the quantity asked for.

    Parameters
    ----------
    found, allowed, mend
        As in :class:`cardgen.core.problems.Problem`.
    offset
        Characters before the fault, for a caret.
    """

    def __init__(self, found: str, allowed: str, mend: str = "", offset: int = 0) -> None:
        self.found = found
        self.allowed = allowed
        self.mend = mend
        self.offset = offset
        super().__init__(f"{found}; allowed: {allowed}")


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number with its unit, exact.

    Attributes
    ----------
    number
        As written.
    unit
        As written.
    dimension
        What was asked for.
    exact
        In the house unit of the dimension (:data:`HOUSE`); a pitch in ``tpi`` is turned over.
    text
        What the maker wrote.
    """

    number: Fraction
    unit: str
    dimension: Dimension
    exact: Fraction
    text: str

    @property
    def value(self) -> float:
        """The value in the house unit, as a float."""
        return float(self.exact)

    @property
    def inch(self) -> bool:
        """Whether it was given in inches, thousandths, feet or threads per inch."""
        return self.unit in _INCH_FAMILY


def words_for(dimension: Dimension) -> tuple[str, ...]:
    """Return the units of the closed table that a dimension takes."""
    wanted = ("length", "pitch") if dimension == "pitch" else (dimension,)
    return tuple(unit for unit, (kind, _) in UNITS.items() if kind in wanted)


def read(text: str, dimension: Dimension) -> Quantity:
    """Read a quantity of the dimension asked for.

    Parameters
    ----------
    text
        What the maker wrote; at most :data:`LONGEST` characters.
    dimension
        What it must be. ``"pitch"`` takes lengths and threads per inch.

    Raises
    ------
    QuantityError
        If the text is not a number and a unit of that dimension.

    Examples
    --------
    >>> read("1 1/8 in", "length").value
    28.575
    >>> read("20,5 mm", "length").value
    20.5
    >>> read("8 tpi", "pitch").exact
    Fraction(127, 40)
    >>> read("1200 degF", "temperature").exact
    Fraction(5840, 9)
    """
    allowed = _allowed(dimension)
    if len(text) > LONGEST:
        found = f"{text[:20]}… is {len(text)} characters long, which no quantity needs to be"
        raise QuantityError(found, allowed, offset=LONGEST)
    stripped = text.lstrip(" ")
    lead = len(text) - len(stripped)
    number, end = _number(stripped, allowed, lead)
    rest = stripped[end:]
    unit = " ".join(rest.split(" ")).strip(" ")
    offset = lead + end + len(rest) - len(rest.lstrip(" "))
    if not unit:
        example = EXAMPLE[dimension][0].partition(" ")[2]
        raise QuantityError(
            f"{stripped.strip()} has no unit",
            allowed,
            _meant_with(stripped.strip(), dimension, example),
            lead,
        )
    return Quantity(number, unit, dimension, _exact(number, unit, dimension, offset), text)


def _meant_with(number: str, dimension: Dimension, example: str) -> str:
    others = [text.rpartition(" ")[2] for text in EXAMPLE[dimension][1:]]
    known = [example, *(unit for unit in others if unit in UNITS)]
    return "write " + " or ".join(f"{number} {unit}" for unit in known)


def _allowed(dimension: Dimension) -> str:
    return f"{PHRASE[dimension]} with its unit, such as {' or '.join(EXAMPLE[dimension])}"


def _number(text: str, allowed: str, lead: int) -> tuple[Fraction, int]:
    """Return the number at the start of a text, and where it ends."""
    match = _NUMBER.match(text)
    if match is None:
        raise _no_number(text, allowed, lead)
    decimal = match["decimal"]
    if decimal is not None:
        if _THOUSANDS.fullmatch(decimal):
            plain, point = decimal.replace(",", ""), decimal.replace(",", ".")
            raise QuantityError(
                f"{decimal} may mean {point} or {plain}",
                "a decimal comma that cannot be taken for a thousands separator",
                f"write {point} or {plain}",
                lead + match.start("decimal"),
            )
        value = Fraction(decimal.replace(",", "."))
    else:
        value = _fraction(match, allowed, lead)
    rest = text[match.end() :]
    if (rest[:1] in tuple(".,/+-*^") and rest[:1]) or _EXPONENT.match(rest):
        raise QuantityError(
            f"{_shown(text)} is not one plain number",
            "one number: 20.5, 20,5, 7/8 or 1 1/8; no sums, powers or thousands separators",
            offset=lead + match.end(),
        )
    return (-value if match["sign"] == "-" else value), match.end()


def _fraction(match: re.Match[str], allowed: str, lead: int) -> Fraction:
    mixed = match["whole"] is not None
    over, under = ("over", "under") if mixed else ("top", "bottom")
    top, bottom = int(match[over]), int(match[under])
    if bottom == 0:
        found = f"{match[0]} divides by nothing"
        raise QuantityError(found, allowed, offset=lead + match.start(under))
    if mixed and top >= bottom:
        raise QuantityError(
            f"{match[0]} has a fraction that is not less than one",
            "a whole number and a proper fraction, such as 1 1/8",
            offset=lead + match.start(over),
        )
    return Fraction(top, bottom) + (int(match["whole"]) if mixed else 0)


def _no_number(text: str, allowed: str, lead: int) -> QuantityError:
    if not text:
        return QuantityError("nothing is written here", allowed, offset=lead)
    first = text[0]
    if first == "−":
        mend = "write the minus sign as -"
    elif first.isdigit() and not first.isascii():
        mend = "write the digits 0 to 9"
    elif re.match(r"[+-]?[0-9.,/ ]{10,}", text):
        return QuantityError(f"{_shown(text)} has too many digits", allowed, offset=lead)
    else:
        mend = ""
    return QuantityError(f"{_shown(text)} does not begin with a number", allowed, mend, lead)


def _shown(text: str) -> str:
    return text if len(text) <= LONGEST else text[:LONGEST] + "…"


def _exact(number: Fraction, unit: str, dimension: Dimension, offset: int) -> Fraction:
    """Return a number of a unit in the house unit of the dimension asked for."""
    known = UNITS.get(unit)
    if known is None:
        return number * _open_factor(unit, dimension, offset)
    kind, factor = known
    if unit == "tpi" and dimension == "pitch":
        if number == 0:
            found = "0 threads in an inch is no pitch"
            raise QuantityError(found, _allowed(dimension), offset=0)
        return factor / number
    if kind != dimension and not (kind == "length" and dimension == "pitch"):
        found = f"{unit} is the unit of {PHRASE[kind]}, not of {PHRASE[dimension]}"
        raise QuantityError(found, _allowed(dimension), offset=offset)
    return number * factor + _ZERO.get(unit, Fraction(0))


def _open_factor(unit: str, dimension: Dimension, offset: int) -> Fraction:
    """Return the size of a unit that the closed table does not hold, in the house unit."""
    words = words_for(dimension)
    meant = _MEANT.get(unit) or nearest(unit, words)
    if meant not in words:
        meant = ""
    mend = f"did you mean {meant}?" if meant else ""
    unknown = QuantityError(
        f"{_shown(unit)} is not a unit known here",
        f"{_allowed(dimension)}; units: {', '.join(words)}",
        mend,
        offset,
    )
    if unit in _MEANT or dimension not in _OPEN or not _COMPOUND.fullmatch(unit):
        raise unknown
    found = _ask_pint(unit)
    if found is None:
        raise unknown
    wanted, house = _OPEN[dimension]
    factor, dimensions = found
    if dimensions != wanted:
        raise QuantityError(
            f"{unit} is not the unit of {PHRASE[dimension]}",
            f"{_allowed(dimension)}; units: {', '.join(words)}",
            mend,
            offset,
        )
    return factor / house


@cache
def _registry() -> Any:
    from pint import UnitRegistry

    return UnitRegistry(non_int_type=Fraction)


@cache
def _ask_pint(unit: str) -> tuple[Fraction, Mapping[str, int]] | None:
    """Return a unit's size in gram, metre and second and its dimensions, asking name by name.

    ``None`` if a name is unknown, or if the unit is made of anything but mass, length and time
    (pint's radian is a plain number, and would pass).
    """
    from pint import UndefinedUnitError
    from pint.util import UnitsContainer

    registry = _registry()
    factor = Fraction(1)
    dimensions: dict[str, int] = {}
    for sign, name, power in _ATOM.findall(unit):
        times = int(power or 1) * (-1 if sign == "/" else 1)
        try:
            canonical = registry.get_name(name)
        except UndefinedUnitError:
            return None
        size, root = registry.get_root_units(UnitsContainer({canonical: 1}))
        if not set(root._units) <= {"gram", "meter", "second"}:
            return None
        factor *= Fraction(size) ** times
        for kind, count in registry.get_dimensionality(root).items():
            dimensions[kind] = dimensions.get(kind, 0) + int(count) * times
    return factor, {kind: count for kind, count in dimensions.items() if count}
