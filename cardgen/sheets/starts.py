"""How the next start of a thread is found on this machine, and how far off it then stands.

It comes after the cutting, for a compound slide that is set over for flank feed can no longer
shift the tool along the axis.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import count

from cardgen.core.figure import Input, Sheet
from cardgen.core.words import told
from cardgen.rules.dialling import reading
from cardgen.rules.starts import leadscrew_teeth, slide_advance, spindle_teeth
from cardgen.rules.train import Train
from cardgen.sheets._setup_halfnut import dial_starts
from cardgen.sheets._setup_search import trains
from cardgen.sheets._setup_words import given, length
from cardgen.spec.job import Job

SOURCE = "F. D. Jones, Turning and Boring (1919), Cutting Multiple Threads"
_SHOWN = 2


@dataclass(frozen=True, slots=True)
class _Way:
    """A way to the next start.

    Attributes
    ----------
    text
        What to do.
    error
        Place of the start that stands furthest off [mm].
    formula, inputs
        How the error comes about.
    """

    text: str
    error: float
    formula: str
    inputs: Mapping[str, Input]


def work_out(job: Job, sheet: Sheet) -> None:
    """Record the indexing of a thread of several starts; a single start has none."""
    if job.thread.starts == 1:
        return
    found = trains(job.machine, job.thread.lead_exact)
    train = found[0] if found else None
    if train is not None:
        _record_gear(job, sheet, found)
    ways = [*_by_dial(job, sheet, train), *_by_driver(job)]
    # A slide is handier than wheels out of mesh, but not where its dial misses the place.
    slide = list(_by_compound(job, sheet))
    ways += [way for way in slide if way.error == 0]
    if train is not None:
        ways += [*_by_spindle(job, sheet, train), *_by_leadscrew(job, sheet, train)]
    if train is not None and not ways:
        ways += [way for other in _others(job, found) for way in _by_spindle(job, sheet, other)]
    ways += [way for way in slide if way.error != 0]
    if not ways:
        sheet.warn("setup.no_indexing", _nothing(job, sheet))
        return
    best = ways[0]
    inputs = {
        "n": given(float(job.thread.starts), "", "spec:thread.starts"),
        "P": given(job.thread.pitch, "mm", "spec:thread.pitch"),
    }
    if "setup.train" in sheet:
        inputs["train"] = sheet.ref("setup.train")
    sheet.add(
        "setup.indexing",
        _either([way.text for way in ways[:_SHOWN]]),
        inputs=inputs,
        source=SOURCE,
        basis="handbook",
        evidence="read",
        note="Backlash is taken up the same way for every start.",
    )
    sheet.add(
        "setup.index_error",
        best.error,
        formula=best.formula,
        inputs=best.inputs,
        source="geometry: places of the starts along the axis",
        basis="computed",
        note="Of the first way named.",
    )


def _either(texts: Sequence[str]) -> str:
    first, *others = texts
    return told("{first}; or {second}", first=first, second=others[0]) if others else first


def _nothing(job: Job, sheet: Sheet) -> str:
    text = told(
        "Nothing on this machine finds the next of {starts} starts: it needs a first driver whose "
        "teeth divide by {starts}, a compound slide that lies parallel to the axis, or a driver "
        "plate with {starts} slots.",
        starts=f"{job.thread.starts}",
    )
    if not _flank(job, sheet):
        return text
    return told("{trouble} Infeed: plunge would leave the compound free.", trouble=text)


def _flank(job: Job, sheet: Sheet) -> bool:
    """Whether the compound slide is set over, and so not free to shift along the axis."""
    if "cutting.method" in sheet:
        return sheet["cutting.method"].value == "flank"
    return job.tool.infeed == "flank"


def _sideways(sheet: Sheet) -> bool:
    """Whether the schedule shifts the tool with the compound slide."""
    return "cutting.method" in sheet and sheet["cutting.method"].value != "plunge"


def _record_gear(job: Job, sheet: Sheet, found: tuple[Train, ...]) -> None:
    """Record whether the spindle gear divides by the starts; if not, which train's gear does."""
    starts, first = job.thread.starts, found[0]
    moved = spindle_teeth(first.wheels[0], starts, first.fixed_ratio)
    named = {"teeth": f"{first.wheels[0]}", "starts": f"{starts}"}
    others = _others(job, found)
    if moved is not None:
        text = told("{teeth} by {starts}: yes, {moved} teeth to a start", **named, moved=f"{moved}")
    elif others:
        text = told("{teeth} by {starts}: no; that of {train} does", **named, train=f"{others[0]}")
    else:
        text = told("{teeth} by {starts}: no", **named)
    sheet.add(
        "setup.index_gear",
        text,
        formula="method: teeth of the first driver over the number of starts must be whole",
        inputs={
            "train": sheet.ref("setup.train"),
            "n": given(float(starts), "", "spec:thread.starts"),
        },
        source=SOURCE,
        basis="handbook",
        evidence="read",
    )


def _others(job: Job, found: tuple[Train, ...]) -> list[Train]:
    """Return the trains that cut the same lead as the first, and whose spindle gear divides."""
    return [
        other
        for other in found[1:]
        if other.ratio == found[0].ratio
        and spindle_teeth(other.wheels[0], job.thread.starts, other.fixed_ratio) is not None
    ]


def _counted(sheet: Sheet) -> tuple[float, str, Mapping[str, Input]]:
    """Return the error of a way that is counted, not measured: none but the backlash."""
    inputs = {"train": sheet.ref("setup.train")} if "setup.train" in sheet else {}
    return 0.0, "method: whole teeth, turns or slots are counted, so that no error arises", inputs


def _by_dial(job: Job, sheet: Sheet, train: Train | None) -> Iterator[_Way]:
    _, found = dial_starts(job, train)
    others = [found.get(start, ()) for start in range(2, job.thread.starts + 1)]
    if not all(others):
        return
    text = told("thread dial, {starts}", starts=_listed(map(_found_at, count(2), others)))
    yield _Way(text, *_counted(sheet))


def _found_at(start: int, marks: Sequence[int]) -> str:
    pattern = "start {start}: marks {marks}" if len(marks) > 1 else "start {start}: mark {marks}"
    return told(pattern, start=f"{start}", marks=", ".join(map(str, marks)))


def _listed(texts: Iterable[str]) -> str:
    """Return texts in a row, set off by semicolons."""
    first, *others = texts
    return told("{first}; {others}", first=first, others=_listed(others)) if others else first


def _by_driver(job: Job) -> Iterator[_Way]:
    slots, starts = job.machine.driver_slots, job.thread.starts
    if job.work.holding != "between-centres" or slots is None or slots % starts:
        return
    on = slots // starts
    pattern = (
        "move the carrier 1 of the driver plate's {slots} slots on"
        if on == 1
        else "move the carrier {on} of the driver plate's {slots} slots on"
    )
    text = told(pattern, on=f"{on}", slots=f"{slots}")
    formula = "method: the slots are evenly spaced, so that the work turns by a whole share"
    inputs = {"slots": given(float(slots), "", "machine:spindle.driver-slots")}
    yield _Way(text, 0.0, formula, inputs)


def _by_spindle(job: Job, sheet: Sheet, train: Train) -> Iterator[_Way]:
    moved = spindle_teeth(train.wheels[0], job.thread.starts, train.fixed_ratio)
    if moved is None:
        return
    text = told(
        "first driver {teeth} out of mesh, spindle on by {moved} of its teeth, marked before",
        teeth=f"{train.wheels[0]}",
        moved=f"{moved}",
    )
    if str(train) != sheet["setup.train"].value:
        text = told("with the wheels {train}: {way}", train=f"{train}", way=text)
    yield _Way(text, *_counted(sheet))


def _by_leadscrew(job: Job, sheet: Sheet, train: Train) -> Iterator[_Way]:
    travel = job.machine.leadscrew_exact * train.lever_ratio
    last = train.wheels[-1]
    moved = leadscrew_teeth(last, job.thread.pitch_exact, travel)
    if moved is None:
        return
    turns, teeth = divmod(moved, last)
    pattern = "last wheel {last} out of mesh, half-nut closed, leadscrew on by {teeth} of its teeth"
    if turns:
        pattern = (
            "last wheel {last} out of mesh, half-nut closed, leadscrew on by {turns} of its turns "
            "and {teeth} of its teeth"
        )
    text = told(pattern, last=f"{last}", turns=f"{turns}", teeth=f"{teeth}")
    yield _Way(text, *_counted(sheet))


def _by_compound(job: Job, sheet: Sheet) -> Iterator[_Way]:
    compound, thread = job.machine.compound_slide, job.thread
    if compound is None or not job.machine.compound_swivel or _flank(job, sheet):
        return
    reach = (thread.starts - 1) * thread.pitch
    if compound.travel is not None and reach > compound.travel:
        return
    step = compound.radial_step_exact
    advance = slide_advance(thread.pitch_exact, step, thread.starts)
    shown = [reading(count, compound.divisions_per_turn) for count in advance.divisions]
    settings = (
        told("on by {reading}, one pitch", reading=shown[0])
        if len(shown) == 1
        else _listed(
            told("start {start} at {reading}", start=f"{number}", reading=dial)
            for number, dial in enumerate(shown, 2)
        )
    )
    text = told("compound slide parallel to the axis, {settings}", settings=settings)
    if advance.error != 0:
        text = told("{way}, {error} off", way=text, error=_off(job, advance.error))
    if _sideways(sheet):
        # Where the schedule moves the slide too, its settings begin anew at each start.
        text = told("{way}, its dial then set to 0 anew", way=text)
    yield _Way(
        text,
        float(advance.error),
        "N s - k P",
        {
            "N": Input(float(advance.divisions[advance.worst - 2]), "", "constant", "derived"),
            "s": given(float(step), "mm", "machine:compound-slide.division"),
            "k": Input(float(advance.worst - 1), "", "constant", "derived"),
            "P": given(thread.pitch, "mm", "spec:thread.pitch"),
        },
    )


def _off(job: Job, error: Fraction) -> str:
    return length(job, abs(float(error)), decimals=3)
