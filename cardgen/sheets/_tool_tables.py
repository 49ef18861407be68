"""The tables of the cutter: reliefs by flank and material, practice, and blanks to be had."""

from __future__ import annotations

from dataclasses import dataclass

from cardgen import library
from cardgen.core.figure import Evidence, Input
from cardgen.sheets._constants import evidence

PRACTICE = "tool/practice"
_CLEARANCE = "tool/working_clearance"
_END = "tool/end_relief"
_BLANKS = "tool/blanks"
_BITS = "tool/bits"


@dataclass(frozen=True, slots=True)
class Angle:
    """A tabled angle [deg] with its row."""

    value_deg: float
    origin: str
    source: str
    evidence: Evidence

    @property
    def input(self) -> Input:
        """The angle as an input of a figure."""
        return Input(self.value_deg, "deg", self.origin, self.evidence)


def working_clearance(flank_deg: float) -> tuple[Angle, Angle]:
    """Return the usual and the least working clearance of a side with this flank angle."""
    usual, least = (
        next(
            Angle(
                float(row["clearance_deg"]),
                f"table:{_CLEARANCE} {which}",
                row["source"],
                evidence(row["evidence"]),
            )
            for row in library.table(_CLEARANCE)
            if row["which"] == which
            and float(row["flank_over_deg"]) < flank_deg <= float(row["flank_up_to_deg"])
        )
        for which in ("usual", "least")
    )
    return usual, least


def end_relief(group: str, flank_deg: float) -> Angle:
    """Return the end relief for a group of materials and a flank angle; V tools have their own.

    Raises
    ------
    LookupError
        If the table does not know the group.
    """
    for row in sorted(library.table(_END), key=lambda row: -float(row["flank_over_deg"])):
        if row["group"] in ("any", group) and flank_deg > float(row["flank_over_deg"]):
            return Angle(
                float(row["end_relief_deg"]),
                f"table:{_END} {row['group']}",
                row["source"],
                evidence(row["evidence"]),
            )
    msg = f"{_END} has no row {group}"
    raise LookupError(msg)


def blanks(inch: bool) -> tuple[tuple[float, str], ...]:
    """Return the square blanks to be had, smallest first: side [mm] and how it is written."""
    system = "in" if inch else "mm"
    return tuple(
        (float(row["side_mm"]), row["written"])
        for row in library.table(_BLANKS)
        if row["system"] == system
    )


def bits(inch: bool) -> tuple[tuple[float, str], ...]:
    """Return the square bits of boring bars to be had, smallest first, as :func:`blanks` does."""
    system = "in" if inch else "mm"
    return tuple(
        (float(row["side_mm"]), row["written"])
        for row in library.table(_BITS)
        if row["system"] == system
    )
