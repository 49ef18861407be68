"""A material file to a :class:`~cardgen.spec.job.Material`."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache, lru_cache
from math import fsum
from typing import cast

from cardgen import library
from cardgen.core.figure import Evidence
from cardgen.core.words import told
from cardgen.spec.find import File, shipped
from cardgen.spec.fit import Answers
from cardgen.spec.job import Assumed
from cardgen.spec.keys.material import keys
from cardgen.spec.outcome import Outcome, answers_of, default, unreadable
from cardgen.spec.substance import Cutting, Heat, Material, Sourced
from cardgen.spec.text import UnreadableError

_RANGES = (
    "yield",
    "strength",
    "modulus",
    "density",
    "cutting.kc11",
    "cutting.mc",
    "cutting.speed",
    "cutting.rake",
    "heat.normalise",
    "heat.harden",
    "heat.section-limit",
    "heat.as-quenched",
    "heat.a1",
    "heat.ac3",
    "heat.ms",
)


@lru_cache(maxsize=128)
def material(content: bytes, shown: str, name: str) -> Outcome[Material]:
    """Read a material file.

    Parameters
    ----------
    content
        The file's bytes.
    shown
        What to call it in messages.
    name
        The file's name without ending.
    """
    try:
        said = answers_of(content, shown, keys())
    except UnreadableError as error:
        return unreadable(error)
    given = said.text("material")
    if given is not None and given.lower() != name.lower():
        said.fault("material", f"the file is called {name} and says {given}", f"material: {name}")
    for check in _CHECKS:
        check(said)
    group = _group(said)
    if said.problems:
        return Outcome(None, tuple(said.problems))
    assumed: list[Assumed] = []
    if said.text("group") is None:
        assumed.append(
            Assumed("material.group", told("{name} is treated as {group}", name=name, group=group))
        )
    if said.number("density") is None and not said.written("density"):
        assumed.append(
            Assumed("material.density", told("{name} has the density of steel", name=name))
        )
    return Outcome(_record(said, name, group), (), tuple(assumed))


def also_known(content: bytes, shown: str) -> tuple[str, ...]:
    """Return the other names that a material file lists."""
    try:
        said = answers_of(content, shown, keys())
    except UnreadableError:
        return ()
    return tuple(said.text(path) or "" for path in said.items("also-known"))


def _ranges(said: Answers) -> None:
    """Refuse a range that is upside down, or that its own value is not in."""
    for path in _RANGES:
        if not said.written(path) or said.exact(path) is not None:
            continue
        value, low, high = (said.exact(f"{path}.{word}") for word in ("value", "low", "high"))
        written = [said.written(f"{path}.{word}") for word in ("value", "low", "high")]
        if not said.below(path):
            # A table without keys; anything else that is no value is a fault already.
            if path in said.places and all(problem.key != path for problem in said.problems):
                said.fault(path, "an empty table stands here", "a value, or low and high")
            continue
        if not written[0] and not (written[1] and written[2]):
            said.fault(path, "there is no value and no whole range", "value, or low and high")
        if low is not None and high is not None and low > high:
            said.fault(f"{path}.low", "low is above high", "low below high")
        elif value is not None and (
            (low is not None and value < low) or (high is not None and value > high)
        ):
            said.fault(f"{path}.value", "the value is outside its own range", "low to high")


def _strengths(said: Answers) -> None:
    low = _middle(said, "yield")
    high = _middle(said, "strength")
    # A plastic yields before it breaks, and may break at less than it yielded at.
    if low is not None and high is not None and low > high and said.text("group") != "plastic":
        said.fault(
            "yield",
            f"a yield strength of {low:g} MPa is above the tensile strength of {high:g} MPa",
            "yield up to strength",
        )


def _temper(said: Answers) -> None:
    _rising(said, "heat.temper.rows", " degC")
    _rising(said, "heat.temper.parameter", "")
    given = [said.written(f"heat.temper.{word}") for word in ("rows", "parameter")]
    if said.written("heat.temper") and sum(given) != 1:
        said.fault(
            "heat.temper",
            "the tempering is stated in both ways" if all(given) else "there are no rows",
            "either rows of temperatures or rows of the tempering parameter",
        )
    low, high = said.exact("heat.avoid-temper.low"), said.exact("heat.avoid-temper.high")
    if low is not None and high is not None and low >= high:
        said.fault("heat.avoid-temper.low", "low is not below high", "low below high")


def _rising(said: Answers, rows: str, unit: str) -> None:
    """Refuse rows whose heat does not rise."""
    before: float | None = None
    for path in said.items(rows):
        first = said.number(f"{path}.1")
        if first is None:
            continue
        if before is not None and first <= before:
            said.fault(f"{path}.1", f"{first:g}{unit} does not rise", "rows of rising heat")
        before = first


def _quench(said: Answers) -> None:
    if said.written("heat.harden") and not said.written("heat.quench"):
        said.fault(
            "heat.quench",
            "a hardening heat without a quench",
            "quench: one of water, brine, oil, air",
        )


_CHECKS: tuple[Callable[[Answers], None], ...] = (_ranges, _strengths, _temper, _quench)

_METALS = (("Al", "aluminium"), ("Cu", "bronze"))


def _group(said: Answers) -> str:
    """Return the kind of material: as stated, or as its composition shows."""
    group = said.text("group")
    if group is not None or said.written("group"):
        return group or ""
    share = {
        element: said.number(f"composition.{element}") or 0.0
        for element in said.below("composition")
    }
    for element, kind in _METALS:
        if share.get(element, 0.0) >= 50:
            return "brass" if kind == "bronze" and share.get("Zn", 0) > share.get("Sn", 0) else kind
    carbon = share.get("C")
    if carbon is None and any(p.key.startswith("composition") for p in said.problems):
        return ""
    if carbon is None:
        said.fault(
            "group",
            "neither a group nor a composition with carbon says what this is",
            "group: one of carbon-steel, alloy-steel, tool-steel, bronze, brass ...",
        )
        return ""
    if carbon > 2:
        return "cast-iron"
    if share.get("Cr", 0.0) >= 10.5:
        return "stainless"
    alloyed = fsum(share.get(element, 0.0) for element in ("Cr", "Mo", "Ni", "V", "W"))
    return "alloy-steel" if alloyed > 0.5 else "carbon-steel"


def _middle(said: Answers, path: str) -> float | None:
    direct = said.number(path)
    if direct is not None:
        return direct
    value = said.number(f"{path}.value")
    if value is not None:
        return value
    low, high = said.exact(f"{path}.low"), said.exact(f"{path}.high")
    return None if low is None or high is None else float((low + high) / 2)


def _sourced(said: Answers, path: str) -> Sourced | None:
    value = _middle(said, path)
    if value is None:
        return None
    return Sourced(
        value,
        said.number(f"{path}.low"),
        said.number(f"{path}.high"),
        said.text(f"{path}.source") or said.text("source") or "",
        _evidence(said, path),
    )


def _evidence(said: Answers, path: str) -> Evidence:
    # A file that does not say how well it knows is its owner's practice, no more.
    word = said.text(f"{path}.evidence") or said.text("evidence") or "practice"
    return cast(Evidence, word)


def _known(said: Answers, path: str) -> Sourced:
    sourced = _sourced(said, path)
    if sourced is None:
        msg = f"{path} was let through without a value"
        raise AssertionError(msg)
    return sourced


def _heat(said: Answers) -> Heat | None:
    if not said.written("heat"):
        return None
    low, high = said.number("heat.avoid-temper.low"), said.number("heat.avoid-temper.high")
    time = said.number("heat.temper.time")
    source = said.text("source") or ""
    return Heat(
        normalise=_sourced(said, "heat.normalise"),
        harden=_sourced(said, "heat.harden"),
        quench=said.text("heat.quench") or "",
        quench_source=said.text("heat.quench-source") or source,
        section_limit=_sourced(said, "heat.section-limit"),
        as_quenched=_sourced(said, "heat.as-quenched"),
        temper=_pairs(said, "heat.temper.rows"),
        temper_parameter=_pairs(said, "heat.temper.parameter"),
        temper_time=default("material.temper-time", "time").value if time is None else time,
        temper_source=said.text("heat.temper.source") or source,
        temper_evidence=_evidence(said, "heat.temper"),
        a1=_sourced(said, "heat.a1"),
        ac3=_sourced(said, "heat.ac3"),
        ms=_sourced(said, "heat.ms"),
        embrittlement=None if low is None or high is None else (low, high),
        embrittlement_source=said.text("heat.avoid-temper.source") or source if low else "",
        embrittlement_evidence=_evidence(said, "heat.avoid-temper"),
        double_temper=said.switch("heat.double-temper") or False,
    )


def _pairs(said: Answers, rows: str) -> tuple[tuple[float, float], ...]:
    pairs = [(said.number(f"{path}.1"), said.number(f"{path}.2")) for path in said.items(rows)]
    return tuple((x, h) for x, h in pairs if x is not None and h is not None)


def _record(said: Answers, name: str, group: str) -> Material:
    source = said.text("source") or ""
    density = _sourced(said, "density") or Sourced(
        default("material.density", "density").value, None, None, "common practice", "practice"
    )
    elements = [word for word in said.below("composition") if word not in ("source", "evidence")]
    return Material(
        name=name,
        title=said.text("title") or name,
        group=group,
        yield_=_known(said, "yield"),
        strength=_known(said, "strength"),
        hardness=said.text("hardness") or "",
        modulus=_known(said, "modulus"),
        density=density,
        composition={word: said.number(f"composition.{word}") or 0.0 for word in elements},
        composition_source=said.text("composition.source") or source,
        composition_evidence=_evidence(said, "composition"),
        cutting=Cutting(
            kc11=_known(said, "cutting.kc11"),
            mc=_known(said, "cutting.mc"),
            speed=_known(said, "cutting.speed"),
            rake_deg=_known(said, "cutting.rake"),
        ),
        heat=_heat(said),
        heat_note=said.text("heat-note") or "",
        source=source,
    )


@cache
def _other_names() -> dict[str, str]:
    """Return the other names of the shipped materials, in small letters, to their own."""
    names: dict[str, str] = {}
    for name in library.names("materials", ".yaml"):
        file = shipped("materials", name)
        if file is not None:
            for other in also_known(file.content, file.shown):
                names.setdefault(other.lower(), name)
    return names


def by_other_name(name: str) -> File | None:
    """Return the shipped material that is also known by a name, or ``None``."""
    own = _other_names().get(name.lower())
    return None if own is None else shipped("materials", own)
