"""A picture to the bytes of a PDF: the cards of one job, a page each."""

from __future__ import annotations

from collections.abc import Mapping

from cardgen.card.pen import Picture
from cardgen.core.words import ENGLISH, Words
from cardgen.pdf.book import Book, Entry, Goal, Label, Placed

_REGION = {"en": "en-GB", "de": "de-DE"}
"""The spelling that is used of a language."""


def to_pdf(
    picture: Picture, *, attachments: Mapping[str, bytes] | None = None, words: Words = ENGLISH
) -> bytes:
    """Return a picture as one PDF file.

    Parameters
    ----------
    picture
        Cards, each with its own size and marks.
    attachments
        Files to embed, by name; see :mod:`cardgen.pdf.finish` for how they are read back.
    words
        In which the cards are written; the file says so, and calls its pages in them.

    Returns
    -------
    bytes
        The same for the same arguments, everywhere and always.
    """
    book = Book(_REGION.get(words.language, words.language), tagged=True)
    outline: dict[str, Entry] = {}
    for number, page in enumerate(picture.pages):
        leaf = book.draw(page, mono=picture.mono)
        book.add(page.width, page.height, [Placed(leaf)])
        panels = {box.owner: box for box in reversed(page.boxes) if box.kind == "panel"}
        for name, title in leaf.tree.titles.items():
            box = panels[name]
            goal = Goal(number, box.left, box.top, box.right, box.bottom)
            outline.setdefault(name, Entry(title, goal))
    return book.to_bytes(
        title=picture.title,
        subject=picture.subject,
        labels=[Label(0, words.say("card") + " ", numbered=True)],
        outline=list(outline.values()),
        attachments=attachments,
    )
