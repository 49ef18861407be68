"""The thread asked for, from its keys or its designation, with the standard's defaults."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Any, Literal, cast

from cardgen.core.words import Said, told
from cardgen.spec.allowed import allowed
from cardgen.spec.fit import Answers
from cardgen.spec.form import (
    check_name,
    check_series,
    check_variant,
    profile,
    series,
    settled_form,
    worm_pitch,
)
from cardgen.spec.job import Assumed, Hand, Thread
from cardgen.spec.keys.job import DIAMETER, PITCH, STARTS
from cardgen.spec.keys.words import form_data, forms, variants
from cardgen.spec.size import EXAMPLES, Size, SizeError, read_size
from cardgen.spec.tolerance_class import Part, fault, settled
from cardgen.spec.usual_pitch import Listed, every_size, neighbours, usual_pitches, usual_words

_INCH = Fraction(254, 10)


def thread(said: Answers, assumed: list[Assumed]) -> Thread | None:
    """Return the thread, noting faults and what was assumed; ``None`` if it cannot be told.

    Parameters
    ----------
    said
        The job file.
    assumed
        Defaults are added here.
    """
    form = said.text("thread.form")
    if form is not None and form not in forms():
        said.fault(
            "thread.form",
            f"{form} threads are not worked out by this version",
            "one of " + ", ".join(forms()),
        )
        form = None
    size = _size(said, form)
    check_variant(said)
    check_series(said, form)
    check_name(said, form)
    form = settled_form(said)
    diameter = _agreed(said, "diameter", None if size is None else size.diameter)
    if (
        said.written("thread")
        and not said.written("thread.diameter")
        and not said.written("thread.size")
    ):
        said.fault(
            "thread.diameter",
            "neither diameter nor size is given",
            "diameter: 28 mm, or size: in the standard's words, such as Tr 28x5",
        )
    pitch, inch = _pitch(said, form, size, diameter, assumed)
    starts = _starts(said, size, assumed)
    hand = _hand(said, size, assumed)
    surface = said.text("thread.surface")
    if surface is None:
        surface = "external"
        assumed.append(Assumed("thread.surface", "an external thread"))
    class_ = _class(said, form, size, surface == "internal", assumed)
    _spare_keys(said, form)
    stated = profile(said, form, pitch)
    of_series = series(said, form, size, diameter, pitch, assumed)
    length = said.number("thread.length")
    if pitch is not None and diameter is not None and pitch >= diameter:
        said.fault(
            "thread.pitch" if said.written("thread.pitch") else "thread.size",
            f"a pitch of {_told(pitch, inch=inch)} on a diameter of"
            f" {_told(diameter, inch=inch)} leaves no core",
            "a pitch less than the diameter",
            "were the two exchanged?" if not inch else "threads per inch, or a pitch in inches?",
        )
        return None
    if (
        form is None
        or diameter is None
        or pitch is None
        or length is None
        or starts is None
        or class_ is None
        or (form == "custom" and stated is None)
    ):
        return None
    return Thread(
        form=form,
        surface=cast(Literal["external", "internal"], surface),
        diameter=float(diameter),
        pitch_exact=pitch,
        starts=starts,
        hand=hand,
        class_=class_,
        length=length,
        inch=inch,
        series=of_series,
        profile=stated,
        module=said.number("thread.module"),
        diametral_pitch=said.number("thread.diametral-pitch"),
    )


def nominal_diameter(said: Answers) -> Fraction | None:
    """Return the diameter that keys or designation give [mm], exact; ``None`` if neither does."""
    given = said.exact("thread.diameter")
    text = said.text("thread.size")
    if given is not None or text is None:
        return given
    try:
        return read_size(text).diameter
    except SizeError:
        return None


def _size(said: Answers, form: str | None) -> Size | None:
    text = said.text("thread.size")
    if text is None:
        return None
    try:
        size = read_size(text)
    except SizeError as error:
        words = error.allowed or _examples(form)
        if form is not None and form not in EXAMPLES:
            said.fault("thread.size", f"{form} threads have no designation in a standard", words)
        else:
            said.fault("thread.size", error.found, words, error.mend)
        return None
    if form is not None and size.form != form:
        said.fault(
            "thread.size",
            f"{text} is a designation of {size.form} threads, and the form is {form}",
            "a designation of the form, or diameter and pitch",
            f"form: {size.form}",
        )
        return None
    for value, shape, word in (
        (size.diameter, DIAMETER, "diameter"),
        (size.pitch, PITCH, "pitch"),
        (size.starts, STARTS, "number of starts"),
    ):
        if value is not None and not shape.low <= value <= shape.high:
            span = allowed(shape)
            said.fault("thread.size", f"the {word} in {text} is out of range", span)
            return None
    return size


def _all(standard: Mapping[str, Any] | None) -> list[Listed]:
    return [] if standard is None else every_size(standard)


def _told(length: Fraction, *, inch: bool) -> str:
    """Return a length in the maker's own unit."""
    return f"{float(length / _INCH):.6g} in" if inch else f"{float(length):.6g} mm"


def _examples(form: str | None) -> str:
    """Return designations that could stand there, of all forms where the form is not known."""
    if form is None:
        return "; ".join(EXAMPLES.values())
    return EXAMPLES.get(form, "diameter and pitch instead of size")


def _agreed(said: Answers, key: str, designated: Fraction | None) -> Fraction | None:
    """Return what key and designation agree on; note it if they do not."""
    given = said.quantity(f"thread.{key}")
    if given is None:
        return None if said.written(f"thread.{key}") else designated
    if designated is not None and designated != given.exact:
        said.fault(
            f"thread.{key}",
            f"a {key} of {given.text} contradicts size: {said.text('thread.size')}",
            f"the {key} of the designation, {_told(designated, inch=given.inch)}",
            f"leave out {key}, or size",
        )
        return None
    return given.exact


def _pitch(
    said: Answers,
    form: str | None,
    size: Size | None,
    diameter: Fraction | None,
    assumed: list[Assumed],
) -> tuple[Fraction | None, bool]:
    """Return the pitch, and whether it is an inch pitch."""
    if form is not None and form.startswith("worm"):
        worm = worm_pitch(said)
        if worm is not None:
            return worm
        if not said.written("thread.pitch"):
            if not said.written("thread.module") and not said.written("thread.diametral-pitch"):
                said.fault(
                    "thread.pitch",
                    "neither module, diametral-pitch nor pitch is given",
                    "module: 2 mm, diametral-pitch: 12, or pitch: 1/4 in",
                )
            return None, False
    designated = None if size is None else size.pitch
    pitch = _agreed(said, "pitch", designated)
    given = said.quantity("thread.pitch")
    if given is not None:
        return pitch, given.inch
    if pitch is not None:
        return pitch, size is not None and size.inch
    if form is None or diameter is None or said.written("thread.pitch"):
        return None, False
    standard = form_data(form).get("usual_pitch")
    wanted = said.text("thread.series") or (size.series if size is not None else "")
    listed = [] if standard is None else usual_pitches(standard, wanted)
    usual = next((row for row in listed if row.diameter == diameter), None)
    if any(p.key in {"thread.series", "thread.diameter"} for p in said.problems):
        return None, False
    if standard is None or usual is None:
        written = said.quantity("thread.diameter")
        inch = written.inch if written is not None else size is not None and size.inch
        of_series = f", series {wanted}," if wanted else ""
        said.fault(
            "thread.pitch",
            f"no pitch is given, and no standard has a usual one for {form} threads{of_series} of "
            + _told(diameter, inch=inch),
            "pitch: 5 mm, or pitch: 5 tpi",
            neighbours(listed or _all(standard), diameter, inch=inch),
        )
        return None, False
    text = told(
        "pitch {pitch}, {which}", pitch=usual.pitch_written, which=usual_words(standard, wanted)
    )
    assumed.append(Assumed("thread.pitch", text))
    return usual.pitch, usual.inch


def _starts(said: Answers, size: Size | None, assumed: list[Assumed]) -> int | None:
    given = said.whole("thread.starts")
    designated = None if size is None else size.starts
    if given is not None and designated is not None and given != designated:
        said.fault(
            "thread.starts",
            f"{given} starts contradict size: {said.text('thread.size')}",
            f"the starts of the designation, {designated}",
            "give the lead and the pitch in size, such as Tr 32x12 P6, or leave size out",
        )
        return None
    if given is None and said.written("thread.starts"):
        return None
    if given is None and designated is None:
        assumed.append(Assumed("thread.starts", "one start"))
    return given or designated or 1


def _hand(said: Answers, size: Size | None, assumed: list[Assumed]) -> Hand:
    given = said.text("thread.hand")
    designated = None if size is None else size.hand
    if given is not None and designated is not None and given != designated:
        said.fault(
            "thread.hand",
            f"{given} hand contradicts size: {said.text('thread.size')}",
            "hand: left, as LH says",
        )
    if given is None and designated is None and not said.written("thread.hand"):
        assumed.append(Assumed("thread.hand", "right hand"))
    return cast(Hand, given or designated or "right")


def _class(
    said: Answers,
    form: str | None,
    size: Size | None,
    internal: bool,
    assumed: list[Assumed],
) -> str | None:
    given, designated = said.text("thread.class"), None if size is None else size.class_
    if form is None or (given is None and said.written("thread.class")):
        return None
    facts = form_data(form)
    part = Part.of(internal=internal, screw=facts["classes"], nut=facts["mate"]["classes"])
    if (
        given is not None
        and designated is not None
        and ((settled(given, part) or given) != (settled(designated, part) or designated))
    ):
        said.fault(
            "thread.class",
            f"class {given} contradicts size: {said.text('thread.size')}",
            f"the class of the designation, {designated}",
        )
        return None
    wanted = given or designated
    at = "thread.class" if given is not None else "thread.size"
    if wanted is None:
        usual = str(facts["default_class"])
        if internal:
            # The nut that usually goes with the usual screw.
            usual = str(facts["mate"]["usual"].get(usual, ""))
        if usual:
            assumed.append(Assumed("thread.class", told("class {name}", name=Said(usual))))
        return usual
    found = settled(wanted, part)
    if found is None:
        problem, words, mend = fault(wanted, form, part, _classes_of_variants(form, internal))
        if wanted in part.foreign:
            other = "surface: internal" if not internal else "surface: external"
            mend = "; ".join(w for w in (mend, f"{other} for the {part.other}") if w)
        said.fault(at, problem, words, mend)
    return found


def _classes_of_variants(form: str, internal: bool) -> list[str]:
    """Return further classes, each of which would choose a variant of the form."""
    facts = [form_data(f"{form}+{variant}") for variant in variants(form)]
    found = (c for fact in facts for c in (fact["mate"] if internal else fact)["classes"])
    known = form_data(form)
    own = (known["mate"] if internal else known)["classes"]
    return sorted({c for c in found if c not in own})


_ONLY: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("custom", ("custom",)),
    ("series", ("unified", "whitworth")),
    ("module", ("worm",)),
    ("diametral-pitch", ("worm",)),
)
"""Keys that only some forms have."""


def _spare_keys(said: Answers, form: str | None) -> None:
    for key, owners in _ONLY:
        if (
            form is not None
            and form.partition("+")[0] not in owners
            and said.written(f"thread.{key}")
        ):
            said.fault(
                f"thread.{key}",
                f"{key} has no meaning for {form} threads",
                f"{key} only with form: {' or '.join(owners)}",
            )
