"""A thread's designation, in the words of its own standard, read into its parts.

What is read, and nothing more (case, and blanks between parts, do not matter):

==============  ====================================================================
trapezoidal     ``Tr 28x5``, ``Tr 28x5-7e``, ``Tr 32x12 P6 LH``, ``Tr 32x12 (P6) LH-7e``
acme            ``1-5 ACME-2G``, ``1 1/2-4 ACME-2G-LH``, ``1.750-4 ACME``,
                ``2.875-0.4P-0.8L-ACME-3G``
metric          ``M10``, ``M10x1.5``, ``M10x1.5-6g``, ``M16xPh3P1.5-6g-LH``
==============  ====================================================================

The grammar follows the designation clauses of ISO 2902 and 2904, ASME B1.5 and ISO 965-1 (from
memory of the standards).
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

_INCH = Fraction(254, 10)
_DECIMAL = r"[0-9]{1,4}(?:[.,][0-9]{1,5})?"
_CLASS = r"(?:-(?P<class>[0-9][A-Za-z]{1,2}))?"

_TRAPEZOIDAL = re.compile(
    rf"TR(?P<d>{_DECIMAL})(?:X(?P<l>{_DECIMAL})(?:\(P(?P<p1>{_DECIMAL})\)|P(?P<p2>{_DECIMAL}))?)?"
    rf"(?P<left>-?LH)?{_CLASS}(?P<left2>-?LH)?",
    re.IGNORECASE,
)
_METRIC = re.compile(
    rf"M(?P<d>{_DECIMAL})(?:X(?:PH(?P<l>{_DECIMAL})P(?P<p2>{_DECIMAL})|(?P<p1>{_DECIMAL})))?"
    rf"{_CLASS}(?P<left>-?LH)?",
    re.IGNORECASE,
)
_SIZE_INCH = (
    r"(?:[0-9]{1,2}[ -][0-9]{1,2}/[0-9]{1,3}|[0-9]{1,2}/[0-9]{1,3}|[0-9]{0,2}\.?[0-9]{1,5})"
)
_ACME = re.compile(
    rf'(?P<d>{_SIZE_INCH})"?-'
    r"(?:(?P<tpi>[0-9]{1,2}(?:\.[0-9]{1,3}| [0-9]/[0-9]{1,2})?)"
    r"|(?P<p>[0-9]?\.[0-9]{1,5})P-(?P<l>[0-9]?\.[0-9]{1,5})L)"
    rf"[ -]ACME{_CLASS}(?P<left>-LH)?",
    re.IGNORECASE,
)

EXAMPLES = {
    "trapezoidal": "Tr 28x5, Tr 28x5-7e or Tr 32x12 P6 LH",
    "acme": "1-5 ACME-2G or 1 1/2-4 ACME-2G-LH",
    "metric": "M10, M10x1.5-6g or M16xPh3P1.5-6g-LH",
}
"""Form to the designations that it takes."""


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
    """

    form: str
    diameter: Fraction
    pitch: Fraction | None
    starts: int | None
    hand: Literal["left"] | None
    class_: str | None
    inch: bool


class SizeError(ValueError):
    """A text that is no designation known here.

    Parameters
    ----------
    found, allowed
        As in :class:`cardgen.core.problems.Problem`.
    """

    def __init__(self, found: str, allowed: str) -> None:
        self.found = found
        self.allowed = allowed
        super().__init__(f"{found}; allowed: {allowed}")


def read_size(text: str) -> Size:
    """Read a designation.

    Raises
    ------
    SizeError
        If it is in no standard's words known here, or if its lead is not a whole number of
        pitches.

    Examples
    --------
    >>> read_size("Tr 32x12 (P6) LH").starts
    2
    >>> float(read_size("1 1/2-4 ACME-2G").diameter)
    38.1
    """
    plain = " ".join(text.replace("×", "x").replace("–", "-").split(" ")).strip(" ")
    tight = plain.replace(" ", "")
    for form, pattern in (("trapezoidal", _TRAPEZOIDAL), ("metric", _METRIC)):
        match = pattern.fullmatch(tight)
        if match is not None:
            return _metric(form, match, text)
    match = _ACME.fullmatch(re.sub(r" ?- ?", "-", plain))
    if match is not None:
        return _acme(match, text)
    known = "; ".join(EXAMPLES.values())
    raise SizeError(f"{text[:40]} is not a designation known here", known)


def _decimal(text: str) -> Fraction:
    return Fraction(text.replace(",", "."))


def _inches(text: str) -> Fraction:
    whole, _, part = text.replace("-", " ").rpartition(" ")
    if "/" in part and int(part.partition("/")[2]) == 0:
        raise SizeError(f"{text} divides by nothing", EXAMPLES["acme"])
    return (Fraction(whole) if whole else Fraction(0)) + Fraction(part)


def _starts(lead: Fraction, pitch: Fraction, text: str) -> int:
    if pitch == 0 or lead == 0 or (lead / pitch).denominator != 1:
        found = f"in {text[:40]} the lead is not a whole number of pitches"
        raise SizeError(found, "a lead of 1, 2, 3 ... pitches, such as Tr 32x12 P6")
    return int(lead / pitch)


def _sizes(form: str, diameter: Fraction, pitch: Fraction | None, text: str) -> None:
    if diameter <= 0 or (pitch is not None and pitch <= 0):
        raise SizeError(f"{text[:40]} has a size of nothing", EXAMPLES[form])


def _metric(form: str, match: re.Match[str], text: str) -> Size:
    pitches = [part for part in (match["p1"], match["p2"]) if part]
    # A trapezoidal designation gives the lead, then the pitch if there is more than one start.
    lead_text = match["l"]
    pitch_text = pitches[0] if pitches else (lead_text if form == "trapezoidal" else None)
    pitch = _decimal(pitch_text) if pitch_text else None
    starts = 1 if pitch is not None else None
    if pitches and lead_text and pitch is not None:
        starts = _starts(_decimal(lead_text), pitch, text)
    diameter = _decimal(match["d"])
    _sizes(form, diameter, pitch, text)
    left = match["left"] or match.groupdict().get("left2")
    return Size(form, diameter, pitch, starts, "left" if left else None, match["class"], inch=False)


def _acme(match: re.Match[str], text: str) -> Size:
    starts = 1
    if match["tpi"]:
        threads = _inches(match["tpi"])
        if threads <= 0:
            raise SizeError(f"{text[:40]} has no threads", EXAMPLES["acme"])
        pitch = _INCH / threads
    else:
        pitch = Fraction(match["p"]) * _INCH
        starts = _starts(Fraction(match["l"]) * _INCH, pitch, text)
    diameter = _inches(match["d"]) * _INCH
    _sizes("acme", diameter, pitch, text)
    hand: Literal["left"] | None = "left" if match["left"] else None
    return Size("acme", diameter, pitch, starts, hand, match["class"], inch=True)
