"""The QR symbol, read back by a decoder of its own."""

from __future__ import annotations

import numpy as np
import pytest
import zxingcpp
from hypothesis import given
from hypothesis import strategies as st

from cardgen.card.pen import QUIET, Cells
from cardgen.pdf.symbol import identity, symbol

WRITABLE = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"


def decoded(cells: Cells) -> str:
    dark = np.pad(np.array(cells.rows), QUIET)
    pixels = np.kron(np.where(dark, 0, 255), np.ones((6, 6))).astype(np.uint8)
    found = zxingcpp.read_barcodes(pixels)
    assert len(found) == 1
    return str(found[0].text)


@given(st.text(WRITABLE, min_size=1, max_size=40))
def test_what_is_put_in_is_read_out(text: str) -> None:
    assert decoded(symbol(text)) == text


def test_it_bears_damage() -> None:
    whole = symbol("K7MQ-29XF CARDGEN 0.1.0")
    cells = [list(row) for row in whole.rows]
    for row in cells[10:14]:
        row[10:16] = [True] * 6  # a blot of 24 of its 625 cells
    assert decoded(Cells("", tuple(map(tuple, cells)))) == whole.text


@pytest.mark.parametrize("text", ["", "abc", "ÄÖ", "A\nB", "A_B"])
def test_other_characters_are_refused(text: str) -> None:
    with pytest.raises(ValueError, match="closed alphabet"):
        symbol(text)


def test_any_version_of_ours_can_be_written() -> None:
    told = "K7MQ-29XF CARDGEN 1.2.0RC1.DEV3+G1A2B"
    assert decoded(identity("K7MQ-29XF", "1.2.0rc1.dev3+g1a2b")) == told
