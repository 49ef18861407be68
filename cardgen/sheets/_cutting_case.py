"""From the job and the earlier sheets to a case that the rules can plan."""

from __future__ import annotations

from collections.abc import Mapping
from math import radians

from cardgen.core.figure import Input, Sheet
from cardgen.rules.blade import Blade
from cardgen.rules.boring import Bar
from cardgen.rules.cutting import Groove, Law
from cardgen.rules.holding import Work
from cardgen.rules.methods import Case, Practice
from cardgen.rules.passes import Lathe, LimitName
from cardgen.sheets._cutting_blade import fillet
from cardgen.sheets._cutting_give import gives
from cardgen.sheets._cutting_pace import pace
from cardgen.sheets._cutting_tables import chip_thickness, force_factor, practice
from cardgen.spec.job import Job

NEEDS = (
    "thread.depth",
    "thread.leading_flank",
    "thread.trailing_flank",
    "thread.blank_diameter",
    "thread.minor_diameter",
    "tool.tip_width",
    "tool.shank_width",
    "tool.blade_length",
    "tool.blade_height",
    "tool.relief_leading",
    "tool.relief_trailing",
    "tool.overhang",
)
"""Figures without which nothing can be planned."""

NUT_NEEDS = ("tool.bar", "tool.bar_overhang")
"""The same for a nut, besides."""


def correction_inputs(job: Job, sheet: Sheet, chip: str) -> Mapping[str, Input]:
    """Return the factors of the cutting force by symbol.

    Parameters
    ----------
    chip
        ``confined-chip`` or ``open-chip``.
    """
    rake = job.work.material.cutting.rake_deg
    return {
        "r": force_factor("rake-per-degree").input,
        "g": sheet.ref("tool.rake")
        if "tool.rake" in sheet
        else Input(rake.value, "deg", "material:cutting.rake", rake.evidence),
        "kw": force_factor("worn-edge").input,
        "kt": force_factor(f"tool-{job.tool.material}").input,
        "kg": force_factor(chip).input,
    }


def correction(inputs: Mapping[str, Input]) -> float:
    """Return the product of the factors, (1 - r g) kw kt kg."""
    r, g, kw, kt, kg = (float(part.value) for part in inputs.values())
    return (1 - r * g) * kw * kt * kg


def gather(job: Job, sheet: Sheet, allowed: Mapping[LimitName, float]) -> Case:
    """Return the case of a job whose :data:`NEEDS` are all on the sheets."""
    number, cutting, machine = sheet.number, job.work.material.cutting, job.machine
    least, most = chip_thickness(job.tool.material, job.work.material.group)

    def law(chip: str) -> Law:
        factor = correction(correction_inputs(job, sheet, chip))
        return Law(cutting.kc11.value, cutting.mc.value, factor)

    shallowest, deepest = _depths(sheet)
    compound = machine.compound_slide
    return Case(
        lathe=Lathe(
            work=_boring_bar(sheet) if sheet.internal else _work(job, sheet),
            step=float(machine.cross_slide.radial_step_exact),
            feed=0.0,
            radial_share=force_factor("radial-share").value,
            dig_in=practice("dig-in").value,
            speed=number("setup.speed") if "setup.speed" in sheet else None,
            allowed=allowed,
        ),
        depth=number("thread.depth"),
        shallowest=shallowest,
        deepest=deepest,
        point=number("tool.tip_width"),
        groove=Groove(
            radians(number("thread.leading_flank")), radians(number("thread.trailing_flank"))
        ),
        blade=Blade(
            tip=number("tool.tip_width"),
            shank=number("tool.shank_width"),
            length=number("tool.blade_length"),
            height=number("tool.blade_height"),
            reliefs=(
                radians(number("tool.relief_leading")),
                radians(number("tool.relief_trailing")),
            ),
            overhang=number("tool.overhang"),
            blank=job.tool.blank,
            fillet=fillet(),
            side_least=practice("side-least").value,
        ),
        chip=most.value,
        confined=law("confined-chip"),
        open=law("open-chip"),
        compound_step=float(compound.radial_step_exact)
        if compound is not None and machine.compound_swivel
        else None,
        practice=_practice(least.value),
        side_step=None if compound is None else float(compound.radial_step_exact),
        left_hand=job.outwards,
        pace=pace(job, sheet),
    )


def _depths(sheet: Sheet) -> tuple[float | None, float | None]:
    """Return the least and the greatest radial depth from the blank that keep the root's limits."""
    blank = sheet.number("thread.blank_diameter")
    root = sheet["thread.major_diameter" if sheet.internal else "thread.minor_diameter"]
    ends = [None if end is None else abs(blank - end) / 2 for end in (root.low, root.high)]
    low, high = ends if sheet.internal else reversed(ends)
    return low, high


def _boring_bar(sheet: Sheet) -> Bar:
    return Bar(
        blank=sheet.number("thread.major_diameter"),
        bar=sheet.number("tool.bar"),
        overhang=sheet.number("tool.bar_overhang"),
        reach=sheet.number("tool.overhang"),
        modulus=practice("bar-modulus").value,
    )


def _work(job: Job, sheet: Sheet) -> Work:
    minor = sheet["thread.minor_diameter"]
    return Work(
        stickout=job.work.stickout,
        thread=job.thread.length,
        groove=job.work.groove or 0.0,
        blank=sheet.number("thread.blank_diameter"),
        root=minor.number if minor.low is None else minor.low,
        modulus=job.work.material.modulus.value,
        holding=job.work.holding,
        rest=job.work.rest,
        left_hand=job.thread.hand == "left",
        follow_offset=practice("follow-offset").value,
        steady_width=practice("steady-width").value,
        gives=gives(job),
    )


def _practice(least: float) -> Practice:
    return Practice(
        least=least,
        finish_bite=practice("finish-bite").value,
        plunge_tip=practice("plunge-tip").value,
        plunge_edge=practice("plunge-edge").value,
        rough_side=practice("rough-side").value,
        rough_bottom=practice("rough-bottom").value,
        rough_least=practice("rough-least").value,
        rough_taper=practice("rough-taper").value,
        rough_try=practice("rough-try").value,
        vee_least=practice("vee-least").value,
        flank_relief=practice("flank-relief").value,
        shave=practice("shave-most").value,
    )
