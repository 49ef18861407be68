"""What another machine did to one job, and the page that tells it of all jobs in a binder."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from cardgen.binder.pages import Paper
from cardgen.binder.stale import Moved
from cardgen.card.grid import Column
from cardgen.card.panel import Block
from cardgen.core.names import NAMES
from cardgen.core.rounding import with_unit
from cardgen.core.words import Said, joined, told

LISTED = (
    "setup.train",
    "setup.gearbox",
    "setup.idlers",
    "setup.lead_error_ppm",
    "setup.speed",
    "setup.dial_marks",
    "setup.compound_angle",
    "cutting.method",
    "cutting.dial_total",
    "cutting.passes",
    "tool.blank",
    "tool.bar",
)
"""Figures that the page names, where they moved; the others are counted."""


@dataclass(frozen=True, slots=True)
class Change:
    """What became of one job.

    Attributes
    ----------
    job
        Its name.
    status
        ``moved``; ``valid``: the old card holds as it is; ``lost``: it can no longer be cut;
        ``won``: it can be cut now, and could not before.
    moved
        Figures, passes and warnings that are not what the old card says.
    reasons
        Why a job that is lost cannot be cut.
    """

    job: str
    status: Literal["moved", "valid", "lost", "won"]
    moved: tuple[Moved, ...] = ()
    reasons: tuple[str, ...] = ()


def changed(paper: Paper, changes: Sequence[Change]) -> list[Block]:
    """Return what moved, job by job: what is set or dialled in, before and now."""
    kit = paper.kit()
    rows: list[Sequence[str] | str] = []
    for change in changes:
        if change.status == "moved":
            shown = [line for line in change.moved if line.id in LISTED]
            more = len(change.moved) - len(shown)
            rows.append(change.job)
            rows += [
                (NAMES[line.id].label, _written(line.id, line.was), _written(line.id, line.now))
                for line in shown
            ]
            rows.append(("Further figures and passes", "", told("{count} moved", count=more)))
    blocks: list[Block] = []
    if rows:
        columns = [
            Column("", stretch=True),
            Column("Was", stretch=True),
            Column("Now", stretch=True),
        ]
        blocks += kit.table(columns, rows)
    for status, title in (
        ("lost", "Can no longer be cut"),
        ("won", "Can be cut now"),
        ("valid", "Cards that hold as they are"),
    ):
        some = [change for change in changes if change.status == status]
        if some:
            blocks += [kit.space(), kit.heading(title)]
        for change in some:
            said = [Said(change.job), joined(change.reasons)] if change.reasons else [change.job]
            blocks.append(kit.item(joined(said, ": ")))
    return blocks


def _written(id: str, told: str) -> str:
    """Return a value as cards write it; a word as it is, and a dash for none."""
    name = NAMES[id]
    try:
        return with_unit(float(told), name.unit, name.decimals, name.side)
    except ValueError:
        return "–" if told == "absent" else told
