"""How near the blade is to breaking: its corners, its largest safe bite, its overhang, its dip."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from cardgen import library
from cardgen.core.figure import Sheet
from cardgen.core.words import told
from cardgen.rules.blade import Blade
from cardgen.rules.fillet import Fillet, Fit
from cardgen.rules.infeed import Bite
from cardgen.rules.methods import Plan
from cardgen.rules.safe import furthest
from cardgen.sheets._cutting_tables import practice
from cardgen.sheets._cutting_words import length
from cardgen.spec.job import Job

_TABLE = "cutting/shoulder_fillets"
_CANTILEVER = "elementary beam theory, a cantilever that tapers"
_THOUSANDTH = 0.001


@cache
def _fit(load: str) -> Fit:
    rows = [
        (float(row["a"]), float(row["b"]), float(row["d"]))
        for row in library.table(_TABLE)
        if row["load"] == load
    ]
    return Fit(tuple(rows[:4]), tuple(rows[4:]))


@cache
def fillet() -> Fillet:
    """Return the inner corners that are to be ground between a shank and a blade."""
    least, part = practice("blade-fillet"), practice("blade-fillet-part")
    return Fillet(least.value, _fit("tension"), _fit("bending"), part.value)


def record_blade(job: Job, sheet: Sheet, plan: Plan, bites: tuple[Bite, ...]) -> None:
    """Record what the form tool's blade bears, and how far it may stand out of its holder."""
    form = bites[-1].stage.blade
    _record_corner(sheet, form)
    if "cutting.tool_stress_allowed" not in sheet:
        return
    _record_bite(sheet, plan, bites)
    if not sheet.internal:
        _record_overhang(job, sheet, plan, bites)


def _record_corner(sheet: Sheet, form: Blade) -> None:
    if form.fillet is None:
        return
    radius, part = practice("blade-fillet"), practice("blade-fillet-part")
    sheet.add(
        "cutting.blade_fillet",
        form.fillet.radius(form.blank, form.shank),
        formula="max(r0, q (B - ws) / 2)",
        inputs={
            "r0": radius.input,
            "q": part.input,
            "B": sheet.ref("tool.blank"),
            "ws": sheet.ref("tool.shank_width"),
        },
        source=radius.source,
        basis="practice",
        evidence=radius.evidence,
        note="at least; a sharp corner is where a blade breaks",
    )
    pulled, bent = form.notch()
    sheet.add(
        "cutting.blade_notch",
        pulled,
        formula="method: Peterson's fit for a flat bar pulled along, stepped from the width of the "
        "shank to that of the blade, with the radius of the inner corners",
        inputs={
            "B": sheet.ref("tool.blank"),
            "ws": sheet.ref("tool.shank_width"),
            "rf": sheet.ref("cutting.blade_fillet"),
        },
        source="W. D. Pilkey, Peterson's Stress Concentration Factors, shoulder fillets",
        basis="handbook",
        evidence="read",
        note=told("bent down; {bent} bent aside", bent=f"{bent:.2f}"),
    )


def _record_bite(sheet: Sheet, plan: Plan, bites: tuple[Bite, ...]) -> None:
    """Record the largest bite at full depth that the form tool bears in a dig-in."""
    last, most = bites[-1].stage, practice("bite-tried")
    fine = replace(plan.lathe, step=_THOUSANDTH)
    bottom = round(plan.total * plan.lathe.step / _THOUSANDTH)
    allowed = sheet.number("cutting.tool_stress_allowed")
    tried = min(round(most.value / _THOUSANDTH), bottom) - 1

    def safe(bite: float) -> bool:
        cut = fine.cut(last, bottom - round(bite), round(bite))
        return cut.tool_stress <= allowed

    found = furthest(1.0, tried, 1.0, safe)
    if found is None:
        return
    sheet.add(
        "cutting.bite_safe",
        found * _THOUSANDTH,
        formula="method: largest bite at full depth for which the worst cross-section of the form "
        "tool stays within what is allowed in a dig-in",
        inputs={
            "sta": sheet.ref("cutting.tool_stress_allowed"),
            "kd": sheet.ref("cutting.dig_in_factor"),
            "w": sheet.ref("tool.tip_width"),
            "ws": sheet.ref("tool.shank_width"),
            "lb": sheet.ref("tool.blade_length"),
        },
        source=_CANTILEVER,
        basis="computed",
        note="or more: no larger was looked at"
        if found > tried
        else "at full depth, on the radius",
    )


def _record_overhang(job: Job, sheet: Sheet, plan: Plan, bites: tuple[Bite, ...]) -> None:
    worst = max(bites, key=lambda bite: bite.cut.force)
    form, force = worst.stage.blade, worst.cut.force
    elastic, most = practice(f"tool-modulus-{job.tool.material}"), practice("dip-most")
    inputs = {
        "Fc": sheet.ref("cutting.force_max"),
        "E": elastic.input,
        "B": sheet.ref("tool.blank"),
        "ws": sheet.ref("tool.shank_width"),
        "lb": sheet.ref("tool.blade_length"),
    }
    sheet.add(
        "cutting.tool_dip",
        form.dip(force, elastic.value),
        formula="method: F x^2 / (E I) summed from the point to the holder over blade and shank",
        inputs=inputs | {"lo": sheet.ref("tool.overhang")},
        source=_CANTILEVER,
        basis="computed",
        note="the force taken to press on the point; the holder as stiff",
    )
    allowed = sheet.number("cutting.tool_stress_allowed")
    shank = 6 * plan.lathe.dig_in * force / form.blank**3

    def safe(overhang: float) -> bool:
        dip = replace(form, overhang=overhang).dip(force, elastic.value)
        return dip <= most.value and shank * overhang <= allowed

    found = furthest(1.0, 500, 1.0, safe)
    if found is None:
        return
    sheet.add(
        "cutting.overhang_safe",
        found,
        formula="method: furthest whole millimetre at which the point dips no more than is allowed "
        "and the shank bears a dig-in where it leaves the holder",
        inputs=inputs
        | {
            "kd": sheet.ref("cutting.dig_in_factor"),
            "sta": sheet.ref("cutting.tool_stress_allowed"),
            "um": most.input,
        },
        source=_CANTILEVER,
        basis="computed",
    )
    asked = sheet.number("tool.overhang")
    if found < asked:
        sheet.warn(
            "cutting.overhang_long",
            told(
                "The tool would stand {asked} out of its holder; over {found} it dips or is "
                "strained too far. What would help: hold it shorter, or a larger blank.",
                asked=length(asked, inch=job.inch, decimals=0),
                found=length(found, inch=job.inch, decimals=0, side="down"),
            ),
        )
