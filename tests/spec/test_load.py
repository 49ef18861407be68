"""The door lets a good job through, whole, with its defaults named."""

from fractions import Fraction
from pathlib import Path

from cardgen.spec.load import load
from tests.spec.shop_floor import LEAST, lay_out


def test_the_example_of_the_contract_loads(tmp_path: Path) -> None:
    job = load(lay_out(tmp_path))
    assert job.name == "press-main-screw"
    assert job.thread.pitch_exact == Fraction(5)
    assert job.thread.class_ == "7e"
    assert job.work.material.name == "c45"
    assert job.mate is not None
    assert job.mate.material is not None
    assert job.mate.material.name == "bronze-pb1"
    assert job.work.groove == 8
    assert job.tool.wires == (3.0, 3.5)
    assert [step.step for step in job.heat] == ["harden", "temper", "blacken"]
    assert job.heat[1].temperature == 320
    assert job.heat[1].time == 3600
    assert job.duty is not None
    assert (job.duty.load, job.duty.handle, job.duty.friction) == (8000, 300, 0.12)
    assert job.machine.gearbox == {"A": 1, "B": 2, "C": Fraction(1, 2)}
    assert job.machine.cross_slide.divisions_per_turn == 100
    assert not job.inch
    assert job.assumed == ()


def test_the_least_job_gets_every_default_and_names_it(tmp_path: Path) -> None:
    job = load(lay_out(tmp_path, LEAST))
    assert job.thread.pitch_exact == Fraction(3, 2)
    assert (job.thread.starts, job.thread.hand, job.thread.class_) == (1, "right", "6g")
    assert job.work.stock == 12
    assert job.work.stickout == 50
    assert (job.work.holding, job.work.rest, job.work.thread_end) == (
        "chuck-and-centre",
        "none",
        "open",
    )
    assert {item.key for item in job.assumed} == {
        "thread.surface",
        "thread.pitch",
        "thread.starts",
        "thread.hand",
        "thread.class",
        "work.holding",
        "work.rest",
        "work.thread-end",
        "work.stickout",
        "work.stock",
        "tool.material",
        "tool.blank",
        "tool.setting",
    }
