"""What the maker asked for: form, hand, pitch, lead and flanks, and on what the sizes rest."""

from __future__ import annotations

from math import degrees

from cardgen.core.figure import Basis, Input, Sheet
from cardgen.core.words import told
from cardgen.forms.form import Form, multiple
from cardgen.forms.sizes import Sizes, designation, is_listed
from cardgen.spec.job import Job

GEOMETRY = "geometry of the straight-flank profile"


def record_asked(job: Job, form: Form, sheet: Sheet) -> None:
    """Record what the maker asked for, and the lead."""
    thread = job.thread
    words = {"thread.form": form.title, "thread.hand": thread.hand}
    if thread.class_:
        words["thread.class"] = thread.class_
    for id, word in words.items():
        sheet.add(id, word, source="the job", basis="data", evidence="read")
    sheet.add(
        "thread.designation",
        designation(
            form,
            thread.diameter,
            thread.pitch_exact,
            thread.starts,
            thread.hand,
            thread.class_,
            inch=thread.inch,
        ),
        source=form.designation["source"],
        basis="standard" if form.sizes else "practice",
    )
    pitch = (thread.pitch, "P", {"P": Input(thread.pitch, "mm", origin(job, "pitch"), "read")})
    if thread.module is not None:
        module = Input(thread.module, "mm", "spec:thread.module", "read")
        pitch = (thread.pitch, "pi m", {"m": module})
    elif thread.diametral_pitch is not None:
        count = Input(thread.diametral_pitch, "", "spec:thread.diametral-pitch", "read")
        pitch = (thread.pitch, "25.4 pi / DP", {"DP": count})
    starts, length = float(thread.starts), thread.length
    for key, (number, formula, inputs) in {
        "starts": (starts, "n", {"n": Input(starts, "", origin(job, "starts"), "read")}),
        "pitch": pitch,
        "length": (length, "l", {"l": Input(length, "mm", origin(job, "length"), "read")}),
    }.items():
        sheet.add(
            f"thread.{key}",
            number,
            formula=formula,
            inputs=inputs,
            source="the job",
            basis="data",
            evidence="read",
            note=next((a.text for a in job.assumed if a.key == f"thread.{key}"), ""),
        )
    sheet.add(
        "thread.lead",
        thread.lead,
        formula="n P",
        inputs={"n": sheet.ref("thread.starts"), "P": sheet.ref("thread.pitch")},
        source="definition of the lead",
        basis="computed",
    )
    for side, angle in (("leading", form.leading), ("trailing", form.trailing)):
        cited = form.cited["flanks"]
        stated = job.thread.profile is not None
        key = f"spec:thread.custom.{side}-flank"
        sheet.add(
            f"thread.{side}_flank",
            degrees(angle),
            formula="a" if stated else "",
            inputs={"a": Input(degrees(angle), "deg", key, "read")} if stated else {},
            source=cited.source,
            basis="standard" if form.sizes else "handbook",
            evidence=cited.evidence,
            note="from the plane square to the axis, in the axial section",
        )
    sheet.add(
        "thread.included_angle",
        degrees(form.leading + form.trailing),
        formula="a1 + a2",
        inputs={
            "a1": sheet.ref("thread.leading_flank"),
            "a2": sheet.ref("thread.trailing_flank"),
        },
        source=GEOMETRY,
        basis="computed",
    )


def origin(job: Job, key: str) -> str:
    """Say which key of the job gave a value: its own, or the designation."""
    own, size = f"thread.{key}", "thread.size"
    return f"spec:{size}" if size in job.places and own not in job.places else f"spec:{own}"


def basis_of(job: Job, form: Form, sheet: Sheet) -> Basis:
    """Return on what the sizes rest; warn if the form's standard does not list them."""
    if not form.sizes:
        return "handbook"
    if is_listed(form, job.thread.diameter, job.thread.pitch):
        return "standard"
    sheet.warn(
        "thread.unlisted",
        told(
            "{designation} is not a size of {standard}: its sizes and limits are worked "
            "out by the standard's rules. Gauges, taps and mates from stock will not be "
            "found for it.",
            designation=sheet["thread.designation"].value,
            standard=form.sizes_standard,
        ),
    )
    return "computed"


def record_clearance(job: Job, form: Form, sizes: Sizes, sheet: Sheet) -> None:
    if not sizes.clearance:
        return
    cited = form.cited["clearance"]
    pitch = {"P": sheet.ref("thread.pitch")}
    formula, inputs, note = "", pitch, "radial, by the pitch"
    if form.clearance["rule"] == "by-diameter":
        formula, inputs = f"{form.clearance['value']:g} d", {"d": nominal(job)}
        note = "radial"
    elif form.clearance["rule"] == "by-share":
        formula = multiple(form.clearance["value"], "P")
    elif form.clearance["rule"] == "stated":
        stated = Input(sizes.clearance, "mm", "spec:thread.custom.clearance", "read")
        formula, inputs, note = "ac", {"ac": stated}, "radial"
    sheet.add(
        "thread.clearance",
        sizes.clearance,
        formula=formula,
        inputs=inputs,
        source=cited.source,
        basis="standard" if form.sizes else "handbook",
        evidence=cited.evidence,
        note=note,
    )


def record_height(form: Form, sizes: Sizes, sheet: Sheet) -> None:
    """Record the height of the form, where its standard rounds it or the job states it."""
    if not form.height:
        return
    cited = form.cited["height"]
    if "stated" in form.height:
        sheet.add(
            "thread.height",
            sizes.height,
            formula="h",
            inputs={"h": Input(sizes.height, "mm", "spec:thread.custom.depth", "read")},
            source=cited.source,
            basis="data",
            evidence=cited.evidence,
            note="as the job states it, from crest to root",
        )
        return
    pitches, step = form.height["pitches"], form.height["step"]
    sheet.add(
        "thread.height",
        sizes.height,
        formula=f"{step:g} round({multiple(pitches, 'P')} / {step:g})",
        inputs={"P": sheet.ref("thread.pitch")},
        source=cited.source,
        basis="standard",
        evidence=cited.evidence,
        note=f"as the standard rounds it, to {step:g} mm",
    )


def nominal(job: Job) -> Input:
    return Input(job.thread.diameter, "mm", origin(job, "diameter"), "read")


def engaged(form: Form) -> dict[str, Input]:
    """Return the length of engagement as an input, where the form's tolerances grow with it."""
    grows = form.series in form.tolerances.get("engagement", {}).get("by_formula", [form.series])
    if form.engaged is None or not grows or "by_engagement" not in form.tolerances:
        return {}
    return {"Le": Input(form.engaged, "mm", "spec:mate.length", "read")}
