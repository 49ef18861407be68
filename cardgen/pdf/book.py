"""A PDF file that grows page by page: drawn leaves, placed on sheets, with links and an outline.

A leaf is drawn once and kept as packed operators, so that memory does not grow with the marks of
pages that are done; it may be placed on any sheet later, alone or beside others. reportlab keeps
the document around the streams: objects, subset fonts, cross references. Same calls, same bytes.

All lengths are millimetres from the top left corner, y down, as in a picture.
"""

from __future__ import annotations

import zlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from hashlib import md5

from reportlab.pdfbase.pdfdoc import (
    PDFArray,
    PDFDictionary,
    PDFDocument,
    PDFInfo,
    PDFName,
    PDFObject,
    PDFObjectReference,
    PDFPage,
    PDFResourceDictionary,
    PDFStream,
    PDFString,
)

from cardgen.card.pen import POINT, Page
from cardgen.pdf.finish import embed
from cardgen.pdf.stream import Codes, content
from cardgen.pdf.structure import TRUE, Told, attach, tell

_K = 1 / POINT


@dataclass(frozen=True, slots=True, eq=False)
class Leaf:
    """A drawn page of a size [mm], not yet on a sheet.

    Attributes
    ----------
    told
        What its marks are, in a tagged book.
    """

    width: float
    height: float
    stream: PDFStream
    told: Told | None = None

    @property
    def tree(self) -> Told:
        """What its marks are, for a leaf that must know it."""
        if self.told is None:
            msg = "a leaf of an untagged book"
            raise ValueError(msg)
        return self.told


@dataclass(frozen=True, slots=True)
class Placed:
    """A leaf on a sheet, its top left corner at (x, y) [mm].

    Attributes
    ----------
    turned
        Whether it stands on its head.
    """

    leaf: Leaf
    x: float = 0.0
    y: float = 0.0
    turned: bool = False


@dataclass(frozen=True, slots=True)
class Goal:
    """Where a link leads: a rectangle of a sheet [mm], the sheets counted from 0."""

    sheet: int
    left: float
    top: float
    right: float
    bottom: float


@dataclass(frozen=True, slots=True)
class Link:
    """A rectangle of a sheet [mm] that leads somewhere when it is clicked."""

    left: float
    top: float
    right: float
    bottom: float
    goal: Goal


@dataclass(frozen=True, slots=True)
class Entry:
    """A line of the outline, with the lines below it."""

    title: str
    goal: Goal
    below: tuple[Entry, ...] = ()


@dataclass(frozen=True, slots=True)
class Label:
    """How the sheets from one on are called, until the next label.

    Attributes
    ----------
    first
        The sheet, counted from 0.
    prefix
        Stands before the number.
    numbered
        Whether a number follows, from 1 on.
    """

    first: int
    prefix: str
    numbered: bool = False


class _Info(PDFInfo):  # type: ignore[misc]
    """Document information without the two dates: a card says when it was made only if told."""

    def format(self, document: PDFDocument) -> bytes:
        words = {
            "Title": self.title,
            "Author": self.author,
            "Subject": self.subject,
            "Keywords": self.keywords,
            "Creator": self.creator,
            "Producer": self.producer,
        }
        told = {key: PDFString(text) for key, text in words.items() if text}
        return bytes(PDFDictionary(told).format(document))


class _Sheet(PDFPage):  # type: ignore[misc]
    """A page that may have a place in the document's structure."""

    __NoDefault__ = (*PDFPage.__NoDefault__, "StructParents", "Tabs")

    def in_structure(self, number: int) -> None:
        """Give the page its number in the structure, whose order it is read in."""
        self.StructParents, self.Tabs = number, PDFName("S")


class _Outline(PDFObject):  # type: ignore[misc]
    """The outline's root in place of reportlab's, which knows no rectangles."""

    ready = 1

    def __init__(self) -> None:
        self.words: dict[str, object] = {"Type": PDFName("Outlines")}

    def prepare(self, document: PDFDocument, canvas: object) -> None:
        """There is nothing to prepare: every line is there already."""

    def format(self, document: PDFDocument) -> bytes:
        return bytes(PDFDictionary(self.words).format(document))


class Book:
    """One PDF file in the making.

    Parameters
    ----------
    lang
        Language of the text, as a BCP 47 tag.
    tagged
        Whether the file says what its marks are; then each sheet bears a single leaf.
    """

    def __init__(self, lang: str = "en-GB", *, tagged: bool = False) -> None:
        # 1.7 is the first version that knows all that is written here.
        self._document = PDFDocument(compression=1, invariant=1, lang=lang, pdfVersion=(1, 7))
        self._tagged = tagged
        self._titles: dict[str, str] = {}
        self._told: list[tuple[str, Told]] = []
        self._codes = Codes(self._document)
        # Names the file by what is in it; reportlab's own digest also takes the clock in.
        self._digest = md5(usedforsecurity=False)
        self._lang = lang
        self._heights: list[float] = []

    def draw(self, page: Page, *, mono: bool) -> Leaf:
        """Return a page as a leaf; its marks are not needed any more."""
        told = tell(page, self._titles) if self._tagged else None
        if told is not None:
            self._titles = {**told.titles, **self._titles}
        operators = content(page, self._codes, mono, told)
        self._digest.update(operators)
        return Leaf(page.width, page.height, _packed(operators), told)

    def add(
        self, width: float, height: float, placed: Sequence[Placed], links: Sequence[Link] = ()
    ) -> None:
        """Add a sheet of a size [mm] with leaves on it, in drawing order.

        Parameters
        ----------
        links
            Their goals may be sheets that are yet to be added.
        """
        sheet = _Sheet()
        sheet.MediaBox = PDFArray([0, 0, round(width * _K, 4), round(height * _K, 4)])
        sheet.Contents = self._contents(height, placed)
        sheet.Resources = PDFResourceDictionary()
        sheet.Resources.basicFonts()
        if self._tagged:
            (only,) = placed
            sheet.in_structure(len(self._told))
            self._told.append((f"Page{len(self._heights) + 1}", only.leaf.tree))
        self._heights.append(height)
        if links:
            sheet.Annots = PDFArray([_Deferred(self, link, height) for link in links])
        self._document.addPage(sheet)

    def to_bytes(
        self,
        *,
        title: str,
        subject: str,
        labels: Sequence[Label],
        outline: Sequence[Entry] = (),
        attachments: Mapping[str, bytes] | None = None,
    ) -> bytes:
        """Return the finished file; nothing can be added after that."""
        document = self._document
        document.info = info = _Info()
        info.title, info.subject, info.keywords = title, subject, ""
        info.author, info.creator, info.producer = "", "cardgen", "cardgen, with reportlab"
        named: list[object] = []
        for label in labels:
            style = {"S": PDFName("D")} if label.numbered else {}
            named += [label.first, PDFDictionary({**style, "P": PDFString(label.prefix)})]
        document.Catalog.PageLabels = PDFDictionary({"Nums": PDFArray(named)})
        document.Catalog.ViewerPreferences = PDFDictionary({"DisplayDocTitle": TRUE})
        if outline:
            self._outline(outline)
        if self._tagged:
            attach(document, self._told)
        if attachments:
            embed(document, attachments)
            for name, content in attachments.items():
                self._digest.update(name.encode() + b"\0" + content)
        for text in (title, subject, self._lang):
            self._digest.update(text.encode() + b"\0")
        mark = self._digest.hexdigest().encode()
        document._ID = b"[<" + mark + b"><" + mark + b">]\n"
        return bytes(document.GetPDFData(None))

    def destination(self, goal: Goal) -> PDFArray:
        """Return a goal as the file writes it."""
        height = self._heights[goal.sheet]
        page = PDFObjectReference(f"Page{goal.sheet + 1}")
        return PDFArray([page, PDFName("FitR"), *_corners(goal, height)])

    def _contents(self, height: float, placed: Sequence[Placed]) -> PDFStream | PDFArray:
        """Return the streams of a sheet, each leaf's with a step of the origin around it."""
        if len(placed) == 1 and placed[0] == Placed(placed[0].leaf):
            return placed[0].leaf.stream
        streams: list[PDFStream] = []
        before = ""
        for each in placed:
            leaf, x, y = each.leaf, each.x * _K, (height - each.y) * _K
            w, h = leaf.width * _K, leaf.height * _K
            step = (
                f"-1 0 0 -1 {x + w:.4f} {y:.4f}" if each.turned else f"1 0 0 1 {x:.4f} {y - h:.4f}"
            )
            between = f"{before}q {step} cm\n".encode()
            self._digest.update(between)
            streams += [PDFStream(PDFDictionary(), between, []), leaf.stream]
            before = "\nQ\n"
        return PDFArray([*streams, PDFStream(PDFDictionary(), b"\nQ\n", [])])

    def _outline(self, outline: Sequence[Entry]) -> None:
        root = _Outline()
        reference = self._document.Reference(root, "Outline")
        root.words |= self._lines("Outline", reference, outline)
        self._document.Outlines = self._document.Catalog.Outlines = root
        self._document.Catalog.PageMode = PDFName("UseOutlines")

    def _lines(
        self, name: str, parent: PDFObjectReference, entries: Sequence[Entry]
    ) -> dict[str, object]:
        """Register the lines below a parent; return what the parent says of them."""
        names = [f"{name}.{number}" for number in range(len(entries))]
        for number, (own, entry) in enumerate(zip(names, entries, strict=True)):
            reference = PDFObjectReference(own)
            below: dict[str, object] = {}
            if entry.below:
                below = self._lines(own, reference, entry.below)
                # Negative: folded until it is opened.
                below["Count"] = -len(entry.below)
            near = {"Prev": number - 1, "Next": number + 1}
            words = {
                "Title": PDFString(entry.title),
                "Parent": parent,
                "Dest": self.destination(entry.goal),
                **{
                    key: PDFObjectReference(names[at])
                    for key, at in near.items()
                    if 0 <= at < len(names)
                },
                **below,
            }
            self._digest.update(f"{own} {entry.title} {entry.goal}".encode())
            self._document.Reference(PDFDictionary(words), own)
        ends = {"First": PDFObjectReference(names[0]), "Last": PDFObjectReference(names[-1])}
        return {**ends, "Count": len(entries)}


class _Deferred(PDFObject):  # type: ignore[misc]
    """A link, written when all sheets are there."""

    def __init__(self, book: Book, link: Link, height: float) -> None:
        self._book, self._link, self._height = book, link, height

    def format(self, document: PDFDocument) -> bytes:
        words = {
            "Type": PDFName("Annot"),
            "Subtype": PDFName("Link"),
            "Rect": PDFArray(_corners(self._link, self._height)),
            "Border": PDFArray([0, 0, 0]),
            "Dest": self._book.destination(self._link.goal),
        }
        return bytes(PDFDictionary(words).format(document))


def _corners(box: Link | Goal, height: float) -> list[float]:
    """Return left, bottom, right and top in points, y turned up."""
    edges = (box.left, height - box.bottom, box.right, height - box.top)
    return [round(edge * _K, 2) for edge in edges]


def _packed(operators: bytes) -> PDFStream:
    # Level 6 is within a few per cent of the smallest and three times as fast as level 9.
    return PDFStream(PDFDictionary({"Filter": PDFName("FlateDecode")}), zlib.compress(operators, 6))
