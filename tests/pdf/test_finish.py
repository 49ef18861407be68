"""Files put into a card come out again byte for byte."""

from __future__ import annotations

from contextlib import suppress
from io import BytesIO

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from cardgen.pdf.finish import attachments
from cardgen.pdf.write import to_pdf
from tests.pdf.test_write import picture

PICTURE = picture()
# PDF's own encoding has no place for the three characters left out.
names = st.text(
    st.characters(
        min_codepoint=32,
        max_codepoint=0x2FFF,
        exclude_categories=("Cs",),
        exclude_characters="\x7f\x9f\xad",
    ),
    min_size=1,
    max_size=60,
)


@settings(max_examples=40, deadline=None)
@given(st.dictionaries(names, st.binary(max_size=3000), max_size=5))
def test_what_is_embedded_is_recovered(files: dict[str, bytes]) -> None:
    assert attachments(to_pdf(PICTURE, attachments=files)) == files


def test_a_card_without_files_has_none() -> None:
    assert attachments(to_pdf(PICTURE)) == {}


def test_other_programs_find_the_files() -> None:
    import pypdfium2

    files = {"specs/jobs/main-screw.yaml": b"cardgen: 1\n", "record.json": b"{}"}
    document = pypdfium2.PdfDocument(to_pdf(PICTURE, attachments=files))
    found = {a.get_name(): bytes(a.get_data()) for a in map(document.get_attachment, range(2))}
    document.close()
    assert found == files


def test_each_file_says_what_it_is_and_is_listed_as_a_source() -> None:
    files = {"templates/a5.yaml": b"cardgen: 1\n", "record.json": b"{}", "specs/shop.yml": b""}
    catalog = PdfReader(BytesIO(to_pdf(PICTURE, attachments=files))).trailer["/Root"]
    listed = [spec.get_object() for spec in catalog["/AF"]]
    named = catalog["/Names"]["/EmbeddedFiles"]["/Names"]
    assert named[::2] == sorted(files)
    assert [spec["/UF"] for spec in listed] == [spec["/F"] for spec in listed] == sorted(files)
    assert {spec["/AFRelationship"] for spec in listed} == {"/Source"}
    kinds = [spec["/EF"]["/UF"]["/Subtype"] for spec in listed]
    assert kinds == ["/application/json", "/application/yaml", "/application/yaml"]
    sizes = [spec["/EF"]["/F"]["/Params"]["/Size"] for spec in listed]
    assert sizes == [len(files[name]) for name in sorted(files)]


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 20_000), st.binary(min_size=1, max_size=40))
def test_a_damaged_card_is_read_or_refused_never_worse(at: int, scribble: bytes) -> None:
    whole = to_pdf(PICTURE, attachments={"record.json": b"{}"})
    torn = whole[: at % len(whole)] + scribble + whole[at % len(whole) + len(scribble) :]
    with suppress(ValueError):
        attachments(torn)


@pytest.mark.parametrize("content", [b"", b"%PDF-1.4 nothing", b"cardgen: 1\n", b"\0" * 300])
def test_what_is_no_pdf_is_refused(content: bytes) -> None:
    with pytest.raises(ValueError, match="not a PDF"):
        attachments(content)
