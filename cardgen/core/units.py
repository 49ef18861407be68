"""Quantities as text, ``1 1/8 in`` or ``20,5 mm``, read exactly or refused.

The grammar is ours and bounded: a sign, a number (decimal point or comma, or a whole number and a
fraction), one unit. Numbers stay exact fractions, because wheels are counted and an inch is
exactly 25.4 mm. Common units stand in a closed table (:mod:`cardgen.core.unit_table`); any further
unit of an open dimension is looked up by name (:mod:`cardgen.core.unit_names`).
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from fractions import Fraction

from cardgen.core.problems import nearest
from cardgen.core.unit_names import OtherDimensionError, factor_of
from cardgen.core.unit_table import INCH_FAMILY, KINDS, MEANT, UNITS, ZERO, Dimension, words_for

LONGEST = 40
"""Characters that a quantity may have."""

NUMBER = (
    r"[+-]?(?:[0-9]{1,9} +[0-9]{1,4}/[0-9]{1,4}|[0-9]{1,9}/[0-9]{1,4}"
    r"|[0-9]{1,9}(?:[.,][0-9]{1,9})?|[.,][0-9]{1,9})"
)
"""The grammar of a number, for a JSON Schema; :func:`read` knows a few refusals more."""

_NUMBER = re.compile(
    r"(?P<sign>[+-]?)(?:"
    r"(?P<whole>[0-9]{1,9}) +(?P<over>[0-9]{1,4})/(?P<under>[0-9]{1,4})(?![0-9])"
    r"|(?P<top>[0-9]{1,9})/(?P<bottom>[0-9]{1,4})(?![0-9])"
    r"|(?P<decimal>[0-9]{1,9}(?:[.,][0-9]{1,9})?|[.,][0-9]{1,9})(?![0-9])"
    r")"
)
_THOUSANDS = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")
_DASHES = "\N{MINUS SIGN}\N{EN DASH}\N{EM DASH}\N{HYPHEN}\N{NON-BREAKING HYPHEN}"
_PREFIXED = re.compile(
    r"(?P<sign>[^\W\d_]{1,4}|[\u2300\u2205]) *(?P<number>[0-9]{1,9}(?:[.,][0-9]{1,9})?)"
    r" *(?P<unit>[a-z]{0,6})"
)
_GOES_ON = re.compile(r"[.,/+*^-]|[eE][+-]?[0-9]")
_ONE_NUMBER = (
    "one number: 20.5, 20,5, 7/8 or 1 1/8; no sums, ranges, powers or thousands separators"
)


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
    number, unit
        As written.
    dimension
        What was asked for.
    exact
        In the house unit of the dimension; a pitch in ``tpi`` is turned over.
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
        return self.unit in INCH_FAMILY


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
    allowed = asked_for(dimension)
    if len(text) > LONGEST:
        found = f"{text[:20]}… is {len(text)} characters long, which no quantity needs to be"
        raise QuantityError(found, allowed)
    if not text.isascii():
        _no_small_fraction(text, allowed)
    odd = next((at for at, char in enumerate(text) if char.isspace() and char != " "), None)
    if odd is not None:
        found = f"there is a blank here that is not a plain one, U+{ord(text[odd]):04X}"
        raise QuantityError(found, allowed, "type a plain blank", odd)
    start = len(text) - len(text.lstrip(" "))
    number, end = _number(text, start, allowed)
    unit = " ".join(text[end:].split())
    offset = end + len(text[end:]) - len(text[end:].lstrip(" "))
    if not unit:
        raise QuantityError(
            f"{text.strip()} has no unit", allowed, _with_units(text.strip(), dimension), start
        )
    return Quantity(number, unit, dimension, _exact(number, unit, dimension, offset), text)


def asked_for(dimension: Dimension) -> str:
    """Return in words what a quantity of a dimension looks like."""
    kind = KINDS[dimension]
    return f"{kind.phrase} with its unit, such as {' or '.join(kind.examples)}"


def _with_units(number: str, dimension: Dimension) -> str:
    units = (example.rpartition(" ")[2] for example in KINDS[dimension].examples)
    return "write " + " or ".join(f"{number} {unit}" for unit in units if unit in UNITS)


def _number(text: str, start: int, allowed: str) -> tuple[Fraction, int]:
    """Return the number that begins at ``start``, and where it ends."""
    match = _NUMBER.match(text, start)
    if match is None:
        raise _no_number(text[start:], allowed, start)
    decimal, end = match["decimal"], match.end()
    if _GOES_ON.match(text, end):
        found = f"{text[start:]} is not one plain number"
        raise QuantityError(found, _ONE_NUMBER, "write one number and its unit", end)
    if decimal is None:
        value = _fraction(match, allowed)
    elif _THOUSANDS.fullmatch(decimal):
        plain, point = decimal.replace(",", ""), decimal.replace(",", ".")
        raise QuantityError(
            f"{decimal} may mean {point} or {plain}",
            "a decimal comma that cannot be taken for a thousands separator",
            f"write {point} or {plain}",
            start,
        )
    else:
        value = Fraction(decimal.replace(",", "."))
    return (-value if match["sign"] == "-" else value), end


def _fraction(match: re.Match[str], allowed: str) -> Fraction:
    mixed = match["whole"] is not None
    over, under = ("over", "under") if mixed else ("top", "bottom")
    top, bottom = int(match[over]), int(match[under])
    if bottom == 0:
        raise QuantityError(f"{match[0]} divides by nothing", allowed, "", match.start(under))
    if mixed and top >= bottom:
        raise QuantityError(
            f"{match[0]} has a fraction that is not less than one",
            "a whole number and a proper fraction, such as 1 1/8",
            offset=match.start(over),
        )
    return Fraction(top, bottom) + (int(match["whole"]) if mixed else 0)


def _no_number(text: str, allowed: str, start: int) -> QuantityError:
    if not text:
        return QuantityError("nothing is written here", allowed, offset=start)
    if re.match(r"[+-]?[0-9.,/ ]{10}", text):
        return QuantityError(f"{text} has too many digits", allowed, offset=start)
    mend = ""
    prefixed = _PREFIXED.fullmatch(text)
    if text[0] in _DASHES:
        mend = "write the minus sign as -"
    elif not text[0].isascii() and text[0].isdigit():
        mend = "write the digits 0 to 9"
    elif prefixed is not None:
        mend = _number_first(prefixed["sign"], prefixed["number"], prefixed["unit"])
    return QuantityError(f"{text} does not begin with a number", allowed, mend, start)


def _number_first(sign: str, number: str, unit: str) -> str:
    """Return the mend for what stands before a number: the unit, a sign or a letter."""
    if sign in UNITS and not unit:
        return f"write {number} {sign}"
    quantity = f"{number} {unit}" if unit else f"{number} with its unit, such as {number} mm"
    if sign.isascii() and sign.isalpha():
        return f"write {quantity}; a designation with its letters goes under size"
    return f"write {quantity}"


def _no_small_fraction(text: str, allowed: str) -> None:
    """Refuse a fraction in one sign, such as ½."""
    for at, char in enumerate(text):
        spelled = unicodedata.normalize("NFKC", char).replace("\N{FRACTION SLASH}", "/")
        if "/" in spelled and char != "/":
            written = f"{text[:at].rstrip()} {spelled} {text[at + 1 :].lstrip()}".strip()
            raise QuantityError(
                f"{char} is a fraction in one sign", allowed, f"write {written}", at
            )


def _exact(number: Fraction, unit: str, dimension: Dimension, offset: int) -> Fraction:
    """Return a number of a unit in the house unit of the dimension asked for."""
    known = UNITS.get(unit)
    if known is None:
        return number * _further(unit, dimension, offset)
    kind, factor = known
    if kind == dimension == "pitch":
        if number == 0:
            raise QuantityError("0 threads in an inch is no pitch", asked_for(dimension))
        return factor / number
    if kind != dimension and not (kind == "length" and dimension == "pitch"):
        found = f"{unit} is the unit of {KINDS[kind].phrase}, not of {KINDS[dimension].phrase}"
        mend = "threads in an inch go under pitch" if kind == "pitch" else ""
        raise QuantityError(found, asked_for(dimension), mend, offset)
    return number * factor + ZERO.get(unit, Fraction(0))


def _further(unit: str, dimension: Dimension, offset: int) -> Fraction:
    """Return the size of a unit that the closed table does not hold, in the house unit."""
    words = words_for(dimension)
    meant = MEANT.get(unit) or nearest(unit, words)
    mend = f"did you mean {meant}?" if meant in words else ""
    if "±" in unit:
        mend = "leave the tolerance out; limits of size follow from form and class"
    found = f"{unit} is not a unit known here"
    try:
        factor = None if unit in MEANT else factor_of(unit, dimension)
    except OtherDimensionError:
        factor = None
        found = f"{unit} is not a unit of {KINDS[dimension].phrase}"
    if factor is None:
        allowed = f"{asked_for(dimension)}; units: {', '.join(words)}"
        raise QuantityError(found, allowed, mend, offset)
    return factor
