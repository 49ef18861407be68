"""What hardening does to a finished part: carbon it loses, size it gains, and so what comes first.

Growth by martensite is given as the most that is usual for the quench, for it depends on the part
and on how it went into the bath more than on any formula.
"""

from __future__ import annotations

from math import fsum, radians, tan

from cardgen.core.figure import Input
from cardgen.core.rounding import with_unit
from cardgen.core.words import told
from cardgen.rules.diffusion import GAS, reaction_depth
from cardgen.sheets._constants import constant, evidence, source, value
from cardgen.sheets._heat_depth import medium
from cardgen.sheets._heat_treatment import TABLE, Treatment, hrc

_BEFORE, _AFTER = "before hardening", "after tempering"


def record_order(t: Treatment) -> None:
    """Record whether the thread is cut before hardening or after it, and why."""
    sheet = t.sheet
    if "heat.harden_temperature" not in sheet:
        return
    tool = t.job.tool.material
    limit = constant(TABLE, f"cut-{tool}")
    said = {"hss": "high-speed steel", "hss-cobalt": "cobalt high-speed steel"}.get(tool, tool)
    known = "heat.hardness_final" in sheet
    hard = sheet.number("heat.hardness_final") if known else None
    after = hard is not None and hard <= float(limit.value)
    reason = (
        told("{tool} still cuts {hard}, and the thread keeps its size", tool=said, hard=hrc(hard))
        if after and hard is not None
        else told(
            "{tool} does not cut steel harder than {hard}", tool=said, hard=hrc(float(limit.value))
        )
    )
    sheet.add(
        "heat.order",
        _AFTER if after else _BEFORE,
        inputs={"limit": limit},
        source=source(TABLE, f"cut-{tool}"),
        basis="practice",
        evidence="practice",
        note=reason,
    )
    _record_decarb(t)
    if after:
        t.tell(
            told(
                "Rough-turn, harden and temper first, and cut the thread last: {reason}.",
                reason=reason,
            ),
            "remark",
            source(TABLE, f"cut-{tool}"),
        )
        return
    t.tell(
        told(
            "Cut and finish the thread first: {reason}. Wrap it in foil or pack it in "
            "charcoal, against scale and loss of carbon; round the first thread's sharp "
            "start, and fill cross holes with clay, against cracks.",
            reason=reason,
        ),
        "remark",
        "common practice",
    )
    _record_growth(t)


def _record_decarb(t: Treatment) -> None:
    sheet = t.sheet
    kelvin = value(TABLE, "kelvin")
    depths = [
        reaction_depth(
            value(TABLE, "decarb-prefactor"),
            value(TABLE, "decarb-activation"),
            sheet.number("heat.harden_temperature") + kelvin,
            seconds,
        )
        for seconds in (sheet.number("heat.soak"), sheet["heat.soak"].high or 0.0)
    ]
    sheet.add(
        "heat.decarb_depth",
        depths[0],
        high=depths[1],
        formula="1000 sqrt(D exp(-Q / (R (T + K))) t)",
        inputs={
            "D": constant(TABLE, "decarb-prefactor"),
            "Q": constant(TABLE, "decarb-activation"),
            "R": Input(GAS, "J/(mol K)", "constant", "read"),
            "T": sheet.ref("heat.harden_temperature"),
            "K": constant(TABLE, "kelvin"),
            "t": sheet.ref("heat.soak"),
        },
        source=source(TABLE, "decarb-prefactor"),
        basis="computed",
        note="in open fire or air; next to nothing in foil or charcoal",
    )
    sheet.add(
        "heat.leave_on",
        2 * value(TABLE, "decarb-leave") * depths[0],
        formula="2 k x",
        inputs={
            "k": constant(TABLE, "decarb-leave"),
            "x": sheet.ref("heat.decarb_depth"),
        },
        source=source(TABLE, "decarb-leave"),
        basis="practice",
        note="on seats that are ground after hardening in open fire; nothing on the thread",
    )


def _record_growth(t: Treatment) -> None:
    sheet = t.sheet
    if "thread.major_diameter" not in sheet:
        return
    row = medium(t.quench)
    share = Input(
        float(row["growth"]),
        "",
        f"table:heat/quench_media {t.quench}",
        evidence(row["growth_evidence"]),
    )
    mate = t.job.mate
    engaged = None if mate is None else mate.length
    length = (
        Input(t.job.thread.length, "mm", "spec:thread.length", "read")
        if engaged is None
        else Input(engaged, "mm", "spec:mate.length", "read")
    )
    longer = float(share.value) * float(length.value)
    sheet.add(
        "heat.growth_lead",
        longer,
        formula="g L",
        inputs={"g": share, "L": length},
        basis="practice",
        note="over the length that engages" if engaged else "over the whole thread",
        source=row["growth_source"],
    )
    thicker = float(share.value) * sheet.number("thread.major_diameter")
    sheet.add(
        "heat.growth_diameter",
        thicker,
        formula="g d",
        inputs={"g": share, "d": sheet.ref("thread.major_diameter")},
        basis="practice",
        source=row["growth_source"],
    )
    if engaged is not None and "thread.leading_flank" in sheet:
        _record_backlash(t)


def _record_backlash(t: Treatment) -> None:
    """Record what growth may take of the pair's backlash; a nut that grows wider gives some."""
    sheet = t.sheet
    inputs = {"x": sheet.ref("heat.growth_lead")}
    taken, formula, mate = sheet.number("heat.growth_lead"), "x", "screw"
    if t.job.thread.surface == "external":
        slopes = fsum(
            tan(radians(sheet.number(f"thread.{side}_flank"))) for side in ("leading", "trailing")
        )
        taken += sheet.number("heat.growth_diameter") * slopes / 2
        formula, mate = "x + y (tan(a) + tan(b)) / 2", "nut"
        inputs |= {
            "y": sheet.ref("heat.growth_diameter"),
            "a": sheet.ref("thread.leading_flank"),
            "b": sheet.ref("thread.trailing_flank"),
        }
    sheet.add(
        "heat.growth_backlash",
        taken,
        formula=formula,
        inputs=inputs,
        source="geometry of a thread that grows",
        basis="computed",
        note=told("cut the {mate} last, to the hardened part", mate=mate),
    )
    least = sheet["mate.backlash"].low if "mate.backlash" in sheet else None
    if least is not None and taken > least:
        sheet.warn(
            "heat.growth_binds",
            told(
                "Hardening may take {taken} of backlash by growth, and the pair has {least} "
                "at the least: cut the {mate} last, to the hardened part, or leave the "
                "thread to be lapped.",
                taken=with_unit(taken, "mm", 3),
                least=with_unit(least, "mm", 3),
                mate=mate,
            ),
        )
