"""Limits of parallel pipe threads by ISO 228-1: a table by pitch and size."""

from __future__ import annotations

from collections.abc import Mapping

from cardgen import library
from cardgen.core.figure import Evidence, weakest
from cardgen.core.words import told
from cardgen.forms.form import MM, Form, FormError
from cardgen.forms.limit import Band, Limit, NutLimits, ScrewLimits
from cardgen.forms.sizes import Sizes

_SAME = 1e-4


def pipe_screw(form: Form, sizes: Sizes, starts: int, cls: str) -> ScrewLimits:
    """Return an external pipe thread's limits: class A has the nut's tolerance, B twice that."""
    del starts
    row = _row(form, sizes)
    tolerance = form.tolerances["class"][cls]["factor"] * float(row["pitch_mm"])
    pitch = Band(sizes.pitch_diameter - tolerance, sizes.pitch_diameter)
    evidence = _evidence(form, row)
    return ScrewLimits(
        major=Band(sizes.major - float(row["major_mm"]), sizes.major),
        pitch=pitch,
        minor=Band(sizes.minor - tolerance, sizes.minor),
        groove=Band(
            sizes.pitch / 2,
            sizes.groove(tolerance),
        ),
        allowance=0.0,
        crest_allowance=0.0,
        pitch_tolerance=tolerance,
        source=told("{source}, class {name}", source=form.tolerances["source"], name=cls),
        evidence=evidence,
        crest_evidence=evidence,
        note=f"tolerance {tolerance:.3f} mm; the root has no limits of its own and goes with the"
        " flanks",
    )


def pipe_nut(form: Form, sizes: Sizes, starts: int, cls: str) -> NutLimits:
    """Return an internal pipe thread's limits; it has one class, and its root is open."""
    del starts, cls
    row = _row(form, sizes)
    tolerance = float(row["pitch_mm"])
    return NutLimits(
        major=Limit(sizes.nut_major, None),
        pitch=Band(sizes.pitch_diameter, sizes.pitch_diameter + tolerance),
        minor=Band(sizes.nut_minor, sizes.nut_minor + float(row["nut_minor_mm"])),
        groove=Band(
            sizes.pitch / 2,
            sizes.groove(tolerance),
        ),
        source=form.tolerances["source"],
        evidence=_evidence(form, row),
        note=f"tolerance {tolerance:.3f} mm",
    )


def _row(form: Form, sizes: Sizes) -> Mapping[str, str]:
    rows = library.table(form.tolerances["table"])
    threads = MM["in"] / sizes.pitch
    for row in rows:
        if (
            abs(float(row["tpi"]) - threads) < _SAME
            and float(row["d_over_mm"]) < sizes.major
            and sizes.major <= float(row["d_up_to_mm"] or "inf")
        ):
            return row
    known = ", ".join(dict.fromkeys(row["tpi"] for row in rows))
    msg = (
        f"ISO 228-1 has no tolerances for {threads:.4g} threads per inch: it has them for {known}"
        " threads per inch"
    )
    raise FormError(msg)


def _evidence(form: Form, row: Mapping[str, str]) -> Evidence:
    known: Evidence = "read" if row["evidence"] == "read" else "memory"
    return weakest(known, form.tolerances["evidence"])
