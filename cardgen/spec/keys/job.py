"""The keys of a job file."""

from __future__ import annotations

from functools import cache

from cardgen.spec.keys.material import QUENCHES
from cardgen.spec.keys.words import (
    DECIMALS,
    FILE,
    FORMS,
    MATERIAL_NAME,
    NAME,
    PROSE,
    TITLE,
    VERSION,
    all_variants,
    languages,
    panels,
)
from cardgen.spec.shape import Items, Key, Keys, Line, Measure, Number, Whole, Word

HANDS = ("right", "left")
WAYS = ("push", "pull")
COLUMN_ENDS = ("free", "pinned", "fixed")
HOLDINGS = ("chuck", "chuck-and-centre", "between-centres")
RESTS = ("none", "steady", "follow")
ENDS = ("groove", "shoulder", "open")
TOOL_MATERIALS = ("hss", "hss-cobalt", "carbide")
SETTINGS = ("level", "tipped")
INFEEDS = ("auto", "plunge", "flank", "alternate", "rough-then-form", "widen")
STEPS = (
    "normalise", "harden", "temper", "stress-relieve", "blacken", "oil-black", "cold-blue", "wax",
)  # fmt: skip
FURNACES = ("muffle", "oven", "fan-oven")

DIAMETER = Measure("length", 0.5, 500)
PITCH = Measure("pitch", 0.1, 60)
STARTS = Whole(1, 8)
CLASS = Line(6, r"[0-9A-Za-z]+", "a tolerance class, such as 7e or 2G")
DATE = Line(30, r"[^\n]+", "a date on one line, as it shall be printed")

_CUSTOM = Keys(
    {
        "leading-flank": Key(
            Measure("angle", 0, 80),
            "Angle of the leading flank, which faces the end that enters the mate.",
            needed=True,
        ),
        "trailing-flank": Key(Measure("angle", 0, 80), "Angle of the trailing flank.", needed=True),
        "depth": Key(Measure("length", 0.01, 60), "Radial depth of the thread.", needed=True),
        "crest": Key(
            Measure("length", 0, 60),
            "Axial width of the crest; as wide as makes ridge and groove alike at half the depth"
            " if not stated.",
        ),
        "root-radius": Key(Measure("length", 0, 30), "Radius in the corners of the root."),
        "clearance": Key(Measure("length", 0, 10), "Clearance at the crest of the mate."),
    }
)

_THREAD = Keys(
    {
        "form": Key(Word(FORMS), "Thread form.", needed=True),
        "variant": Key(
            Word(all_variants()),
            "What is varied of the form: modified-1 or modified-2 of stub-acme, centralizing of"
            " acme (class 2C says the same), modified of square (flanks of 5 deg), push of a"
            " buttress-inch (the screw pushes: its load flank leads), pull of buttress-metric (the"
            " screw pulls: its load flank trails), module of worm (flanks of 20 deg;"
            " the standard ones are 14.5 deg). The standard's own if not stated.",
        ),
        "surface": Key(Word(("external", "internal")), "Screw or nut; a screw if not stated."),
        "diameter": Key(DIAMETER, "Nominal diameter. Give this or size."),
        "size": Key(
            Line(60, r"[^\n]+", "a designation, such as Tr 28x5, M10x1.5-6g or 1-5 ACME-2G"),
            "The thread in the standard's own words, instead of diameter and pitch.",
        ),
        "pitch": Key(PITCH, "Axial pitch of one thread: a length, or threads per inch."),
        "module": Key(Measure("length", 0.05, 20), "Worms only: module."),
        "diametral-pitch": Key(Number(1, 200), "Worms only: diametral pitch, teeth per inch."),
        "starts": Key(STARTS, "Number of starts; 1 if not stated."),
        "hand": Key(Word(HANDS), "Hand of the helix; right if not stated."),
        "class": Key(CLASS, "Tolerance class of the standard; the form's usual one if not stated."),
        "series": Key(
            Word(("UNC", "UNF", "UNEF", "UN", "UNS", "BSW", "BSF")),
            "Unified: series, which sets the length of engagement. Whitworth: BSW or BSF. With it"
            " the pitch may be left out.",
        ),
        "length": Key(Measure("length", 0.5, 10000), "Length of full thread.", needed=True),
        "custom": Key(_CUSTOM, "The profile, with form: custom only."),
    }
)

_MATE = Keys(
    {
        "kind": Key(Word(("nut", "rack")), "What runs on the thread; a nut if not stated."),
        "length": Key(Measure("length", 0.5, 2000), "Length of engagement."),
        "material": Key(MATERIAL_NAME, "A material's name."),
        "class": Key(CLASS, "Tolerance class of the mate; the usual one if not stated."),
        "teeth": Key(Whole(1, 1000), "Rack only: number of teeth."),
        "width": Key(Measure("length", 1, 500), "Rack only: width of the face."),
        "axis": Key(
            Word(("parallel", "set-over")), "Rack only: how the screw's axis lies to the rack."
        ),
    }
)

_WORK = Keys(
    {
        "material": Key(
            MATERIAL_NAME, "A material's name: a shipped one, or a file in materials/.", needed=True
        ),
        "stock": Key(
            Measure("length", 1, 600), "Diameter of the bar; the next practical size if not stated."
        ),
        "holding": Key(Word(HOLDINGS), "How the bar is held; chuck-and-centre if not stated."),
        "stickout": Key(
            Measure("length", 1, 10000), "Jaw face to the far end; from the length if not stated."
        ),
        "rest": Key(Word(RESTS), "Support against bending; none if not stated."),
        "thread-end": Key(Word(ENDS), "Where the thread stops; open if not stated."),
        "groove": Key(
            Measure("length", 0.2, 200), "Width of the run-out groove, with thread-end: groove."
        ),
        "cut-towards": Key(
            Word(("chuck", "tailstock")),
            "Which way the tool goes; as the hand asks, spindle forward, if not stated. The other "
            "way the spindle runs backwards and the tool stands upside down.",
        ),
        "blind": Key(
            Measure("length", 0.5, 2000),
            "Internal only: depth of a blind hole from the free face; through if not stated.",
        ),
    }
)

_TOOL = Keys(
    {
        "material": Key(Word(TOOL_MATERIALS), "What the cutter is made of; hss if not stated."),
        "blank": Key(Measure("length", 2, 60), "Side of the square blank."),
        "setting": Key(
            Word(SETTINGS), "Face level with the axis, or tipped to the helix; level if not stated."
        ),
        "infeed": Key(Word(INFEEDS), "How the tool is fed in; auto if not stated."),
        "wires": Key(
            Items(Measure("length", 0.1, 40), 1, 60),
            "Pins or wires owned, for measuring; balls for an internal thread.",
        ),
        "bar": Key(
            Measure("length", 2, 100),
            "Internal only: diameter of the boring bar; the largest that passes if not stated.",
        ),
        "overhang": Key(
            Measure("length", 5, 1000),
            "Internal only: boring bar from its holder to the point; the shortest if not stated.",
        ),
    }
)

_HEAT_STEP = Keys(
    {
        "step": Key(Word(STEPS), "What is done.", needed=True),
        "temperature": Key(
            Measure("temperature", 50, 1350), "At heat; from the steel's data if not stated."
        ),
        "time": Key(Measure("time", 1, 360000), "Time at heat; from practice if not stated."),
        "hardness": Key(Measure("hardness", 10, 70), "Rockwell C hardness after this step."),
        "quench": Key(Word(QUENCHES), "With harden: the bath; that of the steel's data if absent."),
        "furnace": Key(
            Word(FURNACES),
            "What it is heated in; a still oven up to 300 degC and a muffle above it if absent.",
        ),
    }
)

_DUTY = Keys(
    {
        "load": Key(Measure("force", 1, 1e7), "Axial load.", needed=True),
        "handle": Key(Measure("length", 5, 5000), "Length of the handle, axis to hand."),
        "friction": Key(
            Number(0.01, 0.6), "Coefficient of friction in the thread; a published range if absent."
        ),
        "collar": Key(
            Measure("length", 1, 1000), "Mean diameter of the collar or pad that turns under load."
        ),
        "collar-friction": Key(
            Number(0.01, 0.6), "Coefficient of friction at the collar; the thread's if not stated."
        ),
        "way": Key(Word(WAYS), "Whether the load pushes or pulls the screw; push if not stated."),
        "ends": Key(
            Word(COLUMN_ENDS),
            "How a pushed screw is held at its ends; pinned at both if not stated.",
        ),
        "free-length": Key(
            Measure("length", 1, 10000), "Between its supports; the thread's length if not stated."
        ),
        "turns": Key(
            Measure("rotation", 0.1, 10000),
            "At which it is turned; slowly, by hand, if not stated.",
        ),
    }
)


@cache
def keys() -> Keys:
    """Return the keys of a job file."""
    card = Keys(
        {
            "template": Key(NAME, "Shape of the card: a file in templates/."),
            "show": Key(
                Items(Word(panels()), 1, 40), "Panels to show; all that apply if not stated."
            ),
            "date": Key(DATE, "Printed in the card's head; no date if not stated."),
        }
    )
    return Keys(
        {
            "cardgen": VERSION,
            "job": Key(NAME, "Short name of the job; names the output.", needed=True),
            "title": Key(TITLE, "Title on the card; the job's name if not stated."),
            "note": Key(PROSE, "Free text, printed on the card."),
            "date": Key(DATE, "Printed in the card's head; no date if not stated."),
            "units": Key(
                Word(("mm", "in")), "What the card shows first; the machine's dials if not stated."
            ),
            "language": Key(Word(languages()), "Of the card's words; English if not stated."),
            "decimals": Key(
                Word(DECIMALS), "How the card sets decimals off; as its language does if absent."
            ),
            "thread": Key(_THREAD, "The thread to cut.", needed=True),
            "mate": Key(_MATE, "What runs on the thread."),
            "work": Key(_WORK, "The bar, and how it is held.", needed=True),
            "tool": Key(_TOOL, "The cutter."),
            "machine": Key(FILE, "The machine's file, relative to this one."),
            "heat": Key(Items(_HEAT_STEP, 1, 12), "Heat treatment, steps in order."),
            "duty": Key(_DUTY, "What the screw must do."),
            "card": Key(card, "The card's shape and panels."),
        }
    )
