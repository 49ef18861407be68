"""What gives first as the load grows, and at which load."""

from __future__ import annotations

from dataclasses import dataclass

from cardgen.core.figure import Input, Sheet
from cardgen.core.words import told
from cardgen.sheets._constants import constant
from cardgen.spec.job import Job

_TABLE = "load/constants"
_SAID = "proportion: all but buckling grow with the load"


@dataclass(frozen=True, slots=True)
class _Bound:
    """What a figure that grows with the load may reach.

    Attributes
    ----------
    share
        Of ``allowed``, where not all of it.
    """

    id: str
    figure: str
    allowed: Input
    share: Input | None = None


def record_limits(job: Job, sheet: Sheet) -> None:
    """Record the load at which each limit is reached, the first of them, and how far off it is."""
    load = sheet.number("load.load")
    found: dict[str, float] = {}
    for bound in _bounds(job, sheet):
        figure = sheet[bound.figure]
        # Where friction is uncertain, its worst end counts.
        reached = sheet.ref(figure.id) if figure.high is None else sheet.high(figure.id)
        share = {} if bound.share is None else {"c": bound.share}
        part = 1.0 if bound.share is None else float(bound.share.value)
        limit = load * part * float(bound.allowed.value) / float(reached.value)
        found[bound.id] = limit
        sheet.add(
            bound.id,
            limit,
            formula="F c a / s" if share else "F a / s",
            inputs={"F": sheet.ref("load.load"), **share, "a": bound.allowed, "s": reached},
            source=_SAID,
            basis="computed",
            note=told("{what} there reaches its limit", what=figure.name.label.lower()),
        )
    if "load.buckling_load" in sheet:
        found["load.limit_buckling"] = sheet.number("load.buckling_load")
        sheet.add(
            "load.limit_buckling",
            found["load.limit_buckling"],
            formula="Fk",
            inputs={"Fk": sheet.ref("load.buckling_load")},
            source="the buckling load itself",
            basis="computed",
        )
    if found:
        _record_first(sheet, found)


def _bounds(job: Job, sheet: Sheet) -> list[_Bound]:
    screw, nut = job.work.material, None if job.mate is None else job.mate.material

    def strength(of: str) -> Input:
        material = nut if of == "mate" and nut is not None else screw
        given = material.yield_
        # A mate's strength is no key of this job's own material file.
        origin = "material:yield" if of == "work" else "table:materials mate yield"
        return Input(given.value, "MPa", origin, given.evidence)

    shear = constant(_TABLE, "shear-yield")
    bounds = [
        _Bound("load.limit_core", "load.core_stress", strength("work")),
        _Bound("load.limit_thread", "load.thread_shear", strength("work"), shear),
        _Bound("load.limit_thread_bending", "load.thread_bending", strength("work")),
        _Bound("load.limit_nut", "load.nut_shear", strength("mate"), shear),
        _Bound("load.limit_nut_bending", "load.nut_bending", strength("mate")),
        _Bound("load.limit_tooth", "load.tooth_bending", strength("mate")),
        _Bound("load.limit_hand", "load.handle_force", constant(_TABLE, "hand-force")),
    ]
    if "load.bearing_allowed" in sheet:
        allowed = sheet.ref("load.bearing_allowed")
        bounds.append(_Bound("load.limit_bearing", "load.bearing_pressure", allowed))
    return [bound for bound in bounds if bound.figure in sheet]


def _record_first(sheet: Sheet, found: dict[str, float]) -> None:
    first = min(found, key=lambda id: found[id])
    symbols = {id: f"F{number}" for number, id in enumerate(found, start=1)}
    refs = {symbols[id]: sheet.ref(id) for id in found}
    sheet.add(
        "load.limit",
        found[first],
        formula=f"min({', '.join(refs)})" if len(refs) > 1 else next(iter(refs)),
        inputs=refs,
        source="the least of the limits",
        basis="computed",
    )
    sheet.add(
        "load.limit_rules",
        sheet[first].name.label.lower(),
        inputs={"F": sheet.ref("load.limit")},
        source="the least of the limits",
        basis="computed",
        note="with no margin: keep well below it",
    )
    sheet.add(
        "load.factor",
        found[first] / sheet.number("load.load"),
        formula="Fl / F",
        inputs={"Fl": sheet.ref("load.limit"), "F": sheet.ref("load.load")},
        source="limit over load",
        basis="computed",
    )
