"""Files embedded in a card, so that it can always be made again from itself, and their recovery."""

from __future__ import annotations

import zlib
from collections.abc import Mapping
from io import BytesIO
from pathlib import PurePosixPath

from reportlab.pdfbase.pdfdoc import (
    PDFArray,
    PDFDictionary,
    PDFDocument,
    PDFName,
    PDFStream,
    PDFString,
)

_YAML, _JSON, _ANY = (f"/application#2F{kind}" for kind in ("yaml", "json", "octet-stream"))
"""Media types as names of a PDF, in which reportlab would leave the stroke as it is."""
_KINDS = {".yaml": _YAML, ".yml": _YAML, ".json": _JSON}


def embed(document: PDFDocument, attachments: Mapping[str, bytes]) -> None:
    """Put files into a document that is being written.

    Parameters
    ----------
    document
        Before it is put out.
    attachments
        Content by name; a name may have slashes and is kept as it is.
    """
    leaves: list[object] = []
    specs: list[object] = []
    for number, (name, content) in enumerate(sorted(attachments.items())):
        stream = PDFStream(
            PDFDictionary(
                {
                    "Type": PDFName("EmbeddedFile"),
                    "Subtype": _KINDS.get(PurePosixPath(name).suffix, _ANY),
                    "Filter": PDFName("FlateDecode"),
                    "Params": PDFDictionary({"Size": len(content)}),
                }
            ),
            zlib.compress(content, 6),
        )
        held = document.Reference(stream, f"attached{number}")
        spec = PDFDictionary(
            {
                "Type": PDFName("Filespec"),
                "F": PDFString(name),
                "UF": PDFString(name),
                "EF": PDFDictionary({"F": held, "UF": held}),
                "AFRelationship": PDFName("Source"),
            }
        )
        specs.append(document.Reference(spec, f"filespec{number}"))
        leaves += [PDFString(name), specs[-1]]
    tree = PDFDictionary({"Names": PDFArray(leaves)})
    catalog = document.Catalog
    catalog.Names = PDFDictionary({"EmbeddedFiles": tree})
    # What has a relationship must be listed; reportlab's catalogue does not know the entry.
    catalog.__NoDefault__ = [*catalog.__NoDefault__, "AF"]
    catalog.AF = PDFArray(specs)


def attachments(pdf: bytes) -> dict[str, bytes]:
    """Return the files embedded in a PDF, by name.

    Parameters
    ----------
    pdf
        The whole file.

    Raises
    ------
    ValueError
        If it is not a PDF that can be read.
    """
    from pypdf import PdfReader

    try:
        found = PdfReader(BytesIO(pdf)).attachments
        return {name: bytes(contents[0]) for name, contents in found.items()}
    except Exception as fault:
        # A damaged file may hold anything, and the reader answers with any exception.
        msg = f"not a PDF that can be read: {fault}"
        raise ValueError(msg) from fault
