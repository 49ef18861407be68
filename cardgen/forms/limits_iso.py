"""Limits by ISO 965-1 (metric) and ISO 2903 (metric trapezoidal).

Both round the value of a formula to the R40 series and step from grade to grade along it; where a
standard's table differs from its formula, the table rules, and the row stands among the
exceptions in the data.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from math import sin, sqrt

from cardgen import library
from cardgen.core.figure import Evidence, weakest
from cardgen.core.words import told
from cardgen.forms.form import Form, FormError
from cardgen.forms.limit import Band, Limit, NutLimits, ScrewLimits
from cardgen.forms.sizes import Sizes
from cardgen.rules.preferred import nearest_preferred, stepped_preferred
from cardgen.rules.profile import fundamental_height
from cardgen.rules.thread_iso import (
    DEVIATIONS,
    major_tolerance,
    nut_minor_tolerance,
    pitch_tolerance,
    trapezoidal_minor_tolerance,
)

_UM = 1e-3
_BASE_GRADE = 6


@dataclass(frozen=True, slots=True)
class _Known:
    """A value in micrometres and how well it is known."""

    um: float
    evidence: Evidence


def metric_screw(form: Form, sizes: Sizes, starts: int, cls: str) -> ScrewLimits:
    """Return a metric screw's limits by ISO 965-1; its classes hold for any number of starts."""
    del starts
    (pitch_grade, position), (crest_grade, _) = _zones(cls)
    es = _deviation(form, position, sizes)
    td = _grade(form, "Td", crest_grade, sizes)
    td2 = _grade(form, "Td2", pitch_grade, sizes)
    allowance = es.um * _UM
    pitch_high = sizes.pitch_diameter - allowance
    pitch = Band(pitch_high - td2.um * _UM, pitch_high)
    return ScrewLimits(
        major=Band(sizes.major - allowance - td.um * _UM, sizes.major - allowance),
        pitch=pitch,
        minor=Band(_deepest_root(sizes, pitch.low), sizes.minor - allowance),
        groove=_screw_groove(sizes, pitch),
        allowance=allowance,
        crest_allowance=allowance,
        pitch_tolerance=td2.um * _UM,
        source=told("{source}, class {name}", source=form.tolerances["source"], name=cls),
        evidence=weakest(es.evidence, td.evidence, td2.evidence),
        crest_evidence=weakest(es.evidence, td.evidence),
        note=_note({"es": es}, {"Td": td, "Td2": td2})
        + "; the root is lowest where it is rounded to the least radius",
    )


def metric_nut(form: Form, sizes: Sizes, starts: int, cls: str) -> NutLimits:
    """Return a metric nut's limits by ISO 965-1."""
    del starts
    (pitch_grade, position), (crest_grade, _) = _zones(cls)
    # The nut's deviation is the screw's of the same letter, to the other side.
    ei = _deviation(form, position.lower(), sizes)
    td1 = _grade(form, "TD1", crest_grade, sizes)
    td2 = _grade(form, "TD2", pitch_grade, sizes)
    return _nut(form, sizes, cls, ei, {"TD1": td1, "TD2": td2})


def trapezoidal_screw(form: Form, sizes: Sizes, starts: int, cls: str) -> ScrewLimits:
    """Return a trapezoidal screw's limits by ISO 2903.

    Only the pitch diameter keeps away from its basic size: crest and root are always in position
    h. Its tolerance grows with the number of starts.
    """
    grade, position = int(cls[0]), cls[1:]
    es = _deviation(form, position, sizes)
    td = _crest(form, "Td", major_tolerance, sizes)
    td2 = _for_starts(form, _grade(form, "Td2", grade, sizes), starts)
    td3 = trapezoidal_minor_tolerance(td2.um, es.um)
    pitch_high = sizes.pitch_diameter - es.um * _UM
    pitch = Band(pitch_high - td2.um * _UM, pitch_high)
    return ScrewLimits(
        major=Band(sizes.major - td.um * _UM, sizes.major),
        pitch=pitch,
        minor=Band(sizes.minor - td3 * _UM, sizes.minor),
        groove=_screw_groove(sizes, pitch),
        allowance=es.um * _UM,
        crest_allowance=0.0,
        pitch_tolerance=td2.um * _UM,
        source=told("{source}, class {name}", source=form.tolerances["source"], name=cls),
        evidence=weakest(_own(form), es.evidence, td.evidence, td2.evidence),
        crest_evidence=weakest(_own(form), td.evidence),
        note=_note({"es": es}, {"Td": td, "Td2": td2, "Td3": _Known(td3, "derived")}),
    )


def trapezoidal_nut(form: Form, sizes: Sizes, starts: int, cls: str) -> NutLimits:
    """Return a trapezoidal nut's limits by ISO 2903, position H; its root has no upper limit."""
    td1 = _crest(form, "TD1", nut_minor_tolerance, sizes)
    td2 = _for_starts(form, _grade(form, "TD2", int(cls[0]), sizes), starts)
    return _nut(form, sizes, cls, _Known(0.0, "read"), {"TD1": td1, "TD2": td2})


def _zones(cls: str) -> tuple[tuple[int, str], tuple[int, str]]:
    """Return grade and position of pitch diameter and crest; one pair stands for both.

    >>> _zones("5g6g"), _zones("6H")
    (((5, 'g'), (6, 'g')), ((6, 'H'), (6, 'H')))
    """
    pitch, crest = cls[:2], cls[2:] or cls[:2]
    return (int(pitch[0]), pitch[1]), (int(crest[0]), crest[1])


def _nut(
    form: Form, sizes: Sizes, cls: str, ei: _Known, tolerance: Mapping[str, _Known]
) -> NutLimits:
    td1, td2 = tolerance["TD1"], tolerance["TD2"]
    off = ei.um * _UM
    pitch_low = sizes.nut_pitch_diameter + off
    pitch = Band(pitch_low, pitch_low + td2.um * _UM)
    narrow, wide = (sizes.groove(limit - sizes.pitch_diameter) for limit in (pitch.low, pitch.high))
    return NutLimits(
        major=Limit(sizes.nut_major + off, None),
        pitch=pitch,
        minor=Band(sizes.nut_minor + off, sizes.nut_minor + off + td1.um * _UM),
        groove=Band(narrow, wide),
        source=told("{source}, class {name}", source=form.tolerances["source"], name=cls),
        evidence=weakest(_own(form), ei.evidence, td1.evidence, td2.evidence),
        note=_note({"EI": ei} if ei.um else {}, tolerance),
    )


def _own(form: Form) -> Evidence:
    """Return how well it is known that the form keeps these tolerances at all."""
    known: Evidence = form.tolerances.get("evidence", "read")
    return known


def _screw_groove(sizes: Sizes, pitch: Band) -> Band:
    low, high = (sizes.groove(sizes.pitch_diameter - limit) for limit in (pitch.high, pitch.low))
    return Band(low, high)


def _deepest_root(sizes: Sizes, pitch_low: float) -> float:
    """Return the least minor diameter: flanks at their lowest, root of the least radius [mm].

    A circle of radius R that touches both flanks of a V has its lowest point ``R (1/sin a - 1)``
    above the point where they meet.
    """
    if sizes.least_root_radius is None:
        return pitch_low - (sizes.pitch_diameter - sizes.minor)
    height = fundamental_height(sizes.pitch, sizes.leading, sizes.trailing)
    above_apex = sizes.least_root_radius * (1 / sin(sizes.leading) - 1)
    return pitch_low - height + 2 * above_apex


def _deviation(form: Form, position: str, sizes: Sizes) -> _Known:
    """Return the size of the fundamental deviation; it is taken off the screw [um]."""
    found = _exception(form, "es", position, sizes)
    if found:
        return found
    for row in library.table(form.tolerances["positions"]):
        if (
            row["position"] == position
            and float(row["p_over_mm"]) < sizes.pitch
            and sizes.pitch <= float(row["p_up_to_mm"] or "inf")
        ):
            exact = DEVIATIONS[row["rule"]](sizes.pitch, float(row["a_um"]), float(row["b_um"]))
            # Positions h and H lie on the basic size: their coefficients are naught.
            if float(row["a_um"]) == 0:
                return _Known(0.0, _evidence(row))
            return _Known(float(round(nearest_preferred(exact, _r40()))), _evidence(row))
    rows = library.table(form.tolerances["positions"])
    least = min((float(r["p_over_mm"]) for r in rows if r["position"] == position), default=0.0)
    msg = (
        f"{form.title} has no tolerance position {position!r} for a pitch of {sizes.pitch:g} mm;"
        f" take a class of another letter, or a pitch over {least:g} mm"
    )
    raise FormError(msg)


def _grade(form: Form, quantity: str, grade: int, sizes: Sizes) -> _Known:
    """Return a tolerance of any grade, stepped along R40 from grade 6 [um]."""
    base = _base(form, quantity, sizes)
    for row in library.table("threads/iso_965_1_grades"):
        if row["quantity"] == quantity and int(row["grade"]) == grade:
            value = stepped_preferred(base.um, int(row["steps"]), _r40())
            return _Known(float(round(value)), weakest(base.evidence, _evidence(row)))
    msg = f"{quantity} has no grade {grade}"
    raise FormError(msg)


def _base(form: Form, quantity: str, sizes: Sizes) -> _Known:
    # The nut's pitch-diameter tolerance is a multiple of the screw's.
    family = "Td2" if quantity == "TD2" else quantity
    found = _exception(form, family, str(_BASE_GRADE), sizes)
    if found:
        return found
    exact = {
        "Td": lambda: major_tolerance(sizes.pitch),
        "TD1": lambda: nut_minor_tolerance(sizes.pitch),
        "Td2": lambda: pitch_tolerance(sizes.pitch, _mean_diameter(sizes.major)),
    }[family]()
    return _Known(nearest_preferred(exact, _r40()), "read")


def _crest(form: Form, quantity: str, rule: Callable[[float], float], sizes: Sizes) -> _Known:
    """Return a trapezoidal thread's crest tolerance: its one grade, rounded to R40 [um]."""
    group = form.tolerances["crest"]
    found = _exception(form, quantity, str(group["grade"]), sizes)
    if found:
        return found
    exact = group["factor"] * rule(sizes.pitch)
    return _Known(float(round(nearest_preferred(exact, _r40()))), group["evidence"])


def _for_starts(form: Form, tolerance: _Known, starts: int) -> _Known:
    if starts == 1:
        return tolerance
    group = form.tolerances["starts"]
    factors = group["factors"]
    factor = factors[min(starts, len(factors)) - 1]
    return _Known(
        float(round(factor * tolerance.um)), weakest(tolerance.evidence, group["evidence"])
    )


def _exception(form: Form, quantity: str, key: str, sizes: Sizes) -> _Known | None:
    for row in library.table(form.tolerances["exceptions"]):
        if (
            row["quantity"] == quantity
            and row["grade_or_position"] == key
            and abs(float(row["p_mm"]) - sizes.pitch) < _UM * _UM
            and float(row["d_over_mm"] or 0) < sizes.major <= float(row["d_up_to_mm"] or "inf")
        ):
            return _Known(float(row["value_um"]), _evidence(row))
    return None


def _mean_diameter(diameter: float) -> float:
    """Return the geometric mean of the standard's range in which a diameter lies [mm]."""
    rows = library.table("threads/iso_965_1_diameter_ranges")
    for row in rows:
        low, high = float(row["over_mm"]), float(row["up_to_mm"])
        if low < diameter <= high:
            return sqrt(low * high)
    msg = (
        f"ISO 965-1 has no tolerances for a diameter of {diameter:g} mm: its ranges run from"
        f" {rows[0]['over_mm']} to {rows[-1]['up_to_mm']} mm"
    )
    raise FormError(msg)


def _r40() -> tuple[float, ...]:
    return tuple(float(row["value"]) for row in library.table("threads/iso_3_r40"))


def _evidence(row: Mapping[str, str]) -> Evidence:
    word = row["evidence"]
    for known in ("read", "derived", "practice", "memory"):
        if word == known:
            return known
    msg = f"{word!r} is no kind of evidence"
    raise ValueError(msg)


def _note(deviation: Mapping[str, _Known], tolerances: Mapping[str, _Known]) -> str:
    signs = {"es": "−", "EI": "+"}
    parts = [
        f"{symbol} {signs[symbol]}{known.um:g} um"
        for symbol, known in deviation.items()
        if known.um
    ]
    return ", ".join(
        [*parts, *(f"{symbol} {known.um:g} um" for symbol, known in tolerances.items())]
    )
