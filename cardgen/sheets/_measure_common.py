"""What measuring a screw and measuring a nut have in common."""

from __future__ import annotations

from collections.abc import Callable
from math import cos, radians
from typing import Literal

from cardgen.core.figure import Evidence, Input, Sheet

SHORT_FORMULA_ERROR = 1e-3
"""The short formula is given where it is nearer the exact seat than this [mm]."""

_STEP = 1e-3
"""By which part of its diameter a wire is changed to see what that does."""


def chosen(
    sheet: Sheet,
    what: Literal["wire", "ball"],
    size: float,
    origin: Input,
    note: str,
    evidence: Evidence,
) -> float:
    """Record which wire or ball is used, and return its diameter [mm]."""
    symbol = what[0]
    sheet.add(
        f"measure.{what}_chosen",
        size,
        formula=symbol,
        inputs={symbol: origin},
        source="common practice",
        basis="practice",
        evidence=evidence,
        note=note,
    )
    return size


def record_sensitivity(
    sheet: Sheet, what: Literal["wire", "ball"], read: Callable[[float], float], note: str
) -> None:
    """Record how much a wire's or ball's own error counts in the reading.

    Parameters
    ----------
    read
        The reading over wires, or between balls, for a diameter [mm].
    """
    size = sheet.number(f"measure.{what}_chosen")
    step = _STEP * size
    sheet.add(
        f"measure.{what}_sensitivity",
        abs(read(size + step) - read(size - step)) / (2 * step),
        formula="method: change of the exact seat with the diameter",
        inputs={
            symbol: sheet.ref(id)
            for symbol, id in (
                (what[0], f"measure.{what}_chosen"),
                ("d2", "thread.pitch_diameter"),
                ("P", "thread.pitch"),
                ("L", "thread.lead"),
                ("a1", "thread.leading_flank"),
                ("a2", "thread.trailing_flank"),
            )
        },
        source="seat between helicoidal flanks, solved numerically",
        basis="computed",
        note=note,
    )


def groove_gauges(sheet: Sheet, place: Literal["root", "bore"]) -> None:
    """Record the slips that go and do not go into a square groove, whose width has limits.

    Parameters
    ----------
    place
        Where the groove is narrowest, square to the helix: at the smallest diameter it has.
    """
    squared = cos(radians(sheet.number("thread.lead_angle_minor")))
    for id, part in (
        ("go", sheet.low("thread.groove_width")),
        ("not_go", sheet.high("thread.groove_width")),
    ):
        sheet.add(
            f"measure.groove_{id}",
            float(part.value) * squared,
            formula="S cos(L)",
            inputs={"S": part, "L": sheet.ref("thread.lead_angle_minor")},
            source="geometry of the helix",
            basis="computed",
            note=f"width square to the helix at the {place}, where it is least",
        )
