"""Designations of Unified, stub Acme and inch buttress threads, read into their parts.

The grammar follows the designation clauses of ASME B1.1, ASME B1.8 and ANSI B1.9 (from memory of
the standards). A Unified number size is told from inches by the pairs that the standard lists:
10-24 is number 10, 1-8 is one inch.
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Literal

from cardgen import library
from cardgen.spec.size_parts import INCH, Size, SizeError, inch_lead, inches

_SIZE = r"(?:[0-9]{1,2}[ -][0-9]{1,2}/[0-9]{1,3}|[0-9]{1,2}/[0-9]{1,3}|[0-9]{0,2}\.?[0-9]{1,5})"
_PITCH = (
    r"(?:(?P<tpi>[0-9]{1,2}(?:\.[0-9]{1,3}| [0-9]/[0-9]{1,2})?)"
    r"|(?P<p>[0-9]?\.[0-9]{1,5})P-(?P<l>[0-9]?\.[0-9]{1,5}|[0-9])L)"
)
_LEFT = r"(?P<left>[ -]?LH)?"
_UNIFIED = re.compile(
    rf'(?P<number>#|NO\.? ?)?(?P<d>{_SIZE})"?(?:-{_PITCH})?[ -]?(?P<series>UNR?(?:C|F|EF|S|))'
    rf"(?:[ -](?P<class>[123][AB]))?{_LEFT}",
    re.IGNORECASE,
)
_STUB = re.compile(
    rf'(?P<d>{_SIZE})"?-{_PITCH}[ -]?STUB[ -]ACME(?:[ -]M(?P<modified>[12]))?'
    rf"(?:[ -](?P<class>[234]G))?{_LEFT}",
    re.IGNORECASE,
)
_BUTTRESS = re.compile(
    rf'(?P<d>{_SIZE})"?-{_PITCH}[ -]?(?P<push>PUSH[ -])?BUTT(?:[ -](?P<class>[123][AB]?))?{_LEFT}',
    re.IGNORECASE,
)
_TABLE = "threads/asme_b1_1_sizes"
_LARGE_NUMBERS = ("8", "10", "12")
"""Number sizes that are taken as such without being listed: nobody cuts inches so coarse."""

EXAMPLES = {
    "unified": "1/2-13 UNC-2A, 10-24 UNC-2A or 3/8-24 UNF-2A LH",
    "stub-acme": "1/2-10 STUB ACME, 1/2-10 STUB ACME-3G or 1/2-10 STUB ACME M1-LH",
    "buttress-inch": "2-8 BUTT-2A or 2-8 PUSH-BUTT-2A-LH",
}
"""Form to the designations that it takes."""


def read_inch(plain: str) -> Size | None:
    """Return the parts of a designation; ``None`` if it is none of these standards'.

    Parameters
    ----------
    plain
        The text with single blanks and plain hyphens.

    Raises
    ------
    SizeError
        If its numbers cannot be a thread's.
    """
    tight = re.sub(r" ?- ?", "-", plain)
    for form, pattern in (
        ("unified", _UNIFIED),
        ("stub-acme", _STUB),
        ("buttress-inch", _BUTTRESS),
    ):
        match = pattern.fullmatch(tight)
        if match is not None:
            return _size(form, match, plain)
    return None


def _size(form: str, match: re.Match[str], text: str) -> Size:
    found = match.groupdict()
    pitch, count = _pitch(form, match, text)
    diameter = _diameter(form, match, pitch) * INCH
    if diameter <= 0 or (pitch is not None and pitch <= 0):
        raise SizeError(f"{text[:40]} has a size of nothing", EXAMPLES[form])
    hand: Literal["left"] | None = "left" if match["left"] else None
    modified = found.get("modified")
    return Size(
        form,
        diameter,
        pitch,
        count,
        hand,
        match["class"].upper() if match["class"] else None,
        inch=True,
        variant=f"modified-{modified}" if modified else "push" if found.get("push") else "",
        # UNR says that the screw's root is rounded, as it is here in any case.
        series=(found.get("series") or "").upper().replace("UNR", "UN"),
    )


def _pitch(form: str, match: re.Match[str], text: str) -> tuple[Fraction | None, int | None]:
    """Return pitch [mm] and starts, as far as the designation gives them."""
    if match["tpi"]:
        threads = inches(match["tpi"])
        if threads <= 0:
            raise SizeError(f"{text[:40]} has no threads", EXAMPLES[form])
        return INCH / threads, 1
    if match["p"]:
        return inch_lead(match["p"], match["l"], text)
    return None, None


def _diameter(form: str, match: re.Match[str], pitch: Fraction | None) -> Fraction:
    """Return the nominal diameter [in]."""
    size = match["d"]
    if form != "unified" or not size.isdigit():
        return inches(size)
    rows = [row for row in library.table(_TABLE) if row["size"] == size]
    numbers = [row for row in rows if row["kind"] == "number"]
    if match["number"] and not numbers:
        raise SizeError(f"there is no number size {size}", EXAMPLES[form])
    listed = pitch is not None and any(Fraction(row["tpi"]) == INCH / pitch for row in numbers)
    if numbers and (match["number"] or listed or size in ("0", *_LARGE_NUMBERS)):
        return Fraction(numbers[0]["d_in"])
    return inches(size)
