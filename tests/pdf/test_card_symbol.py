"""The QR symbol on finished cards, read from the printed page as a telephone would."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pypdfium2
import pytest
import zxingcpp

from cardgen import make
from cardgen.card.pen import POINT, QUIET, Picture, Symbol, Text, reach
from cardgen.card.place import arrange
from cardgen.pdf.fonts import metrics
from cardgen.pdf.symbol import identity
from cardgen.pdf.write import to_pdf
from tests.card.synthetic import A5, panels, view

ROOT = Path(__file__).parents[2]
JOB = ROOT / "specs" / "jobs" / "nipping-press-screw.yaml"
BEAR_IT = ("a4-wall", "a5-two-column", "a5-mono", "a6-portrait", "letter", "index-5x8")
TOO_SMALL = ("a6-landscape", "a7-portrait", "id-1-landscape")
DPI = 200


@cache
def cards(template: str) -> tuple[Picture, str]:
    """Return the first two cards of a job, and its code."""
    worked = make.work(JOB, template=template)
    picture = make.picture(worked)
    return replace(picture, pages=picture.pages[:2]), worked.code


@pytest.mark.parametrize("template", BEAR_IT)
@pytest.mark.parametrize("mono", [False, True], ids=["colour", "mono"])
def test_every_card_is_read_back_from_the_page(template: str, mono: bool) -> None:
    picture, code = cards(template)
    document = pypdfium2.PdfDocument(to_pdf(replace(picture, mono=mono)))
    for page in document:
        found = zxingcpp.read_barcodes(page.render(scale=DPI / 72).to_pil())
        assert [each.text for each in found] == [f"{code} CARDGEN {make.__version__}"]
    document.close()


@pytest.mark.parametrize("template", BEAR_IT)
def test_its_cells_are_large_enough_and_nothing_stands_in_its_quiet_zone(template: str) -> None:
    picture, _ = cards(template)
    for page in picture.pages:
        (symbol,) = (mark for mark in page.marks if isinstance(mark, Symbol))
        assert symbol.cell >= 0.35
        left, top, right, bottom = reach(symbol)
        quiet = QUIET * symbol.cell - 1e-6
        left, top, right, bottom = left - quiet, top - quiet, right + quiet, bottom + quiet
        assert left >= 0
        assert top >= 0
        assert right <= page.width
        assert bottom <= page.height
        others = [box[:4] for box in page.boxes if box.kind == "text"] + [
            reach(m) for m in page.marks if not isinstance(m, Text | Symbol)
        ]
        for x1, y1, x2, y2 in others:
            assert x2 <= left or x1 >= right or y2 <= top or y1 >= bottom


@pytest.mark.parametrize("template", TOO_SMALL)
def test_a_card_that_is_too_small_still_bears_its_code(template: str) -> None:
    picture, code = cards(template)
    for page in picture.pages:
        assert not any(isinstance(mark, Symbol) for mark in page.marks)
        assert any(isinstance(mark, Text) and code in mark.text for mark in page.marks)


@pytest.mark.parametrize(("margin", "cell"), [(1.0, None), (1.5, 0.35), (5.0, 0.35)])
def test_it_is_left_out_where_the_margin_is_narrower_than_its_quiet_zone(
    margin: float, cell: float | None
) -> None:
    shape = replace(A5, margin=margin)
    shown = view(shape, symbol=lambda: identity("K7MQ-29XF", "0.1.0"))
    for page in arrange(shown, shape, metrics(), panels(14)).pages:
        found = [mark.cell for mark in page.marks if isinstance(mark, Symbol)]
        assert found == ([] if cell is None else [cell])


def test_it_is_drawn_in_few_strokes() -> None:
    picture, _ = cards("a5-two-column")
    picture = replace(picture, pages=tuple(replace(page, tags=()) for page in picture.pages))
    whole = len(to_pdf(picture))
    bare = tuple(
        replace(page, marks=tuple(m for m in page.marks if not isinstance(m, Symbol)))
        for page in picture.pages
    )
    assert whole - len(to_pdf(replace(picture, pages=bare))) < 1500 * len(picture.pages)


def test_it_is_as_large_on_paper_as_its_mark_says() -> None:
    """The upper edge of a symbol begins with a finder: seven dark cells in a row."""
    picture, _ = cards("a5-two-column")
    (symbol,) = (mark for mark in picture.pages[0].marks if isinstance(mark, Symbol))
    document = pypdfium2.PdfDocument(to_pdf(picture))
    image = document[0].render(scale=600 / 72).to_pil().convert("L")
    document.close()
    pixel = 600 / 72 / POINT
    y = int((symbol.y + 0.5 * symbol.cell) * pixel)
    span = range(
        int((symbol.x - 2 * symbol.cell) * pixel), int((symbol.x + 7.9 * symbol.cell) * pixel)
    )
    dark = [x for x in span if image.getpixel((x, y)) < 128]
    assert dark == list(range(dark[0], dark[-1] + 1))
    assert dark[0] == pytest.approx(symbol.x * pixel, abs=1.5)
    assert len(dark) == pytest.approx(7 * symbol.cell * pixel, abs=1.5)
