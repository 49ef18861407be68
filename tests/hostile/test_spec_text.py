"""What a maker writes is drawn as it stands, or refused: never obeyed by whoever opens the card."""

from __future__ import annotations

import re
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader
from pypdf.generic import ArrayObject, DictionaryObject, IndirectObject

from tests.hostile.floor import FILES, JOB_FILE, ask, check, check_json, lay_out

JOB, MACHINE, MATERIAL = (FILES[kind][1] for kind in ("job", "machine", "material"))
TITLE = "Main screw, nipping press"
DRAWN = [
    "<b>bold</b> <a href='https://example.org'>press</a>",
    "<font color=red>&lt;&amp;</font><para><img src='/etc/passwd'/>",
    "javascript:alert(1) https://example.org/x mailto:a@example.org",
    ") Tj (evil) Tj ET Q",
    "\\) Tj \\( 12 0 R >> endobj stream",
    "/OpenAction << /S /JavaScript /JS (app.alert) >>",
    "endstream endobj 1 0 obj << /Type /Catalog >>",
    "%%EOF %PDF-1.7 %s %n {0} {x} {{}} ${HOME} `id`",
    "W" * 80,
    "WWWW-" * 16,
    "e\u0301 combined",
    "ﬁ ﬂ Ω µ ° ′ ″ × − ≤ ½",
    "Шпиндель пресса, Größe, ñandú",
]
REFUSED = [
    "مرحبا بالعالم",
    "שלום עולם",
    "螺纹",
    "😀 card",
    "👩‍🔧",
    "zero\u200bwidth",
    "turned \u202e round",
    "soft\u00adhyphen",
    "bell \x07",
    "escape \x1b[2J",
    "lone \ud800",
]
ACTIVE = {
    *("/URI", "/JS", "/JavaScript", "/Launch", "/OpenAction", "/AA", "/Annots", "/AcroForm"),
    *("/GoToR", "/GoToE", "/SubmitForm", "/ImportData", "/RichMedia", "/XFA", "/Rendition"),
}


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


def quoted(text: str) -> str:
    return "'" + text.replace("'", "''") + "'"


def everywhere(home: Path, text: str) -> None:
    """Write a text wherever a file takes free words."""
    title = quoted(text[:80])
    lay_out(
        home,
        job=JOB.replace(TITLE, title).replace("Cut the nut first.", quoted(text))
        + f"  date: {quoted(text[:30].strip())}\n",
        machine=MACHINE.replace("Bench lathe, metric leadscrew", title),
        material=MATERIAL.replace("spring-steel", "bar").replace(
            "source: mill sheet of the bar in the rack", f"title: {title}\nsource: {title}"
        ),
    )


def names_in(pdf: bytes) -> set[str]:
    """Return every key and name of every object that can be reached in a PDF."""
    found, seen = set(), set()
    waiting: list[object] = [PdfReader(BytesIO(pdf), strict=True).trailer]
    while waiting:
        here = waiting.pop()
        if isinstance(here, IndirectObject):
            if here.idnum not in seen:
                seen.add(here.idnum)
                waiting.append(here.get_object())
        elif isinstance(here, DictionaryObject):
            found |= {str(key) for key in here}
            waiting += [here.raw_get(key) for key in here]
        elif isinstance(here, ArrayObject):
            waiting += list(here)
        elif type(here).__name__ == "NameObject":
            found.add(str(here))
    return found


@pytest.mark.parametrize("text", DRAWN)
def test_text_is_drawn_and_nothing_more(home: Path, text: str) -> None:
    everywhere(home, text)
    answer = ask(["make", JOB_FILE, "--out", "out"])
    check(answer)
    assert answer.code == 0, answer.err
    pdf = (home / "out" / "press-main-screw.pdf").read_bytes()
    assert not names_in(pdf) & ACTIVE
    # Nor is a word of it outside a string: what is packed or between brackets is dropped first.
    bare = re.sub(rb"stream\r?\n.*?endstream", b"", pdf, flags=re.DOTALL)
    bare = re.sub(rb"\((?:\\.|[^\\()])*\)", b"", bare, flags=re.DOTALL)
    assert not [name for name in ACTIVE if re.search(name.encode() + rb"\b", bare)]
    reader = PdfReader(BytesIO(pdf))
    assert reader.metadata is not None
    assert reader.metadata.title is not None
    assert reader.metadata.title.startswith(text[:80])
    shown = "".join(page.extract_text() for page in reader.pages)
    bald = re.sub(r"\s", "", shown)
    assert re.sub(r"\s", "", text[:80]) in bald
    told = ask(["figures", JOB_FILE, "--json"])
    check(told)
    check_json(told.out)


@pytest.mark.parametrize("text", REFUSED)
def test_text_that_cannot_be_drawn_is_refused(home: Path, text: str) -> None:
    everywhere(home, text)
    for words in (["make", JOB_FILE, "--out", "out"], ["figures", JOB_FILE, "--json"]):
        answer = ask(words)
        check(answer)
        assert answer.code == 3
        assert "U+" in answer.err or "UTF-8" in answer.err
        assert answer.out == ""
    assert not (home / "out").exists()


@pytest.mark.parametrize("text", ["W" * 599, "W-" * 299, "a " * 299, ("x" * 59 + "\n\n") * 9])
def test_long_notes_are_drawn_whole(home: Path, text: str) -> None:
    note = text.replace("\n", "\n  ")
    lay_out(home, job=JOB.replace("note: Cut the nut first.", f"note: |\n  {note}"))
    answer = ask(["make", JOB_FILE, "--out", "out"])
    check(answer)
    assert answer.code == 0, answer.err
    pages = PdfReader(home / "out" / "press-main-screw.pdf").pages
    shown = "".join(page.extract_text() for page in pages)
    letter = text[0]
    assert shown.count(letter) >= text.count(letter)
