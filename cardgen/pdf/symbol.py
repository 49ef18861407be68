"""A QR symbol as rows of cells; the only code that knows the library that makes it.

The symbol holds what a reader must know to find the card again, in the symbol's own closed
alphabet (ISO/IEC 18004, alphanumeric mode), so that any reader shows it as plain text.
"""

from __future__ import annotations

import re
from functools import lru_cache

from cardgen.card.pen import Cells

_WRITABLE = re.compile(r"[0-9A-Z $%*+./:-]+")


def identity(code: str, version: str) -> Cells:
    """Return the symbol of a card: its short code, and who reads it."""
    return symbol(f"{code} CARDGEN {version}".upper())


@lru_cache(maxsize=8)
def symbol(text: str) -> Cells:
    """Return the symbol of a text, at the level that bears 15 % of damage.

    Parameters
    ----------
    text
        Capitals, digits, blanks and ``$%*+-./:``.

    Raises
    ------
    ValueError
        If another character is in it.
    """
    import segno

    if not _WRITABLE.fullmatch(text):
        msg = f"a symbol cannot hold {text!r} in its closed alphabet"
        raise ValueError(msg)
    code = segno.make_qr(text, error="m", boost_error=False)
    return Cells(text, tuple(tuple(bool(cell) for cell in row) for row in code.matrix))
