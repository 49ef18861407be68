"""What a machine file says of the drive from the spindle to the leadscrew: wheels and levers."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from itertools import product

from cardgen.spec.fit import Answers

_RATIOS, _LEVERS = "gearbox.ratios", "gearbox.levers"
_MOST_STEPS = 400
"""Steps of a gearbox beyond which a group of levers is a slip of the pen."""


def check_centres(said: Answers) -> None:
    """Note distances whose largest is below their least."""
    for path in ("train.centre-distance", "train.banjo"):
        low, high = said.exact(f"{path}.min"), said.exact(f"{path}.max")
        if low is not None and high is not None and low > high:
            said.fault(
                f"{path}.max",
                f"the largest, {float(high):g} mm, is less than the least, {float(low):g} mm",
                "min below max",
            )


def check_arrangements(said: Answers) -> None:
    """Note an arrangement that is named twice."""
    paths = said.items("train.arrangements")
    words = [said.text(path) for path in paths]
    for path, word in zip(paths, words, strict=True):
        if word is not None and words.index(word) != paths.index(path):
            said.fault(path, f"{word} stands twice", "each arrangement once")


def check_wheels_now(said: Answers) -> None:
    """Note wheels on the machine that make no train, or are not owned."""
    paths = said.items("train.now")
    now = [said.whole(path) for path in paths]
    if None in now or not now:
        return
    if len(now) % 2:
        said.fault(
            "train.now",
            f"{len(now)} wheels stand here",
            "an even count: driver, driven, from the spindle to the leadscrew; leave idlers out",
        )
        return
    owned = Counter(said.whole(path) for path in said.items("gears"))
    ends = {0: "train.fixed.first", len(now) - 1: "train.fixed.last"}
    used: Counter[int | None] = Counter()
    for place, (path, teeth) in enumerate(zip(paths, now, strict=True)):
        fixed = said.whole(ends[place]) if place in ends else None
        if fixed is not None:
            if teeth != fixed:
                found = f"{teeth} teeth stand where the wheel of {fixed} cannot be taken off"
                said.fault(path, found, str(fixed))
            continue
        used[teeth] += 1
        if used[teeth] > owned[teeth]:
            found = f"a wheel of {teeth} teeth is not owned" + (" twice" if owned[teeth] else "")
            said.fault(path, found, "wheels that stand under gears")


def check_gearbox(said: Answers) -> None:
    """Note a gearbox without a lever, or with more steps than there can be."""
    if not said.written("gearbox"):
        return
    if not said.written(_RATIOS) and not said.written(_LEVERS):
        allowed = "ratios: {A: 1, B: 1/2}, or levers: {letter: {A: 1, B: 1/2}, number: {1: 1}}"
        said.fault("gearbox", "neither ratios nor levers stand here", allowed)
    for path in (_RATIOS, _LEVERS, *(f"{_LEVERS}.{lever}" for lever in said.below(_LEVERS))):
        if said.written(path) and not said.below(path):
            said.fault(path, "no lever is named", "at least one, such as {A: 1, B: 1/2}")
    steps = 1
    for group in _groups(said):
        steps *= max(1, len(group))
    if steps > _MOST_STEPS:
        said.fault(_LEVERS, f"these levers make {steps} steps", f"at most {_MOST_STEPS}")


def _groups(said: Answers) -> list[dict[str, Fraction]]:
    """Return what each lever offers: words to set it by, and the ratio of each."""
    found: list[dict[str, Fraction]] = []
    if said.below(_RATIOS):
        found.append(
            {name: said.exact(f"{_RATIOS}.{name}") or Fraction(0) for name in said.below(_RATIOS)}
        )
    for lever in said.below(_LEVERS):
        path = f"{_LEVERS}.{lever}"
        found.append(
            {
                f"{lever} {name}": said.exact(f"{path}.{name}") or Fraction(0)
                for name in said.below(path)
            }
        )
    return found


def gearbox(said: Answers) -> dict[str, Fraction]:
    """Return every step of the gearbox: how its levers are set, and leadscrew turns per turn."""
    groups = _groups(said)
    if not groups:
        return {}
    steps: dict[str, Fraction] = {}
    for chosen in product(*(group.items() for group in groups)):
        ratio = Fraction(1)
        for _, each in chosen:
            ratio *= each
        steps[", ".join(name for name, _ in chosen)] = ratio
    return steps
