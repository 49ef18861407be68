"""What the bend leaves on the thread along its length, and the spring passes that take it off."""

from __future__ import annotations

from dataclasses import dataclass

from cardgen.core.figure import Input, Outline, Sheet
from cardgen.core.names import Side
from cardgen.core.words import told
from cardgen.rules.boring import Bar
from cardgen.rules.infeed import Bite
from cardgen.rules.methods import Plan
from cardgen.rules.springing import barrel, left_over, part_left, passes_needed, taper
from cardgen.sheets._cutting_give import give_inputs
from cardgen.sheets._cutting_tables import force_factor, practice
from cardgen.sheets._cutting_words import length
from cardgen.spec.job import Job

_PLACES = 17
"""Places along the thread at which the bend is looked at."""
_SOURCE = "elementary beam theory, supports as springs; cutting force in step with the bite"


@dataclass(frozen=True, slots=True)
class Sprung:
    """What the last cut at full depth leaves on the radius along the thread.

    Attributes
    ----------
    places
        Of the tool along the bar [mm].
    left
        There, before any spring pass [mm].
    parts
        That a spring pass leaves there.
    """

    places: tuple[float, ...]
    left: tuple[float, ...]
    parts: tuple[float, ...]

    def after(self, passes: int) -> list[float]:
        """Return what is left on the diameter after some spring passes [mm]."""
        return [2 * e * part**passes for e, part in zip(self.left, self.parts, strict=True)]


def record_bend(job: Job, sheet: Sheet, plan: Plan, bites: tuple[Bite, ...]) -> Sprung:
    """Record taper, barrel and the spring passes needed; return what is left where."""
    sprung = _sprung(plan, bites)
    share, most = practice("size-share"), practice("size-most")
    if "thread.pitch_tolerance" in sheet:
        sheet.add(
            "cutting.size_allowed",
            share.value * sheet.number("thread.pitch_tolerance"),
            formula="q T",
            inputs={"q": share.input, "T": sheet.ref("thread.pitch_tolerance")},
            source=share.source,
            basis="practice",
            evidence=share.evidence,
        )
    else:
        sheet.add(
            "cutting.size_allowed",
            most.value,
            source=most.source,
            basis="practice",
            evidence=most.evidence,
            note="the form has no tolerance of its own",
        )
    inputs = {
        "Fp": sheet.ref("cutting.radial_force_max"),
        "y": sheet.ref("cutting.deflection_max"),
        "hmin": sheet.ref("cutting.bite_min"),
    }
    if not sheet.internal:
        inputs |= give_inputs(job)
        _record_shape(job, sheet, sprung, inputs)
    worst = max(sprung.parts)
    sheet.add(
        "cutting.spring_part",
        worst,
        formula="method: K g / (1 + K g), K the radial force of the least bite over that bite, g "
        "the give of the work under the tool at its worst place",
        inputs=inputs,
        source=_SOURCE,
        basis="computed",
        note="below the least bite the force is taken to fall in step with the bite",
    )
    _record_needed(job, sheet, sprung, inputs)
    return sprung


def _sprung(plan: Plan, bites: tuple[Bite, ...]) -> Sprung:
    """Return what the form tool's own passes leave; a roughing tool's errors are cut away."""
    lathe, last = plan.lathe, bites[-1].stage
    own = [
        (bite.divisions * lathe.step, bite.cut.radial)
        for bite in bites
        if bite.stage.blade == last.blade and bite.stage.step != "widen"
    ]
    least = min(plan.least, plan.total)
    light = lathe.cut(last, plan.total - least, least)
    stiffness = light.radial / (least * lathe.step)
    work, core = lathe.work, lathe.work.blank - 2 * plan.total * lathe.step
    if isinstance(work, Bar):
        places, gives = [0.0], [work.give(core)]
    else:
        places = work.places(_PLACES)
        gives = work.gives_at(core, places)
    return Sprung(
        tuple(places),
        tuple(left_over(own, give) for give in gives),
        tuple(part_left(stiffness, give) for give in gives),
    )


def _record_shape(job: Job, sheet: Sheet, sprung: Sprung, inputs: dict[str, Input]) -> None:
    sizes = sprung.after(0)
    worst = sprung.places[max(range(len(sizes)), key=sizes.__getitem__)]
    sheet.add(
        "cutting.left_most",
        max(sizes),
        formula="method: most that all passes leave on the diameter along the thread; each leaves "
        "h K g / (1 + K g) of what it is set and finds",
        inputs=inputs,
        source=_SOURCE,
        basis="computed",
        note=told("{place} from the jaws", place=length(worst, inch=job.inch, decimals=0)),
    )
    sheet.add(
        "cutting.taper",
        taper(sizes),
        formula="method: what all passes leave on the diameter at the thread's far end, less at "
        "its chuck end",
        inputs=inputs,
        source=_SOURCE,
        basis="computed",
        note="positive: thicker at the far end",
    )
    sheet.add(
        "cutting.barrel",
        barrel(sizes),
        formula="method: furthest that the diameter left stands over the line from end to end",
        inputs=inputs,
        source=_SOURCE,
        basis="computed",
        note="positive: thicker between the ends; negative: thinner there",
    )
    sheet.outlines["cutting.bend"] = Outline(tuple(zip(sprung.places, sizes, strict=True)))


def _record_needed(job: Job, sheet: Sheet, sprung: Sprung, inputs: dict[str, Input]) -> None:
    most, allowed = round(practice("spring-most").value), sheet.number("cutting.size_allowed")
    each = [
        passes_needed(left, part, allowed / 2, most)
        for left, part in zip(sprung.left, sprung.parts, strict=True)
    ]
    enough = [passes for passes in each if passes is not None]
    needed = max(enough) if len(enough) == len(each) else most
    sheet.add(
        "cutting.spring_needed",
        float(needed),
        formula="method: least number N for which twice what is left on the radius, times the part "
        "that a spring pass leaves to the power N, is within what may be left",
        inputs=inputs
        | {
            "u": sheet.ref("cutting.size_allowed"),
            "p": sheet.ref("cutting.spring_part"),
            "Nm": practice("spring-most").input,
        },
        source=_SOURCE,
        basis="computed",
    )
    if len(enough) < len(each):
        worst = max(sprung.after(most))
        sheet.warn(
            "cutting.springs",
            told(
                "After {most} spring passes {left} would still be left on the diameter, and "
                "{allowed} may be: measure along the thread, and use a rest, a shorter "
                "stick-out or lighter last cuts.",
                most=most,
                left=_mm(job, worst, "up"),
                allowed=_mm(job, allowed),
            ),
        )


def record_left(sheet: Sheet, sprung: Sprung, springs: int) -> None:
    """Record what is left after the spring passes that are made."""
    sheet.add(
        "cutting.size_left",
        max(sprung.after(springs)),
        formula="method: most that is left on the diameter after the spring passes",
        inputs={
            "p": sheet.ref("cutting.spring_part"),
            "N": sheet.ref("cutting.spring_passes"),
            "q": force_factor("radial-share").input,
        },
        source=_SOURCE,
        basis="computed",
        note="greatest along the thread" if not sheet.internal else "along the whole thread",
    )
    if not sheet.internal:
        after = zip(sprung.places, sprung.after(springs), strict=True)
        sheet.outlines["cutting.bend_after"] = Outline(tuple(after))


def springs_to_make(usual: float, sheet: Sheet) -> int:
    """Return the spring passes to make: the usual number, or as many as the bend needs."""
    needed = sheet.number("cutting.spring_needed") if "cutting.spring_needed" in sheet else 0.0
    return round(max(usual, needed))


def _mm(job: Job, mm: float, side: Side = "down") -> str:
    return length(mm, inch=job.inch, decimals=3, side=side)
