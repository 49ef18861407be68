"""The words of a card: patterns, parts, and numbers in another language."""

from __future__ import annotations

import pytest

from cardgen.core.words import ENGLISH, Words, joined, sentence, told

GERMAN = Words(
    {
        "Turn to {size} {where}.": "{where} auf {size} drehen.",
        "over the thread": "über dem Gewinde",
        "Load": "Last",
    },
    comma=True,
)


def test_english_is_what_was_written() -> None:
    text = told("Turn to {size} {where}.", size="28.0 mm", where="over the thread")
    assert text == "Turn to 28.0 mm over the thread."
    assert ENGLISH.say(text) == text


def test_a_pattern_puts_its_parts_in_the_order_of_the_language() -> None:
    text = told("Turn to {size} {where}.", size="28.05 mm", where="over the thread")
    assert GERMAN.say(text) == "über dem Gewinde auf 28,05 mm drehen."


def test_parts_may_be_told_themselves() -> None:
    inner = told("Turn to {size} {where}.", size="1.5 mm", where="Load")
    assert GERMAN.say(told("{a}!", a=inner)) == "Last auf 1,5 mm drehen.!"


def test_parts_in_a_row_are_said_each_by_itself() -> None:
    row = joined(["Load", told("Turn to {size} {where}.", size="1", where="Load")], ", ")
    without_comma = Words(GERMAN.catalogue)
    assert without_comma.say(row) == "Last, Last auf 1 drehen."


def test_a_sentence_has_its_capital_in_every_language() -> None:
    text = sentence("over the thread")
    assert text == "Over the thread."
    assert GERMAN.say(text) == "Über dem Gewinde."
    assert sentence("") == ""


def test_what_is_said_is_not_said_again() -> None:
    once = GERMAN.say("Load")
    assert once == "Last"
    assert Words({"Last": "wrong"}).say(once) == "Last"


@pytest.mark.parametrize(
    ("point", "comma"),
    [
        ("28.05 mm", "28,05 mm"),
        ("from 0.5 to 1.25.", "from 0,5 to 1,25."),
        ("cardgen 0.1.0", "cardgen 0.1.0"),
        ("on 2026.11.25", "on 2026.11.25"),
        ("p.1848", "p.1848"),
        ("M10x1.5-6g", "M10x1,5-6g"),
        ("5 mm", "5 mm"),
    ],
)
def test_decimals_are_set_off_by_a_comma_where_asked(point: str, comma: str) -> None:
    assert Words(comma=True).say(point) == comma
    assert ENGLISH.say(point) == point
