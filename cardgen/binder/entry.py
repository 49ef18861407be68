"""What the binder lists of a job: a few words and figures, so that the rest may be forgotten."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Literal

from cardgen.core.figure import Figure, Sheets
from cardgen.core.rounding import written
from cardgen.core.words import told

By = Literal["machine", "form", "material"]
"""What the dividers part the cards by."""

LISTED = (
    "thread.designation",
    "thread.form",
    "thread.hand",
    "thread.major_diameter",
    "thread.pitch",
    "thread.lead",
    "thread.blank_diameter",
    "thread.depth",
    "thread.drill",
    "setup.train",
    "setup.gearbox",
    "setup.speed",
    "tool.blank",
    "tool.bar",
    "measure.wire_chosen",
    "measure.ball_chosen",
    "mate.drill",
    "mate.blank",
)
"""The figures that the index and the lists show."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One job as the binder lists it.

    Attributes
    ----------
    job, title, code
        Its name, what it is for, and the short code on its cards.
    machine, material
        As they are called on the card.
    inch
        Whether its cards show inches first.
    figures
        Those of :data:`LISTED` that were worked out, without their working.
    """

    job: str
    title: str
    code: str
    machine: str
    material: str
    inch: bool
    figures: Mapping[str, Figure]

    def written(self, id: str) -> str:
        """Return a figure as the card writes it; nothing if there is none."""
        figure = self.figures.get(id)
        return "" if figure is None else written(figure, inch=self.inch)

    def group(self, by: By) -> str:
        """Return the name of the part of the binder that the job belongs to."""
        if by == "form":
            return self.written("thread.form")
        return self.machine if by == "machine" else self.material

    @property
    def thread(self) -> str:
        """The designation, or the job's name where there is none, with the hand if it is left."""
        name = self.written("thread.designation") or self.job
        left = self.written("thread.hand") == "left"
        return told("{thread} left hand", thread=name) if left and "LH" not in name else name

    @property
    def order(self) -> tuple[str, float, float, str]:
        """Sorts an index of threads: form, diameter, pitch, then the job's name."""
        sizes = [self.figures.get(id) for id in ("thread.major_diameter", "thread.pitch")]
        diameter, pitch = (0.0 if size is None else size.number for size in sizes)
        return self.written("thread.form"), diameter, pitch, self.job


def entry(sheets: Sheets, facts: Mapping[str, str], *, inch: bool) -> Entry:
    """Return what the binder lists of a worked-out job.

    Parameters
    ----------
    facts
        The words that its card prints: ``job``, ``title``, ``code``, ``machine``, ``material``.
    inch
        Whether its cards show inches first.
    """
    figures = sheets.figures
    kept = {id: replace(figures[id], inputs={}) for id in LISTED if id in figures}
    return Entry(
        facts["job"],
        facts["title"] or facts["job"],
        facts["code"],
        facts["machine"],
        facts["material"],
        inch,
        kept,
    )
