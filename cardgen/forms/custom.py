"""A form whose profile the maker states."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import degrees, tan

from cardgen.forms.form import Diameter, Form, FormError, read
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


def custom_form(profile: Profile, pitch: float) -> Form:
    """Return the form of a stated profile at one pitch [mm].

    Raises
    ------
    FormError
        If ridge and groove are nowhere equally wide between crest and root: then there is no pitch
        line on which a mate could be fitted.
    """
    spread = tan(profile.leading) + tan(profile.trailing)
    depth = profile.depth
    crest = pitch / 2 - depth / 2 * spread if profile.crest is None else profile.crest
    if crest < 0:
        msg = (
            f"flanks of {degrees(profile.leading):g} and {degrees(profile.trailing):g} degrees meet"
            f" before they are {depth:g} mm deep on a pitch of {pitch:g} mm; take a lesser depth,"
            " steeper flanks or a coarser pitch"
        )
        raise FormError(msg)
    if spread < _PARALLEL:
        if abs(crest - pitch / 2) > _SAME * pitch:
            msg = (
                f"between flanks square to the axis ridge and groove are equally wide only with a"
                f" crest of half the pitch, {pitch / 2:.4f} mm, not {crest:.4f} mm, and no mate of"
                " the same form would fit any other; leave crest out, or give the flanks a slope"
            )
            raise FormError(msg)
        below = depth
    else:
        below = (pitch - 2 * crest) / spread
    if not 0 < below <= 2 * depth * (1 + _SAME):
        least = max(pitch / 2 - depth * spread, 0.0)
        msg = (
            f"with a crest of {crest:.4f} mm ridge and groove are nowhere equally wide between"
            f" crest and root; take a crest between {least:.4f} and {pitch / 2:.4f} mm"
        )
        raise FormError(msg)
    if profile.clearance * spread >= crest:
        msg = (
            f"over a crest of {crest:.4f} mm the flanks of the mate meet {crest / spread:.4f} mm"
            f" further out, within the clearance of {profile.clearance:g} mm; take a wider crest"
            " or less clearance"
        )
        raise FormError(msg)
    flat = pitch - crest - depth * spread
    largest = one_arc(flat, profile.leading, profile.trailing) if flat > 0 else 0.0
    if profile.root_radius > largest * (1 + _SAME):
        msg = (
            f"a root {max(flat, 0.0):.4f} mm wide has no room for a radius of"
            f" {profile.root_radius:g} mm in its corners: {largest:.4f} mm at most"
        )
        raise FormError(msg)
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
