"""The tables of cutting data, each value as an input that names its row."""

from __future__ import annotations

from dataclasses import dataclass

from cardgen import library
from cardgen.core.figure import Evidence, Input
from cardgen.sheets._constants import constant, evidence, source, value


@dataclass(frozen=True, slots=True)
class Entry:
    """One value of a table of cutting data."""

    value: float
    unit: str
    origin: str
    source: str
    evidence: Evidence

    @property
    def input(self) -> Input:
        """The value as an input of a figure."""
        return Input(self.value, self.unit, self.origin, self.evidence)


def practice(name: str) -> Entry:
    """Return a number of the trade's practice."""
    return _named("cutting/practice", name)


def force_factor(name: str) -> Entry:
    """Return a factor of the cutting force."""
    return _named("cutting/force_factors", name)


def tool_strength(material: str) -> tuple[Entry, Entry]:
    """Return a tool material's bending strength [MPa] and the part of it that may be used."""
    table = "cutting/tool_strength"
    for row in library.table(table):
        if row["tool"] == material:
            strength, share = (
                Entry(
                    float(row[column]),
                    unit,
                    f"table:{table} {material}",
                    row["source"],
                    evidence(row["evidence"]),
                )
                for column, unit in (("bending_mpa", "MPa"), ("share", ""))
            )
            return strength, share
    msg = f"{table} has no row {material}"
    raise LookupError(msg)


def chip_thickness(material: str, group: str) -> tuple[Entry, Entry]:
    """Return the least and the most chip thickness for a tool and a material group [mm]."""
    table = "cutting/chip_thickness"
    tool = "carbide" if material == "carbide" else "hss"
    for row in library.table(table):
        if row["tool"] == tool and row["group"] == group:
            least, most = (
                Entry(
                    float(row[column]),
                    "mm",
                    f"table:{table} {tool} {group}",
                    row["source"],
                    evidence(row["evidence"]),
                )
                for column in ("least_mm", "most_mm")
            )
            return least, most
    msg = f"{table} has no row {tool}, {group}"
    raise LookupError(msg)


def _named(table: str, name: str) -> Entry:
    part = constant(table, name)
    return Entry(value(table, name), part.unit, part.origin, source(table, name), part.evidence)
