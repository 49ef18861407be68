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
    inch
        Whether the pitch is counted in threads per inch.
    size
        The diameter as an inch standard writes it; empty where the table has millimetres.
    """

    diameter: Fraction
    pitch: Fraction
    inch: bool
    size: str

    @property
    def pitch_written(self) -> str:
        """The pitch as the standard counts it."""
        return _pitches([self])

    def diameter_written(self, *, inch: bool) -> str:
        """Return the diameter in the unit that the maker uses."""
        if inch:
            return self.size or f"{float(self.diameter / _INCH):.4g} in"
        return f"{float(self.diameter):.6g} mm"


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
    if own:
        return [_listed(row) for row in library.table(own["table"])]
    return [
        _listed(row)
        for row in library.table(standard["table"])
        if row["preferred"] == "yes" and row.get("series", wanted) == wanted
    ]


def every_size(standard: Mapping[str, Any]) -> list[Listed]:
    """Return all sizes of a form, for a standard that prefers no pitch to another."""
    return [_listed(row) for row in library.table(standard["table"])]


def usual_words(standard: Mapping[str, Any], series: str) -> str:
    """Return what the usual pitch is called."""
    own = standard.get("by_series", {}).get(series)
    return str((own or standard)["words"])


def neighbours(listed: list[Listed], diameter: Fraction, *, inch: bool) -> str:
    """Return the listed sizes at a diameter or next to it, as a hint in the maker's own unit."""
    by_diameter: dict[Fraction, list[Listed]] = {}
    for row in listed:
        by_diameter.setdefault(row.diameter, []).append(row)
    if diameter in by_diameter:
        return f"listed for it: {_pitches(by_diameter[diameter])}"
    below = sorted(d for d in by_diameter if d < diameter)[-_NEIGHBOURS:]
    above = sorted(d for d in by_diameter if d > diameter)[:_NEIGHBOURS]
    near = [
        f"{by_diameter[key][0].diameter_written(inch=inch)} with {_pitches(by_diameter[key])}"
        for key in below + above
    ]
    return f"listed near it: {', '.join(near)}" if near else ""


def _pitches(rows: list[Listed]) -> str:
    """Return the pitches of one diameter: ``16, 12 or 10 tpi``."""
    inch = rows[0].inch
    *most, last = [f"{float(_INCH / row.pitch if inch else row.pitch):g}" for row in rows]
    unit = "tpi" if inch else "mm"
    return f"{', '.join(most)} or {last} {unit}" if most else f"{last} {unit}"


def _listed(row: Mapping[str, str]) -> Listed:
    return Listed(
        # The millimetre columns of an inch table are rounded; inch and count are not.
        Fraction(row["d_in"]) * _INCH if "d_in" in row else Fraction(row["d_mm"]),
        _INCH / Fraction(row["tpi"]) if "tpi" in row else Fraction(row["p_mm"]),
        "tpi" in row,
        _size(row) if "d_in" in row else "",
    )


def _size(row: Mapping[str, str]) -> str:
    return f"No. {row['size']}" if row.get("kind") == "number" else f"{row['size']} in"
