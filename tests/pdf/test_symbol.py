"""The QR symbol, read back by a decoder of its own."""

from __future__ import annotations

import numpy as np
import pytest
import zxingcpp
from hypothesis import given
from hypothesis import strategies as st

from cardgen.pdf.symbol import QUIET, symbol

WRITABLE = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"


def decoded(cells: tuple[tuple[bool, ...], ...]) -> str:
    dark = np.pad(np.array(cells), QUIET)
    pixels = np.kron(np.where(dark, 0, 255), np.ones((6, 6))).astype(np.uint8)
    found = zxingcpp.read_barcodes(pixels)
    assert len(found) == 1
    return str(found[0].text)


@given(st.text(WRITABLE, min_size=1, max_size=40))
def test_what_is_put_in_is_read_out(text: str) -> None:
    assert decoded(symbol(text)) == text


def test_it_bears_damage() -> None:
    cells = [list(row) for row in symbol("K7MQ-29XF CARDGEN 0.1.0")]
    for row in cells[10:14]:
        row[10:16] = [True] * 6  # a blot of 24 of its 625 cells
    assert decoded(tuple(map(tuple, cells))) == "K7MQ-29XF CARDGEN 0.1.0"


@pytest.mark.parametrize("text", ["", "abc", "ÄÖ", "A\nB", "A_B"])
def test_other_characters_are_refused(text: str) -> None:
    with pytest.raises(ValueError, match="closed alphabet"):
        symbol(text)
