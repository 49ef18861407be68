"""Where one step undoes another: hardness that a later heat takes, a finish that it spoils."""

from __future__ import annotations

from cardgen.core.figure import Input
from cardgen.core.words import told
from cardgen.sheets._constants import constant, value
from cardgen.sheets._heat_treatment import TABLE, Treatment, Warmth, degrees
from cardgen.spec.job import HeatStep

_VERBS = {
    "blacken": "Blackening",
    "oil-black": "Blackening with oil",
    "wax": "Waxing",
    "stress-relieve": "Stress-relieving",
}
_FINISHES = ("blacken", "oil-black", "cold-blue", "wax")


def undoes(t: Treatment, index: int, step: HeatStep, temperature: float, hold: Input) -> bool:
    """Refuse a heat that takes the hardness from a hard part; return whether it does.

    On a part that was quenched and never tempered every heat is its temper, and must be written
    as one.
    """
    if not t.hardened:
        return False
    ceiling = max((warmth.degrees for warmth in t.warmths), default=None)
    if ceiling is not None and temperature <= ceiling:
        return False
    seconds = float(hold.value)
    verb = _VERBS[step.step]
    before = t.hardness_now
    after = _after(t, temperature, seconds)
    if ceiling is None:
        text = told(
            "{verb} at {temperature} would be the first temper of the hardened part: "
            "{before} becomes {after}. Write a temper step before it, at {temperature} "
            "or hotter if that hardness is wanted.",
            verb=verb,
            temperature=degrees(temperature),
            before=before,
            after=after,
        )
    else:
        text = told(
            "{verb} at {temperature} is hotter than the temper of {ceiling} and undoes "
            "it: {before} becomes {after}. {mend}",
            verb=verb,
            temperature=degrees(temperature),
            ceiling=degrees(ceiling),
            before=before,
            after=after,
            mend=_mend(step, ceiling),
        )
    t.sheet.refuse(f"heat.{step.step.replace('-', '_')}_undoes_temper", text)
    if temperature < _a1(t):
        at = Input(temperature, "degC", f"spec:heat.{index}.temperature", "read")
        t.warmths.append(Warmth(step.step, at, hold))
    else:
        t.hardened = False
    return True


def spoils(t: Treatment, step: HeatStep, temperature: float) -> None:
    """Refuse a heat that spoils a finish which is already on the part."""
    for finish, stands in t.finishes:
        if temperature > stands:
            t.sheet.refuse(
                "heat.finish_spoiled",
                told(
                    "The step {step} at {temperature} spoils the {finish} before it, which "
                    "stands {stands}. Finish the part after its last heat.",
                    step=step.step,
                    temperature=degrees(temperature),
                    finish=finish,
                    stands=degrees(stands),
                ),
            )
            # Said once: what is spoiled is not spoiled again by the heats after this one.
            t.finishes.clear()
            return


def stands(step: HeatStep, temperature: float) -> float:
    """Return the heat up to which a finish stays as it is [degC]."""
    return value(TABLE, "colour-coldest") if step.step == "cold-blue" else temperature


def finish_hold(index: int, step: HeatStep) -> Input:
    """Return how long a part is held when finished: as the job says, else by practice [s]."""
    if step.time is not None:
        return Input(step.time, "s", f"spec:heat.{index}.time", "read")
    rule = constant(TABLE, "blacken-hold" if step.step == "blacken" else "warm-hold")
    return Input(float(rule.value) * 60, "s", rule.origin, rule.evidence)


def _a1(t: Treatment) -> float:
    """Return Ac1 where it is known, else a temperature that no temper reaches [degC]."""
    return t.sheet.number("heat.a1") if "heat.a1" in t.sheet else value(TABLE, "blacken-soft-high")


def _after(t: Treatment, temperature: float, seconds: float) -> str:
    if temperature >= _a1(t):
        return "soft, for it is above the tempering range"
    return t.hardness_words(temperature, seconds)


def _mend(step: HeatStep, ceiling: float) -> str:
    if step.step in _FINISHES:
        return told(
            "Blacken at {ceiling} or below, use a cold chemical black, or leave the part "
            "soft and blacken that.",
            ceiling=degrees(ceiling),
        )
    return told(
        "Stay at {ceiling} or below, or relieve the stress before hardening.",
        ceiling=degrees(ceiling),
    )
