"""The pitch that a standard lists for a diameter, and the sizes that it lists beside it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from cardgen import library

_INCH = Fraction(254, 10)
_NEIGHBOURS = 2
"""How many listed diameters on each side are offered where one is not listed."""


@dataclass(frozen=True, slots=True)
class Listed:
    """One size of a standard.

    Attributes
    ----------
    diameter, pitch
        Exact [mm].
    size
        The diameter as an inch standard writes it; empty in a metric table.
    """

    diameter: Fraction
    pitch: Fraction
    size: str

    @property
    def inch(self) -> bool:
        """Whether the pitch is counted in threads per inch."""
        return self.size != ""

    @property
    def pitch_written(self) -> str:
        """The pitch as the standard counts it."""
        return f"{float(_INCH / self.pitch):g} tpi" if self.inch else f"{float(self.pitch):g} mm"

    def written(self, *, inch: bool) -> str:
        """Return diameter and pitch, the diameter in the unit that the maker uses."""
        if inch:
            diameter = self.size or f"{float(self.diameter / _INCH):.4g} in"
        else:
            diameter = f"{float(self.diameter):.6g} mm"
        return f"{diameter} with {self.pitch_written}"


def usual_pitches(standard: Mapping[str, Any], series: str) -> list[Listed]:
    """Return the sizes of a form with their usual pitches, of one series where it has several.

    Parameters
    ----------
    standard
        ``usual_pitch`` of the form's data file.
    series
        As asked for; empty for the usual one.
    """
    own = standard.get("by_series", {}).get(series)
    wanted = series or standard.get("series", "")
    return [
        Listed(
            # The millimetre columns of an inch table are rounded; inch and count are not.
            Fraction(row["d_in"]) * _INCH if "d_in" in row else Fraction(row["d_mm"]),
            _INCH / Fraction(row["tpi"]) if "tpi" in row else Fraction(row["p_mm"]),
            _size(row) if "tpi" in row else "",
        )
        for row in library.table(own["table"] if own else standard["table"])
        if own or (row["preferred"] == "yes" and row.get("series", wanted) == wanted)
    ]


def usual_words(standard: Mapping[str, Any], series: str) -> str:
    """Return what the usual pitch is called."""
    own = standard.get("by_series", {}).get(series)
    return str((own or standard)["words"])


def neighbours(listed: list[Listed], diameter: Fraction, *, inch: bool) -> str:
    """Return the listed sizes next to a diameter, as a hint in the maker's own unit."""
    below = [row for row in listed if row.diameter < diameter][-_NEIGHBOURS:]
    above = [row for row in listed if row.diameter > diameter][:_NEIGHBOURS]
    near = [row.written(inch=inch) for row in below + above]
    return f"listed near it: {', '.join(near)}" if near else ""


def _size(row: Mapping[str, str]) -> str:
    return f"No. {row['size']}" if row.get("kind") == "number" else f"{row['size']} in"
