"""A checked job file, with all that it refers to, put together as frozen records."""

from __future__ import annotations

from fractions import Fraction
from math import ceil
from typing import Literal, cast

from cardgen import library
from cardgen.core.unit_table import INCH
from cardgen.core.units import read
from cardgen.core.words import told
from cardgen.spec.fit import Answers
from cardgen.spec.form import mate_class
from cardgen.spec.job import (
    Assumed,
    Axis,
    Duty,
    Ends,
    HeatStep,
    HeatWord,
    Holding,
    Infeed,
    Mate,
    Rest,
    Thread,
    ThreadEnd,
    Tool,
    Way,
    Work,
)
from cardgen.spec.outcome import default, default_number
from cardgen.spec.substance import Material

_HOLDING_WORDS = "held in the chuck, on the centre at the tailstock"


def work(said: Answers, thread: Thread, material: Material, assumed: list[Assumed]) -> Work | None:
    """Return how the bar is held, defaults filled in; ``None`` if no bar is thick enough."""
    internal = thread.surface == "internal"
    holding = said.text("work.holding")
    if holding is None:
        holding = "chuck" if internal else "chuck-and-centre"
        words = "held in the chuck" if internal else _HOLDING_WORDS
        assumed.append(Assumed("work.holding", words))
    rest = said.text("work.rest")
    if rest is None:
        rest = "none"
        if not internal:
            assumed.append(Assumed("work.rest", "no rest"))
    blind = said.number("work.blind")
    end = said.text("work.thread-end")
    if end is None:
        end = "open" if blind is None else "shoulder"
        words = "an open thread end" if blind is None else "no groove at the blind hole's bottom"
        assumed.append(Assumed("work.thread-end", words))
    groove = said.number("work.groove")
    diameter = said.quantity("thread.diameter")
    series = "inch" if (thread.inch if diameter is None else diameter.inch) else "metric"
    stickout = said.number("work.stickout")
    if stickout is None:
        stickout = _stickout(said, series, assumed)
    stock = _stock(said, thread, series, assumed)
    if stock is None:
        return None
    return Work(
        material=material,
        stock=stock,
        holding=cast(Holding, holding),
        stickout=stickout,
        rest=cast(Rest, rest),
        thread_end=cast(ThreadEnd, end),
        groove=groove,
        blind=blind,
        cut_towards=cast(Literal["chuck", "tailstock", None], said.text("work.cut-towards")),
    )


def _stickout(said: Answers, series: str, assumed: list[Assumed]) -> float:
    """Return a stick-out with room for the tool and its run-out, in steps that a rule shows."""
    step = default(f"work.stickout.step.{series}", "length").exact
    room = default(f"work.stickout.allowance.{series}", "length").exact
    # From the exact lengths: a float's last digit would add a whole step.
    thread, groove = said.exact("thread.length") or 0, said.exact("work.groove") or 0
    if said.text("thread.surface") == "internal":
        # A nut needs no room beside it, and the jaws grip the half of it.
        thread = Fraction(max(thread + groove, said.exact("work.blind") or 0)) / 2
        groove, room = 0, Fraction(0)
    stickout = ceil((thread + groove + room) / step) * step
    text = f"{float(stickout / INCH):g} in" if series == "inch" else f"{float(stickout):g} mm"
    assumed.append(Assumed("work.stickout", told("a stick-out of {length}", length=text)))
    return float(stickout)


def _stock(said: Answers, thread: Thread, series: str, assumed: list[Assumed]) -> float | None:
    given = said.number("work.stock")
    if given is not None:
        return given
    sizes = [row["size"] for row in library.table("stock/round_bar") if row["series"] == series]
    internal = thread.surface == "internal"
    least, pattern = thread.diameter, "stock of {size}, the next size over the blank"
    if internal:
        wall, excess = default_number("work.stock.nut"), default_number("work.stock.nut-excess")
        least = max(float(wall) * thread.diameter, thread.diameter + float(excess))
        pattern = "stock of {size}, the next size over {least}, which leaves the nut a wall"
    for text in sizes:
        size = read(text, "length")
        if size.value > least + 1e-9:
            stock = told(pattern, size=text, least=f"{least:.4g} mm")
            assumed.append(Assumed("work.stock", stock))
            return size.value
    said.fault(
        "work.stock",
        f"no bar is given, and the list of sizes ends at {sizes[-1]}",
        f"stock: more than {least:g} mm",
    )
    return None


def tool(
    said: Answers,
    thread: Thread,
    wires: tuple[float, ...],
    inch: bool,
    assumed: list[Assumed],
) -> Tool:
    """Return the cutter, defaults filled in.

    Parameters
    ----------
    said
        The job file.
    thread
        A nut's bit goes by its bore.
    wires
        Of the shop, if the job names none [mm].
    inch
        Whether an inch blank is the likelier one.
    assumed
        Defaults are added here.
    """
    material = said.text("tool.material")
    if material is None:
        material = "hss"
        assumed.append(Assumed("tool.material", "a high-speed-steel tool"))
    blank = said.number("tool.blank")
    if blank is None and thread.surface == "internal":
        blank, text = _bit(thread, inch)
        assumed.append(Assumed("tool.blank", told("a {size} bit in the boring bar", size=text)))
    elif blank is None:
        usual = default(f"tool.blank.{'inch' if inch else 'metric'}", "length")
        blank = usual.value
        assumed.append(Assumed("tool.blank", told("a {size} tool blank", size=usual.text)))
    setting = said.text("tool.setting")
    if setting is None:
        setting = "level"
        assumed.append(Assumed("tool.setting", "the tool set level"))
    infeed = said.text("tool.infeed") or "auto"
    own = tuple(said.number(path) or 0.0 for path in said.items("tool.wires"))
    return Tool(
        material=cast(Literal["hss", "hss-cobalt", "carbide"], material),
        blank=blank,
        setting=cast(Literal["level", "tipped"], setting),
        infeed=cast(Infeed, infeed),
        # What the shop owns for screws are wires, and a nut is measured by balls.
        wires=tuple(sorted(set(own or (() if thread.surface == "internal" else wires)))),
        bar=said.number("tool.bar"),
        overhang=said.number("tool.overhang"),
    )


def _bit(thread: Thread, inch: bool) -> tuple[float, str]:
    """Return the bit that usually goes into a bore of this size, and how it is written."""
    most = float(default_number("tool.blank.nut")) * (thread.diameter - thread.pitch)
    system = "in" if inch else "mm"
    rows = [row for row in library.table("tool/bits") if row["system"] == system]
    fitting = [row for row in rows if float(row["side_mm"]) <= most] or rows[:1]
    return float(fitting[-1]["side_mm"]), fitting[-1]["written"]


def mate(said: Answers, material: Material | None, assumed: list[Assumed]) -> Mate | None:
    """Return the part that runs on the thread, if there is one."""
    if not said.written("mate"):
        return None
    if not said.written("mate.kind"):
        internal = said.text("thread.surface") == "internal"
        words = "a screw as the mate" if internal else "a nut as the mate"
        assumed.append(Assumed("mate.kind", words))
    rack = said.text("mate.kind") == "rack"
    axis = said.text("mate.axis")
    if rack and axis is None:
        assumed.append(Assumed("mate.axis", "the screw's axis parallel to the rack's travel"))
    if rack and not said.written("mate.width"):
        assumed.append(Assumed("mate.width", "a rack as wide as the screw reaches"))
    return Mate(
        kind="rack" if rack else "nut",
        length=said.number("mate.length"),
        material=material,
        class_=mate_class(said),
        teeth=said.whole("mate.teeth"),
        width=said.number("mate.width"),
        axis=cast(Axis, axis or "parallel"),
    )


def heat(said: Answers) -> tuple[HeatStep, ...]:
    """Return the steps of the heat treatment."""
    return tuple(
        HeatStep(
            step=cast(HeatWord, said.text(f"{path}.step")),
            temperature=said.number(f"{path}.temperature"),
            time=said.number(f"{path}.time"),
            hardness=said.number(f"{path}.hardness"),
            place=said.places.get(path),
            furnace=said.text(f"{path}.furnace") or "",
            quench=said.text(f"{path}.quench") or "",
        )
        for path in said.items("heat")
    )


def duty(said: Answers) -> Duty | None:
    """Return what the screw must do, if the job says so."""
    load = said.number("duty.load")
    if load is None:
        return None
    return Duty(
        load,
        said.number("duty.handle"),
        said.number("duty.friction"),
        said.number("duty.collar"),
        said.number("duty.collar-friction"),
        cast("Way", said.text("duty.way") or "push"),
        cast("Ends", said.text("duty.ends") or "pinned"),
        said.number("duty.free-length"),
        said.number("duty.turns"),
    )
