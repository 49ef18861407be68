"""Cutting against the usual way: the spindle backwards and the tool upside down."""

from __future__ import annotations

from cardgen.core.figure import Sheet, Step
from cardgen.core.words import told
from cardgen.spec.job import Job

_PRACTICE = "common practice"


def judge_backwards(job: Job, sheet: Sheet) -> None:
    """Refuse what the lathe cannot do backwards, warn of the chuck, and say how the tool stands."""
    if not job.backwards:
        return
    machine = job.machine
    if not machine.reverse and not machine.hand_crank:
        sheet.refuse(
            "setup.no_reverse",
            told(
                "The thread is to be cut towards the {side} with the spindle "
                "backwards, and this lathe has neither reverse nor a hand crank. What would "
                "help: leave cut-towards out, or another machine.",
                side=job.work.cut_towards,
            ),
        )
    if job.work.holding != "between-centres":
        if machine.chuck_locked is False:
            sheet.refuse(
                "setup.chuck_unscrews",
                "The spindle cuts backwards, and this lathe's chuck is not locked on its nose: it "
                "would unscrew. What would help: a lock, work between centres, or leaving "
                "cut-towards out.",
            )
        elif machine.chuck_locked is None:
            sheet.warn(
                "setup.chuck_may_unscrew",
                "The spindle cuts backwards: a chuck that is only screwed on its nose comes off. "
                "Lock it, or work between centres.",
            )
    ids = ("thread.leading_flank", "thread.trailing_flank")
    if all(id in sheet for id in ids):
        leading, trailing = (sheet.number(id) for id in ids)
        if abs(leading - trailing) > 1e-9:
            sheet.refuse(
                "setup.backwards_uneven",
                told(
                    "The flanks differ, {leading}° and {trailing}°, and a tool that is turned "
                    "over cuts their mirror image. What would help: leave cut-towards out.",
                    leading=f"{leading:g}",
                    trailing=f"{trailing:g}",
                ),
            )
    usual = "tailstock" if job.thread.hand == "left" else "chuck"
    other = "chuck" if usual == "tailstock" else "tailstock"
    sheet.steps.append(
        Step(
            told(
                "Grind the tool as it is drawn, for the usual way, and clamp it FACE DOWN, "
                "its face at centre height: the side marked {usual} then looks at the "
                "{other}, and leads. The cut lifts tool and saddle: gibs snug, light cuts.",
                usual=usual,
                other=other,
            ),
            "caution",
            _PRACTICE,
        )
    )
