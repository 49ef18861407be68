"""The keys of a material file, shipped or the maker's own."""

from __future__ import annotations

from functools import cache

from cardgen.core.unit_table import Dimension
from cardgen.spec.keys.words import MATERIAL_NAME, TITLE, VERSION
from cardgen.spec.shape import (
    Either,
    Items,
    Key,
    Keys,
    Line,
    Measure,
    Names,
    Number,
    Row,
    Switch,
    Word,
)

GROUPS = (
    "carbon-steel",
    "alloy-steel",
    "tool-steel",
    "free-cutting-steel",
    "stainless",
    "cast-iron",
    "bronze",
    "brass",
    "aluminium",
    "plastic",
)
QUENCHES = ("water", "brine", "oil", "air")
EVIDENCE = ("read", "derived", "practice", "memory")

SOURCE = Line(500, "", "where the figure comes from")
_EVIDENCE = Key(Word(EVIDENCE), "How well it is known.")


def _known(shape: Measure | Number, about: str, *, needed: bool = False) -> Key:
    table = {
        "value": Key(shape, "The value to work with; the middle of the range if not stated."),
        "low": Key(shape, "Least published value."),
        "high": Key(shape, "Largest published value."),
        "source": Key(SOURCE, "Where it comes from; the file's source if not stated."),
        "evidence": _EVIDENCE,
    }
    return Key(Either(shape, Keys(table)), about, needed)


def _measure(
    dimension: Dimension, low: float, high: float, about: str, *, needed: bool = False
) -> Key:
    return _known(Measure(dimension, low, high), about, needed=needed)


def _heat() -> Keys:
    temperature = Measure("temperature", 50, 1350)
    temper = {
        "time": Key(Measure("time", 60, 360000), "Time at heat for which the rows hold."),
        "source": Key(SOURCE, "Where the rows come from."),
        "evidence": _EVIDENCE,
        "rows": Key(
            Items(Row((Measure("temperature", 20, 800), Measure("hardness", 5, 70))), 2, 60),
            "Tempering temperature and the hardness that is left, rising temperature.",
        ),
        "parameter": Key(
            Items(Row((Number(5, 30), Measure("hardness", 5, 70))), 2, 60),
            "Instead of rows: tempering parameter (kelvin, hours, C 20, in thousands) and the "
            "hardness that is left.",
        ),
    }
    avoid = {
        "low": Key(temperature, "Where the range begins.", needed=True),
        "high": Key(temperature, "Where it ends.", needed=True),
        "source": Key(SOURCE, "Where it comes from."),
        "evidence": _EVIDENCE,
    }
    return Keys(
        {
            "normalise": _measure("temperature", 500, 1350, "Normalising heat."),
            "harden": _measure("temperature", 500, 1350, "Hardening heat."),
            "quench": Key(Word(QUENCHES), "What it is quenched in."),
            "quench-source": Key(SOURCE, "Who says so."),
            "section-limit": _measure("length", 0.5, 2000, "Largest section that hardens through."),
            "as-quenched": _measure("hardness", 10, 70, "Hardness before tempering."),
            "temper": Key(Keys(temper), "Hardness after tempering."),
            "a1": _measure("temperature", 500, 1000, "Critical temperature Ac1."),
            "ac3": _measure("temperature", 500, 1200, "Critical temperature Ac3."),
            "ms": _measure("temperature", 50, 600, "Where martensite begins."),
            "avoid-temper": Key(Keys(avoid), "Tempering range that makes it brittle."),
            "double-temper": Key(Switch(), "Whether practice tempers it twice."),
        }
    )


@cache
def keys() -> Keys:
    """Return the keys of a material file."""
    cutting = {
        "kc11": _measure(
            "stress", 50, 10000, "Specific cutting force at 1 mm chip, rake 0.", needed=True
        ),
        "mc": _known(Number(0, 0.6), "Exponent of chip thickness.", needed=True),
        "speed": _measure(
            "speed", 0.5, 300, "Screw-cutting speed with high-speed steel.", needed=True
        ),
        "rake": _measure("angle", -15, 30, "Rake of a high-speed-steel form tool.", needed=True),
    }
    composition = Names(
        Number(0, 100),
        r"[A-Z][a-z]?",
        "symbols of the elements, each with its mass per cent, source and evidence",
        40,
        {"source": Key(SOURCE, "Where the composition comes from."), "evidence": _EVIDENCE},
    )
    return Keys(
        {
            "cardgen": VERSION,
            "material": Key(MATERIAL_NAME, "Name used in a job; also the file's."),
            "title": Key(TITLE, "Name on the card."),
            "group": Key(Word(GROUPS), "Kind of material; from the composition if not stated."),
            "also-known": Key(
                Items(Line(40, r"[^\n]+", "a name", numeric=True), 1, 30), "Other names of it."
            ),
            "yield": _measure("stress", 1, 4000, "Yield strength as it is cut.", needed=True),
            "strength": _measure("stress", 1, 5000, "Tensile strength as it is cut.", needed=True),
            "hardness": Key(Line(80, r"[^\n]+", "a hardness in words"), "As it is cut."),
            "modulus": _measure("stress", 500, 700000, "Young's modulus.", needed=True),
            "density": _measure("density", 500, 25000, "Density."),
            "composition": Key(composition, "Mass per cent of each element, middle of the range."),
            "cutting": Key(Keys(cutting), "How it cuts.", needed=True),
            "heat": Key(_heat(), "How it takes heat; absent if it is not hardened by heat."),
            "heat-note": Key(Line(600, "", "text"), "What else to know about heating it."),
            "source": Key(SOURCE, "Where the file's figures come from.", needed=True),
            "evidence": _EVIDENCE,
        }
    )
