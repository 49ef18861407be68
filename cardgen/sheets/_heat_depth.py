"""How deep the quench hardens, and how hard: the steel's file first, else its composition."""

from __future__ import annotations

from functools import cache

from cardgen import library
from cardgen.core.figure import Input
from cardgen.core.words import told
from cardgen.rules.hardenability import (
    Factor,
    OutsideMethodError,
    critical_diameter,
    ideal_diameter,
    martensite_hardness,
    multiplying_factor,
)
from cardgen.sheets._constants import evidence
from cardgen.sheets._heat_treatment import Treatment, material_input
from cardgen.spec.substance import Heat, Sourced

_CARBON = (0.10, 0.70)
_METHOD = "Grossmann, Asimow and Urban, in Hardenability of Alloy Steels, ASM (1939)"


@cache
def factors() -> tuple[Factor, ...]:
    """Return the multiplying factors of the hardenability method."""
    return tuple(
        Factor(
            row["element"],
            float(row["low"]),
            float(row["high"]),
            tuple(float(row[f"c{power}"]) for power in range(4)),
        )
        for row in library.table("heat/hardenability")
    )


def medium(name: str) -> dict[str, str]:
    """Return the row of a quench medium."""
    return next(dict(row) for row in library.table("heat/quench_media") if row["name"] == name)


def as_quenched(t: Treatment) -> Sourced | None:
    """Return the hardness as quenched: the file's, else that of martensite by its carbon."""
    steel = t.heat
    if steel is None or steel.as_quenched is not None:
        return None if steel is None else steel.as_quenched
    carbon = t.job.work.material.composition.get("C", 0.0)
    if not _CARBON[0] <= carbon <= _CARBON[1]:
        return None
    rows = library.table("heat/martensite")
    hardness = martensite_hardness([float(row["coefficient"]) for row in rows], carbon)
    kind = t.job.work.material.composition_evidence
    return Sourced(hardness, None, None, rows[0]["source"], kind)


def record_hardness(t: Treatment, found: Sourced) -> None:
    """Record the hardness as quenched."""
    if t.heat is not None and t.heat.as_quenched is not None:
        formula, inputs = "x", {"x": material_input(found, "HRC", "heat.as-quenched")}
    else:
        rows = library.table("heat/martensite")
        carbon = t.job.work.material.composition["C"]
        kind = t.job.work.material.composition_evidence
        inputs = {"C": Input(carbon, "", "material:composition.C", kind)}
        formula = " + ".join(
            f"{row['coefficient']} C^{row['power']}".replace("+ -", "- ") for row in rows
        ).replace("+ -", "- ")
    t.sheet.add(
        "heat.hardness_quenched",
        found.value,
        low=found.low,
        high=found.high,
        formula=formula,
        inputs=inputs,
        source=found.source,
        basis="data",
        evidence=found.evidence,
    )


def published_limit(t: Treatment, steel: Heat) -> Sourced | None:
    """Return the published section limit; it holds for the published bath only."""
    return steel.section_limit if t.quench == steel.quench else None


def record_depth(t: Treatment, steel: Heat) -> None:
    """Record the largest section that the quench hardens through, and how that is known."""
    _record_by_composition(t, steel)
    limit, sheet = published_limit(t, steel), t.sheet
    if limit is not None:
        sheet.add(
            "heat.section_limit",
            limit.value,
            high=limit.high,
            formula="x",
            inputs={"x": material_input(limit, "mm", "heat.section-limit")},
            source=limit.source,
            basis="data",
            evidence=limit.evidence,
        )
    elif "heat.critical_diameter" in sheet:
        found = sheet["heat.critical_diameter"]
        sheet.add(
            "heat.section_limit",
            found.number,
            high=found.high,
            formula="D",
            inputs={"D": sheet.ref("heat.critical_diameter")},
            source=found.source,
            basis="computed",
            note="half martensite at the core; from a still bath to one that is well stirred",
        )


def _outside(fault: OutsideMethodError) -> str:
    share = f"{fault.share:g}"
    if fault.ends is None:
        pattern = "{share} % {element}: the method does not take it"
        return told(pattern, share=share, element=fault.element)
    low, high = (f"{end:g}" for end in fault.ends)
    pattern = "{share} % {element}: the method takes {low} to {high} %"
    return told(pattern, share=share, element=fault.element, low=low, high=high)


def _record_by_composition(t: Treatment, steel: Heat) -> None:
    composition, sheet = t.job.work.material.composition, t.sheet
    kind = t.job.work.material.composition_evidence
    try:
        ideal = ideal_diameter(factors(), composition)
    except OutsideMethodError as outside:
        if published_limit(t, steel) is None:
            t.tell(
                told(
                    "How deep it hardens is not published, and cannot be worked out from its "
                    "composition ({outside}). Try a piece, break it and look.",
                    outside=_outside(outside),
                ),
                "remark",
                "ASTM A255-10",
            )
        return
    inputs = {
        f"f{element}": Input(
            multiplying_factor(factors(), element, share),
            "",
            f"table:heat/hardenability {element}",
            kind,
        )
        for element, share in composition.items()
    }
    sheet.add(
        "heat.ideal_diameter",
        ideal,
        formula="25.4 " + " ".join(inputs),
        inputs=inputs,
        source="ASTM A255-10, multiplying factors; grain size 7",
        basis="standard",
        evidence="read",
    )
    row = medium(t.quench)
    severity = float(row["severity"])
    sheet.add(
        "heat.critical_diameter",
        critical_diameter(ideal, severity),
        high=critical_diameter(ideal, float(row["stirred"])),
        formula="method: the diameter that cools half way at its axis as fast as the ideal one",
        inputs={
            "DI": sheet.ref("heat.ideal_diameter"),
            "H": Input(
                severity,
                "1/in",
                f"table:heat/quench_media {t.quench}",
                evidence(row["evidence"]),
            ),
        },
        source=_METHOD,
        basis="computed",
        note=told(
            "still {quench}; the larger figure is for a bath that is well stirred", quench=t.quench
        ),
    )
