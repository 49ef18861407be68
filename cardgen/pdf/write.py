"""A picture to the bytes of a PDF: the cards of one job, a page each."""

from __future__ import annotations

from collections.abc import Mapping

from cardgen.card.pen import Picture
from cardgen.pdf.book import Book, Label, Placed


def to_pdf(
    picture: Picture, *, attachments: Mapping[str, bytes] | None = None, lang: str = "en-GB"
) -> bytes:
    """Return a picture as one PDF file.

    Parameters
    ----------
    picture
        Cards, each with its own size and marks.
    attachments
        Files to embed, by name; see :mod:`cardgen.pdf.finish` for how they are read back.
    lang
        Language of the text, as a BCP 47 tag.

    Returns
    -------
    bytes
        The same for the same arguments, everywhere and always.
    """
    book = Book(lang)
    for page in picture.pages:
        leaf = book.draw(page, mono=picture.mono)
        book.add(page.width, page.height, [Placed(leaf)])
    return book.to_bytes(
        title=picture.title,
        subject=picture.subject,
        labels=[Label(0, "card ", numbered=True)],
        attachments=attachments,
    )
