"""The colour chart as cards of its own: whole on every template, the same twice."""

from __future__ import annotations

from pathlib import Path

import pytest

from cardgen import library
from cardgen.card.pen import Picture, Text
from cardgen.cli import main
from cardgen.colour_chart import draw, picture, shape
from cardgen.core.problems import SpecError

TEMPLATES = sorted(p.stem for p in (Path(__file__).parent.parent / "templates").glob("*.yaml"))


def said(of: Picture) -> str:
    words = (mark.text for page in of.pages for mark in page.marks if isinstance(mark, Text))
    return " ".join(words).replace("\u00a0", " ")


@pytest.mark.parametrize("name", TEMPLATES)
def test_whole_on_every_template(name: str) -> None:
    """Every colour with its temperature; the layout proves that nothing overlaps or is clipped."""
    text = said(picture(shape(name, Path())))
    for row in library.table("heat/temper_colours"):
        assert f"{row['median']} {row['name']}" in text
    for row in library.table("heat/glow_colours"):
        assert f"{row['temperature']} {row['name']}" in text
    assert "drawing's choice" in text
    assert "thermometer" in text
    assert " nm" not in text


def test_one_ink_has_no_colour() -> None:
    chart = picture(shape("a5-mono", Path()))
    inks = {
        ink
        for page in chart.pages
        for mark in page.marks
        for ink in (getattr(mark, "fill", None), getattr(mark, "stroke", None))
        if ink is not None
    }
    assert all(ink.red == ink.green == ink.blue for ink in inks)


def test_same_bytes_twice() -> None:
    assert draw(shape("a6-portrait", Path())) == draw(shape("a6-portrait", Path()))


def test_command(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["colours", "--out", str(tmp_path), "--template", "id-1-landscape"]) == 0
    assert (tmp_path / "colours.pdf").read_bytes().startswith(b"%PDF")
    assert capsys.readouterr().out == f"{tmp_path / 'colours.pdf'}\n"
    assert main(["colours", "--out", str(tmp_path), "--template", "a6-portrai"]) == 3
    assert "did you mean a6-portrait?" in capsys.readouterr().err


def test_stale_knows_the_chart(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    assert main(["colours", "--out", str(tmp_path)]) == 0
    assert main(["stale", str(tmp_path)]) == 0
    assert "colours.pdf: holds" in capsys.readouterr().out
    monkeypatch.setattr("cardgen.colour_chart._CARBON", "o1")
    assert main(["stale", str(tmp_path / "colours.pdf")]) == 4
    assert "films" in capsys.readouterr().out


def test_no_such_template() -> None:
    with pytest.raises(SpecError, match="no template"):
        shape("../secret", Path())
