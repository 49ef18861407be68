"""How the machine is set up: wheels, thread dial, speed, and how to stop in time."""

from __future__ import annotations

from cardgen.core.figure import Sheet
from cardgen.sheets import _setup_halfnut, _setup_speed, _setup_stop, _setup_wheels
from cardgen.spec.job import Job


def work_out(job: Job, sheet: Sheet) -> None:
    """Record the set-up of the machine for a job.

    The wheels come first, for the thread dial must know the lead that they really cut; the dial
    before the speed, for it decides how the carriage is stopped; and what room there is to stop
    in before the speed that it may limit.
    """
    train = _setup_wheels.record(job, sheet)
    half_nut_opens = _setup_halfnut.record(job, sheet, train)
    _setup_stop.record_run_out(job, sheet)
    choice = _setup_speed.record(job, sheet, half_nut_opens)
    _setup_stop.record(job, sheet, choice, half_nut_opens)
