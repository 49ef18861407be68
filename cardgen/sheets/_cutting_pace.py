"""How long the thread takes: a pass, its return, and each way of feeding compared."""

from __future__ import annotations

from collections.abc import Mapping

from cardgen.core.figure import Input, Sheet
from cardgen.core.words import told
from cardgen.rules.case import Case, Impossible, Method, Plan
from cardgen.rules.pace import Pace, cutting_time, wound_back
from cardgen.sheets._cutting_tables import practice
from cardgen.sheets._setup_halfnut import CLOSED
from cardgen.spec.job import Job

_PRACTICE = "common practice; to compare ways of feeding by, not to promise"


def pace(job: Job, sheet: Sheet) -> Pace | None:
    """Return what passes and tools cost in time; ``None`` without a spindle speed."""
    if "setup.speed" not in sheet:
        return None
    thread, speed = job.thread, sheet.number("setup.speed")
    cut = cutting_time(thread.length, thread.lead, speed)
    return Pace(
        cut=cut,
        back=_back(job, sheet, cut),
        dial=practice("set-dial").value,
        change=practice("tool-change").value,
        grind=practice("grind-blade").value,
        starts=thread.starts,
    )


def pace_figures(job: Job, sheet: Sheet, case: Case) -> None:
    """Record the time of a pass and of its return."""
    if case.pace is None:
        return
    run = {
        "l": Input(job.thread.length, "mm", "spec:thread.length", "read"),
        "L": sheet.ref("thread.lead"),
        "n": sheet.ref("setup.speed"),
    }
    sheet.add(
        "cutting.pass_time",
        case.pace.cut,
        formula="60 l / (L n)",
        inputs=run,
        source="kinematics",
        basis="computed",
    )
    if _opened(sheet):
        formula = "l / vb + tm"
        inputs = {
            "l": run["l"],
            "vb": practice("wind-back").input,
            "tm": practice("catch-mark").input,
        }
        note = "half-nut opened, carriage wound back by hand"
    else:
        formula = "60 l / (L n) + 2 tr"
        inputs = run | {"tr": practice("turn-about").input}
        note = "half-nut closed, spindle reversed"
    sheet.add(
        "cutting.return_time",
        case.pace.back,
        formula=formula,
        inputs=inputs,
        source=_PRACTICE,
        basis="practice",
        evidence="practice",
        note=note,
    )


def compared(
    sheet: Sheet, case: Case, plans: Mapping[Method, Plan | Impossible], chosen: Plan
) -> None:
    """Record passes and time of every way of feeding that is safe, and of the one that is taken.

    Parameters
    ----------
    plans
        Every way that was worked out, the chosen one among them.
    chosen
        The way that is taken.
    """
    springs = sheet.ref("cutting.spring_passes")
    for method, found in plans.items():
        if isinstance(found, Impossible) or not found.passes:
            continue
        word = method.replace("-", "_")
        counted = f"cutting.passes_{word}"
        sheet.add(
            counted,
            float(found.passes),
            formula="method: fewest bites of whole divisions that break no limit",
            inputs={"h": sheet.ref("thread.depth")},
            source="dynamic programming over the divisions of the dial",
            basis="computed",
            note=_with(found),
        )
        if case.pace is not None:
            _time(sheet, case.pace, found, counted, f"cutting.time_{word}", springs)
    own = f"cutting.time_{chosen.method.replace('-', '_')}"
    if own in sheet:
        sheet.add(
            "cutting.time_total",
            sheet.number(own),
            formula="t",
            inputs={"t": sheet.ref(own)},
            source="this schedule",
            basis="computed",
            note=sheet[own].note,
        )


def _time(sheet: Sheet, pace: Pace, found: Plan, counted: str, id: str, springs: Input) -> None:
    passes = found.passes + round(float(springs.value))
    formula = "z (N + Ns) (tc + tb + D td)"
    inputs = {
        "z": sheet.ref("thread.starts"),
        "N": sheet.ref(counted),
        "Ns": springs,
        "tc": sheet.ref("cutting.pass_time"),
        "tb": sheet.ref("cutting.return_time"),
        "D": Input(float(found.dials), "", "constant", "derived"),
        "td": practice("set-dial").input,
    }
    note = "with returns and settings"
    if found.tools > 1:
        formula += " + (2 z - 1) tt + tg"
        inputs |= {"tt": practice("tool-change").input, "tg": practice("grind-blade").input}
        note = "with returns and settings, tool changes, and a blade to grind"
    sheet.add(
        id,
        pace.total(passes, found.dials, found.tools),
        formula=formula,
        inputs=inputs,
        source=_PRACTICE,
        basis="practice",
        evidence="practice",
        note=note,
    )


def _with(found: Plan) -> str:
    if found.rough_width is None:
        return ""
    width = f"{found.rough_width:g}"
    if not found.asides:
        return told("with a roughing tool {width} mm wide", width=width)
    return told(
        "with a roughing tool {width} mm wide, in {grooves} grooves",
        width=width,
        grooves=len(found.asides) + 1,
    )


def _opened(sheet: Sheet) -> bool:
    """Whether the half-nut may be opened for the return."""
    marks = str(sheet["setup.dial_marks"].value) if "setup.dial_marks" in sheet else CLOSED
    return not marks.startswith(CLOSED)


def _back(job: Job, sheet: Sheet, cut: float) -> float:
    if _opened(sheet):
        catch = practice("catch-mark").value
        return wound_back(job.thread.length, practice("wind-back").value, catch)
    return cut + 2 * practice("turn-about").value
