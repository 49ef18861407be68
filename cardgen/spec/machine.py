"""A machine file to a :class:`~cardgen.spec.job.Machine`."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from functools import lru_cache
from typing import Literal, cast

from cardgen.core.units import Quantity
from cardgen.core.words import told
from cardgen.spec.drive import (
    check_arrangements,
    check_centres,
    check_gearbox,
    check_wheels_now,
    gearbox,
)
from cardgen.spec.fit import Answers
from cardgen.spec.job import Assumed
from cardgen.spec.keys.machine import keys
from cardgen.spec.lathe import GIVING, Dial, Machine
from cardgen.spec.outcome import Outcome, answers_of, default, default_number, unreadable
from cardgen.spec.spindle import check_speeds, plain_speeds, speed_ranges
from cardgen.spec.text import UnreadableError

_FINEST, _COARSEST = 2, 1000
_USUAL = ("single", "compound")


@lru_cache(maxsize=32)
def machine(content: bytes, shown: str, name: str) -> Outcome[Machine]:
    """Read a machine file.

    Parameters
    ----------
    content
        The file's bytes.
    shown
        What to call it in messages.
    name
        What to call it in the record.
    """
    try:
        said = answers_of(content, shown, keys())
    except UnreadableError as error:
        return unreadable(error)
    for check in _CHECKS:
        check(said)
    if said.problems:
        return Outcome(None, tuple(said.problems))
    assumed: list[Assumed] = []
    return Outcome(_record(said, name, assumed), (), tuple(assumed))


def _dials(said: Answers) -> None:
    for slide in ("cross-slide", "compound-slide"):
        division = said.exact(f"{slide}.division")
        per_turn = said.exact(f"{slide}.per-turn")
        if division is None or per_turn is None:
            continue
        count = per_turn / division
        if count.denominator != 1 or not _FINEST <= count <= _COARSEST:
            said.fault(
                f"{slide}.per-turn",
                f"one turn is {float(count):.6g} divisions",
                f"a whole number of divisions in a turn, {_FINEST} to {_COARSEST}",
                "read both off the dial: what one line is worth, and what the dial shows "
                "after a full turn",
            )


_CHECKS: tuple[Callable[[Answers], None], ...] = (
    _dials,
    check_centres,
    check_arrangements,
    check_wheels_now,
    check_gearbox,
    check_speeds,
)


def _dial(said: Answers, slide: str, reads: Literal["diameter", "radius"]) -> Dial:
    division = cast(Quantity, said.quantity(f"{slide}.division"))
    per_turn = cast(Quantity, said.quantity(f"{slide}.per-turn"))
    return Dial(
        division.exact,
        per_turn.exact,
        reads,
        division.inch,
        said.number(f"{slide}.backlash"),
        said.number(f"{slide}.travel") if slide == "compound-slide" else None,
    )


def _record(said: Answers, file: str, assumed: list[Assumed]) -> Machine:
    def assume(key: str, text: str) -> None:
        assumed.append(Assumed(f"machine.{key}", text))

    leadscrew = cast(Quantity, said.quantity("leadscrew.pitch"))
    arrangements = tuple(said.text(path) or "" for path in said.items("train.arrangements"))
    if not arrangements:
        arrangements = _USUAL
        assume("train.arrangements", "single and compound trains")
    if not said.written("train.module"):
        assume("train.module", "that every train of these wheels goes together")
    power = said.number("spindle.power")
    if power is None:
        usual = default("machine.power", "power")
        power = usual.value
        assume("spindle.power", told("a motor of {power}", power=usual.text))
    efficiency = said.number("spindle.efficiency")
    if efficiency is None:
        efficiency = float(default_number("machine.efficiency"))
        assume(
            "spindle.efficiency",
            told("{part} of the motor's power at the spindle", part=f"{efficiency:g}"),
        )
    reads = cast(Literal["diameter", "radius", None], said.text("cross-slide.reads"))
    if reads is None:
        # Wrongly taken for the radius, a dial that reads diameter leaves the thread too shallow;
        # the other way round it would be cut twice too deep.
        reads = "radius"
        assume("cross-slide.reads", "the cross-slide's dial reads slide travel, not diameter")
    reaction = said.number("carriage-stop.reaction")
    if reaction is None:
        reaction = default("machine.reaction", "time").value
        assume("carriage-stop.reaction", told("a reaction time of {time}", time=f"{reaction:g} s"))
    reverse = said.switch("spindle.reverse")
    if reverse is None:
        reverse = False
        assume("spindle.reverse", "a spindle that runs forwards only")
    stop = said.text("carriage-stop.kind")
    if stop is None:
        stop = "none"
        assume("carriage-stop.kind", "no stop for the carriage")
    swivel = said.switch("compound-slide.swivel")
    has_compound = said.written("compound-slide")
    if has_compound and swivel is None:
        swivel = True
        assume("compound-slide.swivel", "the compound slide can be set to an angle")
    gear, marks = said.whole("thread-dial.gear"), said.whole("thread-dial.marks")
    name = said.text("machine") or ""
    ranges = speed_ranges(said, assumed)
    speeds = plain_speeds(said, "spindle.speeds")
    stud_nut = said.number("train.stud-nut")
    return Machine(
        name=name,
        title=said.text("title") or name,
        file=file,
        leadscrew_exact=leadscrew.exact,
        leadscrew_inch=leadscrew.inch,
        gears=tuple(said.whole(path) or 0 for path in said.items("gears")),
        arrangements=arrangements,
        module=said.number("train.module"),
        centre_min=said.number("train.centre-distance.min"),
        centre_max=said.number("train.centre-distance.max"),
        gearbox=gearbox(said),
        speeds=speeds or tuple(sorted({speed for each in ranges for speed in each.speeds})),
        power=power,
        efficiency=efficiency,
        reverse=reverse,
        hand_crank=said.switch("spindle.hand-crank") or False,
        cross_slide=_dial(said, "cross-slide", reads),
        compound_slide=_dial(said, "compound-slide", "radius") if has_compound else None,
        compound_swivel=bool(swivel),
        thread_dial=None if gear is None or marks is None else (gear, marks),
        stop=cast(Literal["none", "fixed", "trip"], stop),
        reaction=reaction,
        thread_overhang=said.number("limits.thread-overhang"),
        places=said.places,
        coast=said.number("carriage-stop.coast"),
        chuck_locked=said.switch("spindle.chuck-locked"),
        give={word: moved for word in GIVING if (moved := said.number(f"give.{word}")) is not None},
        stud_min=said.number("train.banjo.min"),
        stud_max=said.number("train.banjo.max"),
        stud_radius=None if stud_nut is None else stud_nut / 2,
        fixed_first=said.whole("train.fixed.first"),
        fixed_last=said.whole("train.fixed.last"),
        fixed_ratio=said.exact("train.fixed.ratio") or Fraction(1),
        wheels_now=tuple(said.whole(path) or 0 for path in said.items("train.now")),
        dial_gears=tuple(said.whole(path) or 0 for path in said.items("thread-dial.other-gears")),
        ranges=ranges,
        tumbler=said.switch("train.tumbler") or False,
        driver_slots=said.whole("spindle.driver-slots"),
    )
