"""The binder as a file: what a reader finds in it, and that it is the cards and nothing else."""

from __future__ import annotations

import re
import tracemalloc
from dataclasses import replace
from io import BytesIO
from itertools import pairwise
from pathlib import Path

import numpy as np
import pypdfium2
import pytest
from pypdf import PageObject, PdfReader

from cardgen import bindery, machine_chart, make
from cardgen.binder.change import Change
from cardgen.binder.entry import entry
from cardgen.binder.stale import Moved
from cardgen.bindery import Style
from cardgen.card.pen import Page, Picture
from cardgen.colour_chart import shape
from cardgen.core.words import ENGLISH, Words
from cardgen.make import Worked

ROOT = Path(__file__).parents[2]
NAMES = ("nipping-press-screw", "cider-press-spindle", "ratchet-stud", "book-press-screw")
PER_MM = 2.0
CHART = "Chart of every pitch it cuts"
HEADINGS = {
    "Set-up": "Set-up",
    "Infeed": "Infeed",
    "Bend": "Bend and strength",
    "Cutter": "Cutter",
    "Measuring": "Measuring",
    "Mate": "Mate",
    "Load": "Load",
    "Heat": "Heat treatment",
}
"""What the index calls a panel, and what stands above it on the card."""


@pytest.fixture(scope="module")
def works() -> list[Worked]:
    return [make.work(ROOT / "specs" / "jobs" / f"{name}.yaml") for name in NAMES]


def bound(works: list[Worked], style: Style) -> bytes:
    binder = bindery.begin(style)
    for worked in works:
        bindery.take(binder, worked)
    return bindery.finish(binder, "00" * 32)


@pytest.fixture(scope="module")
def plain(works: list[Worked]) -> bytes:
    return bound(works, Style())


@pytest.fixture(scope="module")
def on_a4(works: list[Worked]) -> bytes:
    return bound(works, Style(sheet=bindery.sheet("a4")))


def read(pdf: bytes) -> PdfReader:
    return PdfReader(BytesIO(pdf), strict=True)


def outlined(reader: PdfReader) -> list[tuple[int, str, int]]:
    """Level, title and page of each line of the outline."""
    found: list[tuple[int, str, int]] = []

    def walk(entries: list[object], level: int) -> None:
        for line in entries:
            if isinstance(line, list):
                walk(line, level + 1)
            else:
                page = reader.get_destination_page_number(line)
                found.append((level, str(line["/Title"]), page))

    walk(reader.outline, 0)
    return found


def links(reader: PdfReader, page: int) -> list[tuple[list[float], int]]:
    """Rectangle and target page of each link of a page, from the top down."""
    numbers = {each.indirect_reference.idnum: at for at, each in enumerate(reader.pages)}
    found = []
    for annotation in reader.pages[page].get("/Annots", []):
        link = annotation.get_object()
        assert link["/Subtype"] == "/Link"
        rect = [float(edge) for edge in link["/Rect"]]
        found.append((rect, numbers[link.raw_get("/Dest")[0].idnum]))
    return sorted(found, key=lambda each: -each[0][1])


def placed(reader: PdfReader, page: int) -> list[tuple[float, str]]:
    """Height of the base line and text of all that is written on a page."""
    seen: list[tuple[float, str]] = []

    def visit(text: str, cm: object, tm: list[float], *_: object) -> None:
        if text.strip():
            seen.append((tm[5], text.strip()))

    reader.pages[page].extract_text(visitor_text=visit)
    return seen


def test_contents_give_the_page_that_each_line_leads_to(plain: bytes, works: list[Worked]) -> None:
    reader = read(plain)
    assert reader.page_labels == [str(at + 1) for at in range(len(reader.pages))]
    told = reader.pages[0].extract_text()
    targets = [target for _, target in links(reader, 0)]
    for worked in works:
        line = next(line for line in told.splitlines() if worked.job.title in line)
        first = int(re.search(r"(\d+)(–\d+)?$", line).group(1))  # type: ignore[union-attr]
        text = reader.pages[first - 1].extract_text()
        assert worked.code in text
        assert "card 1 of" in text
        assert first - 1 in targets
        assert f"page {first}" in text


def test_a_links_rectangle_lies_on_its_line(plain: bytes, works: list[Worked]) -> None:
    reader = read(plain)
    seen = placed(reader, 0)
    for worked in works:
        y = next(y for y, text in seen if worked.job.title in text)
        (target,) = [to for (_, low, _, high), to in links(reader, 0) if low < y < high]
        assert worked.code in reader.pages[target].extract_text()


def test_the_outline_leads_to_dividers_and_first_cards(plain: bytes, works: list[Worked]) -> None:
    reader = read(plain)
    lines = outlined(reader)
    machines = sorted({worked.job.machine.title for worked in works}, key=str.casefold)
    top = [title for level, title, _ in lines if level == 0]
    assert top == ["Contents", *machines, "Threads and figures", "Drills, wires, bits", "Notes"]
    for level, title, page in lines:
        text = reader.pages[page].extract_text()
        if level == 0:
            assert text.startswith(title)
        else:
            assert "card 1 of" in text
    jobs = [title for level, title, _ in lines if level == 1 and title != CHART]
    assert len(jobs) == len(works)
    for worked in works:
        assert any(title.endswith(worked.job.title) for title in jobs)


def test_the_index_gives_the_card_on_which_each_panel_begins(
    plain: bytes, works: list[Worked]
) -> None:
    reader = read(plain)
    at = next(page for _, title, page in outlined(reader) if title == "Threads and figures")
    texts = [page.extract_text() for page in reader.pages]
    lines = texts[at].splitlines()
    told = lines[lines.index("On which page") + 1 :]
    titles = re.findall(r"|".join(HEADINGS), told[0])
    for worked in works:
        name = str(worked.sheets.figures["thread.designation"].value)
        (row,) = [line for line in told if line.startswith(name)]
        *numbers, _ = re.findall(r"\S+", row.replace(name, "").replace("LH", ""))
        assert len(numbers) == len(titles)
        cards = [
            (number, text.splitlines())
            for number, text in enumerate(texts, start=1)
            if "card " in text and worked.code in text
        ]
        for title, number in zip(titles, numbers, strict=True):
            begins = [str(page) for page, text in cards if HEADINGS[title] in text]
            assert number == (begins[0] if begins else "–"), title


def test_a_machines_chart_stands_behind_its_divider(plain: bytes, works: list[Worked]) -> None:
    reader = read(plain)
    lines = outlined(reader)
    told = reader.pages[0].extract_text()
    files = {worked.job.machine.title: worked for worked in reversed(works)}
    charts = [number for number, (_, title, _) in enumerate(lines) if title == CHART]
    assert len(charts) == len(files)
    for number in charts:
        (_, machine, divider), (level, _, page) = lines[number - 1 : number + 1]
        assert (level, page) == (1, divider + 1)
        assert f"{CHART} {page + 1}" in told
        job = files[machine].job
        file = ROOT / "specs" / "machines" / Path(job.machine.file).name
        _, alone = machine_chart.draw(file, job.template.name)
        for offset, each in enumerate(read(alone).pages):
            assert signs(reader.pages[page + offset]) == signs(each, f"page{page + offset + 1}")
    for style in (Style(by="material"), Style(charts=False)):
        assert CHART not in {title for _, title, _ in outlined(read(bound(works[:1], style)))}


def test_where_a_table_is_too_narrow_all_lines_of_a_row_lead_there() -> None:
    """On the dividers of bank cards each row is lines of its own."""
    files = [ROOT / "specs" / "jobs" / f"{name}.yaml" for name in NAMES[:2]]
    works = [make.work(file, template="id-1-portrait") for file in files]
    reader = read(bound(works, Style(notes=0)))
    divider = {title: page for level, title, page in outlined(reader) if level == 0}
    for worked in works:
        page = divider[worked.job.machine.title]
        to = {
            text: target
            for y, text in placed(reader, page)
            for (_, low, _, high), target in links(reader, page)
            if low < y < high
        }
        first = to[worked.code]
        assert worked.code in reader.pages[first].extract_text()
        assert to[next(text for text in to if text.startswith(f"{first + 1}–"))] == first
        name = str(worked.sheets.figures["thread.designation"].value).split()[0]
        assert to[next(text for text in to if text.startswith(name))] == first


@pytest.mark.parametrize("by", ["machine", "form", "material"])
def test_dividers_part_by_what_was_asked(works: list[Worked], by: bindery.By) -> None:
    groups = {
        "machine": lambda worked: worked.job.machine.title,
        "form": lambda worked: str(worked.sheets.figures["thread.form"].value),
        "material": lambda worked: worked.job.work.material.title,
    }
    wanted = sorted({groups[by](worked) for worked in works}, key=str.casefold)
    lines = outlined(read(bound(works, Style(by=by, notes=0))))
    assert [title for level, title, _ in lines if level == 0][1:-2] == wanted


@pytest.mark.parametrize("made", ["plain", "on_a4"])
def test_fonts_are_embedded_once(made: str, request: pytest.FixtureRequest) -> None:
    pdf = request.getfixturevalue(made)
    reader = read(pdf)
    fonts = {
        (font.idnum, str(font.get_object()["/BaseFont"]))
        for page in reader.pages
        for font in (
            page["/Resources"]["/Font"].raw_get(key) for key in page["/Resources"]["/Font"]
        )
    }
    names = sorted(name.split("+")[1] for _, name in fonts)
    assert names == ["SourceSansPro-Regular", "SourceSansPro-Semibold"]
    assert pdf.count(b"/FontFile2") == 2


def signs(page: PageObject, more: str = "") -> list[str]:
    """Return the signs of a page and some more: a card alone is tagged, and so read in an order."""
    return sorted("".join(page.extract_text().split()) + more)


def test_cards_are_those_of_make(plain: bytes, works: list[Worked]) -> None:
    reader = read(plain)
    jobs = [(title, page) for level, title, page in outlined(reader) if level == 1]
    for worked in works:
        (first,) = (page for title, page in jobs if title.endswith(worked.job.title))
        for page, own in enumerate(read(make.draw(worked)).pages, start=first):
            assert signs(reader.pages[page]) == signs(own, f"page{page + 1}")


def test_same_jobs_same_bytes(works: list[Worked], plain: bytes, on_a4: bytes) -> None:
    assert bound(works, Style()) == plain
    assert bound(works, Style(sheet=bindery.sheet("a4"))) == on_a4
    assert plain != on_a4


def pixels(pdf: bytes, page: int) -> np.ndarray:
    document = pypdfium2.PdfDocument(pdf)
    image = document[page].render(scale=PER_MM * 25.4 / 72, grayscale=True).to_numpy()
    return np.squeeze(image).astype(float)


def unlike(there: np.ndarray, wanted: np.ndarray) -> float:
    """Least mean difference of two pictures over small shifts, for pages of uneven pixels."""
    far = 2
    inner = wanted[far:-far, far:-far]
    rows, columns = inner.shape
    return min(
        float(np.abs(there[dy : dy + rows, dx : dx + columns] - inner).mean())
        for dy in range(2 * far + 1)
        for dx in range(2 * far + 1)
    )


def test_cards_on_a_sheet_look_like_cards_alone(on_a4: bytes, works: list[Worked]) -> None:
    """Each A5 card where folding an A4 sheet puts it: even cards on backs, turned."""
    worked = works[0]
    assert (worked.job.template.width, worked.job.template.height) == (148.0, 210.0)
    alone = make.draw(worked)
    margin = int(worked.job.template.margin * PER_MM)
    w, h = int(148 * PER_MM), int(210 * PER_MM)
    live = (slice(margin, h - margin), slice(margin, w - margin))
    sheets = {
        number: pixels(on_a4, number)
        for number, sheet in enumerate(read(on_a4).pages)
        if sheet.mediabox.width > sheet.mediabox.height and worked.code in sheet.extract_text()
    }
    for card in range(len(read(alone).pages)):
        wanted = pixels(alone, card)[:h, :w][live]
        likeness = {}
        for number, image in sheets.items():
            for left in (0.5, 148.5):
                x = int(left * PER_MM)
                there = image[:h, x : x + w]
                there = there[::-1, ::-1] if number % 2 else there
                likeness[number, left] = unlike(there[live], wanted)
        (best, first), (_, second) = sorted(likeness.items(), key=lambda item: item[1])[:2]
        assert best[0] % 2 == card % 2
        assert first < second / 2, "it is there, and no other is like it"


def test_sheets_are_called_by_their_sides(on_a4: bytes) -> None:
    reader = read(on_a4)
    assert len(reader.pages) % 2 == 0
    assert reader.page_labels[:4] == [
        "sheet 1 front",
        "sheet 1 back",
        "sheet 2 front",
        "sheet 2 back",
    ]
    for page in reader.pages:
        edges = sorted((float(page.mediabox.width), float(page.mediabox.height)))
        assert edges == pytest.approx([210 * 72 / 25.4, 297 * 72 / 25.4], abs=1e-3)


def test_links_on_sheets_lead_to_the_card(on_a4: bytes, works: list[Worked]) -> None:
    reader = read(on_a4)
    pages = {to for at in range(len(reader.pages)) for _, to in links(reader, at)}
    texts = [reader.pages[page].extract_text() for page in pages]
    for worked in works:
        assert any(worked.code in text and "card 1 of" in text for text in texts)


def test_what_is_in_the_drawer(plain: bytes, works: list[Worked]) -> None:
    reader = read(plain)
    page = next(page for _, title, page in outlined(reader) if title.startswith("Drills"))
    text = reader.pages[page].extract_text()
    for worked in works:
        figures = worked.sheets.figures
        for id in ("tool.blank", "measure.wire_chosen", "mate.drill", "thread.drill"):
            if id in figures:
                value = figures[id].number / (25.4 if worked.job.inch else 1.0)
                told = [float(number) for number in re.findall(r"^([\d.]+) (?:mm|in)", text, re.M)]
                assert any(abs(number - value) <= 0.1 for number in told), (id, value)


def test_many_jobs_and_what_is_kept_of_them(works: list[Worked]) -> None:
    """Lists run over pages and stay right; of a job that is taken no mark is kept."""
    worked = works[0]
    picture = make.picture(worked)
    marks = sum(len(page.marks) for page in picture.pages)
    told = entry(worked.sheets, make.facts(worked), inch=worked.job.inch)
    binder = bindery.begin(Style())
    tracemalloc.start()
    for number in range(24):
        binder.take(replace(told, job=f"{number}"), picture, worked.job.template)
    kept, _ = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    # Bare mark tuples alone take more than 100 bytes each.
    assert kept < 24 * marks * 100 / 2
    reader = read(bindery.finish(binder, "00" * 32))
    lines = outlined(reader)
    first = [page for level, _, page in lines if level == 1]
    assert len(first) == 24
    assert [later - sooner for sooner, later in pairwise(first)] == [len(picture.pages)] * 23
    for page in first[::8]:
        assert "card 1 of" in reader.pages[page].extract_text()
    drawer = next(page for _, title, page in lines if title.startswith("Drills"))
    assert "and 20 more" in reader.pages[drawer].extract_text()


@pytest.mark.parametrize("name", sorted(path.stem for path in (ROOT / "templates").glob("*.yaml")))
def test_the_binders_own_pages_are_whole_on_every_template(works: list[Worked], name: str) -> None:
    """Each page is proved as it is drawn; what is written is held to what was to be listed."""
    template = shape(name, ROOT)
    blank = Picture((Page(template.width, template.height, (), ()),), "", "", False)
    binder = bindery.begin(Style())
    for worked in works:
        listed = entry(worked.sheets, make.facts(worked), inch=worked.job.inch)
        binder.take(listed, blank, template)
    binder.tell([Change("a-job", "moved", (Moved("setup.train", "75/45", "50/30"),))])
    reader = read(bindery.finish(binder, "00" * 32))
    told = " ".join(" ".join(page.extract_text() for page in reader.pages).split())
    for worked in works:
        assert worked.code in told
    for title in ("Contents", "Threads and figures", "Drills, wires, bits", "Notes", "Was"):
        assert title in told


def test_the_binders_own_pages_are_in_the_language_of_its_first_card(works: list[Worked]) -> None:
    words = Words({"Contents": "Inhalt", "page {number}": "{number}. Seite"}, comma=True)
    blank = Picture((Page(148.0, 210.0, (), ()),), "", "", False)
    binder = bindery.begin(Style())
    for worked, own in zip(works, (words, ENGLISH), strict=False):
        listed = entry(worked.sheets, make.facts(worked), inch=worked.job.inch)
        binder.take(listed, blank, worked.job.template, own)
    reader = read(bindery.finish(binder, "00" * 32))
    assert outlined(reader)[0][1] == "Inhalt"
    texts = [page.extract_text() for page in reader.pages]
    assert texts[0].startswith("Inhalt")
    assert all(text.endswith(f"{at}. Seite") for at, text in enumerate(texts, start=1))
    assert "28,000 mm" in " ".join(texts)
    assert "28.000 mm" not in " ".join(texts)


def test_a_binder_without_cards_is_not_made() -> None:
    with pytest.raises(ValueError, match="without cards"):
        bindery.finish(bindery.begin(Style()), "00" * 32)
