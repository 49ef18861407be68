"""A rack's tooth and the screw's ridge under load, the whole of it on one tooth.

Straight teeth touch a screw along lines, not all round as a nut does, and never two teeth alike;
so one tooth is taken to carry all, as wide as the screw reaches. The pressure on such a line is
not worked out.
"""

from __future__ import annotations

from math import pi

from cardgen.core.figure import Input, Sheet
from cardgen.core.words import told
from cardgen.rules import screw
from cardgen.sheets._constants import value
from cardgen.sheets._load_strength import core, judge
from cardgen.spec.job import Job
from cardgen.spec.substance import Material

_TABLE = "load/constants"
_SAID = "beam theory; one tooth carries all (common practice)"


def record_tooth(job: Job, sheet: Sheet) -> None:
    """Record bending and shear of the rack's tooth and of the screw's ridge beside it."""
    sheet.warn(
        "load.rack",
        "The pressure on a rack's teeth is not worked out: straight teeth touch the screw along a "
        "line each. Grease them, run them in under a light load, and look at the lines.",
    )
    if not all(f"mate.{id}" in sheet for id in ("contact_width", "rack_width", "cutter_tip")):
        return
    reach = min(("mate.contact_width", "mate.rack_width"), key=sheet.number)
    width = sheet.ref(reach)
    if job.mate is not None and job.mate.material is not None:
        depth = sheet.ref("mate.tooth_depth")
        tip, pitch = sheet.ref("mate.cutter_tip"), sheet.ref("mate.tooth_pitch")
        thick = float(pitch.value) - float(tip.value)
        inputs = {"F": sheet.ref("load.load"), "b": width, "p": pitch, "w": tip}
        arm = float(depth.value) / 2
        bent = {"h": depth}
        formulas = ("3 F h / (b (p - w)^2)", "F / (b (p - w))")
        _record(sheet, "tooth", job.mate.material, thick, arm, formulas, inputs, bent)
    if "thread.root_flat" in sheet:
        inner, outer = core(sheet), sheet.ref("thread.pitch_diameter")
        flat, pitch = sheet.ref("thread.root_flat"), sheet.ref("thread.pitch")
        thick = float(pitch.value) - float(flat.value)
        inputs = {"F": sheet.ref("load.load"), "b": width, "P": pitch, "w": flat}
        arm = (float(outer.value) - float(inner.value)) / 2
        bent = {"d2": outer, "d": inner}
        formulas = ("3 F (d2 - d) / (b (P - w)^2)", "F / (b (P - w))")
        _record(sheet, "thread", job.work.material, thick, arm, formulas, inputs, bent)


def _record(
    sheet: Sheet,
    part: str,
    material: Material,
    thick: float,
    arm: float,
    formulas: tuple[str, str],
    inputs: dict[str, Input],
    bent: dict[str, Input],
) -> None:
    """Record one ridge, a cantilever of its thickness at the root."""
    load, width = float(inputs["F"].value), float(inputs["b"].value)
    # A turn's root is as long as its circle: the same formulas, for a straight piece of it.
    circle = width / pi
    bending = screw.thread_bending(load, circle, arm, thick, 1)
    shear = screw.thread_shear(load, circle, thick, 1)
    yields = material.yield_.value
    yielding = told("the yield strength of {title}", title=material.title)
    shearing = told("the shear yield of {title}", title=material.title)
    for id, stress, formula, limit, of in (
        ("bending", bending, formulas[0], yields, yielding),
        ("shear", shear, formulas[1], value(_TABLE, "shear-yield") * yields, shearing),
    ):
        sheet.add(
            f"load.{part}_{id}",
            stress,
            formula=formula,
            inputs={**inputs, **bent} if id == "bending" else inputs,
            source=_SAID,
            basis="practice",
            evidence="practice",
            note="one tooth carries all",
        )
        judge(sheet, f"load.{part}_{id}", limit, of, stress)
