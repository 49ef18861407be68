"""A thread's designation, in the words of its own standard, read into its parts.

What is read, and nothing more (case, and blanks between parts, do not matter):

==============  ====================================================================
trapezoidal     ``Tr 28x5``, ``Tr 28x5-7e``, ``Tr 32x12 P6 LH``, ``Tr 32x12 (P6) LH-7e``
acme            ``1-5 ACME-2G``, ``1 1/2-4 ACME-2G-LH``, ``1.750-4 ACME``,
                ``2.875-0.4P-0.8L-ACME-3G``, ``2.500-0.3333P-0.6667L-ACME-4C (Two Start)``
metric          ``M10``, ``M10x1.5``, ``M10x1.5-6g``, ``M16xPh3P1.5-6g-LH``
saw-tooth       ``S 40x7``, ``S 40x7-7e``, ``S 40x14 (P7)``
knuckle         ``Rd 40x1/6``, ``Rd 40x1/3 P1/6-7h``
Whitworth       ``1/2 in - 12 BSW``, ``1/2 BSW``, ``1/2-16 BSF, medium``, ``W 1/2``
pipe, parallel  ``G 1/2``, ``G 1 1/2 A``, ``G 1/2 B LH``, ``1/2 BSPP``
BA              ``2 BA``, ``2BA, close``, ``BA 2``
Unified         ``1/2-13 UNC-2A``, ``10-24 UNC-2A``, ``3/8-24 UNF-2A LH``
stub Acme       ``1/2-10 STUB ACME``, ``1/2-10 STUB ACME M1-LH``
inch buttress   ``2-8 BUTT-2A``, ``2-8 PUSH-BUTT-2A-LH``
==============  ====================================================================

The grammar follows the designation clauses of ISO 2902 and 2904, ASME B1.5, ISO 965-1, DIN 513,
DIN 405, BS 84, ISO 228-1 and BS 93 (from memory of the standards).
"""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from typing import Literal

from cardgen.spec.size_british import EXAMPLES as BRITISH
from cardgen.spec.size_british import read_british
from cardgen.spec.size_foreign import refuse_foreign
from cardgen.spec.size_inch import EXAMPLES as INCHES
from cardgen.spec.size_inch import read_inch
from cardgen.spec.size_parts import INCH, Size, SizeError, decimal, inch_lead, inches, starts

__all__ = ["EXAMPLES", "Size", "SizeError", "read_size"]

_DECIMAL = r"[0-9]{1,4}(?:[.,][0-9]{1,5})?"
_CLASS = r"(?:-(?P<class>(?:[0-9][A-Za-z]{1,2}){1,2}))?"


def _lead_and_pitch(letters: str, number: str) -> re.Pattern[str]:
    """Return the pattern of trapezoidal, saw-tooth and knuckle threads."""
    return re.compile(
        rf"{letters}(?P<d>{_DECIMAL})"
        rf"(?:X(?P<l>{number})(?:\(P(?P<p1>{number})\)|P(?P<p2>{number}))?)?"
        rf"(?P<left>-?LH)?{_CLASS}(?P<left2>-?LH)?",
        re.IGNORECASE,
    )


_TRAPEZOIDAL = _lead_and_pitch("TR", _DECIMAL)
_SAW_TOOTH = _lead_and_pitch("S", _DECIMAL)
# A knuckle thread's pitch is written as a part of an inch, beside a diameter in millimetres.
_KNUCKLE = _lead_and_pitch("RD", r"[0-9]{1,2}/[0-9]{1,2}(?:\"|IN\.?)?")
_METRIC = re.compile(
    rf"M(?P<d>{_DECIMAL})(?:X(?:PH(?P<l>{_DECIMAL})P(?P<p2>{_DECIMAL})|(?P<p1>{_DECIMAL})))?"
    rf"{_CLASS}(?P<left>-?LH)?",
    re.IGNORECASE,
)
_IN_WORDS = re.compile(r"(?: ?\(|, ?)(two|three|four|five|six|[2-8])[ -]?starts?\)?", re.IGNORECASE)
_COUNTS = {"two": 2, "three": 3, "four": 4, "five": 5, "six": 6}
_SIZE_INCH = (
    r"(?:[0-9]{1,2}[ -][0-9]{1,2}/[0-9]{1,3}|[0-9]{1,2}/[0-9]{1,3}|[0-9]{0,2}\.?[0-9]{1,5})"
)
_ACME = re.compile(
    rf'(?P<d>{_SIZE_INCH})"?-'
    r"(?:(?P<tpi>[0-9]{1,2}(?:\.[0-9]{1,3}| [0-9]/[0-9]{1,2})?)"
    r"|(?P<p>[0-9]?\.[0-9]{1,5})P-(?P<l>[0-9]?\.[0-9]{1,5}|[0-9])L)"
    r"[ -]?ACME(?:[ -](?P<class>[0-9][A-Z]))?(?P<left>[ -]LH)?",
    re.IGNORECASE,
)

EXAMPLES = {
    "trapezoidal": "Tr 28x5, Tr 28x5-7e or Tr 32x12 P6 LH",
    "acme": "1-5 ACME-2G or 1 1/2-4 ACME-2G-LH",
    "metric": "M10, M10x1.5-6g or M16xPh3P1.5-6g-LH",
    "buttress-metric": "S 40x7 or S 40x7-7e",
    "knuckle": "Rd 40x1/6 or Rd 40x1/6-7h",
    **BRITISH,
    **INCHES,
}
"""Form to the designations that it takes."""


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
    plain = " ".join(text.replace("×", "x").replace("–", "-").split())
    # Both ISO 965-1 and the American standards let a designation say the starts in words too.
    counted = _IN_WORDS.search(plain)
    size = _read(_IN_WORDS.sub("", plain, count=1))
    if counted is None:
        return size
    told = counted[1].lower()
    count = _COUNTS.get(told) or int(told)
    if size.form in BRITISH:
        # Their standards know one start only: more are said in words alone.
        return replace(size, starts=count)
    if size.starts != count:
        raise SizeError(
            f"in {text[:40]} lead and pitch make {size.starts or 1}, not {told} starts",
            "a lead of as many pitches, such as M16xPh3P1.5 (two starts)-6g",
        )
    return size


def _read(plain: str) -> Size:
    tight = plain.replace(" ", "")
    for form, pattern in (
        ("trapezoidal", _TRAPEZOIDAL),
        ("metric", _METRIC),
        ("buttress-metric", _SAW_TOOTH),
        ("knuckle", _KNUCKLE),
    ):
        match = pattern.fullmatch(tight)
        if match is not None:
            return _metric(form, match, plain)
    match = _ACME.fullmatch(re.sub(r" ?- ?", "-", plain))
    if match is not None:
        return _acme(match, plain)
    size = read_british(plain) or read_inch(plain)
    if size is not None:
        return size
    refuse_foreign(plain)
    raise SizeError(f"{plain[:40]} is not a designation known here")


def _sizes(form: str, diameter: Fraction, pitch: Fraction | None, text: str) -> None:
    if diameter <= 0 or (pitch is not None and pitch <= 0):
        raise SizeError(f"{text[:40]} has a size of nothing", EXAMPLES[form])


def _metric(form: str, match: re.Match[str], text: str) -> Size:
    pitches = [part for part in (match["p1"], match["p2"]) if part]
    # A trapezoidal designation gives the lead, then the pitch if there is more than one start.
    lead_text = match["l"]
    pitch_text = pitches[0] if pitches else (None if form == "metric" else lead_text)
    pitch = _pitch(form, pitch_text) if pitch_text else None
    count = 1 if pitch is not None else None
    if pitches and lead_text and pitch is not None:
        count = starts(_pitch(form, lead_text), pitch, text)
    diameter = decimal(match["d"])
    _sizes(form, diameter, pitch, text)
    left = match["left"] or match.groupdict().get("left2")
    hand: Literal["left"] | None = "left" if left else None
    inch = form == "knuckle"
    return Size(form, diameter, pitch, count, hand, match["class"], inch=inch)


def _pitch(form: str, text: str) -> Fraction:
    """Return a pitch or lead [mm]."""
    return inches(text.rstrip('"INin.')) * INCH if form == "knuckle" else decimal(text)


def _acme(match: re.Match[str], text: str) -> Size:
    count = 1
    if match["tpi"]:
        threads = inches(match["tpi"])
        if threads <= 0:
            raise SizeError(f"{text[:40]} has no threads", EXAMPLES["acme"])
        pitch = INCH / threads
    else:
        pitch, count = inch_lead(match["p"], match["l"], text)
    diameter = inches(match["d"]) * INCH
    _sizes("acme", diameter, pitch, text)
    hand: Literal["left"] | None = "left" if match["left"] else None
    return Size("acme", diameter, pitch, count, hand, match["class"], inch=True)
