"""The keys of a template file: the shape of a card."""

from __future__ import annotations

from functools import cache

from cardgen.spec.keys.shop import paper_names
from cardgen.spec.keys.words import NAME, TITLE, VERSION, panels
from cardgen.spec.legibility import rule_source
from cardgen.spec.paper import hole_words
from cardgen.spec.shape import Either, Items, Key, Keys, Measure, Whole, Word

LEAST_BODY = 9
"""Points below which running text cannot be read at arm's length with wet hands."""

LEAST_DIAL = 14
"""Points below which a number that is dialled in cannot."""


@cache
def keys() -> Keys:
    """Return the keys of a template file."""
    # Type is measured in points, but bounded in the house unit.
    point = 25.4 / 72
    size = Measure("length", 6 * point, 72 * point)
    page = Keys(
        {
            "width": Key(Measure("length", 40, 450), "Trimmed width.", needed=True),
            "height": Key(Measure("length", 40, 450), "Trimmed height.", needed=True),
        }
    )
    type_ = {
        "body": Key(size, f"Running text; {LEAST_BODY} pt or more."),
        "dial": Key(size, f"Numbers that are dialled in; {LEAST_DIAL} pt or more."),
        "head": Key(size, "Titles."),
        "small": Key(size, "The smallest text on the card."),
        "minimum": Key(size, "Below which no text may be."),
    }
    return Keys(
        {
            "cardgen": VERSION,
            "template": Key(NAME, "Name used in a job; also the file's.", needed=True),
            "title": Key(TITLE, "What it is, in a few words."),
            "page": Key(
                Either(Word(paper_names()), page), "Page by name, or width and height.", needed=True
            ),
            "orientation": Key(Word(("portrait", "landscape")), "Of a page that has a name."),
            "margin": Key(Measure("length", 0, 50), "Clear of print on every side."),
            "seal-edge": Key(
                Measure("length", 0, 30),
                "Film that stands over the card's edge; a file's holes are measured from its edge.",
            ),
            "holes": Key(
                Word(hole_words()),
                "Punched holes: two (ISO 838), four, us-three, or one for hanging.",
            ),
            "corners": Key(Measure("length", 0, 20), "Radius to which the corners are cut."),
            "trim": Key(
                Word(("none", "corners", "outline")), "What shows where the card is cut out."
            ),
            "columns": Key(Whole(1, 4), "Columns of equal width."),
            "order": Key(Items(Word(panels()), 1, 40), "Panels as they are placed.", needed=True),
            "type": Key(Keys(type_), "Sizes of type."),
            "reading-distance": Key(
                Measure("length", 300, 3000),
                "From which the dialled numbers are read; it sets the least type, by"
                f" {rule_source()}.",
            ),
            "record-line": Key(
                Measure("length", 6, 25), "Height of a line that is written by hand."
            ),
            "ink": Key(Word(("colour", "mono")), "Colour, or one ink."),
        }
    )
