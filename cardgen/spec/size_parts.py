"""What a designation says, and how its numbers are read."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

INCH = Fraction(254, 10)
"""One inch, exact [mm]."""


@dataclass(frozen=True, slots=True)
class Size:
    """A designation's parts; ``None`` for what it leaves to a default.

    Attributes
    ----------
    diameter, pitch
        Exact [mm].
    inch
        Whether diameter and pitch are in inches.
    class_
        As written.
    variant
        Of the form, where the designation names one; empty for the standard's own.
    series
        Of a Unified thread.
    """

    form: str
    diameter: Fraction
    pitch: Fraction | None
    starts: int | None
    hand: Literal["left"] | None
    class_: str | None
    inch: bool
    variant: str = ""
    series: str = ""


class SizeError(ValueError):
    """A text that is no designation known here.

    Parameters
    ----------
    found, allowed, mend
        As in :class:`cardgen.core.problems.Problem`; ``allowed`` may be empty, for the examples of
        the form that the maker asked for.
    """

    def __init__(self, found: str, allowed: str = "", mend: str = "") -> None:
        self.found = found
        self.allowed = allowed
        self.mend = mend
        super().__init__(f"{found}; allowed: {allowed}; {mend}")


def decimal(text: str) -> Fraction:
    """Return a number written with a decimal point or comma."""
    return Fraction(text.replace(",", "."))


def inches(text: str) -> Fraction:
    """Return a number written as the inch trade does: ``1 1/2``, ``1-1/2``, ``.75``."""
    whole, _, part = text.replace("-", " ").rpartition(" ")
    if "/" in part and int(part.partition("/")[2]) == 0:
        raise SizeError(f"{text} divides by nothing", "a number of inches, such as 1 1/2")
    return (Fraction(whole) if whole else Fraction(0)) + Fraction(part)


def starts(lead: Fraction, pitch: Fraction, text: str) -> int:
    """Return how many pitches go into a lead; anything but a whole number is a fault."""
    if pitch == 0 or lead == 0 or (lead / pitch).denominator != 1:
        found = f"in {text[:40]} the lead is not a whole number of pitches"
        raise SizeError(found, "a lead of 1, 2, 3 ... pitches, such as Tr 32x12 P6")
    return int(lead / pitch)


def inch_lead(pitch_text: str, lead_text: str, text: str) -> tuple[Fraction, int]:
    """Return pitch [mm] and starts of a designation that gives pitch and lead in inches.

    The American standards print both to four places: 0.3333P-0.6667L is a third of an inch, two
    starts. A pitch is taken as a whole, half or quarter number of threads per inch if its digits
    are those of one.

    Examples
    --------
    >>> pitch, count = inch_lead("0.3333", "0.6667", "")
    >>> (INCH / pitch, count)
    (Fraction(3, 1), 2)
    >>> float(inch_lead("0.4", "0.8", "")[0])
    10.16
    """
    pitch, lead = Fraction(pitch_text), Fraction(lead_text)
    for parts in (1, 2, 4) if pitch > 0 else ():
        threads = Fraction(round(parts / pitch), parts)
        count = round(lead * threads)
        if threads == 0 or count == 0:
            continue
        if _prints_as(1 / threads, pitch_text) and _prints_as(count / threads, lead_text):
            return INCH / threads, count
    return pitch * INCH, starts(lead, pitch, text)


def _prints_as(value: Fraction, text: str) -> bool:
    """Whether a number has these digits when it is rounded to as many places."""
    places = len(text.partition(".")[2])
    return abs(value - Fraction(text)) <= Fraction(1, 2 * 10**places)
