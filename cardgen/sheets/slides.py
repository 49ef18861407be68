"""What the slides make of the schedule: their play, how far they go, and what their dials miss."""

from __future__ import annotations

from cardgen.core.figure import Sheet
from cardgen.core.words import told
from cardgen.sheets._setup_words import given, length, practised
from cardgen.spec.job import Job
from cardgen.spec.lathe import Dial

_INWARDS = (
    "Once past a setting, go back by more than this and come to it again, winding inwards: the "
    "play then lies on one side."
)
_OUTWARDS = (
    "Once past a setting, go back by more than this and come to it again, winding outwards: the "
    "play then lies on one side."
)


def work_out(job: Job, sheet: Sheet) -> None:
    """Record play and travel of the slides, and the depth that whole divisions cannot show."""
    machine = job.machine
    flank = "cutting.method" in sheet and sheet["cutting.method"].value == "flank"
    _record_play(sheet, "setup.cross_play", machine.cross_slide, "cross-slide")
    if machine.compound_slide is not None and (flank or job.thread.starts > 1):
        _record_play(sheet, "setup.compound_play", machine.compound_slide, "compound-slide")
    if flank and "cutting.compound_travel" in sheet:
        _judge_travel(job, sheet)


def _record_play(sheet: Sheet, id: str, dial: Dial, slide: str) -> None:
    """Record the play of a slide's screw in divisions of its dial, where it was measured."""
    if dial.backlash is None:
        return
    step = float(dial.radial_step_exact)
    sheet.add(
        id,
        dial.backlash / step,
        formula="b / s",
        inputs={
            "b": given(dial.backlash, "mm", f"machine:{slide}.backlash"),
            "s": given(step, "mm", f"machine:{slide}.division"),
        },
        source="the machine file: measured with a dial gauge",
        basis="data",
        evidence="read",
        note=_OUTWARDS if sheet.internal else _INWARDS,
    )


def _judge_travel(job: Job, sheet: Sheet) -> None:
    """Record how far the compound goes, and refuse a feed that it cannot give."""
    compound = job.machine.compound_slide
    if compound is None or compound.travel is None:
        return
    sheet.add(
        "setup.compound_travel",
        compound.travel,
        inputs={"a": given(compound.travel, "mm", "machine:compound-slide.travel")},
        source="the machine file",
        basis="data",
        evidence="read",
    )
    needed = sheet.number("cutting.compound_travel")
    said = told(
        "The flank feed takes {needed} of the compound slide, and it goes {travel} from end to "
        "end.",
        needed=length(job, needed, "up"),
        travel=length(job, compound.travel, "down"),
    )
    if needed > compound.travel:
        sheet.refuse(
            "setup.compound_too_short",
            told("{trouble} Infeed: plunge would do without it.", trouble=said),
        )
    elif needed > practised("travel-warned") * compound.travel:
        sheet.warn(
            "setup.compound_nearly_out",
            told(
                "{trouble} Begin with it wound right back, so that it does not end within the "
                "thread.",
                trouble=said,
            ),
        )
