"""Jobs put together by hand, for the sheets that do not need a whole workshop."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from functools import cache
from math import atan, degrees, pi
from pathlib import Path

from cardgen.core.figure import Figure, Sheet
from cardgen.sheets import heat, load, safety
from cardgen.spec import job as spec
from cardgen.spec import lathe, substance
from cardgen.spec.material import material as read_material

SHELF = Path(__file__).parents[1] / "cardgen" / "data" / "materials"


def names() -> list[str]:
    return sorted(path.stem for path in SHELF.glob("*.yaml"))


@cache
def material(name: str) -> substance.Material:
    path = SHELF / f"{name}.yaml"
    outcome = read_material(path.read_bytes(), path.name, name)
    assert outcome.record is not None, outcome.problems
    return outcome.record


@cache
def hardenable() -> list[str]:
    found = []
    for name in names():
        steel = material(name).heat
        if steel is not None and steel.temper:
            found.append(name)
    return found


def step(
    word: str,
    temperature: float | None = None,
    time: float | None = None,
    hardness: float | None = None,
) -> spec.HeatStep:
    return spec.HeatStep(word, temperature, time, hardness, None)  # type: ignore[arg-type]


def job(
    screw: str = "c45",
    *,
    nut: str | None = "bronze-pb1",
    nut_length: float | None = 35,
    diameter: float = 28,
    pitch: int = 5,
    starts: int = 1,
    length: float = 120,
    stock: float = 30,
    hand: spec.Hand = "right",
    holding: spec.Holding = "chuck-and-centre",
    heats: tuple[spec.HeatStep, ...] = (),
    duty: spec.Duty | None = None,
) -> spec.Job:
    """A trapezoidal screw; what the sheets under test never read is left at a plain value."""
    dial = lathe.Dial(Fraction(1, 50), Fraction(2), "diameter", False)
    machine = lathe.Machine(
        name="m", title="", file="", leadscrew_exact=Fraction(3), leadscrew_inch=False, gears=(),
        arrangements=("single",), module=None, centre_min=None, centre_max=None, gearbox={},
        speeds=(60.0,), power=550, efficiency=0.75, reverse=True, hand_crank=False,
        cross_slide=dial, compound_slide=dial, compound_swivel=True, thread_dial=None,
        stop="fixed", reaction=0.8, thread_overhang=None,
    )  # fmt: skip
    template = spec.Template(
        name="t", title="", width=148, height=210, margin=6, seal_edge=4, columns=2, order=(),
        body=9, dial=14, head=11, small=7.5, ink="colour",
    )  # fmt: skip
    return spec.Job(
        name="j", title="", note="", date="", file="j.yaml", inch=False,
        thread=spec.Thread(
            "trapezoidal", "external", diameter, Fraction(pitch), starts, hand, "7e", length, False
        ),
        mate=None
        if nut is None
        else spec.Mate("nut", nut_length, material(nut), "7H"),
        work=spec.Work(material(screw), stock, holding, length + 40, "none", "open", None),
        tool=spec.Tool("hss", 10, "level", "auto", ()),
        machine=machine, heat=heats, duty=duty, template=template, show=(), assumed=(),
        places={}, sources=(),
    )  # fmt: skip


def thread(of: spec.Job) -> dict[str, Figure]:
    """The thread's basic figures by ISO 2904, which the sheets under test build on."""
    sheet = Sheet("thread", {})
    d, p, lead = of.thread.diameter, of.thread.pitch, of.thread.lead
    clearance = 0.25 if p <= 5 else 0.5
    d2, d3 = d - p / 2, d - p - 2 * clearance
    basic = {
        "thread.pitch": p,
        "thread.lead": lead,
        "thread.leading_flank": 15.0,
        "thread.trailing_flank": 15.0,
        "thread.major_diameter": d,
        "thread.pitch_diameter": d2,
        "thread.minor_diameter": d3,
        "thread.crest_flat": 0.366 * p,
        "thread.root_flat": 0.366 * p - 0.536 * clearance,
        "thread.lead_angle_pitch": degrees(atan(lead / (pi * d2))),
        "thread.engagement": p / 2,
    }
    for id, value in basic.items():
        sheet.add(id, value, source="ISO 2904:1977", basis="standard")
    return sheet.figures


def worked(of: spec.Job, *, with_thread: bool = True) -> dict[str, Sheet]:
    """The heat, load and safety sheets of a job."""
    known = thread(of) if with_thread else {}
    sheets: dict[str, Sheet] = {}
    for topic, module in (("heat", heat), ("load", load), ("safety", safety)):
        sheet = Sheet(topic, known)
        module.work_out(of, sheet)
        known = known | sheet.figures
        sheets[topic] = sheet
    return sheets


def heated(*heats: spec.HeatStep, screw: str = "c45", stock: float = 30) -> Sheet:
    """The heat sheet of a screw of a steel."""
    return worked(job(screw, heats=heats, stock=stock))["heat"]


def refusals(sheet: Sheet) -> dict[str, str]:
    return {finding.id: finding.text for finding in sheet.findings if finding.refuses}


def warnings(sheet: Sheet) -> dict[str, str]:
    return {finding.id: finding.text for finding in sheet.findings if not finding.refuses}


def in_brass(of: spec.Job) -> spec.Job:
    return replace(of, work=replace(of.work, material=material("cw614n")))
