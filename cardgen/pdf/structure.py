"""What the marks of a page are, as a tree for a reader's software: a PDF's structure (ISO 32000).

``tell`` makes the tree of one page from what the pen noted, and says of each mark which element it
belongs to; the page stream numbers those runs of marks. ``attach`` writes the trees of all pages
below one document.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import groupby

from reportlab.pdfbase.pdfdoc import PDFDictionary, PDFDocument, PDFObject, PDFString

from cardgen.card.pen import Mark, Page, Tag, Text
from cardgen.pdf.fonts import metrics

_ABUT = 0.05
"""Distance below which one text runs on into the next [mm]."""


@dataclass(slots=True, eq=False)
class Element:
    """A node of the structure.

    Attributes
    ----------
    role
        Its standard structure type.
    alt
        What is said in place of what it shows.
    columns
        How many columns of a table it covers.
    kids
        Elements below it, and numbers of runs of marks on its page.
    """

    role: str
    alt: str = ""
    columns: int = 1
    kids: list[Element | int] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Told:
    """A page as a tree.

    Attributes
    ----------
    top
        Its elements in reading order.
    owners
        The element of each mark; ``None`` for an ornament.
    titles
        Heading of each panel that begins or goes on here, by the panel's name.
    apart
        Numbers of the texts that another text of the same element follows, with a space.
    runs
        The element of each numbered run of marks, filled while the page is written.
    """

    top: list[Element]
    owners: list[Element | None]
    titles: dict[str, str]
    apart: frozenset[int]
    runs: list[Element] = field(default_factory=list)


def tell(page: Page, titles: dict[str, str]) -> Told:
    """Return a page as a tree.

    Parameters
    ----------
    titles
        Headings of panels on the pages before: a figure is called after its panel.
    """
    return _Teller(page, titles).told()


class _Teller:
    """Turns the tags of one page into elements."""

    def __init__(self, page: Page, titles: dict[str, str]) -> None:
        self._page = page
        self._before = titles
        self._titles: dict[str, str] = {}
        self._owners: list[Element | None] = [None] * len(page.marks)
        self._spans = {span.first: span for span in page.spans}
        self._line: Element | None = None
        self._written = [isinstance(mark, Text) for mark in page.marks]
        for span in page.spans:
            self._written[span.first : span.last] = [True] * (span.last - span.first)

    def told(self) -> Told:
        top = [element for tag in self._page.tags for element in self._elements(tag, "")]
        return Told(top, self._owners, self._titles, frozenset(self._apart()))

    def _apart(self) -> Iterator[int]:
        """Give the texts that do not run on into the next one of their element."""
        within = {
            number: span for span in self._page.spans for number in range(span.first, span.last)
        }
        following: dict[int, int] = {}
        for number in reversed(range(len(self._owners))):
            mark, owner = self._page.marks[number], self._owners[number]
            if owner is None or not isinstance(mark, Text):
                continue
            after = following.get(id(owner))
            following[id(owner)] = number
            if after is None or within.get(number, number) == within.get(after, after):
                continue
            if not _runs_on(mark, self._page.marks[after]):
                yield number

    def _elements(self, tag: Tag, panel: str) -> list[Element]:
        """Return the elements of a tag: one; several for a group; none for an ornament."""
        if tag.role == "Artifact":
            return []
        if tag.role == "Figure":
            return self._figure(tag, panel)
        if tag.role in ("Sect", "TR"):
            panel = tag.name or panel
            below = self._below(tag, panel)
            return [Element(tag.role, kids=[*_tables(below)])] if below else []
        if tag.below:
            return self._below(tag, panel)
        if tag.role == "Line":
            return self._another_line(tag)
        made = Element(tag.role, columns=tag.columns)
        if tag.role == "H2" and panel:
            self._titles.setdefault(panel, " ".join(self._words(tag.first, tag.last)))
        written = self._own(made, tag.first, tag.last)
        return [made] if written or tag.role in ("TH", "TD") else []

    def _below(self, tag: Tag, panel: str) -> list[Element]:
        """Return what is in a group: its tags, and a paragraph for each text between them."""
        made: list[Element] = []
        at = tag.first
        for each in tag.below:
            made += self._between(at, each.first)
            made += self._elements(each, panel)
            self._line = made[-1] if made and each.role == "Line" else None
            at = each.last
        return made + self._between(at, tag.last)

    def _another_line(self, tag: Tag) -> list[Element]:
        """Return the paragraph that begins with a line; none if the one before goes on in it."""
        made = self._line or Element("P")
        self._own(made, tag.first, tag.last)
        return [] if made is self._line else [made]

    def _between(self, first: int, last: int) -> list[Element]:
        made = Element("P")
        return [made] if self._own(made, first, last) else []

    def _own(self, element: Element, first: int, last: int) -> bool:
        """Give an element the text among some marks; return whether there is any."""
        found = False
        for number in range(first, last):
            if self._written[number]:
                self._owners[number] = element
                found = True
        return found

    def _figure(self, tag: Tag, panel: str) -> list[Element]:
        if tag.first == tag.last:
            return []
        title = self._titles.get(panel) or self._before.get(panel, "")
        shown = ", ".join(self._words(tag.first, tag.last))
        alt = tag.name or ": ".join(part for part in (title, shown) if part)
        made = Element("Figure", alt)
        self._owners[tag.first : tag.last] = [made] * (tag.last - tag.first)
        return [made]

    def _words(self, first: int, last: int) -> Iterator[str]:
        """Give the lines of text among some marks, drawn characters included."""
        at = first
        while at < last:
            mark = self._page.marks[at]
            if at in self._spans:
                yield self._spans[at].text
                at = self._spans[at].last
                continue
            if isinstance(mark, Text):
                yield mark.text
            at += 1


def _runs_on(text: Text, after: Mark) -> bool:
    """Whether a text begins where another one ends, so that no space stands between them."""
    if not isinstance(after, Text) or (text.anchor, after.anchor) != ("start", "start"):
        return False
    end = text.x + metrics().width(text.text, text.size, text.weight)
    return text.y == after.y and text.angle == 0 and abs(end - after.x) < _ABUT


def _tables(elements: Sequence[Element]) -> Iterator[Element]:
    """Give elements, rows that follow one another as a table."""
    for row, group in groupby(elements, key=lambda element: element.role == "TR"):
        if row:
            yield Element("Table", kids=[*group])
        else:
            yield from group


class _Written(PDFObject):  # type: ignore[misc]
    """An object whose text is known before the document is put out."""

    def __init__(self, text: bytes = b"") -> None:
        self.text = text

    def format(self, document: PDFDocument) -> bytes:
        del document
        return self.text


TRUE = _Written(b"true")
"""The truth value, which reportlab has no word for."""


class _Writer:
    """Writes elements as objects of a document, each at the number that it is given first."""

    def __init__(self, document: PDFDocument) -> None:
        self._document = document
        self._numbers: dict[int, int] = {}
        self._count = 0

    def new(self) -> tuple[_Written, int]:
        """Return an object yet to be written, and its number."""
        made, name = _Written(), f"structure{self._count}"
        self._count += 1
        self._document.Reference(made, name)
        return made, int(self._document.idToObjectNumberAndVersion[name][0])

    def put(self, element: Element, above: int, page: int) -> int:
        """Write an element and all below it; return its number."""
        made, own = self.new()
        self._numbers[id(element)] = own
        kids = [
            str(kid) if isinstance(kid, int) else f"{self.put(kid, own, page)} 0 R"
            for kid in element.kids
        ]
        words = [f"/S/{element.role}/P {above} 0 R"]
        if any(isinstance(kid, int) for kid in element.kids):
            words.append(f"/Pg {page} 0 R")
        if kids:
            words.append(f"/K {kids[0]}" if len(kids) == 1 else f"/K[{' '.join(kids)}]")
        if element.role == "TH":
            covers = f"/ColSpan {element.columns}" if element.columns > 1 else ""
            words.append(f"/A<</O/Table/Scope/Column{covers}>>")
        made.text = f"<<{''.join(words)}".encode()
        if element.alt:
            made.text += b"/Alt " + PDFString(element.alt).format(self._document)
        made.text += b">>"
        return own

    def row(self, told: Told) -> str:
        """Return the elements of a page's runs, as the tree of parents holds them."""
        return f"[{' '.join(f'{self._numbers[id(element)]} 0 R' for element in told.runs)}]"


def attach(document: PDFDocument, pages: Sequence[tuple[str, Told]]) -> None:
    """Put the structure of all pages into a document that is about to be put out.

    Parameters
    ----------
    pages
        Of each page, in order, the name of its object and its tree. Its number in that order is
        the page's ``StructParents``.
    """
    writer = _Writer(document)
    root, root_number = writer.new()
    whole, whole_number = writer.new()
    kids: list[int] = []
    for name, told in pages:
        page = int(document.idToObjectNumberAndVersion[name][0])
        kids += [writer.put(element, whole_number, page) for element in told.top]
    listed = " ".join(f"{kid} 0 R" for kid in kids)
    whole.text = f"<</S/Document/P {root_number} 0 R/K[{listed}]>>".encode()
    rows = " ".join(f"{number} {writer.row(told)}" for number, (_, told) in enumerate(pages))
    root.text = (
        f"<</Type/StructTreeRoot/K {whole_number} 0 R/ParentTree<</Nums[{rows}]>>"
        f"/ParentTreeNextKey {len(pages)}>>"
    ).encode()
    catalog = document.Catalog
    catalog.StructTreeRoot = root
    catalog.MarkInfo = PDFDictionary({"Marked": TRUE})
