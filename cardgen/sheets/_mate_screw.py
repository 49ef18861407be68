"""The screw that goes with a nut: its sizes by its own class."""

from __future__ import annotations

from cardgen.core.figure import Basis, Input, Sheet
from cardgen.forms.form import Form
from cardgen.forms.limit import ScrewLimits
from cardgen.forms.sizes import Sizes
from cardgen.sheets._form import size_inputs
from cardgen.spec.job import Job


def usual_class(form: Form, nut: str) -> str:
    """Return the class of screw that usually goes with a class of nut."""
    partners = [screw for screw, usual in form.usual_mate.items() if usual == nut]
    return form.default_class if form.default_class in partners or not partners else partners[0]


def diameters(job: Job, form: Form, sizes: Sizes, limits: ScrewLimits, sheet: Sheet) -> None:
    """Record the screw's diameters and the width of its groove, with their limits."""
    cited = form.cited["diameters"]
    basis: Basis = sheet["thread.pitch_diameter"].basis
    key = "diameter" if "thread.diameter" in job.places else "size"
    nominal = Input(job.thread.diameter, "mm", f"spec:thread.{key}", "read")
    for id, number, formula, band in (
        ("major", sizes.major, "d", limits.major),
        ("pitch", sizes.pitch_diameter, form.diameters["pitch"].formula, limits.pitch),
        ("minor", sizes.minor, form.diameters["minor"].formula, limits.minor),
    ):
        sheet.add(
            f"mate.{id}_diameter",
            number,
            low=None if band is None else band.low,
            high=None if band is None else band.high,
            formula=formula,
            inputs=size_inputs(formula, job, nominal, sheet),
            source=f"{cited.source}; {limits.source}",
            basis=basis,
            evidence=limits.evidence,
            note=limits.note,
        )
    sheet.add(
        "mate.groove_width",
        sizes.pitch / 2,
        low=limits.groove.low,
        high=limits.groove.high,
        formula="P / 2",
        inputs={"P": sheet.ref("thread.pitch")},
        source=limits.source,
        basis="computed" if limits.pitch is not None else "practice",
        evidence=limits.evidence,
        note="axial, at the basic pitch diameter",
    )
