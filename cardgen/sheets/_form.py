"""The form of the thread that a job asks for."""

from __future__ import annotations

import re
from dataclasses import replace

from cardgen.core.figure import Input, Sheet
from cardgen.forms.custom import custom_form
from cardgen.forms.form import Form, read
from cardgen.spec.job import Job


def form_of(job: Job) -> Form:
    """Return the thread's form: its data file's, of its series, or the one that the job states.

    It knows how far screw and nut engage, where the job says so: some standards' tolerances grow
    with that.
    """
    thread = job.thread
    if thread.profile is not None:
        return custom_form(thread.profile, thread.pitch)
    form = read(thread.form, thread.series)
    if job.mate is None or job.mate.kind != "nut" or job.mate.length is None:
        return form
    return replace(form, engaged=job.mate.length)


def size_inputs(formula: str, job: Job, nominal: Input, sheet: Sheet) -> dict[str, Input]:
    """Return the inputs that the formula of a basic diameter names.

    Parameters
    ----------
    formula
        In the grammar of figures.
    job
        For what a custom profile states.
    nominal
        The nominal diameter, d.
    sheet
        For pitch, clearance, height and flanks.
    """
    named = set(re.findall(r"[A-Za-z]\w*", formula))
    profile = job.thread.profile
    inputs = {"d": nominal} if "d" in named else {}
    for symbol, id in _FIGURES:
        if symbol in named and id in sheet:
            inputs[symbol] = sheet.ref(id)
    if "c" in named and profile is not None and profile.crest is not None:
        inputs["c"] = Input(profile.crest, "mm", "spec:thread.custom.crest", "read")
    return inputs


_FIGURES = (
    ("P", "thread.pitch"),
    ("ac", "thread.clearance"),
    ("h", "thread.height"),
    ("a1", "thread.leading_flank"),
    ("a2", "thread.trailing_flank"),
)
