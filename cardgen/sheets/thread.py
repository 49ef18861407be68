"""The thread sheet: basic sizes, limits by class, flats, lead angles, and the section to scale."""

from __future__ import annotations

from math import degrees

from cardgen.core.figure import Basis, Evidence, Input, Outline, Sheet, weakest
from cardgen.core.words import told
from cardgen.forms.form import Form, FormError, multiple
from cardgen.forms.limit import ScrewLimits
from cardgen.forms.limits import nut_limits, screw_limits
from cardgen.forms.sizes import Sizes, basic_sizes
from cardgen.rules.helix import lead_angle
from cardgen.rules.profile import Section, groove_outline, nut_outline, screw_outline
from cardgen.sheets import _thread_nut as nut
from cardgen.sheets._constants import value as constant_value
from cardgen.sheets._form import form_of, size_inputs
from cardgen.sheets._thread_asked import (
    GEOMETRY,
    basis_of,
    engaged,
    nominal,
    record_asked,
    record_clearance,
    record_height,
)
from cardgen.sheets._thread_ends import record_ends
from cardgen.sheets._thread_engaged import judge_engagement
from cardgen.spec.job import Job

PITCHES_SHOWN = 2.5
"""Length of the outlines that a panel draws, in pitches."""


def work_out(job: Job, sheet: Sheet) -> None:
    """Record the thread's sizes and limits, and its outlines.

    Outlines, x from the chuck to the tailstock and y the radius [mm]: ``thread.profile`` the
    screw's section from the middle of a ridge on, ``thread.mate_profile`` the basic nut on its
    flanks, ``thread.groove`` one groove from crest to crest with its root centred on x = 0.
    """
    form = form_of(job)
    record_asked(job, form, sheet)
    if job.thread.surface == "internal":
        _nut(job, form, sheet)
        return
    try:
        sizes = basic_sizes(form, job.thread.diameter, job.thread.pitch)
        limits = screw_limits(form, sizes, job.thread.starts, job.thread.class_)
    except FormError as error:
        sheet.refuse("thread.impossible", f"{error}.")
        return
    basis = basis_of(job, form, sheet)
    record_clearance(job, form, sizes, sheet)
    record_height(form, sizes, sheet)
    _diameters(job, form, sizes, limits, basis, sheet)
    judge_engagement(job, form, sizes, sheet)
    _cut(form, sizes, limits, sheet)
    _flats(form, sizes, limits, sheet)
    _lead_angles(job, form, sheet)
    _outlines(sizes, limits, sheet)
    record_ends(job, sheet)


def _nut(job: Job, form: Form, sheet: Sheet) -> None:
    """Record the same for a nut."""
    thread = job.thread
    try:
        sizes = basic_sizes(form, thread.diameter, thread.pitch)
        limits = nut_limits(form, sizes, thread.starts, thread.class_)
    except FormError as error:
        sheet.refuse("thread.impossible", f"{error}.")
        return
    basis = basis_of(job, form, sheet)
    record_clearance(job, form, sizes, sheet)
    record_height(form, sizes, sheet)
    nut.diameters(job, form, sizes, limits, basis, sheet)
    judge_engagement(job, form, sizes, sheet)
    nut.cut(form, limits, sheet)
    nut.flats(form, sizes, limits, sheet)
    _engagement(form, sizes, sheet)
    _lead_angles(job, form, sheet)
    nut.outlines(sizes, PITCHES_SHOWN * sizes.pitch, sheet)
    _wall(job, sheet)
    if form.leading != form.trailing:
        sheet.warn(
            "thread.which_way_round",
            "The flanks differ, so the nut fits one way round: cut as drawn, the screw enters by"
            " the face towards the chuck. Mark that face before the nut leaves the chuck.",
        )
    record_ends(job, sheet)


def _wall(job: Job, sheet: Sheet) -> None:
    """Refuse a nut whose wall is too thin beyond its groove."""
    root = sheet["thread.major_diameter"]
    deepest = root.number if root.high is None else root.high
    least = deepest + 2 * constant_value(nut.PRACTICE, "wall-least")
    if job.work.stock < least:
        sheet.refuse(
            "thread.thin_nut",
            told(
                "Stock of {stock} mm leaves a wall of {wall} mm outside a groove of "
                "{deepest} mm; take stock of {least} mm or more.",
                stock=f"{job.work.stock:.2f}",
                wall=f"{(job.work.stock - deepest) / 2:.2f}",
                deepest=f"{deepest:.2f}",
                least=f"{least:.2f}",
            ),
        )


def _diameters(
    job: Job, form: Form, sizes: Sizes, limits: ScrewLimits, basis: Basis, sheet: Sheet
) -> None:
    """Record the three diameters with their limits, then allowance and tolerance."""
    cited = form.cited["diameters"]
    source = cited.source if limits.source in cited.source else f"{cited.source}; {limits.source}"
    own: Evidence = cited.evidence
    rows = (
        ("major", sizes.major, "d", limits.major, limits.crest_evidence),
        (
            "pitch",
            sizes.pitch_diameter,
            form.diameters["pitch"].formula,
            limits.pitch,
            own if limits.pitch is None else limits.evidence,
        ),
        ("minor", sizes.minor, form.diameters["minor"].formula, limits.minor, limits.evidence),
    )
    for name, value, formula, band, evidence in rows:
        sheet.add(
            f"thread.{name}_diameter",
            value,
            low=None if band is None else band.low,
            high=None if band is None else band.high,
            formula=formula,
            inputs=size_inputs(formula, job, nominal(job), sheet),
            source=source,
            basis=basis,
            evidence=weakest(own, evidence),
            note=limits.note if band is not None else "",
        )
    rule = limits.source
    if limits.pitch_tolerance is not None:
        for id, number, label in (
            ("thread.allowance", limits.allowance, "taken off the largest pitch diameter"),
            ("thread.pitch_tolerance", limits.pitch_tolerance, limits.note),
        ):
            sheet.add(
                id,
                number,
                formula="method: the standard's formula, rounded and stepped as it prescribes",
                inputs={"d": nominal(job), "P": sheet.ref("thread.pitch"), **engaged(form)},
                source=rule,
                basis=basis,
                evidence=limits.evidence,
                note=label,
            )


def _cut(form: Form, sizes: Sizes, limits: ScrewLimits, sheet: Sheet) -> None:
    """Record the blank to turn and the depth from it."""
    shrunk = limits.crest_allowance > 0
    inputs = {"d": _basic("major", form, sheet)}
    if shrunk:
        inputs["A"] = sheet.ref("thread.allowance")
    sheet.add(
        "thread.blank_diameter",
        sizes.major - limits.crest_allowance,
        low=limits.major.low,
        high=limits.major.high,
        formula="d - A" if shrunk else "d",
        inputs=inputs,
        source=limits.source,
        basis=sheet["thread.major_diameter"].basis,
        evidence=limits.crest_evidence,
        note="the largest crest that the class allows",
    )
    sheet.add(
        "thread.depth",
        (sizes.major - sizes.minor) / 2,
        formula="(d - d3) / 2",
        inputs={"d": _basic("major", form, sheet), "d3": _basic("minor", form, sheet)},
        source=GEOMETRY,
        basis="computed",
        note="radial, from the blank's largest crest to the largest root",
    )


def _basic(which: str, form: Form, sheet: Sheet) -> Input:
    """Use a basic diameter as an input: it is as well known as the form, whatever its limits."""
    id = f"thread.{which}_diameter"
    return Input(sheet.number(id), "mm", id, form.cited["diameters"].evidence)


def _flats(form: Form, sizes: Sizes, limits: ScrewLimits, sheet: Sheet) -> None:
    """Record the flats, the groove's width, the roundings and the overlap with the mate."""
    flanks = {
        "P": sheet.ref("thread.pitch"),
        "d2": _basic("pitch", form, sheet),
        "a1": sheet.ref("thread.leading_flank"),
        "a2": sheet.ref("thread.trailing_flank"),
    }
    section = sizes.section
    sheet.add(
        "thread.crest_flat",
        section.crest_flat,
        formula="P / 2 - (d - d2) (tan(a1) + tan(a2)) / 2",
        inputs={"d": _basic("major", form, sheet), **flanks},
        source=GEOMETRY,
        basis="computed",
    )
    sheet.add(
        "thread.root_flat",
        section.root_flat,
        formula="P / 2 - (d2 - d3) (tan(a1) + tan(a2)) / 2",
        inputs={"d3": _basic("minor", form, sheet), **flanks},
        source=GEOMETRY,
        basis="computed",
        note="the groove's width at the root between straight flanks on the basic pitch diameter",
    )
    sheet.add(
        "thread.groove_width",
        sizes.pitch / 2,
        low=limits.groove.low,
        high=limits.groove.high,
        formula="P / 2",
        inputs={"P": flanks["P"]},
        source=limits.source,
        basis="computed" if limits.pitch is not None else "practice",
        evidence=limits.evidence,
        note="axial, at the basic pitch diameter; wider as the pitch diameter gets smaller",
    )
    for side, radius in (("crest", sizes.crest_radius), ("root", sizes.root_radius)):
        if radius is not None:
            arc = sizes.crest_arc if side == "crest" else 0.0
            _radius(side, radius, form, sheet, whole=arc > 0)
    nut.shapes(sizes.crest_arc > 0, sizes.round_root(), form, sheet)
    _engagement(form, sizes, sheet)


def _engagement(form: Form, sizes: Sizes, sheet: Sheet) -> None:
    """Record the overlap of screw and nut."""
    bore = form.diameters["nut_minor"]
    used = (
        ("P", "pitch", bore.drop),
        ("ac", "clearance", bore.clearances),
        ("h", "height", bore.heights),
    )
    inputs = {symbol: sheet.ref(f"thread.{id}") for symbol, id, factor in used if factor}
    sheet.add(
        "thread.engagement",
        sizes.overlap,
        formula=form.overlap_formula,
        inputs=inputs,
        source=form.cited["diameters"].source,
        basis="computed",
        note="radial, screw and nut at their basic sizes",
    )


def _radius(side: str, radius: float, form: Form, sheet: Sheet, *, whole: bool) -> None:
    rule, cited = form.radii[side], form.cited["radii"]
    parts = (("pitches", "P", "pitch"), ("clearances", "ac", "clearance"))
    formula = " + ".join(multiple(rule[key], symbol) for key, symbol, _ in parts if key in rule)
    inputs = {symbol: sheet.ref(f"thread.{id}") for key, symbol, id in parts if key in rule}
    if "stated" in rule:
        formula = "r"
        inputs = {"r": Input(radius, "mm", f"spec:thread.custom.{side}-radius", "read")}
    sheet.add(
        f"thread.{side}_radius",
        radius,
        formula=formula,
        inputs=inputs,
        source=cited.source,
        basis="standard" if "stated" not in rule else "data",
        evidence=cited.evidence,
        note="the whole crest is one arc" if whole else "the largest rounding of the corners",
    )


def _lead_angles(job: Job, form: Form, sheet: Sheet) -> None:
    for place in ("major", "pitch", "minor"):
        diameter = f"thread.{place}_diameter"
        sheet.add(
            f"thread.lead_angle_{place}",
            degrees(lead_angle(job.thread.lead, sheet.number(diameter))),
            formula="atan(L / (pi d))",
            inputs={"L": sheet.ref("thread.lead"), "d": _basic(place, form, sheet)},
            source="geometry of the helix",
            basis="computed",
        )


def _outlines(sizes: Sizes, limits: ScrewLimits, sheet: Sheet) -> None:
    # The section at its largest: where the class takes the crest away from nominal it takes
    # flanks and root along.
    section = Section(
        sizes.pitch,
        sizes.leading,
        sizes.trailing,
        (sizes.major - limits.crest_allowance) / 2,
        (sizes.pitch_diameter - limits.crest_allowance) / 2,
        (sizes.minor - limits.crest_allowance) / 2,
    )
    length = PITCHES_SHOWN * sizes.pitch
    sheet.outlines["thread.profile"] = Outline(
        screw_outline(section, length, sizes.root_arc, crest_radius=sizes.crest_arc)
    )
    sheet.outlines["thread.groove"] = Outline(groove_outline(section))
    sheet.outlines["thread.mate_profile"] = Outline(
        nut_outline(
            sizes.nut_section,
            sizes.nut_major / 2,
            sizes.nut_minor / 2,
            length,
            root_radius=sizes.nut_root_arc,
            crest_radius=sizes.nut_crest_arc,
        )
    )
