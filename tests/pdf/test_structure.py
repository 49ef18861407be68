"""A card's structure, read back with another program: what a reader's software makes of it.

The oracle is the file itself: the page streams are parsed operator by operator, and the tree is
walked from its root. What the tags should say is taken from the picture that was drawn.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache
from io import BytesIO
from pathlib import Path
from typing import Any

import pypdfium2
import pytest
from pypdf import PdfReader
from pypdf.generic import ContentStream

from cardgen import make
from cardgen.card.pen import Page, Pen, Picture, Text
from cardgen.card.symbols import SIGNS
from cardgen.pdf.book import Book, Label, Placed
from cardgen.pdf.fonts import metrics
from cardgen.pdf.write import to_pdf

JOBS = Path(__file__).parents[2] / "specs" / "jobs"
TEMPLATES = ("a5-two-column", "a6-portrait", "id-1-landscape", "a4-landscape")
SHOWS = {"Tj", "TJ", "'", '"'}
PAINTS = {"S", "s", "f", "F", "f*", "B", "B*", "b", "b*", "n"}


@cache
def card(template: str, job: str = "nipping-press-screw") -> tuple[Picture, PdfReader]:
    picture = make.picture(make.work(JOBS / f"{job}.yaml", template=template))
    return picture, PdfReader(BytesIO(to_pdf(picture)), strict=True)


@dataclass
class Node:
    """An element of the tree, with what it holds in order: nodes, or (page, number) of a run."""

    role: str
    alt: str
    kids: list[Any] = field(default_factory=list)

    def nodes(self) -> Iterator[Node]:
        yield self
        for kid in self.kids:
            if isinstance(kid, Node):
                yield from kid.nodes()

    def runs(self) -> Iterator[tuple[int, int]]:
        for kid in self.kids:
            if isinstance(kid, Node):
                yield from kid.runs()
            else:
                yield kid


def tree(reader: PdfReader) -> Node:
    pages = {page.indirect_reference.idnum: n for n, page in enumerate(reader.pages)}

    def walk(raw: Any, above: Any) -> Node:
        element = raw.get_object()
        assert element.raw_get("/P") == above, "an element knows what it is below"
        node = Node(element["/S"][1:], str(element.get("/Alt", "")))
        if "/K" not in element:
            return node
        held = element.raw_get("/K")
        for kid in held if isinstance(held, list) else [held]:
            if isinstance(kid, int):
                node.kids.append((pages[element.raw_get("/Pg").idnum], int(kid)))
            else:
                node.kids.append(walk(kid, raw))
        return node

    catalog = reader.trailer["/Root"]
    return walk(catalog["/StructTreeRoot"].raw_get("/K"), catalog.raw_get("/StructTreeRoot"))


@dataclass
class Run:
    """A run of marks of a page stream."""

    tag: str
    number: int | None
    actual: str | None
    shown: int = 0
    painted: int = 0


def runs(reader: PdfReader, page: int) -> list[Run]:
    """Return the runs of a page, which stand one after the other; fail on a mark outside."""
    found: list[Run] = []
    open_run: Run | None = None
    in_text = False
    content = reader.pages[page].get_contents()
    for operands, operator in ContentStream(content, reader).operations:
        word = operator.decode()
        if word in {"BMC", "BDC"}:
            assert open_run is None
            assert not in_text
            words = operands[1] if word == "BDC" else {}
            open_run = Run(operands[0][1:], words.get("/MCID"), words.get("/ActualText"))
            found.append(open_run)
        elif word == "EMC":
            assert not in_text
            open_run = None
        elif word in {"BT", "ET"}:
            in_text = word == "BT"
        elif word in SHOWS:
            assert open_run is not None, "every text is in a run"
            open_run.shown += 1
        elif word in PAINTS:
            assert open_run is not None, "every line is in a run"
            open_run.painted += 1
    assert open_run is None
    return found


@pytest.mark.parametrize("template", TEMPLATES)
def test_every_mark_is_in_one_tag_or_is_an_ornament(template: str) -> None:
    picture, reader = card(template)
    held = Counter(tree(reader).runs())
    assert set(held.values()) == {1}
    for number, page in enumerate(picture.pages):
        made = runs(reader, number)
        numbered = [run.number for run in made if run.number is not None]
        assert numbered == list(range(len(numbered))), "numbers of a page are unique"
        assert {(number, n) for n in numbered} == {run for run in held if run[0] == number}
        for run in made:
            assert (run.number is None) == (run.tag == "Artifact")
        if number == 0:
            # Nothing that is written on the first card is passed over.
            assert not any(run.shown for run in made if run.tag == "Artifact")
        assert sum(run.shown for run in made) == sum(isinstance(m, Text) for m in page.marks)


@pytest.mark.parametrize("template", TEMPLATES)
def test_the_pages_know_their_elements(template: str) -> None:
    _, reader = card(template)
    root = reader.trailer["/Root"]["/StructTreeRoot"]
    listed = root["/ParentTree"]["/Nums"]
    rows = dict(zip(listed[::2], listed[1::2], strict=True))
    for number, page in enumerate(reader.pages):
        assert page["/Tabs"] == "/S"
        row = rows[page["/StructParents"]]
        for run in runs(reader, number):
            if run.number is not None:
                held = row[run.number]["/K"]
                assert run.number in (held if isinstance(held, list) else [held])
    assert root["/ParentTreeNextKey"] == len(reader.pages)


@pytest.mark.parametrize("template", TEMPLATES)
def test_it_is_read_in_the_order_in_which_it_was_laid_out(template: str) -> None:
    """Page after page, head, columns from the left, foot: the runs of a page in their order."""
    _, reader = card(template)
    order = list(tree(reader).runs())
    assert order == sorted(order)


def squeezed(text: str) -> str:
    return "".join(text.split())


@pytest.mark.parametrize("template", TEMPLATES)
def test_everything_drawn_is_read_in_the_order_of_drawing(template: str) -> None:
    picture, reader = card(template)
    document = pypdfium2.PdfDocument(reader.stream.getvalue())
    for drawn, page, other in zip(picture.pages, reader.pages, document, strict=True):
        texts = squeezed("".join(mark.text for mark in drawn.marks if isinstance(mark, Text)))
        assert squeezed(page.extract_text()) == texts
        # This reader knows that drawn signs stand for characters, too.
        signs = "".join(sign for span in drawn.spans for sign in span.text if sign in SIGNS)
        found = squeezed(other.get_textpage().get_text_range())
        assert Counter(found) == Counter(texts + signs)
    document.close()


@pytest.mark.parametrize("template", TEMPLATES)
def test_the_tree_is_made_as_it_should_be(template: str) -> None:
    _, reader = card(template)
    whole = tree(reader)
    assert whole.role == "Document"
    below = {
        "Document": {"H1", "P", "Sect", "Figure"},
        "Sect": {"H2", "H3", "P", "Table", "Figure"},
        "Table": {"TR"},
        "TR": {"TH", "TD"},
    }
    for node in whole.nodes():
        inner = {kid.role for kid in node.kids if isinstance(kid, Node)}
        assert inner <= below.get(node.role, set())
        if node.role in below:
            assert all(isinstance(kid, Node) for kid in node.kids), "text is in a leaf"
        elif node.role not in {"TH", "TD"}:
            assert node.kids, f"an empty {node.role}"
        assert bool(node.alt) == (node.role == "Figure")
    assert [node.role for node in whole.nodes()].count("H1") == 1


def titles_drawn(picture: Picture) -> set[str]:
    """Return the panels that stand on the cards, by the boxes of the layout engine."""
    return {box.owner for page in picture.pages for box in page.boxes if box.kind == "panel"}


@pytest.mark.parametrize("template", TEMPLATES)
def test_each_panel_is_a_section_with_its_heading_and_a_line_in_the_outline(template: str) -> None:
    picture, reader = card(template)
    sections = [node for node in tree(reader).kids if node.role == "Sect"]
    drawn = [box for page in picture.pages for box in page.boxes if box.kind == "panel"]
    assert len(sections) == len(drawn)
    for section, box in zip(sections, drawn, strict=True):
        headed = box.owner not in {"mind", "assumed"}
        assert (section.kids[0].role == "H2") == headed
    lines = [line for line in reader.outline if not isinstance(line, list)]
    assert len(lines) == len(titles_drawn(picture) - {"mind", "assumed"})
    pages = [reader.get_destination_page_number(line) for line in lines]
    assert pages == sorted(pages)
    assert {"Thread", "Set-up", "Infeed"} <= {str(line["/Title"]) for line in lines}


def test_a_figure_says_what_it_shows() -> None:
    _, reader = card("a5-two-column")
    figures = [node.alt for node in tree(reader).nodes() if node.role == "Figure"]
    profile = next(alt for alt in figures if alt.startswith("Thread: "))
    # Depth H1 + a_c of Tr 28 x 5 (ISO 2904) and the flank angle, as the drawing dimensions them.
    assert "2.750" in profile
    assert "30.0°" in profile
    assert figures[-1].startswith("QR: ")


def test_a_drawn_sign_reads_as_its_character() -> None:
    pen = Pen(metrics(), 7.0)
    with pen.tag("P"):
        pen.text(10, 10, "bore to ⌀ 21.6 mm", 9.0)
        pen.text(10, 20, "min⁻¹", 9.0)
    page = Page(100, 60, tuple(pen.marks), (), tuple(pen.tags), tuple(pen.spans))
    reader = PdfReader(BytesIO(to_pdf(Picture((page,), "t", "s", mono=False))), strict=True)
    assert [run.actual for run in runs(reader, 0)] == ["bore to ⌀ 21.6 mm ", "min⁻¹"]


def test_texts_of_a_row_are_parted_and_a_line_that_is_cut_in_runs_is_not() -> None:
    pen = Pen(metrics(), 7.0)
    with pen.tag("P"):
        pen.text(10, 10, "Pitch", 9.0)
        pen.text(60, 10, "5 mm", 9.0, anchor="end")
        at = 10 + pen.text(10, 20, "M", 9.0)
        pen.text(at, 20, "12", 14.0)
    page = Page(100, 60, tuple(pen.marks), (), tuple(pen.tags), ())
    reader = PdfReader(BytesIO(to_pdf(Picture((page,), "t", "s", mono=False))), strict=True)
    text = "".join(reader.pages[0].extract_text().split("\n"))
    assert text.replace("  ", " ").strip() == "Pitch 5 mm M12"


def test_what_the_file_claims() -> None:
    _, reader = card("a5-two-column")
    catalog = reader.trailer["/Root"]
    assert catalog["/MarkInfo"]["/Marked"].value is True
    assert catalog["/ViewerPreferences"]["/DisplayDocTitle"].value is True
    assert catalog["/Lang"] == "en-GB"
    assert reader.pdf_header == "%PDF-1.7"


def test_leaves_beside_one_another_claim_no_tags() -> None:
    picture, _ = card("a5-two-column")
    book = Book()
    leaves = [book.draw(page, mono=False) for page in picture.pages[:2]]
    book.add(296, 210, [Placed(leaves[0]), Placed(leaves[1], 148)])
    pdf = book.to_bytes(title="t", subject="s", labels=[Label(0, "sheet 1")])
    reader = PdfReader(BytesIO(pdf), strict=True)
    assert not {"/StructTreeRoot", "/MarkInfo"} & set(reader.trailer["/Root"])
    operations = ContentStream(reader.pages[0].get_contents(), reader).operations
    tagged = [operands[1] for operands, operator in operations if operator == b"BDC"]
    assert not any("/MCID" in words for words in tagged)


def test_an_untagged_leaf_has_no_place_in_a_tagged_book() -> None:
    picture, _ = card("a5-two-column")
    leaf = Book().draw(picture.pages[0], mono=False)
    with pytest.raises(ValueError, match="untagged"):
        Book(tagged=True).add(148, 210, [Placed(leaf)])
