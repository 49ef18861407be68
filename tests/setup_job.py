"""A job built by hand for the tests of the set-up, without the spec door or the other sheets."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from cardgen.core.figure import Sheet
from cardgen.sheets import starts
from cardgen.sheets.setup import work_out
from cardgen.spec.job import Hand, Job, Mate, Template, Thread, ThreadEnd, Tool, Work
from cardgen.spec.lathe import Dial, Machine
from cardgen.spec.substance import Cutting, Material, Sourced


def sourced(value: float) -> Sourced:
    return Sourced(value, None, None, "test", "read")


STEEL = Material(
    name="c45",
    title="C45",
    group="carbon-steel",
    yield_=sourced(305.0),
    strength=sourced(580.0),
    hardness="",
    modulus=sourced(205000.0),
    density=sourced(7850.0),
    composition={},
    composition_source="test",
    cutting=Cutting(sourced(1500.0), sourced(0.22), sourced(9.0), sourced(5.0)),
    heat=None,
    heat_note="",
    source="test",
)
SLIDE = Dial(Fraction(1, 50), Fraction(2), "diameter", False)
MACHINE = Machine(
    name="bench",
    title="Bench lathe",
    file="bench.yaml",
    leadscrew_exact=Fraction(3),
    leadscrew_inch=False,
    gears=(20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 75, 80, 120, 127),
    arrangements=("single", "compound"),
    module=1.0,
    centre_min=60.0,
    centre_max=160.0,
    gearbox={},
    speeds=(60.0, 110.0, 200.0, 350.0, 700.0),
    power=550.0,
    efficiency=0.75,
    reverse=True,
    hand_crank=False,
    cross_slide=SLIDE,
    compound_slide=replace(SLIDE, reads="radius"),
    compound_swivel=True,
    thread_dial=(16, 8),
    stop="none",
    reaction=0.8,
    thread_overhang=None,
)
JOB = Job(
    name="screw",
    title="Screw",
    note="",
    date="",
    file="screw.yaml",
    inch=False,
    thread=Thread("trapezoidal", "external", 28.0, Fraction(5), 1, "right", "7e", 120.0, False),
    mate=Mate("nut", 35.0, None, ""),
    work=Work(STEEL, 30.0, "chuck-and-centre", 160.0, "none", "groove", 10.0),
    tool=Tool("hss", 10.0, "level", "auto", ()),
    machine=MACHINE,
    heat=(),
    duty=None,
    template=Template("t", "T", 148, 210, 5, 3, 2, ("setup",), 9, 14, 11, 8, "colour"),
    show=("setup",),
    assumed=(),
    places={},
    sources=(),
)


def changed(
    *,
    pitch: Fraction = Fraction(5),
    starts: int = 1,
    hand: Hand = "right",
    end: ThreadEnd = "groove",
    groove: float | None = 10.0,
    **machine: object,
) -> Job:
    return replace(
        JOB,
        thread=replace(JOB.thread, pitch_exact=pitch, starts=starts, hand=hand),
        work=replace(JOB.work, thread_end=end, groove=groove if end == "groove" else None),
        machine=replace(MACHINE, **machine),  # type: ignore[arg-type]
    )


def setup(job: Job) -> Sheet:
    """Work out the sheet after a thread sheet that knows only pitch, lead and crest."""
    thread = Sheet("thread", {})
    pitch = job.thread.pitch
    for id, value in (
        ("thread.pitch", pitch),
        ("thread.lead", job.thread.lead),
        ("thread.length", job.thread.length),
        ("thread.crest_flat", 0.366 * pitch),
        ("thread.major_diameter", 28.0),
    ):
        thread.add(id, value, source="test", basis="computed")
    sheet = Sheet("setup", thread.figures)
    work_out(job, sheet)
    starts.work_out(job, sheet)
    return sheet
