"""Every figure of every demo job, worked out again from its own formula and inputs."""

from __future__ import annotations

from pathlib import Path

import pytest

from cardgen.core.figure import Figure
from cardgen.make import work
from tests.ledger import evaluate

SPECS = Path(__file__).parent.parent / "specs"
JOBS = sorted([*(SPECS / "jobs").glob("*.yaml"), *(SPECS / "refused").glob("*.yaml")])


def test_the_evaluator_itself() -> None:
    assert evaluate("d - 0.5 P", {"d": 28, "P": 5}) == 25.5
    # Acme 1-5: 4 deg 3 min (Machinery's Handbook 27th ed. p. 1831)
    lead_angle = evaluate("atan(L / (pi d2))", {"L": 0.2, "d2": 0.9})
    assert lead_angle == pytest.approx(4 + 3 / 60, abs=0.5 / 60)
    assert evaluate("2 (a + b)^2 / 4 - -1", {"a": 1, "b": 2}) == 5.5
    assert evaluate("max(a, 2 b, 3)", {"a": 1, "b": 2}) == 4
    with pytest.raises(KeyError):
        evaluate("d - q", {"d": 1})


def figures() -> list[tuple[str, Figure]]:
    return [(job.stem, figure) for job in JOBS for figure in work(job).sheets.figures.values()]


def test_every_formula_gives_its_value() -> None:
    wrong: list[str] = []
    checked = 0
    for job, figure in figures():
        if isinstance(figure.value, str) or not figure.formula:
            continue
        if figure.formula.startswith("method:"):
            continue
        inputs = {symbol: part.value for symbol, part in figure.inputs.items()}
        try:
            value = evaluate(figure.formula, inputs)  # type: ignore[arg-type]
        except (KeyError, AssertionError, TypeError, ZeroDivisionError, ValueError) as error:
            wrong.append(f"{job} {figure.id}: {figure.formula!r} {inputs}: {error!r}")
            continue
        checked += 1
        if value != pytest.approx(figure.value, rel=1e-6, abs=1e-6):
            wrong.append(f"{job} {figure.id}: {figure.formula!r} gives {value}, not {figure.value}")
    assert not wrong, "\n".join(wrong)
    assert checked > 100


def test_every_figure_has_a_source_and_sane_limits() -> None:
    for job, figure in figures():
        assert figure.source, f"{job} {figure.id}"
        if figure.low is not None and figure.high is not None:
            assert figure.low <= figure.high, f"{job} {figure.id}"


def test_inputs_that_name_figures_name_earlier_ones() -> None:
    for job in JOBS:
        seen: set[str] = set()
        for figure in work(job).sheets.figures.values():
            for symbol, part in figure.inputs.items():
                kind = part.origin.split(":")[0]
                if kind in {"spec", "machine", "material", "table", "constant"}:
                    continue
                assert part.origin in seen, f"{job.stem} {figure.id} {symbol}: {part.origin}"
            seen.add(figure.id)
