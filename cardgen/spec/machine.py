"""A machine file to a :class:`~cardgen.spec.job.Machine`."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from functools import lru_cache
from typing import Literal, cast

from cardgen.core.units import Quantity
from cardgen.spec.fit import Answers
from cardgen.spec.job import Assumed
from cardgen.spec.keys.machine import keys
from cardgen.spec.lathe import GIVING, Dial, Machine
from cardgen.spec.outcome import Outcome, answers_of, default, default_number, unreadable
from cardgen.spec.text import UnreadableError

_FINEST, _COARSEST = 2, 1000
_COMPUTED = ("single", "compound")


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


def _centres(said: Answers) -> None:
    low, high = said.exact("train.centre-distance.min"), said.exact("train.centre-distance.max")
    if low is not None and high is not None and low > high:
        said.fault(
            "train.centre-distance.max",
            f"the largest, {float(high):g} mm, is less than the least, {float(low):g} mm",
            "min below max",
        )


def _arrangements(said: Answers) -> None:
    paths = said.items("train.arrangements")
    words = [said.text(path) for path in paths]
    for path, word in zip(paths, words, strict=True):
        if word is not None and words.index(word) != paths.index(path):
            said.fault(path, f"{word} stands twice", "each arrangement once")
    if words and None not in words and not set(words) & set(_COMPUTED):
        said.fault(
            "train.arrangements",
            "only double-compound trains are allowed, and this version does not work them out",
            f"at least one of {', '.join(_COMPUTED)}",
        )


def _speeds(said: Answers) -> None:
    seen: dict[Fraction, str] = {}
    for path in said.items("spindle.speeds"):
        speed = said.quantity(path)
        if speed is None:
            continue
        if speed.exact in seen:
            said.fault(path, f"{speed.text} stands twice", "each speed once")
        seen[speed.exact] = path


def _gearbox(said: Answers) -> None:
    if said.written("gearbox.ratios") and not said.below("gearbox.ratios"):
        said.fault("gearbox.ratios", "no lever is named", "at least one, such as {A: 1, B: 1/2}")


_CHECKS: tuple[Callable[[Answers], None], ...] = (
    _dials,
    _centres,
    _arrangements,
    _speeds,
    _gearbox,
)


def _dial(said: Answers, slide: str, reads: Literal["diameter", "radius"]) -> Dial:
    division = cast(Quantity, said.quantity(f"{slide}.division"))
    per_turn = cast(Quantity, said.quantity(f"{slide}.per-turn"))
    return Dial(division.exact, per_turn.exact, reads, division.inch)


def _record(said: Answers, file: str, assumed: list[Assumed]) -> Machine:
    def assume(key: str, text: str) -> None:
        assumed.append(Assumed(f"machine.{key}", text))

    leadscrew = cast(Quantity, said.quantity("leadscrew.pitch"))
    arrangements = tuple(said.text(path) or "" for path in said.items("train.arrangements"))
    if not arrangements:
        arrangements = _COMPUTED
        assume("train.arrangements", "single and compound trains")
    efficiency = said.number("spindle.efficiency")
    if efficiency is None:
        efficiency = float(default_number("machine.efficiency"))
        assume("spindle.efficiency", f"{efficiency:g} of the motor's power at the spindle")
    reads = cast(Literal["diameter", "radius", None], said.text("cross-slide.reads"))
    if reads is None:
        reads = "diameter"
        assume("cross-slide.reads", "the cross-slide's dial reads diameter")
    reaction = said.number("carriage-stop.reaction")
    if reaction is None:
        reaction = default("machine.reaction", "time").value
        assume("carriage-stop.reaction", f"a reaction time of {reaction:g} s")
    swivel = said.switch("compound-slide.swivel")
    has_compound = said.written("compound-slide")
    if has_compound and swivel is None:
        swivel = True
        assume("compound-slide.swivel", "the compound slide can be set to an angle")
    gear, marks = said.whole("thread-dial.gear"), said.whole("thread-dial.marks")
    name = said.text("machine") or ""
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
        gearbox={
            lever: said.exact(f"gearbox.ratios.{lever}") or Fraction(0)
            for lever in said.below("gearbox.ratios")
        },
        speeds=tuple(sorted(said.number(path) or 0.0 for path in said.items("spindle.speeds"))),
        power=said.number("spindle.power") or 0.0,
        efficiency=efficiency,
        reverse=said.switch("spindle.reverse") or False,
        hand_crank=said.switch("spindle.hand-crank") or False,
        cross_slide=_dial(said, "cross-slide", reads),
        compound_slide=_dial(said, "compound-slide", "radius") if has_compound else None,
        compound_swivel=bool(swivel),
        thread_dial=None if gear is None or marks is None else (gear, marks),
        stop=cast(Literal["none", "fixed", "trip"], said.text("carriage-stop.kind") or "none"),
        reaction=reaction,
        thread_overhang=said.number("limits.thread-overhang"),
        places=said.places,
        coast=said.number("carriage-stop.coast"),
        give={word: moved for word in GIVING if (moved := said.number(f"give.{word}")) is not None},
    )
