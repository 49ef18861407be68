"""How numbers are written: the only place that turns a value into text for a card."""

from __future__ import annotations

from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, Decimal

from cardgen.core.figure import Figure
from cardgen.core.names import Side
from cardgen.core.words import told

MM_PER_INCH = 25.4

_ROUNDING = {"nearest": ROUND_HALF_EVEN, "down": ROUND_FLOOR, "up": ROUND_CEILING}
_UNIT_TEXT = {"deg": "°", "mm2": " mm²", "degC": " °C", "N m": " N·m", "": ""}


def rounded(value: float, decimals: int, side: Side = "nearest") -> str:
    """Return a number with a fixed count of decimals, rounded to the side asked for.

    A value that differs from a printable one only by floating-point noise (below a millionth of
    the last digit) is that value: 2.5000000001 rounded up to one decimal is 2.5.

    Examples
    --------
    >>> rounded(2.675, 2)
    '2.68'
    >>> rounded(2.5000000001, 1, "up")
    '2.5'
    >>> rounded(-0.0001, 2)
    '0.00'
    """
    step = Decimal(1).scaleb(-decimals)
    exact = Decimal(repr(value)).quantize(step.scaleb(-6), ROUND_HALF_EVEN)
    result = exact.quantize(step, _ROUNDING[side])
    return f"{abs(result) if result == 0 else result:f}"


_LARGE_FORCE = 10_000.0
"""From here on a force is written in kN [N]."""


def _scale(value: float, unit: str, decimals: int) -> tuple[float, str, int]:
    """Return how large the unit is in which a value is written, its name, and the places."""
    return (
        (1000.0, "kN", 1) if unit == "N" and abs(value) >= _LARGE_FORCE else (1.0, unit, decimals)
    )


def with_unit(value: float, unit: str, decimals: int, side: Side = "nearest") -> str:
    """Return a rounded number with its unit, minus sign typeset.

    Large forces are written in kilonewtons: six digits in newtons would claim what nobody knows.
    """
    size, unit, decimals = _scale(value, unit, decimals)
    text = rounded(value / size, decimals, side).replace("-", "−")
    if unit == "1/min":
        return told("{number} rev/min", number=text)
    return text + _UNIT_TEXT.get(unit, f" {unit}")


def _as_written(figure: Figure, value: float, inch: bool) -> str:
    name = figure.name
    if inch and name.unit == "mm":
        return with_unit(value / MM_PER_INCH, "in", name.decimals + 1, name.side)
    return with_unit(value, name.unit, name.decimals, name.side)


def written(figure: Figure, *, inch: bool = False) -> str:
    """Return a figure's value as text with its unit; lengths in inches if asked for."""
    if isinstance(figure.value, str):
        return figure.value
    return _as_written(figure, figure.value, inch)


def limits_written(figure: Figure, *, inch: bool = False) -> str:
    """Return a figure's limits as text, largest first; the value where there are none."""
    low, high = figure.low, figure.high
    if low is None and high is None:
        return written(figure, inch=inch)
    parts = [_as_written(figure, limit, inch) for limit in (high, low) if limit is not None]
    return " / ".join(parts)


def spread_written(figure: Figure) -> str:
    """Return the ends between which a figure may lie, without the unit that its value bears."""
    ends = [end for end in (figure.low, figure.high) if end is not None]
    size, _, decimals = _scale(figure.number, figure.name.unit, figure.name.decimals)
    texts = [rounded(end / size, decimals).replace("-", "−") for end in ends]
    return texts[0] if len(texts) == 1 else told("{low} to {high}", low=texts[0], high=texts[1])
