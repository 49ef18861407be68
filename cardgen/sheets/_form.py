"""The form of the thread that a job asks for."""

from __future__ import annotations

from dataclasses import replace

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
