"""A nut's thread: its sizes and limits, the bore to begin with, and its section to scale."""

from __future__ import annotations

from math import floor

from cardgen.core.figure import Basis, Input, Outline, Sheet
from cardgen.forms.form import Form, multiple
from cardgen.forms.limit import NutLimits
from cardgen.forms.sizes import Sizes
from cardgen.rules.profile import (
    clipped,
    nut_groove_outline,
    nut_groove_width,
    nut_outline,
    screw_outline,
)
from cardgen.sheets._constants import constant, source, value
from cardgen.sheets._form import size_inputs
from cardgen.sheets._thread_asked import nominal
from cardgen.spec.job import Job

PRACTICE = "threads/practice"
_GEOMETRY = "geometry of the straight-flank profile"


def diameters(
    job: Job, form: Form, sizes: Sizes, limits: NutLimits, basis: Basis, sheet: Sheet
) -> None:
    """Record the three diameters with their limits, and the pitch diameter's tolerance."""
    cited = form.cited["diameters"]
    own = "nut_pitch" if "nut_pitch" in form.diameters else "pitch"
    for id, key, number, band in (
        ("major", "nut_major", sizes.nut_major, limits.major),
        ("pitch", own, sizes.nut_pitch_diameter, limits.pitch),
        ("minor", "nut_minor", sizes.nut_minor, limits.minor),
    ):
        formula = form.diameters[key].formula
        sheet.add(
            f"thread.{id}_diameter",
            number,
            low=None if band is None else band.low,
            high=None if band is None else band.high,
            formula=formula,
            inputs=size_inputs(formula, job, nominal(job), sheet),
            source=f"{cited.source}; {limits.source}",
            basis=basis,
            evidence=limits.evidence,
            note=limits.note,
        )
    if limits.pitch is not None:
        sheet.add(
            "thread.pitch_tolerance",
            limits.pitch.high - limits.pitch.low,
            formula="E2 - E1",
            inputs={
                "E1": sheet.low("thread.pitch_diameter"),
                "E2": sheet.high("thread.pitch_diameter"),
            },
            source=limits.source,
            basis=basis,
            evidence=limits.evidence,
            note=limits.note,
        )


def cut(form: Form, limits: NutLimits, sheet: Sheet) -> None:
    """Record the drill, the bore and the depth from it.

    From the least bore: a class may stand off the basic sizes, and a standard rounds its limits.
    """
    bore = sheet.low("thread.minor_diameter")
    root = sheet["thread.major_diameter"]
    bottom = basic("major", form, sheet) if root.low is None else sheet.low(root.id)
    sheet.add(
        "thread.blank_diameter",
        float(bore.value),
        low=limits.minor.low,
        high=limits.minor.high,
        formula="D1",
        inputs={"D1": bore},
        source=limits.source,
        basis=sheet["thread.minor_diameter"].basis,
        evidence=limits.evidence,
        note="the smallest bore that the class allows",
    )
    drill(float(bore.value), bore, "thread.drill", sheet)
    sheet.add(
        "thread.depth",
        (float(bottom.value) - float(bore.value)) / 2,
        formula="(D4 - D1) / 2",
        inputs={"D4": bottom, "D1": bore},
        source=_GEOMETRY,
        basis="computed",
        note="radial, from the smallest bore to the smallest root",
    )


def drill(bore: float, origin: Input, id: str, sheet: Sheet) -> None:
    """Record the drill that leaves enough for boring true, if there is one."""
    step = value(PRACTICE, "drill-step")
    size = step * floor((bore - value(PRACTICE, "bore-left")) / step + 1e-9)
    if size <= 0:
        return
    sheet.add(
        id,
        size,
        formula="method: the largest drill that leaves x on the diameter for boring",
        inputs={"D1": origin, "x": constant(PRACTICE, "bore-left")},
        source=source(PRACTICE, "bore-left"),
        basis="practice",
        evidence="practice",
        note="then bore true: a drill wanders, and the bore is the thread's crest",
    )


def basic(which: str, form: Form, sheet: Sheet) -> Input:
    """Use a basic diameter as an input: it is as well known as the form, whatever its limits."""
    id = f"thread.{which}_diameter"
    return Input(sheet.number(id), "mm", id, form.cited["diameters"].evidence)


def flats(form: Form, sizes: Sizes, limits: NutLimits, sheet: Sheet) -> None:
    """Record the flats, the groove's width, the rounding of the root and the overlap."""
    flanks = {
        "P": sheet.ref("thread.pitch"),
        "D2": basic("pitch", form, sheet),
        "a1": sheet.ref("thread.leading_flank"),
        "a2": sheet.ref("thread.trailing_flank"),
    }
    sheet.add(
        "thread.crest_flat",
        sizes.pitch - nut_groove_width(sizes.nut_section, sizes.nut_minor / 2),
        formula="P / 2 - (D2 - D1) (tan(a1) + tan(a2)) / 2",
        inputs={"D1": basic("minor", form, sheet), **flanks},
        source=_GEOMETRY,
        basis="computed",
    )
    sheet.add(
        "thread.root_flat",
        nut_groove_width(sizes.nut_section, sizes.nut_major / 2),
        formula="P / 2 - (D4 - D2) (tan(a1) + tan(a2)) / 2",
        inputs={"D4": basic("major", form, sheet), **flanks},
        source=_GEOMETRY,
        basis="computed",
        note="the groove's width at the root between straight flanks on the basic pitch diameter",
    )
    sheet.add(
        "thread.groove_width",
        sizes.nut_groove,
        low=limits.groove.low,
        high=limits.groove.high,
        formula="method: the nut's groove where the screw's is half the pitch wide"
        if "nut_pitch" in form.diameters
        else "P / 2",
        inputs={"P": flanks["P"]},
        source=limits.source,
        basis="computed" if limits.pitch is not None else "practice",
        evidence=limits.evidence,
        note="axial, at the basic pitch diameter; wider as the pitch diameter gets larger",
    )
    for side in ("crest", "root"):
        arc = form.radii.get(f"nut_{side}", {})
        if arc:
            cited = form.cited["radii"]
            sheet.add(
                f"thread.{side}_radius",
                arc["pitches"] * sizes.pitch,
                formula=multiple(arc["pitches"], "P"),
                inputs={"P": flanks["P"]},
                source=cited.source,
                basis="standard",
                evidence=cited.evidence,
                note=f"the whole {side} is one arc",
            )
    shapes(sizes.nut_crest_arc > 0, sizes.round_root(internal=True), form, sheet)
    rule = form.radii.get("root", {})
    if set(rule) == {"clearances"} and sizes.root_radius is not None:
        cited = form.cited["radii"]
        sheet.add(
            "thread.root_radius",
            sizes.root_radius,
            formula=multiple(rule["clearances"], "ac"),
            inputs={"ac": sheet.ref("thread.clearance")},
            source=cited.source,
            basis="standard",
            evidence=cited.evidence,
            note="the largest rounding of the corners",
        )


def shapes(crest: bool, root: bool, form: Form, sheet: Sheet) -> None:
    """Record which of crest and root are one arc of a fixed radius by the form itself."""
    for side, whole in (("crest", crest), ("root", root)):
        if whole:
            cited = form.cited["radii"]
            sheet.add(
                f"thread.{side}_shape",
                "one arc",
                source=cited.source,
                basis="standard",
                evidence=cited.evidence,
                note="the flat is where the straight flanks would meet its level",
            )


def outlines(sizes: Sizes, length: float, sheet: Sheet) -> None:
    """Give the sections, x from the chuck to the tailstock and y the radius [mm].

    As for a screw, but the profile is the nut's, from the middle of one of its ridges on, and the
    mate's the basic screw's.
    """
    half = sizes.pitch / 2
    root, crest = sizes.nut_major / 2, sizes.nut_minor / 2
    nut = nut_outline(
        sizes.nut_section,
        root,
        crest,
        length + sizes.pitch,
        root_radius=sizes.nut_root_arc,
        crest_radius=sizes.nut_crest_arc,
    )
    screw = screw_outline(sizes.section, length, sizes.root_arc, half, sizes.crest_arc)
    shifted = clipped([(x - half, y) for x, y in nut], length)
    sheet.outlines["thread.profile"] = Outline(shifted)
    sheet.outlines["thread.mate_profile"] = Outline(screw)
    sheet.outlines["thread.groove"] = Outline(nut_groove_outline(sizes.nut_section, root, crest))
