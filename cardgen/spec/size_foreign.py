"""Designations of threads that are not worked out here, and slips of the pen: what they are.

A maker who copies a drawing is told which standard the words belong to, not merely that they are
unknown.
"""

from __future__ import annotations

import re

from cardgen.spec.size_parts import SizeError

_NUMBER = r"(?:#|NO\.? ?)?[0-9./ -]*[0-9]"

_FOREIGN: tuple[tuple[str, str, str], ...] = (
    (
        r"(?:RP|RC|R|BSPT) ?[0-9].*|[0-9./ -]+ ?(?:BSPT|R[PC]?)",
        "is a pipe thread for joints made tight on the thread (ISO 7-1), which is not worked out"
        " here",
        "G 1/2 for a joint that a washer makes tight",
    ),
    (
        r"(?:[0-9./ -]+)?(?:NPTF?|NPSM?|NPSF|ANPT)\b.*",
        "is an American pipe thread (ASME B1.20.1), which is not worked out here",
        "form: custom with flanks of 30 deg for a parallel one",
    ),
    (
        r"MJ ?[0-9].*",
        "is an aerospace thread (ISO 5855), whose root is rounded otherwise and whose limits are"
        " not worked out here",
        "M instead of MJ for the general purpose thread",
    ),
    (
        r".*\bUNJ[A-Z]*\b.*",
        "is an aerospace thread (ASME B1.15), whose root is rounded otherwise and whose limits are"
        " not worked out here",
        "UN, UNC, UNF, UNEF or UNS for the general purpose thread",
    ),
    (
        rf"{_NUMBER} ?(?:NC|NF|NEF|NS|N)(?:[ -][1-4])?",
        "is in the words of the American National standard, which the Unified one replaced",
        "UNC for NC and UNF for NF, such as 1/4-20 UNC-2A; the basic sizes are the same",
    ),
    (
        r".*\b[0-9][GH](?:[0-9][GH])?/[0-9][a-h].*",
        "names nut and screw in one: the classes of a fit",
        "this part's class here, the other's as class under mate",
    ),
    (
        r"(?:M|TR|S) ?[0-9].*-(?:S|N|L|[0-9]+)",
        "ends with a group or length of engagement",
        "leave that out; write the engagement as length under mate",
    ),
    (
        r"(?:TR|M|S|RD) ?[0-9][0-9.,]* ?X ?[0-9.,/]+ (?:[0-9][A-Z])+",
        "has no hyphen before its class",
        "a hyphen there, such as Tr 28x5-7e",
    ),
    (
        r"(?:TR|M|S) ?[0-9][0-9.,]* ?[*/] ?[0-9.,]+.*",
        "has no x between diameter and pitch",
        "an x there, such as Tr 28x5",
    ),
    (
        r"RD ?[0-9][0-9.,]* ?X ?[0-9.,]+(?: ?LH)?(?:-.*)?",
        "has a pitch in millimetres: DIN 405 writes it as a part of an inch",
        "Rd 40x1/6, or diameter and pitch",
    ),
    (
        rf"{_NUMBER}-[0-9]{{1,2}}(?:[ -][123][AB])?",
        "does not say which thread it is",
        "the series or form after it, such as 1/4-20 UNC or 1-5 ACME",
    ),
)
"""Pattern, what it is, and what to write instead; the first that fits is told."""


def refuse_foreign(plain: str) -> None:
    """Raise a fault that says what a designation is, if it is known for something else.

    Raises
    ------
    SizeError
        With what to write instead.
    """
    for pattern, what, instead in _FOREIGN:
        if re.fullmatch(pattern, plain, re.IGNORECASE):
            raise SizeError(f"{plain[:40]} {what}", mend=instead)
