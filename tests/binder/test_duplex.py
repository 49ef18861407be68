"""Printed on both sides and cut: where fronts and backs come to lie, read from the finished file.

What is expected is worked out from paper alone: a sheet that is turned over its long edge, held
against the light, and cards that turn over like the pages of a book.
"""

from __future__ import annotations

from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader

from cardgen import bindery
from cardgen.binder.entry import Entry
from cardgen.bindery import ImposeError, Style
from cardgen.card.pen import BLACK, Page, Picture, Text
from cardgen.colour_chart import shape
from cardgen.spec.job import Template

ROOT = Path(__file__).parents[2]
TEMPLATES = sorted(path.stem for path in (ROOT / "templates").glob("*.yaml"))
# ISO 216 and ANSI, as they are bought [mm].
SHEETS = {"a4": (210.0, 297.0), "a3": (297.0, 420.0), "letter": (215.9, 279.4)}
PER_PT = 25.4 / 72
CARDS = 5
IN, DOWN = 9.0, 7.0
"""Where a card's number is written, from its upper and its lower left corner [mm]."""


def numbered(template: Template) -> Picture:
    """Return blank cards with ``n`` and the number at the top left, ``u`` at the bottom left."""
    w, h = template.width, template.height
    pages = [
        Page(
            w,
            h,
            tuple(
                Text(IN, y, f"{word}{number}", 6.0, "regular", "start", BLACK, 0.0)
                for word, y in (("n", DOWN), ("u", h - DOWN))
            ),
            (),
        )
        for number in range(1, CARDS + 1)
    ]
    return Picture(tuple(pages), "cards", "cards", template.ink == "mono")


def bound(template: Template, sheet: str, *, both: bool = True) -> PdfReader:
    binder = bindery.begin(Style(sheet=bindery.sheet(sheet), both=both, notes=0))
    binder.take(
        Entry("job", "Job", "code", "Lathe", "Steel", False, {}), numbered(template), template
    )
    return PdfReader(BytesIO(bindery.finish(binder, "00" * 32)), strict=True)


def found(reader: PdfReader) -> dict[str, tuple[int, float, float]]:
    """Return the side on which each number stands, and where: from the top left [mm]."""
    where: dict[str, tuple[int, float, float]] = {}
    for side, page in enumerate(reader.pages):
        high = float(page.mediabox.height) * PER_PT

        def visit(
            text: str, cm: list[float], tm: list[float], *_: object, side=side, high=high
        ) -> None:
            word = text.strip()
            if word[:1] in {"n", "u"} and word[1:].isdigit():
                a, b, c, d, e, f = cm
                x, y = tm[4], tm[5]
                place = side, (a * x + c * y + e) * PER_PT, high - (b * x + d * y + f) * PER_PT
                assert where.setdefault(word, place) == place, "each card stands once"

        page.extract_text(visitor_text=visit)
    return where


def size(reader: PdfReader, side: int) -> tuple[float, float]:
    box = reader.pages[side].mediabox
    return float(box.width) * PER_PT, float(box.height) * PER_PT


def fits(template: Template, sheet: str) -> bool:
    card = sorted((template.width, template.height))
    return all(edge <= room + 0.05 for edge, room in zip(card, SHEETS[sheet], strict=True))


@pytest.mark.parametrize("sheet", SHEETS)
@pytest.mark.parametrize("name", TEMPLATES)
def test_each_card_turns_over_like_a_page(name: str, sheet: str) -> None:
    template = shape(name, ROOT)
    if not fits(template, sheet):
        numbers = rf"{template.width:g} x {template.height:g} mm does not fit a sheet of "
        with pytest.raises(ImposeError, match=numbers + r"[\d.]+ x [\d.]+ mm"):
            bound(template, sheet)
        return
    reader = bound(template, sheet)
    where = found(reader)
    assert set(where) == {f"{word}{n}" for word in "nu" for n in range(1, CARDS + 1)}
    for number in range(1, CARDS + 1, 2):
        side, x, y = where[f"n{number}"]
        # The front stands upright, wholly on the sheet.
        assert where[f"u{number}"] == (
            side,
            pytest.approx(x, abs=0.01),
            pytest.approx(y + template.height - 2 * DOWN, abs=0.01),
        )
        wide, high = size(reader, side)
        assert sorted((wide, high)) == pytest.approx(SHEETS[sheet], abs=0.01)
        left, top = x - IN, y - DOWN
        assert min(left, top) > -0.05
        assert max(left + template.width - wide, top + template.height - high) < 0.05
        assert side % 2 == 0, "fronts are printed first"
        if number == CARDS:
            continue
        for word in "nu":
            behind, bx, by = where[f"{word}{number + 1}"]
            assert behind == side + 1
            # Turned over its long edge, and looked at through the paper.
            seen = (bx, high - by) if wide > high else (wide - bx, by)
            # A page's left edge lies behind the right edge of the page before it.
            _, fx, fy = where[f"{word}{number}"]
            assert seen == pytest.approx((fx + template.width - 2 * IN, fy), abs=0.01)


@pytest.mark.parametrize("name", ["a7-portrait", "index-5x8"])
def test_one_sided_sheets_take_the_cards_in_order(name: str) -> None:
    where = found(bound(shape(name, ROOT), "a3", both=False))
    order = sorted(range(1, CARDS + 1), key=lambda n: (where[f"n{n}"][0], where[f"n{n}"][2], n))
    assert order == list(range(1, CARDS + 1))
