"""Whatever a spec says, the program ends in 0, 1 or 3: never a traceback, never half a file."""

from __future__ import annotations

import contextlib
import io
import json
import math
import shutil
import tempfile
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from cardgen.cli import main
from cardgen.spec.keys.job import INFEEDS

ROOT = Path(__file__).parent.parent
MACHINES = sorted(path.name for path in (ROOT / "specs" / "machines").glob("*.yaml"))

FORMS = [
    "square",
    "square\n  variant: modified",
    "acme",
    "acme\n  variant: centralizing",
    "stub-acme",
    "stub-acme\n  variant: modified-1",
    "trapezoidal",
    "metric",
    "unified",
    "whitworth",
    "pipe-parallel",
    "ba",
    "buttress-metric",
    "knuckle",
    "buttress-inch",
    "buttress-inch\n  variant: push",
    "worm",
    "worm\n  variant: module",
    "custom\n  custom: {leading-flank: 5 deg, trailing-flank: 30 deg, depth: 2 mm}",
    "custom\n  custom: {leading-flank: 0 deg, trailing-flank: 45 deg, depth: 1 mm,"
    " crest: 0.7 mm, root-radius: 0.2 mm, clearance: 0.1 mm}",
    "custom\n  custom: {leading-flank: 0 deg, trailing-flank: 0 deg, depth: 1.5 mm}",
]
MATERIALS = ["c45", "42crmo4", "o1", "bronze-pb1", "gjl-250", "s235", "w1", "11smnpb30"]

length = st.one_of(
    st.decimals("0.1", "400", places=2).map(lambda x: f"{x} mm"),
    st.tuples(st.integers(0, 12), st.integers(1, 15)).map(lambda x: f"{x[0]} {x[1]}/16 in"),
)
pitch = st.one_of(
    st.decimals("0.2", "14", places=2).map(lambda x: f"{x} mm"),
    st.integers(1, 40).map(lambda x: f"{x} tpi"),
)
temperature = st.integers(-50, 1300).map(lambda x: f"{x} degC")
heat = st.lists(
    st.one_of(
        st.just("{step: harden}"),
        st.just("{step: normalise}"),
        st.integers(20, 68).map(lambda x: f"{{step: harden, hardness: {x} HRC}}"),
        temperature.map(lambda x: f"{{step: temper, temperature: {x}}}"),
        st.integers(20, 68).map(lambda x: f"{{step: temper, hardness: {x} HRC}}"),
        temperature.map(lambda x: f"{{step: blacken, temperature: {x}}}"),
        temperature.map(lambda x: f"{{step: oil-black, temperature: {x}}}"),
        st.sampled_from(("oil", "water", "brine", "air")).map(
            lambda bath: f"{{step: harden, quench: {bath}}}"
        ),
        st.sampled_from(("oven", "fan-oven", "muffle")).map(
            lambda where: f"{{step: temper, temperature: 250 degC, furnace: {where}}}"
        ),
        st.sampled_from(("{step: cold-blue}", "{step: wax}")),
    ),
    max_size=4,
)


@st.composite
def jobs(draw: st.DrawFn) -> str:
    """A job that is sound in shape; two times in three its sizes go together as well."""

    def maybe(line: str, values: st.SearchStrategy[str]) -> str:
        return line + draw(values) + "\n" if draw(st.booleans()) else ""

    wild = draw(st.integers(0, 2)) == 0
    diameter = draw(st.integers(40, 900)) / 10
    run = draw(st.integers(3, 40)) * diameter / 10
    share = draw(st.integers(4, 40)) / 100
    form = draw(st.sampled_from(FORMS))
    end = draw(st.sampled_from(["groove", "shoulder", "open"]))
    width = draw(length) if wild else f"{max(diameter * share * 2, 3):.2f} mm"
    text = f"cardgen: 1\njob: fuzz\ntitle: Fuzz\nthread:\n  form: {form}\n"
    text += f"  diameter: {draw(length) if wild else f'{diameter} mm'}\n"
    text += f"  pitch: {draw(pitch) if wild else f'{diameter * share:.2f} mm'}\n"
    text += f"  length: {draw(length) if wild else f'{run:.1f} mm'}\n"
    text += maybe("  starts: ", st.sampled_from("11123478" if wild else "11112"))
    text += maybe("  hand: ", st.sampled_from(["left", "right"]))
    nut = draw(st.integers(0, 3)) == 0
    text += "  surface: internal\n" if nut else ""
    text += f"work:\n  material: {draw(st.sampled_from(MATERIALS))}\n"
    # Most nuts are held as a nut must be; the others end at the door.
    tame = nut and draw(st.integers(0, 4)) > 0
    if nut and end != "open":
        text += maybe("  blind: ", length)
    if wild:
        text += maybe("  stock: ", length) + maybe("  stickout: ", length)
    if not tame:
        holdings = ["chuck", "chuck-and-centre", "between-centres"]
        text += maybe("  holding: ", st.sampled_from(holdings))
        text += maybe("  rest: ", st.sampled_from(["none", "steady", "follow"]))
    text += f"  thread-end: {end}\n"
    text += f"  groove: {width}\n" if end == "groove" else ""
    if not nut:
        text += maybe("  cut-towards: ", st.sampled_from(["chuck", "tailstock"]))
    text += f"tool:\n  material: {draw(st.sampled_from(['hss', 'hss-cobalt', 'carbide']))}\n"
    if wild:
        text += maybe("  blank: ", length)
    if not tame:
        text += maybe("  setting: ", st.sampled_from(["level", "tipped"]))
    if nut and wild:
        text += maybe("  bar: ", length) + maybe("  overhang: ", length)
    text += maybe("  infeed: ", st.sampled_from(INFEEDS))
    text += f"machine: {draw(st.sampled_from(MACHINES))}\n"
    steps = draw(heat)
    text += f"heat: [{', '.join(steps)}]\n" if steps and draw(st.booleans()) else ""
    if not tame and draw(st.booleans()):
        text += f"duty: {{load: {draw(st.integers(1, 200))} kN}}\n"
    if draw(st.booleans()):
        text += "mate: {kind: nut, length: 20 mm, material: bronze-pb1}\n"
    if draw(st.booleans()):
        text += f"units: {draw(st.sampled_from(['mm', 'in']))}\n"
    return text


def run(arguments: list[str]) -> tuple[int, str, str]:
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        code = main(arguments)
    return code, out.getvalue(), err.getvalue()


def check_one(text: str) -> None:
    with tempfile.TemporaryDirectory() as folder:
        job = Path(folder) / "fuzz.yaml"
        job.write_text(text)
        for machine in MACHINES:
            shutil.copy(ROOT / "specs" / "machines" / machine, folder)
        code, out, err = run(["figures", str(job), "--json"])
        assert code in {0, 1, 3}, err
        if code == 3:
            return
        told = json.loads(out, parse_constant=lambda word: pytest.fail(f"{word} was printed"))
        numbers = {
            figure["id"]: figure["value"]
            for figure in told["figures"]
            if not isinstance(figure["value"], str)
        }
        assert all(math.isfinite(value) for value in numbers.values())
        assert (code == 1) == any(warning["refuses"] for warning in told["warnings"])
        target = Path(folder) / "out"
        made, _, said = run(["make", str(job), "--out", str(target)])
        assert made == code, said
        written = sorted(path.name for path in target.rglob("*.pdf")) if target.exists() else []
        assert written == (["fuzz.pdf"] if code == 0 else [])


@settings(
    max_examples=120, deadline=None, suppress_health_check=list(HealthCheck), derandomize=True
)
@given(jobs())
def test_generated_jobs_end_well(text: str) -> None:
    check_one(text)


@pytest.mark.slow
@settings(max_examples=5000, deadline=None, suppress_health_check=list(HealthCheck))
@given(jobs())
def test_many_generated_jobs_end_well(text: str) -> None:
    check_one(text)
