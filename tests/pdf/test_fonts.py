"""The typeface measures as another reader of the same file does."""

from __future__ import annotations

from pathlib import Path

import pytest
from font_source_sans_pro import font_directory
from PIL import ImageFont

from cardgen import library
from cardgen.card.pen import POINT, GlyphError, Weight
from cardgen.card.symbols import SIGNS
from cardgen.pdf.fonts import DESCENT, FILES, font, metrics

WEIGHTS: tuple[Weight, ...] = ("regular", "bold")


def drawn(weight: Weight) -> ImageFont.FreeTypeFont:
    path = Path(font_directory) / FILES[weight]
    return ImageFont.truetype(str(path), 1000, layout_engine=ImageFont.Layout.BASIC)


@pytest.mark.parametrize("weight", WEIGHTS)
@pytest.mark.parametrize("char", "0Aag§φ×−†½é¹")
def test_widths_are_those_that_freetype_reads(weight: Weight, char: str) -> None:
    expected = drawn(weight).getlength(char) / 1000 * 12 * POINT
    assert metrics().width(char, 12, weight) == pytest.approx(expected, abs=0.001 * 12 * POINT)


@pytest.mark.parametrize("weight", WEIGHTS)
def test_figures_have_one_width(weight: Weight) -> None:
    assert len({metrics().width(digit, 9, weight) for digit in "0123456789"}) == 1


@pytest.mark.parametrize("weight", WEIGHTS)
def test_capitals_and_descenders_are_as_high_and_deep_as_drawn(weight: Weight) -> None:
    face = drawn(weight)
    top = face.getbbox("H", anchor="ls")[1]
    assert metrics().ascent(12) == pytest.approx(-top / 1000 * 12 * POINT, rel=0.01)
    bottom = face.getbbox("gjpqy", anchor="ls")[3]
    assert bottom / 1000 <= DESCENT < bottom / 1000 + 0.02


@pytest.mark.parametrize("weight", WEIGHTS)
def test_widths_add_up_and_grow_with_size(weight: Weight) -> None:
    one, other = metrics().width("Tr 28", 9, weight), metrics().width("×5", 9, weight)
    assert metrics().width("Tr 28×5", 9, weight) == pytest.approx(one + other)
    assert metrics().width("Tr 28", 18, weight) == pytest.approx(2 * one)


def test_a_missing_glyph_is_named() -> None:
    with pytest.raises(GlyphError, match=r"U\+2300"):
        metrics().width("⌀ 28", 9, "regular")


def test_a_font_is_read_once() -> None:
    assert font("regular") is font("regular")


def test_the_list_of_characters_for_the_door_is_what_a_card_can_write() -> None:
    """``data/card/characters.csv`` lets a spec be refused before a card is drawn from it."""
    listed = {
        chr(code)
        for row in library.table("card/characters")
        for code in range(int(row["first"][2:], 16), int(row["last"][2:], 16) + 1)
    }
    held = {chr(code) for code in font("regular").face.charToGlyph if code >= 32}
    writes = {char for char in held if metrics().covers(char)} | set(SIGNS)
    assert listed == {char for char in writes if char.isprintable() or char == "\u00a0"}
