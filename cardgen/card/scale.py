"""To which scale a drawing is made: one of the preferred scales, and the largest that fits."""

from __future__ import annotations

from fractions import Fraction

_STEPS = (1, 2, 5, 10, 20, 50, 100)

PREFERRED: tuple[Fraction, ...] = tuple(
    sorted({Fraction(step) for step in _STEPS} | {Fraction(1, step) for step in _STEPS})[::-1]
)
"""Scales recommended by ISO 5455:1979, largest first: 100:1 ... 2:1, 1:1, 1:2 ... 1:100."""

Extent = tuple[float, float, float, float]
"""Left, bottom, right and top of what is drawn [mm of the part]; y points up."""
Clear = tuple[float, float, float, float]
"""Room kept on the left, top, right and bottom for dimensions [mm on the card]."""


def fitting_scale(extent: Extent, width: float, height: float, clear: Clear) -> Fraction:
    """Return the largest preferred scale at which an extent fits a space.

    Parameters
    ----------
    extent
        Of the part.
    width, height
        Of the space on the card, with its clear room [mm].
    clear
        Room that the part must leave free.

    Raises
    ------
    ValueError
        If even the smallest scale is too large.
    """
    across, up = extent[2] - extent[0], extent[3] - extent[1]
    room_across, room_up = width - clear[0] - clear[2], height - clear[1] - clear[3]
    for scale in PREFERRED:
        if across * scale <= room_across + 1e-9 and up * scale <= room_up + 1e-9:
            return scale
    room = f"{room_across:.1f} x {room_up:.1f} mm"
    msg = f"a part of {across:.1f} x {up:.1f} mm fits {room} at no scale"
    raise ValueError(msg)


def scale_written(scale: Fraction) -> str:
    """Return a scale as a drawing writes it.

    Examples
    --------
    >>> scale_written(Fraction(5)), scale_written(Fraction(1, 2))
    ('5:1', '1:2')
    """
    return f"{scale.numerator}:{scale.denominator}"
