"""What a figure's name is: its words, symbol, unit and how it is rounded."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Side = Literal["nearest", "down", "up"]


@dataclass(frozen=True, slots=True)
class Name:
    """How a figure is called and written.

    Attributes
    ----------
    label
        English words, as printed.
    symbol
        Symbol of the trade or the standard; may be empty.
    unit
        Unit of the house convention; empty for text and plain ratios.
    decimals
        Places printed in ``unit``; for lengths the inch form takes one more.
    side
        To which side the printed value is rounded.
    """

    label: str
    symbol: str = ""
    unit: str = ""
    decimals: int = 3
    side: Side = "nearest"
