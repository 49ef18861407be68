"""Signs that the typeface lacks, as shapes to be drawn among its letters.

A shape is given in em: x to the right from the pen's place, y up from the base line. The pen
draws it wherever the sign stands in a text, turned and scaled with it, so that a panel writes
``"⌀ 28"`` or ``"min⁻¹"`` and need not know what the typeface holds.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import cos, pi, sin

XY = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Stroke:
    """One line or filled area of a sign, in em."""

    points: tuple[XY, ...]
    closed: bool = False
    filled: bool = False


@dataclass(frozen=True, slots=True)
class Sign:
    """A sign: how far it moves the pen on, and what is drawn [em]."""

    advance: float
    strokes: tuple[Stroke, ...]


LINE = {"regular": 0.075, "bold": 0.105}
"""Width of a sign's lines by weight of the text around it [em]."""


def _ring(x: float, y: float, radius: float, filled: bool = False) -> Stroke:
    corners = tuple(
        (x + radius * cos(2 * pi * k / 28), y + radius * sin(2 * pi * k / 28)) for k in range(28)
    )
    return Stroke(corners, closed=True, filled=filled)


def _line(*points: XY) -> Stroke:
    return Stroke(points)


_DIAMETER = Sign(0.70, (_ring(0.35, 0.33, 0.25), _line((0.10, 0.02), (0.60, 0.64))))
_SQUARE = ((0.10, 0.05), (0.60, 0.05), (0.60, 0.55), (0.10, 0.55))
_TRIANGLE = ((0.06, 0.02), (0.94, 0.02), (0.50, 0.76))

SIGNS: Mapping[str, Sign] = {
    "⌀": _DIAMETER,
    "∅": _DIAMETER,
    "⁻": Sign(0.36, (_line((0.05, 0.53), (0.30, 0.53)),)),
    "●": Sign(0.70, (_ring(0.35, 0.32, 0.26, filled=True),)),
    "○": Sign(0.70, (_ring(0.35, 0.32, 0.24),)),
    "□": Sign(0.70, (Stroke(_SQUARE, closed=True),)),
    "✗": Sign(0.70, (_line((0.12, 0.08), (0.58, 0.56)), _line((0.12, 0.56), (0.58, 0.08)))),
    "∠": Sign(0.70, (_line((0.62, 0.04), (0.08, 0.04), (0.54, 0.56)),)),
    "∥": Sign(0.50, (_line((0.14, 0.0), (0.26, 0.64)), _line((0.28, 0.0), (0.40, 0.64)))),
    "⊥": Sign(0.70, (_line((0.35, 0.04), (0.35, 0.62)), _line((0.08, 0.04), (0.62, 0.04)))),
    "⟂": Sign(0.70, (_line((0.35, 0.04), (0.35, 0.62)), _line((0.08, 0.04), (0.62, 0.04)))),
    "↔": Sign(
        1.0,
        (
            _line((0.25, 0.30), (0.75, 0.30)),
            Stroke(((0.06, 0.30), (0.28, 0.20), (0.28, 0.40)), closed=True, filled=True),
            Stroke(((0.94, 0.30), (0.72, 0.20), (0.72, 0.40)), closed=True, filled=True),
        ),
    ),
    "↗": Sign(
        0.80,
        (
            _line((0.12, 0.06), (0.56, 0.50)),
            Stroke(((0.68, 0.62), (0.58, 0.37), (0.43, 0.52)), closed=True, filled=True),
        ),
    ),
    "⟲": Sign(
        0.80,
        (
            _line(*((0.40 + 0.24 * cos(a / 9), 0.31 + 0.24 * sin(a / 9)) for a in range(-8, 36))),
            Stroke(((0.06, 0.18), (0.26, 0.18), (0.12, 0.36)), closed=True, filled=True),
        ),
    ),
    "⚠": Sign(
        1.0,
        (
            Stroke(_TRIANGLE, closed=True),
            _line((0.50, 0.26), (0.50, 0.52)),
            _ring(0.50, 0.13, 0.05, filled=True),
        ),
    ),
}
"""Character to sign: everything the cards use that Source Sans Pro does not hold."""
