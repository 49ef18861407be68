"""The keys of a shop file: defaults for every job of the folder."""

from __future__ import annotations

from functools import cache

from cardgen import library
from cardgen.spec.keys.words import DECIMALS, FILE, NAME, TITLE, VERSION, languages
from cardgen.spec.shape import Items, Key, Keys, Measure, Word


def paper_names() -> tuple[str, ...]:
    """Return the page sizes that have a name, as it is written and in small letters."""
    names = [row["name"] for row in library.table("card/page_sizes")]
    return tuple(dict.fromkeys([*names, *(name.lower() for name in names)]))


@cache
def keys() -> Keys:
    """Return the keys of a shop file."""
    return Keys(
        {
            "cardgen": VERSION,
            "shop": Key(TITLE, "Name of the workshop."),
            "machine": Key(FILE, "The machine's file, relative to this one."),
            "template": Key(NAME, "Shape of the cards: a file in templates/."),
            "units": Key(Word(("mm", "in")), "What the cards show first."),
            "language": Key(Word(languages()), "Of the cards' words; English if not stated."),
            "decimals": Key(Word(DECIMALS), "How the cards set decimals off."),
            "wires": Key(
                Items(Measure("length", 0.1, 40), 1, 60), "Pins or wires owned, for measuring."
            ),
            "paper": Key(Word(paper_names()), "Sheet on which the binder is printed."),
        }
    )
