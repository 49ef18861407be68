"""The figures of a planned schedule: the hardest passes, each with its working."""

from __future__ import annotations

from math import cos, degrees

from cardgen.core.figure import Input, Sheet
from cardgen.core.words import Said, told
from cardgen.rules.infeed import Bite, Schedule, Stuck
from cardgen.rules.methods import Case, Plan
from cardgen.sheets._cutting_blade import record_blade
from cardgen.sheets._cutting_case import correction, correction_inputs
from cardgen.sheets._cutting_give import give_inputs
from cardgen.sheets._cutting_list import counts, passes
from cardgen.sheets._cutting_safe import record_safe
from cardgen.sheets._cutting_sideways import record_sideways, record_worst
from cardgen.sheets._cutting_tables import force_factor, practice
from cardgen.sheets._cutting_work import record_bend, record_left
from cardgen.spec.job import Job

_KIENZLE = "Kienzle law"
_BEAM = "elementary beam theory"


def plan_figures(job: Job, sheet: Sheet, case: Case, plan: Plan, reason: str) -> None:
    """Record the way chosen and how the slides are set for it."""
    sheet.add(
        "cutting.method",
        plan.method,
        source="common practice",
        basis="practice",
        evidence="practice",
        note=told("{method}: {reason}", method=Said(plan.method), reason=reason),
    )
    inputs = correction_inputs(job, sheet, _room(case, plan))
    sheet.add(
        "cutting.correction",
        correction(inputs),
        formula="(1 - r g) kw kt kg",
        inputs=inputs,
        source="factors of the Kienzle law for rake, wear, tool material and room for the chip",
        basis="handbook",
        evidence="memory",
        note="of the hardest pass",
    )
    if plan.method == "flank":
        relief = practice("flank-relief")
        sheet.add(
            "setup.compound_angle",
            plan.feed_deg,
            formula="a - c",
            inputs={"a": sheet.ref("thread.trailing_flank"), "c": relief.input},
            source=relief.source,
            basis="practice",
            evidence=relief.evidence,
            note=told(
                "from straight in; a base graduated from the lathe's axis shows {angle}°",
                angle=f"{90 - plan.feed_deg:g}",
            ),
        )
    if plan.rough_width is not None:
        rough_side = practice("rough-side")
        sheet.add(
            "cutting.rough_width",
            plan.rough_width,
            formula="method: of the whole tenths that leave c at the sides and are no wider than "
            "m, in steps, the one with the fewest passes",
            inputs={
                "w": sheet.ref("tool.tip_width"),
                "c": rough_side.input,
                "m": practice("plunge-tip").input,
            },
            source=rough_side.source,
            basis="practice",
            evidence=rough_side.evidence,
        )
        sheet.add(
            "cutting.rough_depth",
            plan.stages[0].end * plan.lathe.step,
            formula="method: whole divisions that leave c at the bottom",
            inputs={"h": sheet.ref("thread.depth"), "c": practice("rough-bottom").input},
            source="common practice",
            basis="practice",
            evidence="practice",
        )


def schedule_figures(job: Job, sheet: Sheet, case: Case, plan: Plan, outcome: Schedule) -> None:
    """Record the passes and the worst of each quantity."""
    _width(sheet, case, plan)
    record_sideways(sheet, case, plan, outcome.bites)
    _hardest(sheet, case, plan, outcome.bites)
    _worst_of_each(job, sheet, outcome.bites)
    record_safe(job, sheet, plan, outcome.bites)
    record_blade(job, sheet, plan, outcome.bites)
    sprung = record_bend(job, sheet, plan, outcome.bites)
    springs = counts(job, sheet, plan, outcome.bites)
    record_left(sheet, sprung, springs)
    passes(job, sheet, plan, outcome.bites, springs)


def _room(case: Case, plan: Plan) -> str:
    """Return the row of the factor for the chip's room in the hardest pass."""
    if isinstance(plan.outcome, Stuck):
        law = plan.stages[0].law
    else:
        worst = max(plan.outcome.bites, key=lambda bite: bite.cut.force)
        law = plan.lathe.law(worst.stage, worst.divisions, back=worst.aside == 0)
    return "open-chip" if law == case.open else "confined-chip"


def _width(sheet: Sheet, case: Case, plan: Plan) -> None:
    terms, inputs, total = ["w"], {"w": sheet.ref("tool.tip_width")}, case.point
    sides = [("a1", "thread.leading_flank", case.groove.leading)]
    if plan.feed_deg == 0:
        sides.append(("a2", "thread.trailing_flank", case.groove.trailing))
    for symbol, id, angle in sides:
        if angle > 0:
            terms.append(f"h/cos({symbol})")
            inputs |= {"h": sheet.ref("thread.depth"), symbol: sheet.ref(id)}
            total += case.depth / cos(angle)
    sheet.add(
        "cutting.width_max",
        total,
        formula=" + ".join(terms),
        inputs=inputs,
        source="geometry",
        basis="computed",
        note="edge in the metal at full depth; the trailing flank is only shaved"
        if plan.feed_deg
        else "edge in the metal at full depth",
    )


def _hardest(sheet: Sheet, case: Case, plan: Plan, bites: tuple[Bite, ...]) -> None:
    """Record the pass with the greatest force, and the force edge by edge."""
    number, worst = max(enumerate(bites, 1), key=lambda line: line[1].cut.force)
    step = plan.lathe.step
    for id, divisions in (
        ("cutting.worst_before", worst.before),
        ("cutting.worst_bite", worst.divisions),
    ):
        sheet.add(
            id,
            divisions * step,
            formula="N s" if divisions else "0",
            inputs={
                "N": Input(float(divisions), "", "constant", "derived"),
                "s": Input(step, "mm", "constant", "derived"),
            }
            if divisions
            else {},
            source="schedule of passes",
            basis="computed",
            note=told("pass {number}, {step}", number=number, step=worst.stage.step),
        )
    record_worst(sheet, case, plan, worst)
    formula, inputs = _force_formula(sheet, plan, worst)
    sheet.add(
        "cutting.force_max",
        worst.cut.force,
        formula=formula,
        inputs=inputs,
        source=_KIENZLE,
        basis="handbook",
        note=told(
            "pass {number}; chips thinner than {least} mm lie outside the range in which "
            "the law was measured",
            number=number,
            least=f"{force_factor('law-least-chip').value:g}",
        ),
    )
    share = force_factor("radial-share")
    sheet.add(
        "cutting.radial_force_max",
        worst.cut.radial,
        formula="q Fc",
        inputs={"q": share.input, "Fc": sheet.ref("cutting.force_max")},
        source=share.source,
        basis="handbook",
        evidence=share.evidence,
    )
    # A nut is cut outwards: its root is the longest arm.
    diameter = sheet.ref("thread.major_diameter" if sheet.internal else "thread.blank_diameter")
    sheet.add(
        "cutting.torque_max",
        worst.cut.force * case.lathe.work.blank / 2000,
        formula="Fc d / 2000",
        inputs={"Fc": sheet.ref("cutting.force_max"), "d": diameter},
        source="mechanics",
        basis="computed",
    )
    if "setup.speed" in sheet:
        sheet.add(
            "cutting.power_max",
            worst.cut.power,
            formula="Fc pi d n / 60000",
            inputs={
                "Fc": sheet.ref("cutting.force_max"),
                "d": diameter,
                "n": sheet.ref("setup.speed"),
            },
            source="mechanics",
            basis="computed",
        )


def _force_formula(sheet: Sheet, plan: Plan, worst: Bite) -> tuple[str, dict[str, Input]]:
    inputs = {
        "K": sheet.ref("cutting.correction"),
        "kc": sheet.ref("cutting.specific_force"),
        "m": sheet.ref("cutting.exponent"),
        "h": sheet.ref("cutting.worst_bite"),
    }
    stage = worst.stage
    if stage.step == "side":
        inputs["ws"] = sheet.ref("cutting.strip_width")
        return "K kc ws h^(1 - m)", inputs
    if stage.step == "rough" and plan.rough_width is not None:
        inputs["w"] = sheet.ref("cutting.rough_width")
        return "K kc w h^(1 - m)", inputs
    inputs["w"] = sheet.ref("tool.tip_width")
    point = "w"
    if stage.step == "widen":
        opened = "opened" if plan.asides else "rough"
        inputs["wr"] = sheet.ref(f"cutting.{opened}_width")
        point = "(w - wr)"
    terms = [f"{point} h^(1 - m)"]
    feed = degrees(plan.lathe.feed)
    for symbol, id, sign in (
        ("a1", "thread.leading_flank", "+"),
        ("a2", "thread.trailing_flank", "-"),
    ):
        if sheet.number(id) == 0 and feed == 0:
            continue
        if stage.zigzag is not None:
            inputs |= {
                "t": sheet.ref("cutting.worst_before"),
                symbol: sheet.ref(id),
                "x": sheet.ref("cutting.worst_aside"),
            }
            chip = f"max(cos({symbol}) (h tan({symbol}) {sign} x), 0)"
            terms.append(f"(t + h/2)/cos({symbol}) * {chip}^(1 - m)")
            continue
        inputs |= {"t": sheet.ref("cutting.worst_before"), symbol: sheet.ref(id)}
        way = f"tan({symbol})"
        if feed:
            inputs["b"] = sheet.ref("setup.compound_angle")
            way = f"({way} {sign} tan(b))"
        terms.append(f"(t + h/2)/cos({symbol}) * (h cos({symbol}) {way})^(1 - m)")
    return f"K kc ({' + '.join(terms)})", inputs


def _worst_of_each(job: Job, sheet: Sheet, bites: tuple[Bite, ...]) -> None:
    lines = list(enumerate(bites, 1))
    force = {"Fc": sheet.ref("cutting.force_max")}
    if sheet.internal:
        _worst_of_bar(sheet, bites)
    else:
        _worst_of_work(job, sheet, bites)
    number, worst = max(lines, key=lambda line: line[1].cut.tool_stress)
    tool = (
        "roughing tool"
        if worst.stage.slot == 0 and worst.stage.blade != bites[-1].stage.blade
        else "form tool"
    )
    sheet.add(
        "cutting.tool_stress_max",
        worst.cut.tool_stress,
        formula="method: worst cross-section of the blade as a cantilever that tapers from point "
        "to shank, force on point, flanks and side, times the dig-in factor; at its root times "
        "what the inner corners raise it by",
        inputs=force
        | {
            "kd": sheet.ref("cutting.dig_in_factor"),
            "w": sheet.ref("tool.tip_width"),
            "ws": sheet.ref("tool.shank_width"),
            "lb": sheet.ref("tool.blade_length"),
            "hb": sheet.ref("tool.blade_height"),
        },
        source=_BEAM,
        basis="computed",
        note=told("pass {number}, {tool}", number=number, tool=tool),
    )


def _worst_of_work(job: Job, sheet: Sheet, bites: tuple[Bite, ...]) -> None:
    lines = list(enumerate(bites, 1))
    number, worst = max(lines, key=lambda line: line[1].cut.deflection)
    force = {"Fc": sheet.ref("cutting.force_max")}
    sheet.add(
        "cutting.deflection_max",
        worst.cut.deflection,
        formula="method: radial force on the bar as a stepped beam in its holding, threaded part "
        "with its core, tool at the worst place along the thread",
        inputs=force
        | {
            "q": force_factor("radial-share").input,
            "lu": sheet.ref("cutting.unsupported_length"),
            "d": sheet.ref("thread.blank_diameter"),
            "d3": sheet.ref("thread.minor_diameter"),
        }
        | give_inputs(job),
        source=_BEAM,
        basis="computed",
        note=told("pass {number}; chuck, centres and rest give way like springs", number=number),
    )
    number, worst = max(lines, key=lambda line: line[1].cut.work_stress)
    sheet.add(
        "cutting.work_stress_max",
        worst.cut.work_stress,
        formula="method: bending by tangential and radial force, torsion between drive and tool, "
        "equivalent stress by von Mises, times the dig-in factor",
        inputs=force
        | {
            "kd": sheet.ref("cutting.dig_in_factor"),
            "lu": sheet.ref("cutting.unsupported_length"),
            "d3": sheet.ref("thread.minor_diameter"),
        },
        source=_BEAM,
        basis="computed",
        note=told("pass {number}", number=number),
    )


def _worst_of_bar(sheet: Sheet, bites: tuple[Bite, ...]) -> None:
    """Record how the boring bar bends and how hard it is strained, as a cantilever."""
    number, worst = max(enumerate(bites, 1), key=lambda line: line[1].cut.force)
    bar = {
        "Fc": sheet.ref("cutting.force_max"),
        "q": force_factor("radial-share").input,
        "Lb": sheet.ref("tool.bar_overhang"),
        "Db": sheet.ref("tool.bar"),
    }
    sheet.add(
        "cutting.deflection_max",
        worst.cut.deflection,
        formula="q Fc Lb^3 / (3 E pi Db^4 / 64)",
        inputs={**bar, "E": practice("bar-modulus").input},
        source=_BEAM,
        basis="computed",
        note=told("pass {number}; holder, chuck and machine are taken as stiff", number=number),
    )
    sheet.add(
        "cutting.work_stress_max",
        worst.cut.work_stress,
        formula="kd Fc sqrt((32 Lb sqrt(1 + q^2) / (pi Db^3))^2"
        " + 3 (16 (e + Db / 2) / (pi Db^3))^2)",
        inputs={
            **bar,
            "kd": sheet.ref("cutting.dig_in_factor"),
            "e": sheet.ref("tool.overhang"),
        },
        source=_BEAM,
        basis="computed",
        note=told("pass {number}; at the holder", number=number),
    )
