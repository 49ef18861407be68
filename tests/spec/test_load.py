"""The door lets a good job through, whole, with its defaults named."""

import subprocess
import sys
import time
from fractions import Fraction
from pathlib import Path

import pytest

from cardgen.spec.load import load
from tests.spec.shop_floor import JOB, LEAST, lay_out


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


def test_a_stickout_that_just_reaches_is_let_through(tmp_path: Path) -> None:
    text = JOB.replace("stickout: 160 mm", "stickout: 128 mm")
    assert load(lay_out(tmp_path, text)).work.stickout == 128


def test_stock_of_the_very_diameter_is_let_through(tmp_path: Path) -> None:
    assert load(lay_out(tmp_path, JOB.replace("stock: 30 mm", "stock: 28 mm"))).work.stock == 28


@pytest.mark.parametrize(
    ("thread", "pitch", "inch"),
    [
        ("{form: trapezoidal, diameter: 28 mm, length: 9 mm}", Fraction(5), False),
        ("{form: trapezoidal, size: Tr 20, length: 9 mm}", Fraction(4), False),
        ("{form: metric, size: M12, length: 9 mm}", Fraction(7, 4), False),
        ("{form: acme, diameter: 1 in, length: 9 mm}", Fraction(127, 25), True),
        ("{form: acme, diameter: 3/4 in, length: 9 mm}", Fraction(254, 60), True),
        ("{form: square, diameter: 1 in, pitch: 4 tpi, length: 9 mm}", Fraction(127, 20), True),
    ],
)
def test_a_pitch_is_exact_and_defaults_to_the_standards(
    tmp_path: Path, thread: str, pitch: Fraction, inch: bool
) -> None:
    line = LEAST.splitlines()[2]
    job = load(lay_out(tmp_path, LEAST.replace(line, f"thread: {thread}")))
    assert job.thread.pitch_exact == pitch
    assert job.thread.inch is inch


def test_an_inch_job_is_given_inch_defaults(tmp_path: Path) -> None:
    line = LEAST.splitlines()[2]
    text = LEAST.replace(line, "thread: {form: acme, diameter: 1 in, length: 3 in}")
    job = load(lay_out(tmp_path, text))
    assert job.work.stock == pytest.approx(28.575)
    assert job.work.stickout == pytest.approx(101.6)
    assert "a stick-out of 4 in" in {item.text for item in job.assumed}


def test_a_good_job_needs_no_heavy_library_and_little_time(tmp_path: Path) -> None:
    path = lay_out(tmp_path)
    code = (
        "import sys; from cardgen.spec.load import load; load(sys.argv[1]); "
        "print([m for m in ('jsonschema', 'pint', 'numpy') if m in sys.modules])"
    )
    done = subprocess.run(
        [sys.executable, "-c", code, str(path)], capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "[]"
    load(path)
    start = time.process_time()
    for _ in range(20):
        load(path)
    assert (time.process_time() - start) / 20 < 0.02
