"""Whatever stands in the files, the door ends in a job or in problems that a person can read."""

from __future__ import annotations

import time
from pathlib import Path

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from cardgen.core.problems import SpecError
from cardgen.spec.job import Job
from cardgen.spec.load import load
from tests.spec.shop_floor import JOB, LEAST, MACHINE, MATERIAL, SHOP, TEMPLATE, lay_out

FILES = {
    "specs/jobs/press.yaml": JOB,
    "specs/machines/bench-metric.yaml": MACHINE,
    "specs/shop.yaml": SHOP,
    "specs/materials/spring-steel.yaml": MATERIAL,
    "templates/a5-two-column.yaml": TEMPLATE,
}

fuzz = settings(max_examples=120, deadline=None, suppress_health_check=[HealthCheck.too_slow])


@pytest.fixture(scope="module")
def floor(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("floor")


def through_the_door(folder: Path, name: str, content: bytes) -> Job | SpecError:
    path = lay_out(folder, JOB.replace("c45", "spring-steel"))
    (folder / name).write_bytes(content)
    start = time.process_time()
    outcome: Job | SpecError
    try:
        outcome = load(path, home=folder)
    except SpecError as error:
        outcome = error
    assert time.process_time() - start < 2
    if isinstance(outcome, SpecError):
        assert outcome.problems
        assert len(outcome.problems) <= 101
        for problem in outcome.problems:
            text = str(problem)
            assert len(text) < 2000 + 3 * len(str(folder))
            assert all(char.isprintable() or char == "\n" for char in text)
            text.encode("utf-8")
    return outcome


@fuzz
@given(name=st.sampled_from(sorted(FILES)), content=st.binary(max_size=400))
def test_any_bytes(floor: Path, name: str, content: bytes) -> None:
    assert isinstance(through_the_door(floor, name, content), SpecError)


@fuzz
@given(name=st.sampled_from(sorted(FILES)), content=st.text(max_size=300))
@example(name="specs/jobs/press.yaml", content="[" * 60000)
@example(name="specs/jobs/press.yaml", content="a: &a [*a]\n")
@example(name="specs/jobs/press.yaml", content="".join(f"k{n}: 1\n" for n in range(8000)))
@example(name="specs/jobs/press.yaml", content="k: 1\n" * 12000)
@example(name="specs/jobs/press.yaml", content="x" * 65536)
@example(name="specs/jobs/press.yaml", content=f"{JOB}gears: [{'9, ' * 15000}9]\n")
@example(name="specs/machines/bench-metric.yaml", content=f"gears: [{'9, ' * 15000}9]\n")
@example(name="specs/jobs/press.yaml", content=f"{'k' * 3000}: 1\nthread: {{{'f' * 3000}: 2}}\n")
@example(name="specs/jobs/press.yaml", content="thread: {size: '" + "9" * 60000 + "'}\n")
@example(name="specs/jobs/press.yaml", content="thread: {pitch: '" + "1 " * 30000 + "'}\n")
def test_any_text(floor: Path, name: str, content: str) -> None:
    assert isinstance(through_the_door(floor, name, content.encode()), SpecError)


WORDS = st.sampled_from(
    [
        *(
            "",
            " ",
            "\n",
            "\n  ",
            ": ",
            ",",
            "[",
            "]",
            "{",
            "}",
            "'",
            '"',
            "#",
            "- ",
            "&a ",
            "*a",
            "!!",
        ),
        *("0", "-1", "9**9**9", "1e999", "nan", "１", "\u2212", "\u202e", "\x00", "1/0", "28 mm"),
        *("5 tpi", "0 tpi", "Tr 28x5", "M10", "1-5 ACME-2G", "true", "null", "~", "../..", "/etc"),
        *("thread", "heat", "form: acme", "metric", "square", "left", "rack", "harden", "temper"),
        *(" in", " mm", " degF", " HRC", " furlong", " lightyear", " K", "é", "😀", "x" * 80),
    ]
)


@fuzz
@given(data=st.data(), name=st.sampled_from(sorted(FILES)))
def test_good_files_cut_and_pasted(floor: Path, data: st.DataObject, name: str) -> None:
    text = data.draw(st.sampled_from([FILES[name], LEAST])) if "jobs" in name else FILES[name]
    for _ in range(data.draw(st.integers(1, 4))):
        start = data.draw(st.integers(0, len(text)))
        end = start + data.draw(st.integers(0, 12))
        text = text[:start] + data.draw(WORDS) + text[end:]
    through_the_door(floor, name, text.encode())


@fuzz
@given(data=st.data(), name=st.sampled_from(sorted(FILES)))
def test_good_files_with_other_values(floor: Path, data: st.DataObject, name: str) -> None:
    lines = FILES[name].splitlines()
    for _ in range(data.draw(st.integers(1, 4))):
        at = data.draw(st.integers(0, len(lines) - 1))
        key = lines[at].partition(":")[0]
        match data.draw(st.sampled_from(["value", "twice", "away", "swap"])):
            case "value":
                lines[at] = f"{key}: {data.draw(WORDS)}"
            case "twice":
                lines.insert(at, lines[at])
            case "away" if len(lines) > 1:
                del lines[at]
            case _:
                other = data.draw(st.integers(0, len(lines) - 1))
                lines[at], lines[other] = lines[other], lines[at]
    through_the_door(floor, name, "\n".join(lines).encode())
