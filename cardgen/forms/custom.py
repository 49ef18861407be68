"""A form whose profile the maker states."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import degrees, tan

from cardgen.forms.form import MM, Diameter, Form, FormError, read
from cardgen.rules.profile import one_arc

NAME = "custom"
_PARALLEL = 1e-9
"""Sum of the tangents below which both flanks stand square to the axis."""
_BY_CREST = "d - (P - 2 c) / (tan(a1) + tan(a2))"
"""Where ridge and groove are equally wide below a crest of a stated width c."""
_SAME = 1e-9
"""Share of the pitch that is nothing."""


@dataclass(frozen=True, slots=True)
class Profile:
    """A thread's profile as stated.

    Attributes
    ----------
    leading, trailing
        Flank angles [rad].
    depth
        Radial, from crest to root [mm].
    crest
        Axial width of the crest [mm]; ``None`` for a ridge half a pitch wide at half its depth.
    root_radius
        In the corners of the root [mm].
    clearance
        Radial, between crest and root of screw and nut [mm].
    """

    leading: float
    trailing: float
    depth: float
    crest: float | None
    root_radius: float
    clearance: float


class ProfileError(FormError):
    """A profile that no pair of threads can have.

    Attributes
    ----------
    key
        What to change, a word of ``thread.custom``; empty for the profile as a whole.
    allowed
        What could stand there.
    """

    def __init__(self, found: str, key: str, allowed: str) -> None:
        self.key = key
        self.allowed = allowed
        super().__init__(found)


def custom_form(profile: Profile, pitch: float, *, inch: bool = False) -> Form:
    """Return the form of a stated profile at one pitch [mm].

    Parameters
    ----------
    profile
        As stated.
    pitch
        [mm].
    inch
        Whether a fault is told in inches.

    Raises
    ------
    ProfileError
        If ridge and groove are nowhere equally wide between crest and root: then there is no pitch
        line on which a mate could be fitted. Also if flanks meet too early, or if a corner's radius
        or the clearance has no room.
    """
    spread = tan(profile.leading) + tan(profile.trailing)
    depth = profile.depth
    crest = pitch / 2 - depth / 2 * spread if profile.crest is None else profile.crest

    def told(length: float) -> str:
        return f"{length / MM['in']:.4f} in" if inch else f"{length:.3f} mm"

    if crest < 0:
        found = (
            f"flanks of {degrees(profile.leading):g} and {degrees(profile.trailing):g} degrees meet"
            f" before they are {told(depth)} deep on a pitch of {told(pitch)}"
        )
        raise ProfileError(found, "depth", f"less than {told(pitch / spread)}, or steeper flanks")
    if spread < _PARALLEL:
        if abs(crest - pitch / 2) > _SAME * pitch:
            found = (
                f"between flanks square to the axis, ridge and groove are equally wide only with a"
                f" crest of half the pitch, and {told(crest)} is not: no mate of the same form"
                " would fit"
            )
            raise ProfileError(found, "crest", f"{told(pitch / 2)}, or leave crest out")
        below = depth
    else:
        below = (pitch - 2 * crest) / spread
    if not 0 < below <= 2 * depth * (1 + _SAME):
        least = max(pitch / 2 - depth * spread, 0.0)
        found = (
            f"with a crest of {told(crest)} ridge and groove are nowhere equally wide between"
            " crest and root"
        )
        raise ProfileError(found, "crest", f"between {told(least)} and {told(pitch / 2)}")
    if profile.clearance * spread >= crest:
        found = (
            f"over a crest of {told(crest)} the flanks of the mate meet {told(crest / spread)}"
            f" further out, within the clearance of {told(profile.clearance)}"
        )
        raise ProfileError(found, "clearance", f"less than {told(crest / spread)}")
    flat = pitch - crest - depth * spread
    largest = one_arc(flat, profile.leading, profile.trailing) if flat > 0 else 0.0
    if profile.root_radius > largest * (1 + _SAME):
        found = (
            f"a root {told(max(flat, 0.0))} wide has no room for a radius of"
            f" {told(profile.root_radius)} in its corners"
        )
        raise ProfileError(found, "root-radius", f"{told(largest)} at most")
    bare = read(NAME)
    if profile.crest is None:
        pitch_line = Diameter(0, 0, heights=1)
    else:
        pitch_line = Diameter(below / pitch, 0, words=_BY_CREST if spread >= _PARALLEL else "d - h")
    return replace(
        bare,
        leading=profile.leading,
        trailing=profile.trailing,
        diameters={
            "pitch": pitch_line,
            "minor": Diameter(0, 0, heights=2),
            "nut_major": Diameter(0, -2 if profile.clearance else 0),
            "nut_minor": Diameter(0, -2 if profile.clearance else 0, heights=2),
        },
        height={"stated": depth},
        clearance={"rule": "stated", "value": profile.clearance},
        cited={**bare.cited, "radii": bare.cited["diameters"], "height": bare.cited["diameters"]},
        radii={"root": {"stated": profile.root_radius}} if profile.root_radius else {},
    )
