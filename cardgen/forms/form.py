"""A thread form as its data file states it."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from math import radians
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
    """A basic diameter as a line in pitch and clearance: ``d - drop P - clearances ac``."""

    drop: float
    clearances: float

    def of(self, nominal: float, pitch: float, clearance: float) -> float:
        """Return the diameter, in the unit of the three lengths given."""
        return nominal - self.drop * pitch - self.clearances * clearance

    @property
    def formula(self) -> str:
        """The same in the grammar of figures, with symbols d, P and ac."""
        text = "d"
        for factor, symbol in ((self.drop, "P"), (self.clearances, "ac")):
            if factor:
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
    diameters
        ``pitch``, ``minor``, ``nut_major`` and ``nut_minor``.
    clearance, radii, designation, tolerances
        As in the data file, lengths in ``unit``.
    mate_classes, usual_mate
        Classes of the nut, and the one that each class of screw usually gets.
    cited
        Table of the data file to its source.
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
    radii: Mapping[str, Mapping[str, float]]
    designation: Mapping[str, str]
    tolerances: Mapping[str, Any]
    mate_classes: tuple[str, ...]
    usual_mate: Mapping[str, str]
    cited: Mapping[str, Cited]

    @property
    def overlap_formula(self) -> str:
        """Radial overlap of screw and nut in the grammar of figures."""
        bore = self.diameters["nut_minor"]
        drop = multiple(bore.drop, "P")
        if not bore.clearances:
            return f"{drop} / 2"
        sign = "+" if bore.clearances > 0 else "-"
        return f"({drop} {sign} {multiple(abs(bore.clearances), 'ac')}) / 2"

    @property
    def mm(self) -> float:
        """Millimetres in one of the form's units."""
        return MM[self.unit]


def multiple(factor: float, symbol: str) -> str:
    """Return a product in the grammar of figures: ``0.5 P``, or ``P`` alone for a factor of 1."""
    return symbol if factor == 1 else f"{factor:.10g} {symbol}"


def names() -> tuple[str, ...]:
    """Return the names of all forms that have a data file."""
    return library.names(FOLDER, ".toml")


@cache
def read(name: str) -> Form:
    """Return a form by its name in a spec.

    Raises
    ------
    FileNotFoundError
        If there is no such form.
    """
    raw = tomllib.loads(library.text(f"{FOLDER}/{name}.toml"))
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
            key: Diameter(line["drop"], line["clearances"])
            for key, line in diameters.items()
            if isinstance(line, dict)
        },
        clearance=raw["clearance"],
        radii=raw.get("radii", {}),
        designation=raw["designation"],
        tolerances=raw["tolerances"],
        mate_classes=tuple(mate["classes"]),
        usual_mate=mate["usual"],
        cited={
            key: Cited(group["source"], group.get("evidence", "derived"))
            for key, group in raw.items()
            if isinstance(group, dict)
        },
    )
