"""Signs stand in for what the typeface lacks, and only for that."""

from __future__ import annotations

import pytest

from cardgen.card.pen import GlyphError, Path, Pen, Text
from cardgen.card.symbols import SIGNS
from cardgen.pdf.fonts import metrics


@pytest.mark.parametrize("char", SIGNS)
def test_each_sign_is_missing_from_the_typeface(char: str) -> None:
    assert not metrics().covers(char)


@pytest.mark.parametrize("char", SIGNS)
def test_each_sign_stays_within_its_width_and_a_line_of_type(char: str) -> None:
    sign = SIGNS[char]
    for stroke in sign.strokes:
        for x, y in stroke.points:
            assert 0 <= x <= sign.advance
            assert -0.23 <= y <= 0.80


@pytest.mark.parametrize("char", "×÷±≤≥≈°′″µ½¼¾†·–−αβγλφ→←↑↓▲√₁₂₃¹²³…")
def test_what_cards_use_besides_is_in_both_weights(char: str) -> None:
    assert metrics().covers(char)


def test_a_sign_in_a_text_is_drawn_between_its_runs() -> None:
    pen = Pen(metrics(), 7.0)
    width = pen.text(10, 20, "at 110 min⁻¹ ⌀ 5", 9.0)
    texts = [mark for mark in pen.marks if isinstance(mark, Text)]
    assert [text.text for text in texts] == ["at 110 min", "¹ ", " 5"]
    assert sum(isinstance(mark, Path) for mark in pen.marks) == 3
    assert width == pytest.approx(pen.width("at 110 min⁻¹ ⌀ 5", 9.0))
    ends = [text.x + pen.width(text.text, 9.0) for text in texts]
    assert ends[-1] == pytest.approx(10 + width)


def test_a_sign_turns_with_its_text() -> None:
    flat, upright = Pen(metrics(), 7.0), Pen(metrics(), 7.0)
    flat.text(0, 0, "⌀8", 9.0)
    upright.text(0, 0, "⌀8", 9.0, angle=90)
    for one, other in zip(flat.marks, upright.marks, strict=True):
        if isinstance(one, Path) and isinstance(other, Path):
            for (x, y), (u, v) in zip(one.points, other.points, strict=True):
                assert (u, v) == pytest.approx((y, -x))


@pytest.mark.parametrize("text", ["漢", "mm\u200b", "\U0001f600", "a\ud800"])
def test_a_character_that_nothing_can_draw_raises(text: str) -> None:
    with pytest.raises(GlyphError, match=r"U\+"):
        Pen(metrics(), 7.0).text(0, 0, text, 9.0)
