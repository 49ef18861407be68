"""What people write who mean something else: never taken for it, always pointed out."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping, Sequence

from cardgen.core.problems import nearest
from cardgen.spec.shape import Line

_WORDS: Mapping[str, str] = {
    # hand, surface
    "lh": "left",
    "l": "left",
    "rh": "right",
    "r": "right",
    "nut": "internal",
    "female": "internal",
    "screw": "external",
    "male": "external",
    # switches
    "on": "true",
    "y": "true",
    "off": "false",
    "n": "false",
    # forms, by the letters of their designations and by older names
    "tr": "trapezoidal",
    "m": "metric",
    "unc": "unified, with series: UNC",
    "unf": "unified, with series: UNF",
    "bsw": "whitworth, with series: BSW",
    "bsf": "whitworth, with series: BSF",
    "bsp": "pipe-parallel",
    "g": "pipe-parallel",
    "rd": "knuckle",
    "round": "knuckle",
    "s": "buttress-metric",
    "buttress": "buttress-metric or buttress-inch",
    "v": "metric, unified or whitworth",
    # holding and the thread's end
    "centres": "between-centres",
    "centers": "between-centres",
    "fixed": "steady",
    "travelling": "follow",
    "undercut": "groove",
    "relief": "groove",
    # heat
    "quench": "harden",
    "draw": "temper",
    "blue": "blacken, by heat, or cold-blue",
    "bluing": "blacken, by heat, or cold-blue",
    "blueing": "blacken, by heat, or cold-blue",
}
"""Word in small letters to the known one, and what goes with it."""

_KEYS: Mapping[str, str] = {
    "lead": "write pitch and starts; the lead is one times the other",
    "tpi": "write pitch: 8 tpi",
    "od": "write diameter",
    "speed": "leave it out; the speed is chosen from those of the machine",
    "rpm": "leave it out; the speed is chosen from those of the machine",
    "depth": "leave it out; it follows from form and pitch",
    "taper": "leave it out; only parallel threads are worked out",
}


def word(text: str, known: Sequence[str]) -> str:
    """Return a mend for a word that is not known, or ``""``."""
    meant = _WORDS.get(text.lower(), "")
    if re.split(r"[, ]", meant)[0] not in known:
        meant = nearest(text, known)
    return f"did you mean {meant}?" if meant else ""


def key(text: str) -> str:
    """Return a mend for a key that is not known, where another says it, or ``""``."""
    return _KEYS.get(text.lower(), "")


def line(text: str, shape: Line) -> str:
    """Return a mend for a text that may not stand as it is written, or ``""``."""
    if not text:
        return "write something; a text with # or a colon in it goes in quotes"
    plain = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode()
    plain = re.sub(r"\.ya?ml$", "", plain)
    tries = (
        text.replace("\\", "/"),
        plain,
        f"{text}.yaml",
        re.sub(r"[^A-Za-z0-9]+", "-", plain).strip("-"),
    )
    fits = (
        each
        for each in tries
        if each and len(each) <= shape.longest and re.fullmatch(shape.pattern, each)
    )
    near = next(fits, "") if shape.pattern else ""
    return f"write {near}" if near else ""
