"""Basic sizes of a thread, by the constants of its form."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from math import fsum, pi

from cardgen import library
from cardgen.forms.form import Form, FormError
from cardgen.rules.profile import Section, groove_widening, one_arc

_SAME_SIZE = 1e-4
"""Two sizes that differ by less are the same size [mm]; inch tables are printed to 4 places."""
_INCH = Fraction(254, 10)
_WHOLE = 0.99
"""A rounding that takes up so much of its flat is one arc: standards print rounded radii."""

_QUARTERS = 1e-6
"""Diametral pitches come in quarters; a linear pitch never gives one."""


@dataclass(frozen=True, slots=True)
class Sizes:
    """Basic sizes [mm].

    Attributes
    ----------
    major, pitch_diameter, minor
        Of the screw; ``minor`` is its own root.
    nut_major, nut_pitch_diameter, nut_minor
        Of the nut; ``nut_minor`` is its bore. Its pitch diameter is the screw's, but for forms
        that give the nut a clearance of its own.
    pitch
        Axial.
    clearance
        ``ac`` of the form, radial.
    height
        Height of the form, rounded; 0 where the form states its diameters directly.
    crest_radius, root_radius, least_root_radius
        Largest (least) rounding of the screw's corners; ``None`` where the form states none.
    root_arc, crest_arc, nut_root_arc, nut_crest_arc
        Radius of a root or crest that is an arc by the form itself; 0 where it is flat and a
        rounding is merely allowed.
    leading, trailing
        Flank angles [rad].
    """

    major: float
    pitch_diameter: float
    minor: float
    nut_major: float
    nut_pitch_diameter: float
    nut_minor: float
    pitch: float
    clearance: float
    height: float
    crest_radius: float | None
    root_radius: float | None
    least_root_radius: float | None
    root_arc: float
    crest_arc: float
    nut_root_arc: float
    nut_crest_arc: float
    leading: float
    trailing: float

    @property
    def overlap(self) -> float:
        """Radial overlap of screw and nut [mm]."""
        return (self.major - self.nut_minor) / 2

    @property
    def section(self) -> Section:
        """The basic axial section of the screw, x running from the chuck to the tailstock.

        A thread's leading flank faces the end on which the nut starts, at the tailstock: across
        the groove it is the wall at smaller x, whichever the hand.
        """
        return Section(
            self.pitch,
            self.leading,
            self.trailing,
            self.major / 2,
            self.pitch_diameter / 2,
            self.minor / 2,
        )

    def round_root(self, *, internal: bool = False) -> bool:
        """Whether the groove's root, the screw's or the nut's, is one arc of a fixed radius."""
        flanks = self.leading, self.trailing
        if internal:
            flat = self.pitch - self.nut_section.groove_width(self.nut_major / 2)
            return self.nut_root_arc > 0 and self.nut_root_arc >= _WHOLE * one_arc(flat, *flanks)
        if self.least_root_radius is not None:
            return False
        return self.root_arc > 0 and self.root_arc >= _WHOLE * one_arc(
            self.section.root_flat, *flanks
        )

    @property
    def nut_section(self) -> Section:
        """The flanks of the basic nut, in the screw's place."""
        return replace(self.section, pitch_line=self.nut_pitch_diameter / 2)

    @property
    def nut_groove(self) -> float:
        """Axial width of the nut's basic groove at the screw's basic pitch diameter [mm]."""
        return self.groove(self.nut_pitch_diameter - self.pitch_diameter)

    def groove(self, shortfall: float) -> float:
        """Return the axial width of the groove at the basic pitch diameter [mm].

        Parameters
        ----------
        shortfall
            Metal missing there: by how much the actual pitch diameter is smaller than basic on a
            screw, or larger in a nut [mm].
        """
        return self.pitch / 2 + groove_widening(shortfall, self.leading, self.trailing)


def basic_sizes(form: Form, diameter: float, pitch: float) -> Sizes:
    """Return a thread's basic sizes.

    Parameters
    ----------
    form
        The thread form.
    diameter
        Nominal diameter [mm].
    pitch
        Axial pitch [mm].

    Raises
    ------
    FormError
        If the form states no clearance for the pitch, or its flanks would meet above the root, or
        nothing would be left of the core.
    """
    ac = _clearance(form, diameter, pitch)
    height = _height(form, pitch)
    at = {key: line.of(diameter, pitch, ac, height) for key, line in form.diameters.items()}
    arcs = {
        key: form.radii.get(key, {}).get("pitches", 0.0) * pitch
        + form.radii.get(key, {}).get("stated", 0.0)
        for key in ("root", "crest", "nut_root", "nut_crest")
    }
    sizes = Sizes(
        major=diameter,
        pitch_diameter=at["pitch"],
        minor=at["minor"],
        nut_major=at["nut_major"],
        nut_pitch_diameter=at.get("nut_pitch", at["pitch"]),
        nut_minor=at["nut_minor"],
        pitch=pitch,
        clearance=ac,
        height=height,
        crest_radius=_radius(form.radii.get("crest"), pitch, ac),
        root_radius=_radius(form.radii.get("root"), pitch, ac),
        least_root_radius=_radius(form.radii.get("least_root"), pitch, ac),
        root_arc=arcs["root"],
        crest_arc=arcs["crest"],
        nut_root_arc=arcs["nut_root"],
        nut_crest_arc=arcs["nut_crest"],
        leading=form.leading,
        trailing=form.trailing,
    )
    if sizes.minor <= 0:
        msg = (
            f"{form.title} of {diameter:g} mm with a pitch of {pitch:g} mm leaves no core: its root"
            f" would lie at {sizes.minor:.3f} mm; take a finer pitch or a larger diameter"
        )
        raise FormError(msg)
    if sizes.section.root_flat <= 0:
        msg = (
            f"the flanks of {form.title} with a pitch of {pitch:g} mm meet above the root;"
            " take a coarser pitch"
        )
        raise FormError(msg)
    return sizes


def is_listed(form: Form, diameter: float, pitch: float) -> bool:
    """Whether the form's standard lists this diameter with this pitch [mm]."""
    return listed(form, diameter, pitch) is not None


def listed(form: Form, diameter: float, pitch: float) -> Mapping[str, str] | None:
    """Return the standard's row for this diameter and pitch [mm]; ``None`` if it has none."""
    for name in form.sizes:
        for row in library.table(name):
            if (
                abs(float(row["d_mm"]) - diameter) < _SAME_SIZE
                and abs(float(row["p_mm"]) - pitch) < _SAME_SIZE
            ):
                return row
    return None


def designation(
    form: Form, diameter: float, pitch: Fraction, starts: int, hand: str, cls: str, *, inch: bool
) -> str:
    """Return the thread as its standard writes it.

    Parameters
    ----------
    form
        The thread form.
    diameter
        Nominal [mm].
    pitch
        Axial, exact [mm].
    starts
        Number of starts.
    hand
        ``right`` or ``left``.
    cls
        Tolerance class; may be empty.
    inch
        Whether the pitch was given in threads per inch.
    """
    words = form.designation
    kind = "single" if starts == 1 else "multi"
    pattern = words[f"{kind}_inch"] if inch and f"{kind}_inch" in words else words[kind]
    diametral = 25.4 * pi / float(pitch)
    if f"{kind}_dp" in words and inch and abs(diametral * 4 - round(diametral * 4)) < _QUARTERS:
        pattern = words[f"{kind}_dp"]
    lead = pitch * starts
    row = listed(form, diameter, float(pitch)) or {}
    sizes = {"d": f"{diameter:g}", "p": f"{float(pitch):g}", "tpi": _inches(_INCH / pitch)}
    return pattern.format(
        name=row.get("name") or words.get("name", "").format(**sizes),
        starts=starts,
        p_fraction=str(pitch / _INCH),
        lead_fraction=str(lead / _INCH),
        # A nut of these standards has no class: nothing is left hanging.
        after=f" {cls}" if cls else "",
        tail=f", {cls}" if cls else "",
        # Where the usual class goes without saying.
        closer=f"-{cls}" if cls != form.default_class else "",
        d=f"{diameter:g}",
        p=f"{float(pitch):g}",
        lead=f"{float(lead):g}",
        size=_size(row, diameter, kind),
        tpi_point=f"{float(_INCH / pitch):.6g}",
        tpi=_inches(_INCH / pitch),
        # To four places, as the American standards print pitch and lead.
        p_in=f"{round(float(pitch) / 25.4, 4):g}",
        lead_in=f"{round(float(lead) / 25.4, 4):g}",
        cls=cls,
        series=form.series,
        module=f"{float(pitch) / pi:.6g} mm",
        dp=f"{diametral:.6g}",
        left=words["left"] if hand == "left" else "",
    )


def _size(row: Mapping[str, str], diameter: float, kind: str) -> str:
    """Return the diameter of an inch thread as it is written.

    A number size with pitch and lead would be taken for inches: there it is written in decimals.
    """
    number = row.get("kind") == "number" and kind == "multi"
    if "size" in row and not number:
        return row["size"]
    return _inches(Fraction(diameter).limit_denominator(100_000) / _INCH)


def _inches(value: Fraction) -> str:
    """Return a number of inches as the trade writes it: a fraction to 1/64, else decimals."""
    whole, rest = divmod(value, 1)
    if rest.denominator > 64:
        return f"{float(value):.5g}"
    parts = [str(whole)] if whole or not rest else []
    return " ".join([*parts, str(rest)] if rest else parts)


def _clearance(form: Form, diameter: float, pitch: float) -> float:
    """Return ac [mm]."""
    return _CLEARANCES[form.clearance["rule"]](form, diameter / form.mm, pitch / form.mm) * form.mm


def _height(form: Form, pitch: float) -> float:
    """Return the height as the standard rounds it or the maker states it; 0 if neither [mm]."""
    if not form.height:
        return 0.0
    if "stated" in form.height:
        return form.height["stated"]
    step = form.height["step"]
    return step * round(form.height["pitches"] * pitch / step)


def _no_clearance(form: Form, diameter: float, pitch: float) -> float:
    del form, diameter, pitch
    return 0.0


def _clearance_by_pitch(form: Form, diameter: float, pitch: float) -> float:
    del diameter
    for step in form.clearance["steps"]:
        if pitch <= step.get("up_to", pitch) + 1e-9:
            return float(step["value"])
    last = form.clearance["steps"][-1]["up_to"]
    msg = (
        f"{form.title} has no clearance for a pitch of {pitch:g} {form.unit}:"
        f" {form.cited['clearance'].source} ends at {last:g} {form.unit}"
    )
    raise FormError(msg)


def _clearance_by_diameter(form: Form, diameter: float, pitch: float) -> float:
    del pitch
    return float(form.clearance["value"]) * diameter


def _clearance_by_share(form: Form, diameter: float, pitch: float) -> float:
    del diameter
    return float(form.clearance["value"]) * pitch


def _clearance_stated(form: Form, diameter: float, pitch: float) -> float:
    del diameter, pitch
    return float(form.clearance["value"])


_CLEARANCES = {
    "none": _no_clearance,
    "by-pitch": _clearance_by_pitch,
    "by-diameter": _clearance_by_diameter,
    "by-share": _clearance_by_share,
    "stated": _clearance_stated,
}


def _radius(rule: Mapping[str, float] | None, pitch: float, clearance: float) -> float | None:
    if rule is None:
        return None
    parts = (("pitches", pitch), ("clearances", clearance), ("stated", 1.0))
    return fsum(rule.get(key, 0.0) * size for key, size in parts)
