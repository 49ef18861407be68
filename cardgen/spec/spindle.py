"""What a machine file says of its spindle: speeds, ranges and their torque."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from cardgen.core.words import told
from cardgen.rules.speeds import settings
from cardgen.spec.fit import Answers
from cardgen.spec.job import Assumed
from cardgen.spec.lathe import SpeedRange
from cardgen.spec.outcome import default

_RANGES = "spindle.ranges"
_MOST_SETTINGS = 2000
"""Settings of a variable speed beyond which a step is a slip of the pen."""


def check_speeds(said: Answers) -> None:
    """Note what is wrong with the speeds: there are some, each once, and each range is whole."""
    plain, ranges = said.written("spindle.speeds"), said.written(_RANGES)
    if said.written("spindle") and plain == ranges:
        said.fault(
            "spindle.speeds",
            "speeds and ranges both stand here" if plain else "no speed is given",
            "speeds: [60 rev/min, ...] for a machine with steps, or ranges with steps or with "
            "min and max",
        )
    _once(said, "spindle.speeds")
    for path in _ranges(said):
        _once(said, f"{path}.speeds")
        _check_range(said, path)
    if ranges and not plain and not said.below(_RANGES):
        said.fault(_RANGES, "no range is named", "at least one, such as {low: {...}}")


def _once(said: Answers, path: str) -> None:
    seen: set[Fraction] = set()
    for item in said.items(path):
        speed = said.quantity(item)
        if speed is not None and speed.exact in seen:
            said.fault(item, f"{speed.text} stands twice", "each speed once")
        elif speed is not None:
            seen.add(speed.exact)


def _check_range(said: Answers, path: str) -> None:
    ends = [said.written(f"{path}.{end}") for end in ("min", "max")]
    if said.written(f"{path}.speeds") == any(ends) or any(ends) != all(ends):
        allowed = "speeds, or both min and max"
        said.fault(path, "a range has its steps, or a slowest and a fastest speed", allowed)
        return
    low, high = said.number(f"{path}.min"), said.number(f"{path}.max")
    if low is None or high is None:
        return
    if low >= high:
        found = f"the fastest, {high:g} rev/min, is not above the slowest, {low:g} rev/min"
        said.fault(f"{path}.max", found, "min below max")
    elif (high - low) / _step(said, []) > _MOST_SETTINGS:
        found = f"{high - low:g} rev/min in steps of {_step(said, []):g} are too many settings"
        said.fault("spindle.step", found, f"at most {_MOST_SETTINGS} settings")


def _ranges(said: Answers) -> Iterator[str]:
    return (f"{_RANGES}.{name}" for name in said.below(_RANGES))


def _step(said: Answers, assumed: list[Assumed]) -> float:
    step = said.number("spindle.step")
    if step is None:
        step = default("machine.speed-step", "rotation").value
        text = told("a variable speed set to the next {step} rev/min", step=f"{step:g}")
        assumed.append(Assumed("machine.spindle.step", text))
    return step


def speed_ranges(said: Answers, assumed: list[Assumed]) -> tuple[SpeedRange, ...]:
    """Return the ranges of a sound file; none where it lists plain speeds."""
    return tuple(_range(said, path, assumed) for path in _ranges(said))


def _range(said: Answers, path: str, assumed: list[Assumed]) -> SpeedRange:
    low, high = said.number(f"{path}.min"), said.number(f"{path}.max")
    variable = low is not None and high is not None
    if low is not None and high is not None:
        known: list[Assumed] = []
        speeds = settings(low, high, _step(said, known))
        assumed += [each for each in known if each not in assumed]
    else:
        speeds = plain_speeds(said, f"{path}.speeds")
    return SpeedRange(
        path.removeprefix(f"{_RANGES}."),
        speeds,
        variable,
        said.number(f"{path}.torque"),
        said.number(f"{path}.full-power-from"),
    )


def plain_speeds(said: Answers, path: str) -> tuple[float, ...]:
    """Return the steps of a list of speeds, slowest first [1/min]."""
    return tuple(sorted(said.number(item) or 0.0 for item in said.items(path)))
