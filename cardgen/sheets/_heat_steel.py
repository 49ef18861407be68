"""What is known of the steel and its section before the fire: Ac1, Ac3 and Ms."""

from __future__ import annotations

from collections.abc import Mapping

from cardgen import library
from cardgen.core.figure import Input
from cardgen.rules import heat
from cardgen.sheets._constants import evidence, value
from cardgen.sheets._heat_treatment import TABLE, Treatment, material_input
from cardgen.spec.substance import Sourced


def record_section(t: Treatment) -> None:
    """Record the section that the quench must harden and the thickest that must be soaked."""
    sheet, stock = t.sheet, t.section
    inner = t.job.thread.surface == "internal" or "thread.minor_diameter" not in sheet
    bar = Input(stock, "mm", "spec:work.stock", "read")
    sheet.add(
        "heat.section",
        stock if inner else sheet.number("thread.minor_diameter"),
        high=None if inner else stock,
        formula="D" if inner else "d",
        inputs={"D": bar} if inner else {"d": sheet.ref("thread.minor_diameter")},
        source="common practice",
        basis="practice",
        note="" if inner else "the core of the thread; plain parts of the bar may be thicker",
    )


def record_critical(t: Treatment) -> None:
    """Record Ac1, Ac3 and Ms: the steel's data sheet first, else a regression in its range."""
    steel = t.heat
    if steel is None:
        return
    composition = t.job.work.material.composition
    outside = False
    for name, known in (("a1", steel.a1), ("ac3", steel.ac3), ("ms", steel.ms)):
        if known is not None:
            record_published(t, f"heat.{name}", known, "degC", f"heat.{name}")
        elif name == "ac3" and steel.a1 is not None:
            # A regression beside a measured Ac1 could come out below it.
            continue
        elif _in_range(name, composition):
            _record_regression(t, name, composition)
        else:
            outside = True
    if outside:
        t.tell(
            "What is missing of Ac1, Ac3 and Ms is not published for this steel, and the formulas "
            "for them end at 0.6 % carbon: go by the hardening heat.",
            "remark",
            "K. W. Andrews, JISI 203 (1965)",
        )


def record_published(t: Treatment, id: str, known: Sourced, unit: str, key: str) -> None:
    """Record a value that the material's file states."""
    t.sheet.add(
        id,
        known.value,
        low=known.low,
        high=known.high,
        formula="x",
        inputs={"x": material_input(known, unit, key)},
        source=known.source,
        basis="data",
        evidence=known.evidence,
    )


def _in_range(name: str, composition: Mapping[str, float]) -> bool:
    """Whether a regression may be used: outside the steels it was fitted to it misleads."""
    for row in library.table("heat/critical_ranges"):
        share, high = composition.get(row["element"], 0.0), float(row["high"])
        if not float(row["low"]) <= share <= high:
            return False
        # The line of Ae3 runs into that of Ae1 at the end of its range.
        if name == "ac3" and row["element"] == "C" and share == high:
            return False
    return True


def _record_regression(t: Treatment, name: str, composition: Mapping[str, float]) -> None:
    rows = [
        row
        for row in library.table("heat/critical_temperatures")
        if row["figure"] == name and (row["term"] == "1" or _element(row["term"]) in composition)
    ]
    terms = {row["term"]: float(row["coefficient"]) for row in rows}
    formula = " ".join(
        f"{factor:g}" if term == "1" else f"{'-' if factor < 0 else '+'} {abs(factor):g} {term}"
        for term, factor in terms.items()
    )
    known = t.job.work.material.composition_evidence
    found, near = heat.regression(terms, composition), value(TABLE, "regression-accuracy")
    t.sheet.add(
        f"heat.{name}",
        found,
        low=found - near,
        high=found + near,
        formula=formula,
        inputs={
            element: Input(composition[element], "", f"material:composition.{element}", known)
            for element in map(_element, terms)
            if element in composition
        },
        source=rows[0]["source"],
        basis="handbook",
        evidence=evidence(rows[0]["evidence"]),
        note="by regression; true to 15 to 30 °C, and heating raises it",
    )


def _element(term: str) -> str:
    return term.removeprefix("sqrt(").removesuffix(")")
