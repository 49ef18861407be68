"""The order of grinding: which sentences of the table apply to this tool, with its numbers."""

from __future__ import annotations

from collections.abc import Mapping
from math import tan
from string import Formatter

from cardgen import library
from cardgen.core.figure import Figure, Sheet, Step
from cardgen.core.rounding import MM_PER_INCH, rounded, written
from cardgen.core.words import told
from cardgen.rules.tool import Nose
from cardgen.sheets._constants import value
from cardgen.sheets._tool_tables import PRACTICE
from cardgen.spec.job import Job

_TABLE = "tool/grinding"


def grinding_steps(job: Job, sheet: Sheet, nose: Nose) -> list[Step]:
    """Return the steps that apply, in order.

    A row applies when all the words of its ``when`` do. Its placeholders are filled with figures
    as the card writes them.
    """
    true = _conditions(job, sheet, nose)
    words = _words(job, sheet)
    return [
        Step(_filled(row["text"], words), row["kind"], row["source"])
        for row in library.table(_TABLE)
        if set(row["when"].split()) <= true
    ]


def _filled(pattern: str, words: Mapping[str, str]) -> str:
    """Return a sentence of the table with its placeholders filled."""
    names = {name for _, name, _, _ in Formatter().parse(pattern) if name}
    return told(pattern, **{name: words[name] for name in names})


def _conditions(job: Job, sheet: Sheet, nose: Nose) -> set[str]:
    true = {"always", job.thread.hand, job.tool.setting, job.thread.surface}
    if "tool.bar" in sheet:
        true.add("bar")
    if job.backwards:
        true.add("turned-over")
    true.add("slanted" if nose.leading.angle > 0 or nose.trailing.angle > 0 else "parallel")
    true.add("outwards" if nose.trailing.relief < 0 else "inwards")
    # A trailing side may be ground square instead of leaning out, as long as the foot bears it.
    square = nose.foot_width - nose.height * max(0.0, -tan(nose.trailing.relief))
    wanted = value(PRACTICE, "foot_wanted") * nose.tip_width
    true.add("square-too" if square >= wanted else "must-lean")
    true.add("raked-face" if nose.rake > 0 else "flat-face")
    true.add("carbide" if job.tool.material == "carbide" else "hss")
    if "tool.corner_radius" in sheet:
        true.add("radius")
    # A root that is one arc wants a point of one arc.
    true.add("round-point" if "thread.root_shape" in sheet else "flat-point")
    if "thread.crest_shape" in sheet:
        true.add("round-crest")
    return true


def _words(job: Job, sheet: Sheet) -> Mapping[str, str]:
    figures = {
        id.removeprefix("tool."): written(figure, inch=job.inch)
        for id, figure in sheet.figures.items()
    }
    leads = sheet.figures["tool.leading_side"].value
    included = figures.get("included_angle_normal", figures.get("included_angle", ""))
    crest = "thread.crest_radius"
    return {
        "crest_radius": written(sheet[crest], inch=job.inch) if crest in sheet else "",
        **figures,
        "tip_width": _with_range(job, sheet["tool.tip_width"]),
        "leading_mark": str(leads).upper(),
        "trailing_side": "tailstock" if leads == "chuck" else "chuck",
        "included": included,
    }


def _with_range(job: Job, figure: Figure) -> str:
    """Return a figure with its limits behind it: ``3.175 mm (3.175 to 3.226)``."""
    text = written(figure, inch=job.inch)
    if figure.low is None or figure.high is None:
        return text
    unit, more = (MM_PER_INCH, 1) if job.inch else (1.0, 0)
    decimals = figure.name.decimals + more
    low, high = (rounded(limit / unit, decimals) for limit in (figure.low, figure.high))
    return told("{value} ({low} to {high})", value=text, low=low, high=high)
