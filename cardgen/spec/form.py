"""Which form is meant: the word, its variant, and what else only some forms have.

A variant is chosen by ``thread.variant``, by a designation, by a class that only it has (2C is
centralizing Acme), or by ``thread.module`` (a worm by module).
"""

from __future__ import annotations

from fractions import Fraction
from math import radians

from cardgen import library
from cardgen.core.words import Said, told
from cardgen.forms.custom import Profile, ProfileError, custom_form
from cardgen.spec.fit import Answers
from cardgen.spec.job import Assumed
from cardgen.spec.keys.job import PITCH
from cardgen.spec.keys.words import STANDARD, form_data, forms, variants
from cardgen.spec.size import Size, SizeError, read_size
from cardgen.spec.size_parts import inches
from cardgen.spec.tolerance_class import Part, settled
from cardgen.spec.usual_pitch import neighbours, usual_pitches

_INCH = Fraction(254, 10)
_PI = Fraction("3.14159265358979")
_SAME = Fraction(1, 1000)
"""Inch tables are rounded: sizes that differ by less are the same [mm]."""


def settled_form(said: Answers) -> str | None:
    """Return the form's data file, ``FORM`` or ``FORM+VARIANT``; ``None`` for an unknown form.

    Notes no fault: of two that disagree, the key rules.
    """
    form = said.text("thread.form")
    if form is None or form not in forms():
        return None
    size = _designation(said)
    said_variant = said.text("thread.variant") or (size.variant if size is not None else "")
    if said_variant:
        known = said_variant in variants(form)
        return f"{form}+{said_variant}" if known else form
    class_ = said.text("thread.class") or (size.class_ if size is not None else None)
    if class_ is not None and not _has_class(form, class_):
        for variant in variants(form):
            if _has_class(f"{form}+{variant}", class_):
                return f"{form}+{variant}"
    if said.written("thread.module") and "module" in variants(form):
        return f"{form}+module"
    return form


def mate_part(said: Answers, form: str) -> Part:
    """Return what runs on the thread: a nut, or a screw where the thread is the nut's."""
    facts = form_data(form)
    internal = said.text("thread.surface") != "internal"
    return Part.of(internal=internal, screw=facts["classes"], nut=facts["mate"]["classes"])


def mate_class(said: Answers) -> str:
    """Return the mate's class as its standard writes it; empty where none is given, or a faulty."""
    form, wanted = settled_form(said), said.text("mate.class")
    if form is None or wanted is None:
        return ""
    return settled(wanted, mate_part(said, form)) or ""


def check_variant(said: Answers) -> None:
    """Note a variant that the form has not, or that a designation contradicts."""
    form, variant = said.text("thread.form"), said.text("thread.variant")
    if form is None or form not in forms() or variant is None:
        return
    known = (STANDARD, *variants(form))
    if variant not in known:
        said.fault(
            "thread.variant",
            f"{form} threads have no variant {variant}",
            "one of " + ", ".join(known) if len(known) > 1 else "leave variant out",
        )
        return
    size = _designation(said)
    if size is not None and (size.variant or variant) != variant:
        said.fault(
            "thread.variant",
            f"variant {variant} contradicts size: {said.text('thread.size')}",
            f"variant: {size.variant}, as the designation says",
        )


def check_series(said: Answers, form: str | None) -> None:
    """Note a series that belongs to another form."""
    given = said.text("thread.series")
    if given is None or form is None or form not in forms() or not _series_of(form):
        return
    if given not in _series_of(form):
        owner = next((name for name in forms() if given in _series_of(name)), "")
        said.fault(
            "thread.series",
            f"{given} is no series of {form} threads",
            "one of " + ", ".join(_series_of(form)),
            f"form: {owner}",
        )


def check_name(said: Answers, form: str | None) -> None:
    """Note a diameter that is a pipe thread's name: a G 1/2 is nearly 21 mm over its crests."""
    given = said.quantity("thread.diameter")
    if form is None or given is None or not given.inch or form not in forms():
        return
    sizes = form_data(form)["sizes"]
    for row in (row for table in sizes for row in library.table(table)):
        name = row.get("name", "")
        if name.startswith("G ") and inches(row["size"]) * _INCH == given.exact:
            said.fault(
                "thread.diameter",
                f"{given.text} is the name of a pipe thread, not its diameter, {row['d_mm']} mm",
                f"diameter: {row['d_mm']} mm",
                f'leave out diameter and pitch, and write size: "{name}"',
            )


def _series_of(form: str) -> tuple[str, ...]:
    """Return the series that a form's standard has; none for most forms."""
    return tuple(form_data(form)["tolerances"].get("series", ()))


def _designation(said: Answers) -> Size | None:
    text = said.text("thread.size")
    try:
        return None if text is None else read_size(text)
    except SizeError:
        return None


def _has_class(form: str, class_: str) -> bool:
    facts = form_data(form)
    return class_.upper() in {c.upper() for c in (*facts["classes"], *facts["mate"]["classes"])}


def worm_pitch(said: Answers) -> tuple[Fraction, bool] | None:
    """Return a worm's pitch from its module or diametral pitch, and whether it is an inch one.

    Returns
    -------
    tuple or None
        ``None`` if neither is given, or after a fault.
    """
    keys = [key for key in ("pitch", "module", "diametral-pitch") if said.written(f"thread.{key}")]
    if len(keys) > 1:
        said.fault(
            f"thread.{keys[1]}",
            f"{keys[0]} and {keys[1]} are both given",
            "one of pitch, module and diametral-pitch",
        )
        return None
    module = said.quantity("thread.module")
    if module is not None:
        pitch, inch = module.exact * _PI, module.inch
    else:
        count = said.exact("thread.diametral-pitch")
        if count is None:
            return None
        pitch, inch = _INCH * _PI / count, True
    if not PITCH.low <= pitch <= PITCH.high:
        said.fault(
            f"thread.{keys[0]}",
            f"{keys[0]} gives an axial pitch of {float(pitch):.6g} mm, which is out of range",
            f"an axial pitch of {PITCH.low:g} to {PITCH.high:g} mm",
        )
        return None
    return pitch, inch


def profile(said: Answers, form: str | None, pitch: Fraction | None) -> Profile | None:
    """Return the profile that a custom thread states; ``None`` for other forms or after a fault."""
    if form != "custom":
        return None
    if not said.written("thread.custom"):
        said.fault(
            "thread.custom",
            "the profile is not given",
            "custom: {leading-flank: 5 deg, trailing-flank: 5 deg, depth: 2.5 mm}",
            "crest, root-radius and clearance may be added",
        )
        return None
    leading, trailing, depth = (
        said.number(f"thread.custom.{key}") for key in ("leading-flank", "trailing-flank", "depth")
    )
    if leading is None or trailing is None or depth is None:
        return None
    stated = Profile(
        radians(leading),
        radians(trailing),
        depth,
        said.number("thread.custom.crest"),
        said.number("thread.custom.root-radius") or 0.0,
        said.number("thread.custom.clearance") or 0.0,
    )
    if pitch is None:
        return None
    written = said.quantity("thread.custom.depth")
    try:
        custom_form(stated, float(pitch), inch=written is not None and written.inch)
    except ProfileError as error:
        at = f"thread.custom.{error.key}"
        said.fault(at, f"{error}", f"{error.key}: {error.allowed}")
        return None
    return stated


def series(
    said: Answers,
    form: str | None,
    size: Size | None,
    diameter: Fraction | None,
    pitch: Fraction | None,
    assumed: list[Assumed],
) -> str:
    """Return a Unified thread's series; empty for other forms and after a fault.

    A Whitworth thread's limits do not depend on its series, which is only held against its pitch.
    """
    if form not in ("unified", "whitworth") or diameter is None or pitch is None:
        return ""
    given, designated = said.text("thread.series"), "" if size is None else size.series
    if given and designated and given != designated:
        said.fault(
            "thread.series",
            f"series {given} contradicts size: {said.text('thread.size')}",
            f"series: {designated}, as the designation says",
        )
        return ""
    if form == "whitworth":
        if given in _series_of(form):
            _hold_to_series(said, form, given, diameter, pitch)
        return ""
    if given and given not in _series_of(form):
        return ""
    facts = form_data(form)
    rows = library.table(facts["usual_pitch"]["table"])
    listed = next(
        (
            row["series"]
            for row in rows
            if abs(Fraction(row["d_mm"]) - diameter) < _SAME
            and abs(Fraction(row["p_mm"]) - pitch) < _SAME
        ),
        "",
    )
    constant = _INCH / pitch in facts["tolerances"]["engagement"]["constant"]
    fitting = listed or ("UN" if constant else "UNS")
    wanted = given or designated
    if not wanted:
        assumed.append(Assumed("thread.series", told("series {series}", series=Said(fitting))))
        return fitting
    # A size that the standard does not list may have any pitch, but only as UN or UNS.
    if wanted == fitting or (not listed and wanted == "UNS"):
        return wanted
    near = ", ".join(
        f"{float(_INCH / Fraction(row['p_mm'])):.4g} tpi {row['series']}"
        for row in rows
        if abs(Fraction(row["d_mm"]) - diameter) < _SAME
    )
    said.fault(
        "thread.series" if given else "thread.size",
        f"{float(_INCH / pitch):.4g} tpi at {float(diameter / _INCH):.4g} in is not {wanted}",
        f"series: {fitting}" if given else f"{fitting} instead of {wanted}",
        f"listed at this diameter: {near}" if near else "",
    )
    return ""


def _hold_to_series(
    said: Answers, form: str, series: str, diameter: Fraction, pitch: Fraction
) -> None:
    """Note a series that the form has not, or that lists another pitch for the diameter."""
    standard = form_data(form)["usual_pitch"]
    listed = usual_pitches(standard, series)
    row = next((row for row in listed if row.diameter == diameter), None)
    if row is not None and row.pitch == pitch:
        return
    told = f"{float(_INCH / pitch):.4g} tpi at {float(diameter / _INCH):.4g} in is not {series}"
    if row is None:
        near = neighbours(listed, diameter, inch=True)
        said.fault("thread.series", told, "a diameter of the series, or no series", near)
    else:
        said.fault(
            "thread.series", told, f"pitch: {row.pitch_written}, or no series",
            "leave pitch out: the series gives it",
        )  # fmt: skip
