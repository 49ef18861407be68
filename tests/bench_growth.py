"""How costs grow: against passes, wheels, jobs and pages.

``python -m tests.bench_growth`` prints each cost at several sizes and the power of the size by
which it grows, from a line through the logarithms: 1 is linear; n log n shows as a little more. It
is no test and asserts nothing.
"""

from __future__ import annotations

import os
import tempfile
from collections.abc import Callable, Iterable
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

from cardgen import bindery, make
from cardgen.rules.gears import ranked_trains
from cardgen.rules.methods import Plan, plan
from tests.bench_card import JOB, copies, home_in
from tests.measure import exponent, in_turn, own
from tests.rules.cases import CASE

ROUNDS = 5


def grown(what: str, sizes: Iterable[float], runs: Iterable[Callable[[], object]]) -> None:
    """Print costs of runs of growing size, and the power by which they grow."""
    sizes, runs = list(sizes), list(runs)
    costs = in_turn(ROUNDS, *(_cost(run) for run in runs))
    told = "  ".join(f"{size:g}: {cost * 1e3:.1f}" for size, cost in zip(sizes, costs, strict=True))
    print(f"{what:34} {exponent(sizes, costs):5.2f}   {told} ms")


def _cost(run: Callable[[], object]) -> Callable[[], float]:
    return lambda: own(run)


def passes() -> None:
    """Cut the same groove in more and more passes, and on a finer and finer dial."""
    sizes, runs = [], []
    for chip in (0.12, 0.06, 0.04, 0.03, 0.02):
        case = replace(CASE, chip=chip)
        found = plan(case, "plunge")
        if isinstance(found, Plan) and found.passes:
            sizes.append(found.passes)
            runs.append(lambda case=case: _outcome(plan(case, "plunge")))
    grown("schedule against passes", sizes, runs)
    fine = (1, 2, 4, 8)
    cases = [replace(CASE, lathe=replace(CASE.lathe, step=CASE.lathe.step / n)) for n in fine]
    runs = [lambda case=case: _outcome(plan(case, "plunge")) for case in cases]
    grown("schedule against divisions", [CASE.depth / each.lathe.step for each in cases], runs)


def _outcome(found: object) -> object:
    return found.outcome if isinstance(found, Plan) else None


def wheels() -> None:
    """Find the three best trains of two pairs among more and more wheels.

    The lead is a worm's, one module in pi, which no train cuts exactly. Two pairs of n wheels are
    n^4 trains; their drivers and driven are n^2 products each, which are sorted once: n^2 log n is
    what there is to do, so that the power of the pairs is about 1 at most.
    """
    counts = (8, 12, 16, 24, 32)
    runs = [
        lambda n=n: ranked_trains(
            Fraction(355, 113), Fraction(6), tuple(range(20, 20 + 5 * n, 5)), count=3
        )
        for n in counts
    ]
    grown("trains against wheels", counts, runs)
    grown("trains against pairs of wheels", [n * n for n in counts], runs)


def jobs(home: Path) -> None:
    """Make more and more cards."""
    counts = (2, 4, 8, 16)
    files = [sorted(copies(home, JOB, n).glob("*.yaml")) for n in counts]
    runs = [lambda each=each: [make.draw(make.work(file)) for file in each] for each in files]
    grown("cards against jobs", counts, runs)


def pages(home: Path) -> None:
    """Bind more and more cards that are worked out already."""
    worked = make.work(home / "specs" / "jobs" / f"{JOB}.yaml")
    each = len(make.picture(worked).pages)
    counts = (4, 8, 16, 32)
    runs = [lambda n=n: _bound(worked, n) for n in counts]
    grown("binder against pages", [each * n for n in counts], runs)


def _bound(worked: make.Worked, count: int) -> bytes:
    binder = bindery.begin(bindery.Style())
    for _ in range(count):
        bindery.take(binder, worked)
    return bindery.finish(binder, "00" * 32)


def main() -> None:
    """Print the table."""
    print(f"{'':34} power   size: cost")
    passes()
    wheels()
    with tempfile.TemporaryDirectory() as made:
        home = home_in(Path(made))
        os.chdir(home)
        jobs(home)
        pages(home)


if __name__ == "__main__":
    main()
