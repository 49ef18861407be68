"""What comes out is a PDF of the right size, with the typeface inside, the same every time."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from dataclasses import replace
from io import BytesIO
from pathlib import Path

import pypdfium2
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from cardgen.card.pen import (
    POINT,
    SIGNAL,
    TINT,
    Ink,
    Page,
    Pen,
    Picture,
    Text,
)
from cardgen.card.place import arrange
from cardgen.pdf.fonts import metrics
from cardgen.pdf.write import to_pdf
from tests.card.synthetic import A5, A6, SHAPES, Shape, panels, view

ROOT = Path(__file__).parents[2]


def picture(shape: Shape = A5, rows: int = 14) -> Picture:
    return arrange(view(shape), shape, metrics(), panels(rows))


def page(pen: Pen, width: float = 100.0, height: float = 60.0) -> Picture:
    return Picture((Page(width, height, tuple(pen.marks), ()),), "title", "subject", pen.mono)


def read(pdf: bytes) -> PdfReader:
    return PdfReader(BytesIO(pdf), strict=True)


@pytest.mark.parametrize("shape", SHAPES, ids=lambda s: f"{s.width:g}x{s.height:g}")
def test_the_page_box_is_the_card(shape: Shape) -> None:
    made = picture(shape)
    reader = read(to_pdf(made))
    assert len(reader.pages) == len(made.pages)
    for sheet in reader.pages:
        assert [float(edge) for edge in sheet.mediabox] == pytest.approx(
            [0, 0, shape.width / POINT, shape.height / POINT], abs=1e-3
        )


def test_only_our_typeface_is_there_and_it_is_a_subset_inside() -> None:
    reader = read(to_pdf(picture()))
    fonts = [
        font.get_object()
        for sheet in reader.pages
        for font in sheet["/Resources"]["/Font"].values()
    ]
    assert fonts
    for font in fonts:
        assert re.fullmatch(r"/[A-Z]{6}\+SourceSansPro-(Regular|Semibold)", font["/BaseFont"])
        assert font["/FontDescriptor"]["/FontFile2"].get_data()
        assert "/ToUnicode" in font


def test_the_subset_holds_only_what_the_card_writes() -> None:
    pen = Pen(metrics(), 7.0)
    pen.text(10, 10, "ab", 9.0)
    small = len(to_pdf(page(pen)))
    pen.text(10, 20, "cdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ", 9.0)
    assert len(to_pdf(page(pen))) > small + 3000


def test_every_text_is_read_back() -> None:
    made = picture(A6, 40)
    for drawn, sheet in zip(made.pages, read(to_pdf(made)).pages, strict=True):
        found = sheet.extract_text()
        for mark in drawn.marks:
            if isinstance(mark, Text) and not mark.angle:
                assert mark.text.strip() in found


@settings(max_examples=30, deadline=None)
@given(st.text(st.characters(min_codepoint=33, max_codepoint=0x17F), min_size=1, max_size=40))
def test_any_text_is_read_back(text: str) -> None:
    if not all(metrics().covers(char) for char in text):
        return
    pen = Pen(metrics(), 7.0)
    pen.text(5, 10, text, 9.0)
    found = read(to_pdf(page(pen, 300))).pages[0].extract_text()
    # A no-break space, which is written as a space, and a soft hyphen are not told apart.
    clean = str.maketrans({"\u00a0": " ", "\u00ad": "-"})
    assert found.translate(clean).strip() == text.translate(clean).strip()


def test_more_characters_than_one_font_can_hold() -> None:
    every = "".join(chr(code) for code in range(33, 0x250) if metrics().covers(chr(code)))
    assert len(every) > 256
    pen = Pen(metrics(), 7.0)
    for row in range(0, len(every), 30):
        pen.text(5, 5 + row / 10, every[row : row + 30], 9.0)
    found = read(to_pdf(page(pen, 300))).pages[0].extract_text()
    assert set(every) - set(found) <= {"\u00a0", "\u00ad"}


def test_same_marks_same_bytes() -> None:
    assert to_pdf(picture()) == to_pdf(picture())


SCRIPT = """
import hashlib
from cardgen.pdf.write import to_pdf
from tests.pdf.test_write import picture
pdf = to_pdf(picture(), attachments={"b.yaml": b"1", "a.yaml": b"2", "record.json": b"{}"})
print(hashlib.sha256(pdf).hexdigest())
"""


def test_same_bytes_in_any_surroundings() -> None:
    seen = set()
    for seed, zone, locale, epoch in (
        ("0", "UTC", "C", ""),
        ("1", "Asia/Kolkata", "de_DE.UTF-8", "1"),
        ("4711", "America/New_York", "tr_TR.UTF-8", "2000000000"),
    ):
        environment = os.environ | {
            "PYTHONHASHSEED": seed,
            "TZ": zone,
            "LC_ALL": locale,
            "PYTHONPATH": str(ROOT),
        }
        environment |= {"SOURCE_DATE_EPOCH": epoch} if epoch else {}
        run = subprocess.run(
            [sys.executable, "-c", SCRIPT],
            env=environment,
            capture_output=True,
            text=True,
            check=True,
            cwd=ROOT,
        )
        seen.add(run.stdout)
    assert len(seen) == 1


def test_no_date_is_in_the_file_and_the_title_is() -> None:
    reader = read(to_pdf(picture()))
    assert reader.metadata is not None
    assert reader.metadata.title == "Main screw, nipping press - Tr 28 × 5 LH - 7e"
    assert reader.metadata.subject == "main-screw K7MQ-29XF"
    assert reader.metadata.creation_date is None
    assert reader.metadata.modification_date is None
    assert reader.trailer["/Root"]["/Lang"] == "en-GB"


def test_pages_are_labelled_as_the_cards_are() -> None:
    made = picture(A6, 40)
    assert read(to_pdf(made)).page_labels == [f"card {n + 1}" for n in range(len(made.pages))]


def test_other_words_give_another_file_identity() -> None:
    one, other = picture(), replace(picture(), subject="other")
    assert read(to_pdf(one)).trailer["/ID"] != read(to_pdf(other)).trailer["/ID"]


def strokes(pdf: bytes) -> list[tuple[float, float, float, float]]:
    """Return the single straight lines of the first page [points]."""
    content = read(pdf).pages[0].get_contents()
    assert content is not None
    number = r"(-?[\d.]+)"
    pattern = rf"{number} {number} m\n{number} {number} l\nS\n"
    found = re.findall(pattern, content.get_data().decode("latin-1") + "\n")
    return [tuple(float(part) for part in line) for line in found]  # type: ignore[misc]


@pytest.mark.parametrize("shape", SHAPES, ids=lambda s: f"{s.width:g}x{s.height:g}")
def test_the_check_bar_is_50_mm_long_or_20_on_a_bank_card(shape: Shape) -> None:
    told = 50.0 if shape.width - 2 * shape.margin >= 50.0 else 20.0
    lengths = [
        abs(x2 - x1) * POINT for x1, y1, x2, y2 in strokes(to_pdf(picture(shape))) if y1 == y2
    ]
    assert any(length == pytest.approx(told, abs=0.005) for length in lengths)


def pixels(pdf: bytes, dpi: float = 110) -> tuple[int, int, list[tuple[int, int, int]]]:
    document = pypdfium2.PdfDocument(pdf)
    image = document[0].render(scale=dpi / 72).to_pil().convert("RGB")
    document.close()
    flat = image.tobytes()
    triples = list(zip(flat[::3], flat[1::3], flat[2::3], strict=True))
    return image.width, image.height, triples


def test_it_renders_at_the_right_size_with_ink_only_within_the_margins() -> None:
    width, height, drawn = pixels(to_pdf(picture()))
    assert abs(width - 148 / 25.4 * 110) <= 1
    assert abs(height - 210 / 25.4 * 110) <= 1
    margin = int(5.5 / 25.4 * 110)
    inked = [(n % width, n // width) for n, colour in enumerate(drawn) if max(colour) < 200]
    assert len(inked) > 2000
    assert margin <= min(x for x, _ in inked)
    assert max(x for x, _ in inked) <= width - margin
    assert margin <= min(y for _, y in inked)
    assert max(y for _, y in inked) <= height - margin


def test_a_monochrome_card_has_no_colour_and_a_coloured_one_has() -> None:
    for mono in (False, True):
        _, _, drawn = pixels(to_pdf(replace(picture(), mono=mono)))
        coloured = [colour for colour in drawn if max(colour) - min(colour) > 40]
        assert bool(coloured) != mono


def test_marks_land_where_they_were_put() -> None:
    pen = Pen(metrics(), 7.0)
    pen.rect(10, 10, 30, 20, stroke=None, fill=Ink(1.0, 0.0, 0.0, 0.5))
    pen.disc(60, 40, 5, stroke=None, fill=Ink(0.0, 0.0, 1.0, 0.5))
    pen.arc(80, 20, 10, 90, 90, stroke=SIGNAL, width=1.0)
    pen.path([(5, 55), (95, 55)], stroke=TINT, width=0.5, dash=(2.0, 1.0))
    width, _, drawn = pixels(to_pdf(page(pen)), 254)

    def at(x: float, y: float) -> tuple[int, int, int]:
        return drawn[int(y * 10) * width + int(x * 10)]

    assert at(20, 15) == (255, 0, 0)
    assert at(20, 25) == (255, 255, 255)
    assert at(60, 40) == (0, 0, 255)
    assert at(64.8, 40) == (0, 0, 255)
    assert at(64, 44) == (255, 255, 255)
    # The quarter from straight up to the left, anticlockwise.
    assert at(80 - 7.07, 20 - 7.07)[0] > 150
    assert at(80 - 7.07, 20 - 7.07)[1] < 60
    assert at(80 + 7.07, 20 - 7.07) == (255, 255, 255)
    assert at(6, 55) != (255, 255, 255)
    assert at(7.5, 55) == (255, 255, 255)


def test_turned_and_anchored_text_stands_where_its_box_says() -> None:
    for anchor in ("start", "middle", "end"):
        for angle in (0.0, 90.0, 30.0):
            pen = Pen(metrics(), 7.0)
            pen.text(50, 30, "HHHH", 14.0, anchor=anchor, angle=angle)  # type: ignore[arg-type]
            width, _, drawn = pixels(to_pdf(page(pen)), 127)
            inked = [(n % width / 5, n // width / 5) for n, c in enumerate(drawn) if max(c) < 128]
            (box,) = pen.boxes
            assert box.left - 0.4 <= min(x for x, _ in inked)
            assert max(x for x, _ in inked) <= box.right + 0.4
            assert box.top - 0.4 <= min(y for _, y in inked)
            assert max(y for _, y in inked) <= box.bottom + 0.4
            assert min(x for x, _ in inked) < box.left + 2.5
