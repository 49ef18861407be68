"""A thread form as its data file states it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from math import radians, sqrt
from typing import Any, Literal

from cardgen import library
from cardgen.core.figure import Evidence

FOLDER = "forms"
MM = {"mm": 1.0, "in": 25.4}


class FormError(ValueError):
    """A thread that the form cannot have; the text says why in numbers, and what would help."""


@dataclass(frozen=True, slots=True)
class Cited:
    """Where a group of constants comes from."""

    source: str
    evidence: Evidence


@dataclass(frozen=True, slots=True)
class Diameter:
    """A basic diameter: d less multiples of P, ac, h and sqrt(P), and more by one of sqrt(d).

    ``ac`` is the form's clearance, ``h`` its height where the standard rounds that by itself or the
    maker states it; ``growth`` is for lengths in mm. ``words`` says in the grammar of figures how
    the drop came about, where it is not a constant of the form.
    """

    drop: float
    clearances: float
    heights: float = 0.0
    roots: float = 0.0
    growth: float = 0.0
    words: str = ""

    def of(self, nominal: float, pitch: float, clearance: float, height: float = 0.0) -> float:
        """Return the diameter [mm], from four lengths in mm."""
        return (
            nominal
            - self.drop * pitch
            - self.clearances * clearance
            - self.heights * height
            - self.roots * sqrt(pitch)
            + self.growth * sqrt(nominal)
        )

    @property
    def terms(self) -> tuple[tuple[float, str], ...]:
        """What is taken off the nominal diameter: factor and symbol."""
        all_terms = (
            (self.drop, "P"),
            (self.clearances, "ac"),
            (self.heights, "h"),
            (self.roots, "sqrt(P)"),
            (-self.growth, "sqrt(d)"),
        )
        return tuple((factor, symbol) for factor, symbol in all_terms if factor)

    @property
    def formula(self) -> str:
        """The same in the grammar of figures, with symbols d, P, ac and h."""
        if self.words:
            return self.words
        text = "d"
        for factor, symbol in self.terms:
            text += f" {'-' if factor > 0 else '+'} {multiple(abs(factor), symbol)}"
        return text


@dataclass(frozen=True, slots=True)
class Form:
    """One thread form.

    Attributes
    ----------
    name
        The file's name, as in a spec.
    title
        As printed.
    unit
        In which the form's standard is written and its lengths below are given.
    places
        Decimals in that unit to which the standard rounds limits; ``None`` where its tolerances
        are round already.
    classes, default_class
        Tolerance classes of the screw; none where the form has no standard.
    sizes
        Tables of the standard's sizes, by their names in the library.
    sizes_standard
        The standard of those tables.
    leading, trailing
        Flank angles [rad].
    loaded
        ``leading`` or ``trailing``, where the form is made to bear on one flank; else empty.
    diameters
        ``pitch``, ``minor``, ``nut_major`` and ``nut_minor``; ``nut_pitch`` where the nut's own
        basic pitch diameter is another than the screw's.
    height
        Height of the form where the standard rounds it by itself: so many ``pitches``, to whole
        multiples of ``step`` [mm]; or ``stated`` by the maker [mm]; empty where the diameters are
        stated directly.
    clearance, radii, designation, tolerances
        As in the data file, lengths in ``unit``.
    mate_classes, usual_mate
        Classes of the nut, and the one that each class of screw usually gets.
    cited
        Table of the data file to its source.
    series
        Of a form whose limits depend on it; empty for the others.
    engagement
        Groups of length of engagement and their classes, as in the data file; may be empty.
    tap_drills
        Table of drills for tapping the nut; empty where none is printed.
    engaged
        Length over which screw and nut are to engage [mm]; ``None`` where nobody said, and the
        standard's own holds.
    """

    name: str
    title: str
    unit: Literal["mm", "in"]
    places: int | None
    classes: tuple[str, ...]
    default_class: str
    sizes: tuple[str, ...]
    sizes_standard: str
    leading: float
    trailing: float
    diameters: Mapping[str, Diameter]
    clearance: Mapping[str, Any]
    height: Mapping[str, float]
    radii: Mapping[str, Mapping[str, float]]
    designation: Mapping[str, str]
    tolerances: Mapping[str, Any]
    mate_classes: tuple[str, ...]
    usual_mate: Mapping[str, str]
    cited: Mapping[str, Cited]
    series: str = ""
    loaded: str = ""
    engagement: Mapping[str, Any] = field(default_factory=dict)
    tap_drills: str = ""
    engaged: float | None = None

    @property
    def overlap_formula(self) -> str:
        """Radial overlap of screw and nut in the grammar of figures."""
        bore = self.diameters["nut_minor"]
        (first, symbol), *more = bore.terms
        text = multiple(first, symbol)
        for factor, symbol in more:
            text += f" {'+' if factor > 0 else '-'} {multiple(abs(factor), symbol)}"
        return f"({text}) / 2" if more else f"{text} / 2"

    @property
    def mm(self) -> float:
        """Millimetres in one of the form's units."""
        return MM[self.unit]


def multiple(factor: float, symbol: str) -> str:
    """Return a product in the grammar of figures: ``0.5 P``, or ``P`` alone for a factor of 1."""
    return symbol if factor == 1 else f"{factor:.10g} {symbol}"


def names() -> tuple[str, ...]:
    """Return the names of all forms that have a data file, variants among them."""
    return library.names(FOLDER, ".toml")


@cache
def read(name: str, series: str = "") -> Form:
    """Return a form by its name: the word in a spec, or ``FORM+VARIANT``.

    Raises
    ------
    FileNotFoundError
        If there is no such form.
    """
    raw = library.form(name)
    flanks, diameters, mate = raw["flanks"], raw["diameters"], raw["mate"]
    return Form(
        name=name,
        title=raw["title"],
        unit=raw["unit"],
        places=raw.get("places"),
        classes=tuple(raw["classes"]),
        default_class=raw["default_class"],
        sizes=tuple(raw["sizes"]),
        sizes_standard=raw["sizes_standard"],
        leading=radians(flanks["leading_deg"]),
        trailing=radians(flanks["trailing_deg"]),
        diameters={
            key: Diameter(
                line["drop"],
                line["clearances"],
                line.get("heights", 0.0),
                line.get("roots", 0.0),
                line.get("growth", 0.0) * sqrt(MM[raw["unit"]]),
            )
            for key, line in diameters.items()
            if isinstance(line, dict)
        },
        clearance=raw["clearance"],
        height={
            key: value for key, value in raw.get("height", {}).items() if not isinstance(value, str)
        },
        radii=raw.get("radii", {}),
        designation=raw["designation"],
        tolerances=raw["tolerances"],
        mate_classes=tuple(mate["classes"]),
        usual_mate=mate["usual"],
        cited={
            key: Cited(group["source"], group.get("evidence", "derived"))
            for key, group in raw.items()
            if isinstance(group, dict) and "source" in group
        },
        series=series,
        loaded=flanks.get("loaded", ""),
        engagement=raw.get("engagement", {}),
        tap_drills=raw.get("tap_drill", {}).get("table", ""),
    )
