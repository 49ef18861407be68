"""The keys of a machine file."""

from __future__ import annotations

from functools import cache

from cardgen.spec.keys.words import NAME, TITLE, VERSION
from cardgen.spec.shape import (
    Items,
    Key,
    Keys,
    Measure,
    Names,
    Number,
    Switch,
    Whole,
    Word,
)

READS = ("diameter", "radius")
ARRANGEMENTS = ("single", "compound", "double-compound")
STOPS = ("none", "fixed", "trip")

_DIVISION = Measure("length", 0.0005, 2)
_PER_TURN = Measure("length", 0.1, 50)
_CENTRES = Measure("length", 5, 3000)


@cache
def keys() -> Keys:
    """Return the keys of a machine file."""
    train = {
        "arrangements": Key(
            Items(Word(ARRANGEMENTS), 1, 3), "Trains that the banjo takes; single and compound."
        ),
        "module": Key(Measure("length", 0.2, 10), "Of the change wheels, to check that they mesh."),
        "centre-distance": Key(
            Keys(
                {
                    "min": Key(_CENTRES, "Least.", needed=True),
                    "max": Key(_CENTRES, "Largest.", needed=True),
                }
            ),
            "Spindle gear to leadscrew gear.",
        ),
    }
    ratios = Names(
        Number(0.001, 1000),
        r"[A-Za-z0-9][A-Za-z0-9_-]{0,11}",
        "lever names of letters and digits, each with its ratio",
        200,
        {},
    )
    spindle = {
        "speeds": Key(
            Items(Measure("rotation", 1, 10000), 1, 60), "Every speed that it has.", needed=True
        ),
        "power": Key(Measure("power", 20, 200000), "Of the motor.", needed=True),
        "efficiency": Key(Number(0.1, 1), "Motor to spindle."),
        "reverse": Key(Switch(), "Whether the spindle runs backwards under power."),
        "hand-crank": Key(Switch(), "Whether the spindle can be turned by hand with a crank."),
    }
    dial = {
        "division": Key(_DIVISION, "What one division of the dial reads.", needed=True),
        "per-turn": Key(_PER_TURN, "What one turn of the dial reads.", needed=True),
    }
    cross = dial | {
        "reads": Key(Word(READS), "Whether the dial reads the change of diameter or of radius.")
    }
    compound = dial | {"swivel": Key(Switch(), "Whether it can be set to an angle.")}
    thread_dial = {
        "gear": Key(Whole(4, 120), "Teeth of the gear on the leadscrew.", needed=True),
        "marks": Key(Whole(1, 48), "Marks on the dial.", needed=True),
    }
    stop = {
        "kind": Key(Word(STOPS), "A stop that trips the feed, one that does not, or none."),
        "reaction": Key(
            Measure("time", 0.05, 10), "From seeing the mark to the feed being out, by your watch."
        ),
    }
    limits = {
        "thread-overhang": Key(
            Measure("length", 1, 10000), "Longest free length of work that you trust."
        )
    }
    return Keys(
        {
            "cardgen": VERSION,
            "machine": Key(NAME, "Short name of the machine.", needed=True),
            "title": Key(TITLE, "Title on the card; the name if not stated."),
            "leadscrew": Key(
                Keys(
                    {"pitch": Key(Measure("pitch", 0.5, 60), "Travel for one turn.", needed=True)}
                ),
                "The leadscrew.",
                needed=True,
            ),
            "gears": Key(
                Items(Whole(10, 200), 1, 100),
                "Teeth of every change wheel; repeat a wheel owned twice.",
                needed=True,
            ),
            "train": Key(Keys(train), "How the change wheels may be set up."),
            "gearbox": Key(
                Keys(
                    {
                        "ratios": Key(
                            ratios, "Lever name to leadscrew turns for one input turn.", needed=True
                        )
                    }
                ),
                "A gearbox between the train and the leadscrew.",
            ),
            "spindle": Key(Keys(spindle), "The spindle and its motor.", needed=True),
            "cross-slide": Key(Keys(cross), "The cross-slide's dial.", needed=True),
            "compound-slide": Key(Keys(compound), "The compound slide's dial."),
            "thread-dial": Key(Keys(thread_dial), "The dial that shows when to close the nut."),
            "carriage-stop": Key(Keys(stop), "How the carriage is stopped."),
            "limits": Key(Keys(limits), "What the owner does not go beyond."),
        }
    )
