"""Can the card write this text? Its typeface does not have every sign there is."""

from __future__ import annotations

from functools import cache

from cardgen.library import table


@cache
def _ranges() -> tuple[range, ...]:
    return tuple(
        range(int(row["first"][2:], 16), int(row["last"][2:], 16) + 1)
        for row in table("card/characters")
    )


def unwritable(text: str) -> str:
    """Return the first character of a text that a card cannot write; empty if there is none.

    Examples
    --------
    >>> unwritable("Spindelmutter ⌀ 28, 30° Größe")
    ''
    >>> unwritable("螺纹")
    '螺'
    """
    if text.isascii():
        return ""  # spares the table for most files
    ranges = _ranges()
    known = (c for c in text if not c.isspace())
    return next((c for c in known if not any(ord(c) in span for span in ranges)), "")
