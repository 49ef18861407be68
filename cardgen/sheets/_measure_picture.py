"""The picture of what a micrometer is closed over: three wires, or three slips on the root."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from cardgen.core.figure import Outline, Sheet
from cardgen.forms.sizes import basic_sizes
from cardgen.rules.profile import XY, screw_outline
from cardgen.sheets._form import form_of
from cardgen.spec.job import Job

_SHOWN = 2.5
"""Length of the picture, in pitches."""


def record_over(job: Job, sheet: Sheet, what: Literal["wire", "slip"], piece: Sequence[XY]) -> None:
    """Give the picture of three pieces in their grooves, each half of the bar in its own frame.

    Outlines: ``measure.upper`` and ``measure.lower`` are the profile on the two sides of the bar,
    the lower one seen from its own axis; ``measure.wire_1`` (or ``slip_1``) lies in the upper, the
    second and the third in the lower one.

    Parameters
    ----------
    piece
        Its outline, x from the middle of its groove at the pitch line, y the radius [mm].
    """
    sizes = basic_sizes(form_of(job), job.thread.diameter, job.thread.pitch)
    pitch = sizes.pitch
    # Half a turn on, the groove has moved by half a lead.
    moved = (job.thread.lead / 2) % pitch or pitch
    for name, at in (("upper", pitch), ("lower", moved)):
        sheet.outlines[f"measure.{name}"] = Outline(
            screw_outline(
                sizes.section,
                _SHOWN * pitch,
                sizes.root_arc,
                1.5 * pitch - at,
                crest_radius=sizes.crest_arc,
            )
        )
    beside = sizes.section.groove_offset
    for number, at in enumerate((pitch, moved, moved + pitch), start=1):
        shown = tuple((at + beside + x, y) for x, y in piece)
        sheet.outlines[f"measure.{what}_{number}"] = Outline(shown, closed=True)
