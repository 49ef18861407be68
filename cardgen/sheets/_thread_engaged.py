"""What to say where the pair engages over another length than a Unified thread's limits rest on."""

from __future__ import annotations

from cardgen.core.figure import Sheet
from cardgen.core.rounding import MM_PER_INCH, with_unit
from cardgen.core.words import told
from cardgen.forms.form import Form
from cardgen.forms.limits_unified import beyond_tables, tables_hold, tolerance_by_formula
from cardgen.forms.sizes import Sizes
from cardgen.spec.job import Job


def judge_engagement(job: Job, form: Form, sizes: Sizes, sheet: Sheet) -> None:
    """Warn where the tables of the series are not made for the pair's engagement."""
    rule = form.tolerances
    if rule["rule"] != "asme-b1.1" or form.engaged is None or not beyond_tables(form, sizes):
        return
    if form.series in rule["engagement"]["by_formula"]:
        return
    hold = tables_hold(form, sizes)
    usual = sheet.number("thread.pitch_tolerance")
    wanted = tolerance_by_formula(form, sizes, job.thread.class_, form.engaged)
    high = _length(job, hold.high)
    span = told("up to {high}", high=high)
    if hold.low:
        span = told("from {low} to {high}", low=_length(job, hold.low), high=high)
    sheet.warn(
        "thread.engagement_length",
        told(
            "The limits of {series} suit an engagement of {span}, and this pair has "
            "{engaged}: for that the standard's formula would give the pitch diameter "
            "{wanted} of tolerance, not {usual}. Taps, dies and gauges keep to these "
            "limits. Try the pair before the screw leaves the lathe.",
            series=form.series,
            span=span,
            engaged=_length(job, form.engaged),
            wanted=_fine(job, wanted),
            usual=_fine(job, usual),
        ),
    )


def _length(job: Job, length: float) -> str:
    return with_unit(length / MM_PER_INCH, "in", 2) if job.inch else with_unit(length, "mm", 1)


def _fine(job: Job, length: float) -> str:
    return with_unit(length / MM_PER_INCH, "in", 4) if job.inch else with_unit(length, "mm", 3)
