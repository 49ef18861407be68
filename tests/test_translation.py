"""Every text of the cards in every language of ``data/words``, and every translation in use."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import cycle

import pytest

from cardgen import library, make
from cardgen.card.pen import Picture, Text
from tests.missing_words import (
    JOBS,
    LANGUAGES,
    TEMPLATES,
    Listening,
    constants,
    data_cells,
    data_texts,
    heard,
    heard_of_charts,
    labels,
    patterns,
    worked_jobs,
    written,
)

UNUSED = {
    **dict.fromkeys(["CHUCK", "TAILSTOCK"], "the side marked on a tipped tool, in capitals"),
    **dict.fromkeys(
        ["Single train", "Compound train", "Double-compound train"], "by the word of the wheels"
    ),
}
"""Translations that nothing found here asks for, and why they are kept."""


@pytest.fixture(scope="module", params=LANGUAGES)
def language(request: pytest.FixtureRequest) -> str:
    return str(request.param)


@pytest.fixture(scope="module")
def drawn(language: str) -> Sequence[tuple[make.Worked, Listening, Picture]]:
    """Every demo job, each on another template."""
    jobs = [make.work(job, template=name) for job, name in zip(JOBS, cycle(TEMPLATES))]
    return [(worked, *heard(language, worked)) for worked in jobs]


@pytest.fixture(scope="module")
def charts(language: str) -> Listening:
    return heard_of_charts(language, "a5-two-column")


def test_there_is_a_translation() -> None:
    assert "de" in LANGUAGES


def test_every_written_text_has_a_translation(language: str) -> None:
    known = library.words(language)
    assert {text: where for text, where in written().items() if text not in known} == {}


def test_cards_say_nothing_without_a_translation(
    drawn: Sequence[tuple[make.Worked, Listening, Picture]], charts: Listening
) -> None:
    assert {text: worked.job.name for worked, words, _ in drawn for text in words.missed} == {}
    assert list(charts.missed) == []


@pytest.mark.slow
def test_no_template_says_anything_without_a_translation(language: str) -> None:
    for worked in worked_jobs(TEMPLATES[::2]):
        words, picture = heard(language, worked)
        assert (worked.job.name, list(words.missed)) == (worked.job.name, [])
        assert list(_points(worked, picture)) == []


def test_a_translation_has_the_parts_of_its_text(language: str) -> None:
    for text, said in library.words(language).items():
        assert said.strip(), text
        assert sorted(set(_parts(said))) == sorted(set(_parts(text))), text


def test_no_translation_is_without_a_text(
    language: str,
    drawn: Sequence[tuple[make.Worked, Listening, Picture]],
    charts: Listening,
) -> None:
    used = {*patterns(), *labels(), *data_texts(), *data_cells(), *constants(), *UNUSED}
    used |= charts.asked.keys()
    used.update(text for _, words, _ in drawn for text in words.asked)
    assert sorted(library.words(language).keys() - used) == []


def test_decimals_are_set_off_by_a_comma(
    drawn: Sequence[tuple[make.Worked, Listening, Picture]],
) -> None:
    for worked, _, picture in drawn:
        assert list(_points(worked, picture)) == []
        assert any(re.search(r"\d,\d", line) for line in _lines(picture))


def _parts(text: str) -> list[str]:
    return re.findall(r"\{(\w*)\}", text)


def _lines(picture: Picture) -> Iterator[str]:
    for page in picture.pages:
        yield from (mark.text for mark in page.marks if isinstance(mark, Text))


def _points(worked: make.Worked, picture: Picture) -> Iterator[str]:
    """Give the lines with a decimal point, other than in versions, standards and own words."""
    own = " ".join(make.facts(worked).values())
    for line in _lines(picture):
        rest = re.sub(r"\d+(\.\d+){2,}|\b[BY]\d+\.\d+", "", line)
        if re.search(r"\d\.\d", rest) and rest not in own:
            yield line
