"""How wide is a line, signs included, and where is a text broken into lines? Asked very often."""

from __future__ import annotations

import re
from functools import lru_cache
from math import fsum

from cardgen.card.marks import POINT, Metrics, Weight
from cardgen.card.symbols import SIGNS
from cardgen.core.words import Said

_WITH_UNIT = re.compile(
    r"(?<=\d) (?=(?:mm|in|s|N|kN|MPa|N·m|W|kW|°C|HRC|tpi|%"
    r"|rev/min|1/min|min⁻¹|m/min|ft/min)(?![\w/]))"
    r"|(?<=⌀) (?=\d)"
)
"""The space between a number and its unit, or the sign of diameter before it."""


def line_width(metrics: Metrics, text: str, size: float, weight: Weight) -> float:
    """Return the width of a line of text, signs included [mm]."""
    if text.isascii() or SIGNS.keys().isdisjoint(text):
        return metrics.width(text, size, weight)
    return fsum(
        SIGNS[run].advance * size * POINT if run in SIGNS else metrics.width(run, size, weight)
        for run in runs(text)
    )


@lru_cache(maxsize=4096)
def wrapped(
    metrics: Metrics, text: str, size: float, width: float, weight: Weight
) -> tuple[str, ...]:
    """Return the lines of a text no wider than ``width`` [mm]; see :meth:`Pen.wrap`.

    Kept, because a card is laid out several times and cards are alike: a sixth of a card's time.
    """

    def fits(line: str) -> bool:
        return line_width(metrics, line, size, weight) <= width

    if "\n" not in text and fits(text):
        return (Said(" ".join(text.split())),) if text.strip() else ()
    lines: list[str] = []
    for paragraph in _WITH_UNIT.sub("\u00a0", text).split("\n"):
        line = ""
        for word in filter(None, paragraph.split(" ")):
            trial = f"{line} {word}" if line else word
            if fits(trial):
                line = trial
                continue
            if line:
                lines.append(line)
            while not fits(word) and len(word) > 1:
                cut = len(word) - 1
                while cut > 1 and not fits(word[:cut]):
                    cut -= 1
                lines.append(word[:cut])
                word = word[cut:]
            line = word
        if line:
            lines.append(line)
    # What is said is not said again: a line may read like a word of another language.
    return tuple(Said(line.replace("\u00a0", " ")) for line in lines)


def runs(text: str) -> list[str]:
    """Cut a line into runs that the typeface can write and single signs between them."""
    runs: list[str] = []
    for char in text:
        if char in SIGNS or not runs or runs[-1] in SIGNS:
            runs.append(char)
        else:
            runs[-1] += char
    return runs
