"""The mate sheet: the nut's sizes by its own class and the backlash of the pair, or the rack."""

from __future__ import annotations

from cardgen.core.figure import Basis, Input, Sheet, Step
from cardgen.core.words import told
from cardgen.forms.form import Form, FormError
from cardgen.forms.limit import NutLimits
from cardgen.forms.limits import nut_limits, screw_limits
from cardgen.forms.sizes import Sizes, basic_sizes, designation
from cardgen.sheets._form import form_of, size_inputs
from cardgen.sheets._mate_drill import record_tap_drill
from cardgen.sheets._mate_engagement import record_engagement
from cardgen.sheets._mate_fit import boring_room, clearances, picture
from cardgen.sheets._mate_rack import record_rack
from cardgen.sheets._mate_screw import diameters as screw_diameters
from cardgen.sheets._mate_screw import usual_class
from cardgen.spec.job import Job, Mate


def work_out(job: Job, sheet: Sheet) -> None:
    """Record the nut's limits and the play between nut and screw; or the rack."""
    if job.mate is None or "thread.pitch_diameter" not in sheet:
        return
    if job.mate.kind == "rack":
        record_rack(job, job.mate, sheet)
        return
    form = form_of(job)
    usual = usual_class if sheet.internal else _usual_nut
    cls = job.mate.class_ or usual(form, job.thread.class_)
    sizes = basic_sizes(form, job.thread.diameter, job.thread.pitch)
    try:
        if sheet.internal:
            screw = screw_limits(form, sizes, job.thread.starts, cls)
        else:
            nut = nut_limits(form, sizes, job.thread.starts, cls)
    except FormError as error:
        sheet.refuse(
            "mate.class",
            told("The screw: {reason}.", reason=str(error))
            if sheet.internal
            else told("The nut: {reason}.", reason=str(error)),
        )
        return
    _words(job, job.mate, form, cls, sheet)
    record_engagement(job, job.mate, form, sheet)
    if sheet.internal:
        screw_diameters(job, form, sizes, screw, sheet)
    else:
        _diameters(job, form, sizes, nut, sheet)
    _backlash(sheet)
    clearances(sheet)
    picture(job, sheet)
    if sheet.internal:
        text = "Keep the nut by the lathe as the gauge for its screw, which is cut to it."
    else:
        boring_room(job, sheet)
        record_tap_drill(job, sheet)
        text = "Cut the nut first: a screw is more easily taken down to its nut."
    sheet.steps.append(Step(text, "fit", "common practice"))


def _usual_nut(form: Form, screw: str) -> str:
    return form.usual_mate.get(screw, "")


def _words(job: Job, mate: Mate, form: Form, cls: str, sheet: Sheet) -> None:
    asked = mate.class_ != ""
    if cls:
        sheet.add(
            "mate.class",
            cls,
            source="the job" if asked else form.cited["mate"].source,
            basis="data" if asked else "standard",
            evidence="read" if asked else "memory",
            note=""
            if asked
            else f"the usual partner of the {'nut' if sheet.internal else 'screw'}'s class",
        )
    sheet.add(
        "mate.designation",
        designation(
            form,
            job.thread.diameter,
            job.thread.pitch_exact,
            job.thread.starts,
            job.thread.hand,
            cls,
            inch=job.thread.inch,
        ),
        source=form.designation["source"],
        basis="standard" if form.sizes else "practice",
    )
    if mate.length is not None:
        sheet.add(
            "mate.length",
            mate.length,
            formula="l",
            inputs={"l": Input(mate.length, "mm", "spec:mate.length", "read")},
            source="the job",
            basis="data",
            evidence="read",
        )
    if mate.material is not None:
        sheet.add(
            "mate.material",
            mate.material.title,
            source="the job",
            basis="data",
            evidence="read",
        )


def _diameters(job: Job, form: Form, sizes: Sizes, limits: NutLimits, sheet: Sheet) -> None:
    cited = form.cited["diameters"]
    basis: Basis = sheet["thread.pitch_diameter"].basis
    source = f"{cited.source}; {limits.source}"
    for id, key, value, low, high in (
        ("major", "nut_major", sizes.nut_major, limits.major.low, limits.major.high),
        (
            "pitch",
            "nut_pitch" if "nut_pitch" in form.diameters else "pitch",
            sizes.nut_pitch_diameter,
            None if limits.pitch is None else limits.pitch.low,
            None if limits.pitch is None else limits.pitch.high,
        ),
        ("minor", "nut_minor", sizes.nut_minor, limits.minor.low, limits.minor.high),
    ):
        formula = form.diameters[key].formula
        sheet.add(
            f"mate.{id}_diameter",
            value,
            low=low,
            high=high,
            formula=formula,
            inputs=size_inputs(formula, job, _basic("major", form, sheet), sheet),
            source=source,
            basis=basis,
            evidence=limits.evidence,
            note=limits.note,
        )
    own = "nut_pitch" in form.diameters
    sheet.add(
        "mate.groove_width",
        sizes.nut_groove,
        low=limits.groove.low,
        high=limits.groove.high,
        formula="P / 2 + (D2 - d2) (tan(a1) + tan(a2)) / 2" if own else "P / 2",
        inputs={
            "P": sheet.ref("thread.pitch"),
            "D2": sheet.ref("mate.pitch_diameter"),
            "d2": _basic("pitch", form, sheet),
            "a1": sheet.ref("thread.leading_flank"),
            "a2": sheet.ref("thread.trailing_flank"),
        }
        if own
        else {"P": sheet.ref("thread.pitch")},
        source=limits.source,
        basis="computed" if limits.pitch is not None else "practice",
        evidence=limits.evidence,
        note="axial, at the basic pitch diameter",
    )


def _basic(which: str, form: Form, sheet: Sheet) -> Input:
    id = f"thread.{which}_diameter"
    return Input(sheet.number(id), "mm", id, form.cited["diameters"].evidence)


def _backlash(sheet: Sheet) -> None:
    """Record the play: what the two grooves have over the pitch that they must share."""
    screw, nut = sheet["thread.groove_width"], sheet["mate.groove_width"]
    if screw.low is None or screw.high is None or nut.low is None or nut.high is None:
        return
    pitch = sheet.number("thread.pitch")
    least, most = screw.low + nut.low - pitch, screw.high + nut.high - pitch
    sheet.add(
        "mate.backlash",
        (least + most) / 2,
        low=least,
        high=most,
        formula="(Sl + Sh + Nl + Nh) / 2 - P",
        inputs={
            "Sl": sheet.low("thread.groove_width"),
            "Sh": sheet.high("thread.groove_width"),
            "Nl": sheet.low("mate.groove_width"),
            "Nh": sheet.high("mate.groove_width"),
            "P": sheet.ref("thread.pitch"),
        },
        source="geometry of the straight-flank profile",
        basis="computed",
        note="axial, flanks only; between the middles of both tolerances, least and most",
    )
