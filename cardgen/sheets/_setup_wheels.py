"""Which wheels go on the machine, which way the leadscrew turns, and what lead that cuts."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.core.figure import Input, Sheet
from cardgen.core.words import joined, told
from cardgen.rules.meshing import (
    teeth_to_pass,
    teeth_to_spare,
)
from cardgen.rules.train import PAIRS, Train, lead_error, wheels_to_change
from cardgen.sheets._setup_drawing import draw
from cardgen.sheets._setup_idlers import record_idlers
from cardgen.sheets._setup_lead import METHOD, record_lead
from cardgen.sheets._setup_search import fixed, quadrant, roomy_radius, trains
from cardgen.sheets._setup_words import given, lead, length, practice
from cardgen.spec.job import Job

_TRAIN = "{kind}, {reason}; driver/driven from the spindle to the leadscrew."
_UNCHECKED_TRAIN = (
    "{kind}, {reason}; driver/driven from the spindle to the leadscrew; meshing not checked, for "
    "the module is not given."
)


def record(job: Job, sheet: Sheet) -> Train | None:
    """Record the train and all that follows from it; return it."""
    found = trains(job.machine, job.thread.lead_exact)
    _record_direction(job, sheet)
    if not found:
        sheet.refuse(
            "setup.no_train",
            told(
                "No train of the wheels {wheels} goes together on this machine ({kinds}). "
                "More wheels, the true centre distance in the machine file, or another machine "
                "would help.",
                wheels=_list(job.machine.gears),
                kinds=joined([*job.machine.arrangements, *_window(job)], ", "),
            ),
        )
        return None
    _record_train(job, sheet, found)
    record_lead(job, sheet, found[0])
    _record_others(job, sheet, found)
    return found[0]


def _record_direction(job: Job, sheet: Sheet) -> None:
    hand = given(job.thread.hand, "", "spec:thread.hand")
    right = job.thread.hand == "right"
    turns = "spindle BACKWARDS, tool upside down" if job.backwards else "spindle forward"
    sheet.add(
        "setup.direction",
        told("away from the chuck, {turns}; start {place}", turns=turns, place=_left_start(job))
        if job.outwards
        else told("towards the chuck, {turns}", turns=turns),
        inputs={
            "hand": hand,
            "towards": given("tailstock" if job.outwards else "chuck", "", "spec:work.cut-towards"),
        },
        source="geometry of the helix",
        basis="computed",
    )
    sheet.add(
        "setup.leadscrew_turns",
        "the same way as the spindle" if right else "against the spindle",
        inputs={"hand": hand},
        source="geometry of the helix",
        basis="computed",
        note="For a right-hand leadscrew, which nearly every lathe has.",
    )


def _left_start(job: Job) -> str:
    """Say where a left-hand thread begins: a nut that is open behind needs no groove for it."""
    through = job.thread.surface == "internal" and job.work.thread_end == "open"
    return "behind the nut" if through else "in the groove"


def _record_train(job: Job, sheet: Sheet, found: tuple[Train, ...]) -> None:
    machine, train, arm = job.machine, found[0], quadrant(job.machine)
    error = lead_error(train, machine.leadscrew_exact, job.thread.lead_exact)
    word = next(word for word, count in PAIRS.items() if count == len(train.pairs))
    kind = f"{word.capitalize()} train"
    reason = "exact" if error == 0 else "the least error of all that go together"
    inputs = {
        "L": lead(job, sheet),
        "Ls": given(machine.leadscrew, "mm", "machine:leadscrew.pitch"),
        "wheels": given(_list(machine.gears), "", "machine:gears"),
    }
    if arm is not None:
        inputs["r"] = (
            practice("stud-radius")
            if machine.stud_radius is None
            else given(machine.stud_radius, "mm", "machine:train.stud-nut")
        )
    sheet.add(
        "setup.train",
        str(train),
        formula="method: every train of the wheels owned; least error, then fewest wheels to "
        "change, then the larger smallest wheel",
        inputs=inputs,
        source=METHOD,
        basis="computed",
        note=told(_TRAIN if arm else _UNCHECKED_TRAIN, kind=kind, reason=reason),
    )
    names = [f"{side}{number + 1}" for number in range(len(train.pairs)) for side in "AB"]
    ratio = {
        name: Input(float(teeth), "", "setup.train", "derived")
        for name, teeth in zip(names, train.wheels, strict=True)
    }
    factors = [f"A{k + 1} / B{k + 1}" for k in range(len(train.pairs))]
    if train.lever:
        origin = "machine:gearbox.ratios"
        if "gearbox.ratios" not in machine.places:
            origin = "machine:gearbox.levers"
        sheet.add(
            "setup.gearbox",
            train.lever,
            inputs={"g": given(float(train.lever_ratio), "", origin)},
            source=METHOD,
            basis="computed",
        )
        ratio["g"] = Input(float(train.lever_ratio), "", "setup.gearbox", "read")
        factors.append("g")
    if train.fixed_ratio != 1:
        sheet.add(
            "setup.fixed_ratio",
            float(train.fixed_ratio),
            inputs={"h": given(float(train.fixed_ratio), "", "machine:train.fixed.ratio")},
            source=METHOD,
            basis="data",
            evidence="read",
        )
        ratio["h"] = sheet.ref("setup.fixed_ratio")
        factors.append("h")
    sheet.add(
        "setup.train_ratio",
        float(train.ratio),
        formula=" * ".join(factors),
        inputs=ratio,
        source=METHOD,
        basis="computed",
    )
    _record_changes(job, sheet, "setup.wheel_changes", train, "setup.train")
    idlers = record_idlers(job, sheet, train, arm)
    _warn_if_tight(job, sheet, found)
    draw(sheet, train, idlers, arm)


def _record_changes(job: Job, sheet: Sheet, id: str, train: Train, of: str) -> None:
    """Record how many wheels must be put on for a train, where it is known what stands there."""
    machine = job.machine
    if not machine.wheels_now:
        return
    sheet.add(
        id,
        float(wheels_to_change(train.wheels, machine.wheels_now, fixed(machine))),
        formula="method: places, from the spindle to the leadscrew, where another wheel stands now",
        inputs={
            "train": sheet.ref(of),
            "now": given(_list(machine.wheels_now), "", "machine:train.now"),
        },
        source=METHOD,
        basis="computed",
    )


def _record_others(job: Job, sheet: Sheet, found: tuple[Train, ...]) -> None:
    """Record the trains to fall back on, and what lead each is off."""
    machine, wanted = job.machine, job.thread.lead_exact
    for place, train in enumerate(found[1:], 2):
        lever = f"; {train.lever}" if train.lever else ""
        sheet.add(
            f"setup.train_{place}",
            f"{train}{lever}",
            formula="method: as for the first train; next in rank",
            inputs={"first": sheet.ref("setup.train")},
            source=METHOD,
            basis="computed",
            note=told(
                "The smallest wheel has {teeth} teeth."
                if train.ratio == found[0].ratio
                else "The smallest wheel has {teeth} teeth. With it the half-nut stays closed.",
                teeth=min(train.wheels),
            ),
        )
        sheet.add(
            f"setup.train_{place}_error_ppm",
            float(lead_error(train, machine.leadscrew_exact, wanted) * 10**6),
            formula="(Ls i / L - 1) * 1000000",
            inputs={
                "Ls": given(machine.leadscrew, "mm", "machine:leadscrew.pitch"),
                "i": Input(float(train.ratio), "", f"setup.train_{place}", "derived"),
                "L": lead(job, sheet),
            },
            source="definition: of the lead wanted; positive is too coarse",
            basis="computed",
        )
        _record_changes(job, sheet, f"setup.train_{place}_changes", train, f"setup.train_{place}")


def _warn_if_tight(job: Job, sheet: Sheet, found: tuple[Train, ...]) -> None:
    train, arm = found[0], quadrant(job.machine)
    spared = teeth_to_spare(train.pairs)
    if arm is None or spared is None:
        return
    roomy = teeth_to_pass(arm.module, roomy_radius(job.machine))
    if spared >= roomy:
        return
    text = told(
        "Tight at the stud: the tip of a wheel passes {room} from the axis of the shaft beside it. "
        "Try the wheels in place before the work is set up.",
        room=length(job, arm.module * (spared - 2) / 2.0, "down"),
    )
    for other in found[1:]:
        room = teeth_to_spare(other.pairs)
        if other.ratio == train.ratio and (room is None or room >= roomy):
            pattern = "{trouble} {train} cuts the same lead and has more room."
            text = told(pattern, trouble=text, train=f"{other}")
            break
    sheet.warn("setup.tight_train", text)


def _list(wheels: tuple[int, ...]) -> str:
    return ", ".join(map(str, wheels))


def _window(job: Job) -> Iterator[str]:
    low, high = job.machine.centre_min, job.machine.centre_max
    if low is not None and high is not None:
        yield told(
            "{least} to {most} from spindle gear to leadscrew gear",
            least=length(job, low),
            most=length(job, high),
        )
