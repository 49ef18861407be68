"""The form of the thread that a job asks for."""

from __future__ import annotations

from cardgen.forms.custom import custom_form
from cardgen.forms.form import Form, read
from cardgen.spec.job import Job


def form_of(job: Job) -> Form:
    """Return the thread's form: its data file's, of its series, or the one that the job states."""
    thread = job.thread
    if thread.profile is not None:
        return custom_form(thread.profile, thread.pitch)
    return read(thread.form, thread.series)
