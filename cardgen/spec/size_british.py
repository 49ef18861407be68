"""Designations of Whitworth, BA and parallel pipe threads: a size is a name in a table."""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from typing import Literal

from cardgen import library
from cardgen.spec.size_parts import INCH, Size, SizeError, inches

_SIZE = (
    r"(?P<size>[0-9]{1,2}[ -][0-9]{1,2}/[0-9]{1,2}|[0-9]{1,2}/[0-9]{1,2}|[0-9]{0,2}\.?[0-9]{1,4})"
)
_LEFT = r"(?:[ ,-]+(?P<left>LH))?"
_GRADE = r"(?:[ ,-]+(?P<class>close|medium|free|normal))?"
_TPI = r"(?:(?P<tpi>[0-9]{1,2}(?:\.[0-9]{1,3}| [0-9]/[0-9])?)(?: ?tpi)?)"

_INCHES = r'(?: ?(?:in\b\.?|"))?'
_WHITWORTH = (
    re.compile(
        rf"{_SIZE}{_INCHES}(?:(?: ?[-x] ?| ){_TPI})?[ -]?(?P<series>BSW|BSF|WHIT(?:WORTH|\.)?)"
        rf"{_LEFT}{_GRADE}(?:[ ,-]+(?P<left2>LH))?",
        re.IGNORECASE,
    ),
    # W 1/2 is how the coarse series is written where inches are foreign.
    re.compile(
        rf"(?P<series>BSW|BSF|W)[ -]?{_SIZE}{_INCHES}(?: ?[-x] ?{_TPI})?"
        rf"{_LEFT}{_GRADE}(?:[ ,-]+(?P<left2>LH))?",
        re.IGNORECASE,
    ),
)
_PIPE = (
    re.compile(
        rf"G ?{_SIZE}{_INCHES}(?:[ -]?(?P<class>[AB]))?{_LEFT}(?:[ ,-]+(?P<class2>[AB]))?",
        re.IGNORECASE,
    ),
    re.compile(
        rf"{_SIZE}{_INCHES} ?(?:BSPP?|BSPF|BSPM)(?:[ -](?P<class>[AB]))?{_LEFT}"
        r"(?:[ ,-]+(?P<class2>[AB]))?",
        re.IGNORECASE,
    ),
)
_BA = re.compile(
    rf"(?:(?:no\.? ?)?(?P<n1>[0-9]{{1,2}}) ?B\.?A\b\.?|BA ?(?P<n2>[0-9]{{1,2}})){_LEFT}{_GRADE}",
    re.IGNORECASE,
)

EXAMPLES = {
    "whitworth": "1/2 in - 12 BSW, 1/2 BSF or 1/2 BSW, medium",
    "pipe-parallel": "G 1/2 or G 1 1/2 A",
    "ba": "2 BA or 2 BA, close",
}
"""Form to the designations that it takes."""


def read_british(text: str) -> Size | None:
    """Read a designation; ``None`` if it is none of these standards'.

    Parameters
    ----------
    text
        With single blanks.

    Raises
    ------
    SizeError
        If the standard has no such size, or the threads per inch contradict the series.

    Examples
    --------
    >>> size = read_british("1/2 BSF")
    >>> float(25.4 / size.pitch)
    16.0
    """
    for pattern in _WHITWORTH:
        match = pattern.fullmatch(text)
        if match is not None:
            return _whitworth(match, text)
    for pattern in _PIPE:
        match = pattern.fullmatch(text)
        if match is not None:
            return _pipe(match, text)
    match = _BA.fullmatch(text)
    if match is not None:
        row = _named("threads/bs_93_sizes", Fraction(match["n1"] or match["n2"]), text)
        sizes = Fraction(row["d_mm"]), Fraction(row["p_mm"])
        return Size("ba", *sizes, 1, _hand(match), _grade(match), inch=False)
    return None


def _pipe(match: re.Match[str], text: str) -> Size:
    row = _named("threads/iso_228_1_sizes", inches(match["size"]), text)
    pitch = INCH / Fraction(row["tpi"])
    cls = match["class"] or match["class2"]
    cls = cls.upper() if cls else None
    return Size("pipe-parallel", Fraction(row["d_mm"]), pitch, 1, _hand(match), cls, inch=True)


def _whitworth(match: re.Match[str], text: str) -> Size:
    size, series = inches(match["size"]), match["series"].upper()
    if series == "W":
        series = "BSW"
    told = inches(match["tpi"]) if match["tpi"] else None
    if size <= 0 or told == 0:
        raise SizeError(f"{text[:40]} has a size of nothing", EXAMPLES["whitworth"])
    pitch = INCH / told if told else None
    if series in {"BSW", "BSF"}:
        row = _named(f"threads/bs_84_{series.lower()}", size, text)
        threads = Fraction(row["tpi"])
        if told is not None and told != threads:
            raise SizeError(
                f"{series} of {match['size']} in has {float(threads):g} threads per inch, not"
                f" {float(told):g}",
                f"{match['size']} in - {float(threads):g} {series}, or {match['size']} in -"
                f" {float(told):g} Whit.",
            )
        pitch = INCH / threads
    starts = None if pitch is None else 1
    named = series if series in {"BSW", "BSF"} else ""
    hand, grade = _hand(match), _grade(match)
    return Size("whitworth", size * INCH, pitch, starts, hand, grade, inch=True, series=named)


def _named(table: str, size: Fraction, text: str) -> Mapping[str, str]:
    """Return the row of a size's name; a size that is not there is told its neighbours."""
    rows = library.table(table)
    below: list[str] = []
    above: list[str] = []
    for row in rows:
        known = inches(row["size"])
        if known == size:
            return row
        (below if known < size else above).append(row["size"])
    near = ", ".join(below[-2:] + above[:2]) if table != "threads/bs_93_sizes" else "0 to 16"
    raise SizeError(f"{text[:40]} is not a size of the series", f"near it: {near}")


def _hand(match: re.Match[str]) -> Literal["left"] | None:
    parts = match.groupdict()
    return "left" if parts.get("left") or parts.get("left2") else None


def _grade(match: re.Match[str]) -> str | None:
    grade: str | None = match["class"]
    return grade.lower() if grade else None
