"""The screw under load: torque, what it holds by itself, stress, buckling, and what rules."""

from __future__ import annotations

from cardgen.core.figure import Input, Sheet, Step
from cardgen.core.rounding import with_unit
from cardgen.core.words import told
from cardgen.sheets._load_column import record_buckling
from cardgen.sheets._load_limits import record_limits
from cardgen.sheets._load_rack import record_tooth
from cardgen.sheets._load_strength import record_core, record_thread
from cardgen.sheets._load_torque import record_friction, record_torque
from cardgen.sheets._load_wear import record_wear
from cardgen.spec.job import Job

_NEEDED = (
    "thread.pitch_diameter",
    "thread.minor_diameter",
    "thread.lead",
    "thread.pitch",
    "thread.lead_angle_pitch",
)


def work_out(job: Job, sheet: Sheet) -> None:
    """Record what the load does to the screw; nothing where the job states no duty."""
    if job.duty is None or job.thread.surface == "internal":
        return
    if not all(id in sheet for id in _NEEDED):
        return
    _record_load(job, sheet)
    if record_friction(job, sheet):
        record_torque(job, sheet)
        record_core(job, sheet)
    if job.mate is not None and job.mate.kind == "rack":
        record_tooth(job, sheet)
    else:
        record_thread(job, sheet)
        record_wear(job, sheet)
    if job.duty.way == "push":
        record_buckling(job, sheet)
    record_limits(job, sheet)
    _tell(job, sheet)


def _record_load(job: Job, sheet: Sheet) -> None:
    assert job.duty is not None  # noqa: S101  (looked at before)
    sheet.add(
        "load.load",
        job.duty.load,
        formula="F",
        inputs={"F": Input(job.duty.load, "N", "spec:duty.load", "read")},
        source="the job",
        basis="data",
        evidence="read",
    )


def _tell(job: Job, sheet: Sheet) -> None:
    sheet.steps.append(
        Step(
            "Not for lifting people, and not to hold a load above people: out of this card's "
            "scope.",
            "warning",
            "common practice",
        )
    )
    if "load.torque_raise" in sheet and "load.collar_torque" not in sheet:
        collar = sheet.number("load.friction") * sheet.number("load.load") / 2000
        sheet.steps.append(
            Step(
                told(
                    "Torque is that of the thread alone: a collar or pad adds about {torque} "
                    "for each 10 mm of its mean diameter (state duty.collar to have it counted).",
                    torque=with_unit(collar * 10, "N m", 1),
                ),
                "note",
                "friction times load times mean radius",
            )
        )
