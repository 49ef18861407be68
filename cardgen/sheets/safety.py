"""Safety notes: which of those in the data file this job calls for, the worst first.

A note names tags; it is printed when all of them hold. Each tag is one question about the job or
its figures, answered by one function here.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Mapping
from functools import cache
from typing import Any

from cardgen import library
from cardgen.core.figure import Sheet, Step
from cardgen.core.rounding import written
from cardgen.core.words import told
from cardgen.sheets._constants import value
from cardgen.spec.job import Job
from cardgen.spec.substance import Material

SIGNALS = ("danger", "warning", "caution", "notice")
"""Signal words of ANSI Z535 and ISO 3864-2, the worst first."""

_TABLE = "safety/constants"
_HOT = ("harden", "normalise", "temper", "blacken", "stress-relieve", "oil-black")


def work_out(job: Job, sheet: Sheet) -> None:
    """Put the notes that the job calls for into the order of work, and the closing line last."""
    data = _notes()
    held = {tag for tag, holds in TAGS.items() if holds(job, sheet)}
    called = [note for note in data["note"] if held.issuperset(note["when"])]
    for note in sorted(called, key=lambda note: SIGNALS.index(note["signal"])):
        sheet.steps.append(Step(_filled(note["text"], sheet), note["signal"], note["source"]))
    closing = data["closing"]
    sheet.steps.append(Step(closing["text"], "rule", closing["source"]))


@cache
def _notes() -> Mapping[str, Any]:
    return tomllib.loads(library.text("safety/notes.toml"))


def _filled(text: str, sheet: Sheet) -> str:
    parts = {id: written(sheet[id]) for id in re.findall(r"\{([a-z_.]+)\}", text)}
    if not parts:
        return text
    # A part's name is a word: the full stop of an id would ask for an attribute.
    for id in parts:
        text = text.replace(id, id.replace(".", "_"))
    return told(text, **{id.replace(".", "_"): part for id, part in parts.items()})


def _holds_lead(material: Material | None) -> bool:
    least = value(_TABLE, "lead-share")
    return material is not None and material.composition.get("Pb", 0.0) >= least


def _slender_free(job: Job, _: Sheet) -> bool:
    work = job.work
    alone = work.holding == "chuck" and work.rest == "none"
    return alone and work.stickout > value(_TABLE, "free-diameters") * work.stock


def _quick_stop(_: Job, sheet: Sheet) -> bool:
    return "setup.time_to_stop" in sheet and sheet.number("setup.time_to_stop") < value(
        _TABLE, "quick-stop"
    )


def _quenched(job: Job, sheet: Sheet, *media: str) -> bool:
    return "heat.quench" in sheet and sheet["heat.quench"].value in media


def _materials(job: Job) -> tuple[Material, ...]:
    nut = None if job.mate is None else job.mate.material
    return (job.work.material,) if nut is None else (job.work.material, nut)


def _group(*groups: str) -> Callable[[Job, Sheet], bool]:
    return lambda job, sheet: any(m.group in groups for m in _materials(job))


def _half_nut_closed(_: Job, sheet: Sheet) -> bool:
    return "setup.dial_marks" in sheet and "closed" in str(sheet["setup.dial_marks"].value)


TAGS: Mapping[str, Callable[[Job, Sheet], bool]] = {
    "lathe": lambda job, sheet: True,
    "chuck": lambda job, sheet: job.work.holding != "between-centres",
    "between-centres": lambda job, sheet: job.work.holding == "between-centres",
    "slender-free": _slender_free,
    "spindle-reversed": lambda job, sheet: job.machine.reverse and _half_nut_closed(job, sheet),
    "half-nut-closed": _half_nut_closed,
    "quick-stop": _quick_stop,
    "left-hand": lambda job, sheet: job.thread.hand == "left",
    "hollow": lambda job, sheet: job.thread.surface == "internal",
    "tool-ground": lambda job, sheet: job.tool.material != "carbide",
    "hot": lambda job, sheet: any(step.step in _HOT for step in job.heat),
    "hardened": lambda job, sheet: "heat.quench" in sheet,
    "blacken": lambda job, sheet: any(s.step in ("blacken", "oil-black") for s in job.heat),
    "cold-blue": lambda job, sheet: any(step.step == "cold-blue" for step in job.heat),
    "red-heat": lambda job, sheet: any(s.step in ("harden", "normalise") for s in job.heat),
    "oven": lambda job, sheet: any(step.step == "temper" for step in job.heat),
    "quench-oil": lambda job, sheet: _quenched(job, sheet, "oil"),
    "quench-water": lambda job, sheet: _quenched(job, sheet, "water", "brine"),
    "load": lambda job, sheet: job.duty is not None,
    "runs-back": lambda job, sheet: (
        "load.self_locking" in sheet and sheet["load.self_locking"].value != "yes"
    ),
    "lead": lambda job, sheet: any(_holds_lead(m) for m in _materials(job)),
    "lead-work": lambda job, sheet: _holds_lead(job.work.material),
    "cast-iron": _group("cast-iron"),
    "aluminium": _group("aluminium"),
    "plastic": _group("plastic"),
}
