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
_GIVE = Measure("length", 0.0001, 1)
_CENTRES = Measure("length", 5, 3000)
_SPEED = Measure("rotation", 1, 10000)
_TEETH = Whole(10, 200)
_LEVER = r"[A-Za-z0-9][A-Za-z0-9_-]{0,11}"
_RATIOS = Names(
    Number(0.001, 1000),
    _LEVER,
    "lever names of letters and digits, each with its ratio",
    200,
    {},
)


def _span(least: str, most: str) -> Keys:
    return Keys(
        {
            "min": Key(_CENTRES, least, needed=True),
            "max": Key(_CENTRES, most, needed=True),
        }
    )


def _train() -> Keys:
    fixed = {
        "first": Key(_TEETH, "Teeth of a first driver that cannot be taken off."),
        "last": Key(_TEETH, "Teeth of a last driven wheel that cannot be taken off."),
        "ratio": Key(
            Number(0.01, 100), "Turns of the first driver for one turn of the spindle; usually 1."
        ),
    }
    return Keys(
        {
            "arrangements": Key(
                Items(Word(ARRANGEMENTS), 1, 3), "Trains that the banjo takes; single and compound."
            ),
            "module": Key(
                Measure("length", 0.2, 10), "Of the change wheels, to check that they mesh."
            ),
            "centre-distance": Key(_span("Least.", "Largest."), "Spindle gear to leadscrew gear."),
            "banjo": Key(
                _span("Nearest to the leadscrew that a stud can stand.", "Furthest from it."),
                "The slot of the arm: leadscrew's axle to a stud.",
            ),
            "stud-nut": Key(
                Measure("length", 1, 100),
                "Across what stands out of a stud: nut, washer or screw head.",
            ),
            "tumbler": Key(
                Switch(), "Whether a lever turns the leadscrew's way round, whatever the idlers."
            ),
            "fixed": Key(Keys(fixed), "Wheels that stay on, not listed under gears."),
            "now": Key(
                Items(_TEETH, 2, 6),
                "Teeth on the machine now, driver, driven, driver, driven, from the spindle.",
            ),
        }
    )


def _gearbox() -> Keys:
    groups = Names(_RATIOS, _LEVER, "names of levers, each with its positions", 6, {})
    return Keys(
        {
            "ratios": Key(_RATIOS, "Lever name to leadscrew turns for one input turn."),
            "levers": Key(
                groups,
                "Several levers, each position with its ratio; the ratios of all are multiplied.",
            ),
        }
    )


def _spindle() -> Keys:
    one_range = {
        "speeds": Key(Items(_SPEED, 1, 60), "Its steps; or min and max, where it is variable."),
        "min": Key(_SPEED, "Slowest, where it is variable."),
        "max": Key(_SPEED, "Fastest, where it is variable."),
        "torque": Key(Measure("torque", 0.1, 100000), "Most that the spindle can turn in it."),
        "full-power-from": Key(
            _SPEED, "Spindle speed from which the motor has its power; below, its torque stays."
        ),
    }
    return Keys(
        {
            "speeds": Key(Items(_SPEED, 1, 60), "Every speed that it has; or ranges instead."),
            "ranges": Key(
                Names(Keys(one_range), _LEVER, "names of ranges, each with its speeds", 6, {}),
                "Ranges of speed, by belt or back gear: steps, or variable from min to max.",
            ),
            "step": Key(
                Measure("rotation", 0.1, 1000), "To which a variable speed can be set and read."
            ),
            "power": Key(Measure("power", 20, 200000), "Of the motor."),
            "efficiency": Key(Number(0.1, 1), "Motor to spindle."),
            "reverse": Key(Switch(), "Whether the spindle runs backwards under power."),
            "hand-crank": Key(Switch(), "Whether the spindle can be turned by hand with a crank."),
            "chuck-locked": Key(
                Switch(), "Whether the chuck stays on its nose when the spindle cuts backwards."
            ),
            "driver-slots": Key(
                Whole(1, 60), "Evenly spaced slots of the driver plate, for work between centres."
            ),
        }
    )


@cache
def keys() -> Keys:
    """Return the keys of a machine file."""
    dial = {
        "division": Key(_DIVISION, "What one division of the dial reads.", needed=True),
        "per-turn": Key(_PER_TURN, "What one turn of the dial reads.", needed=True),
        "backlash": Key(
            Measure("length", 0, 5), "Play of its screw, as slide travel that the dial turns free."
        ),
    }
    cross = dial | {
        "reads": Key(Word(READS), "Whether the dial reads the change of diameter or of radius.")
    }
    compound = dial | {
        "swivel": Key(Switch(), "Whether it can be set to an angle."),
        "travel": Key(Measure("length", 1, 1000), "How far it goes from end to end."),
    }
    thread_dial = {
        "gear": Key(Whole(4, 120), "Teeth of the gear on the leadscrew.", needed=True),
        "marks": Key(Whole(1, 48), "Marks on the dial.", needed=True),
        "other-gears": Key(
            Items(Whole(4, 120), 1, 12), "Teeth of further gears that fit the dial, if there are."
        ),
    }
    stop = {
        "kind": Key(Word(STOPS), "A stop that trips the feed, one that does not, or none."),
        "reaction": Key(
            Measure("time", 0.05, 10), "From seeing the mark to the feed being out, by your watch."
        ),
        "coast": Key(Number(0, 200), "Turns that the spindle still makes once it is switched off."),
    }
    give = {
        "chuck": Key(_GIVE, "At the jaws, on a short stout bar."),
        "tilt": Key(_GIVE, "100 mm out of the jaws on a stout bar, less what it is at the jaws."),
        "head-centre": Key(_GIVE, "At the headstock's centre."),
        "centre": Key(_GIVE, "At the tailstock's centre, its barrel as far out as for this work."),
        "rest": Key(_GIVE, "At the jaws of the steady or the follow rest."),
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
                Items(_TEETH, 1, 100),
                "Teeth of every change wheel; repeat a wheel owned twice.",
                needed=True,
            ),
            "train": Key(_train(), "How the change wheels may be set up."),
            "gearbox": Key(_gearbox(), "A gearbox between the train and the leadscrew."),
            "spindle": Key(_spindle(), "The spindle and its motor.", needed=True),
            "cross-slide": Key(Keys(cross), "The cross-slide's dial.", needed=True),
            "compound-slide": Key(Keys(compound), "The compound slide's dial."),
            "thread-dial": Key(Keys(thread_dial), "The dial that shows when to close the nut."),
            "carriage-stop": Key(Keys(stop), "How the carriage is stopped."),
            "give": Key(
                Keys(give), "How far parts yield to a pull of 100 N (10 kg), by the dial gauge."
            ),
            "limits": Key(Keys(limits), "What the owner does not go beyond."),
        }
    )
