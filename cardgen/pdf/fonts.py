"""The card's typeface: where its files are, how wide its letters run, and what it cannot write.

Source Sans Pro (SIL Open Font License 1.1) comes from the PyPI package ``font-source-sans-pro``;
no font file lies in this repository. Its figures all have one width, so that columns of numbers
stand under one another.
"""

from __future__ import annotations

from functools import cache, lru_cache
from pathlib import Path

from font_source_sans_pro import font_directory
from reportlab.pdfbase.ttfonts import TTFont

from cardgen.card.pen import POINT, GlyphError, Weight

FILES = {"regular": "SourceSansPro-Regular.ttf", "bold": "SourceSansPro-Semibold.ttf"}
"""Weight to file of the installed package; the semibold stays open when it is printed small."""

DESCENT = 0.23
"""Depth of the deepest lower-case letter below the base line [em]; a test measures it."""


@cache
def font(weight: Weight) -> TTFont:
    """Return a weight of the typeface, read once in a process.

    Subsets are kept by document, so that one font object serves card after card. Codes are given
    out in the order in which characters first occur: the subset holds nothing unused.
    """
    path = Path(font_directory) / FILES[weight]
    return TTFont(path.stem, str(path), asciiReadable=False, shapable=False)


class Typeface:
    """How wide and how high text is: the ``Metrics`` that a picture is laid out with."""

    def __init__(self) -> None:
        # Texts that come again, on one card or on the next; bounded, for binders of thousands.
        self._em = lru_cache(maxsize=16_384)(_measured)
        self._capital = float(font("regular").face.capHeight) / 1000 * POINT
        self._descent = DESCENT * POINT

    def width(self, text: str, size: float, weight: Weight) -> float:
        """Return the advance width of a line of text [mm] at a size [pt].

        Raises
        ------
        GlyphError
            If the typeface has no glyph for a character of the text.
        """
        return self._em(text, weight) * size * POINT

    def covers(self, char: str) -> bool:
        """Whether the typeface has a glyph for a character, in both weights."""
        return all(ord(char) in font(weight).face.charToGlyph for weight in ("regular", "bold"))

    def ascent(self, size: float) -> float:
        """Return the height of a capital letter above the base line [mm]."""
        return self._capital * size

    def descent(self, size: float) -> float:
        """Return the depth of a descender below the base line [mm], positive."""
        return self._descent * size


@cache
def _widths(weight: Weight) -> dict[str, float]:
    """Return the advance width of each character that the typeface has [em/1000]."""
    return {chr(code): width for code, width in font(weight).face.charWidths.items()}


def _measured(text: str, weight: Weight) -> float:
    """Return the advance width of a line of text [em]."""
    widths = _widths(weight)
    try:
        return float(sum([widths[char] for char in text])) / 1000
    except KeyError:
        missing = sorted({char for char in text if char not in widths})
        named = ", ".join(f"{char!r} (U+{ord(char):04X})" for char in missing)
        msg = f"the typeface has no glyph for {named} in {text!r}"
        raise GlyphError(msg) from None


@cache
def metrics() -> Typeface:
    """Return the one typeface of the process; its measured widths are shared by all cards."""
    return Typeface()
