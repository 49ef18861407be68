"""What something costs: processor time, because a clock on the wall counts the neighbours too."""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import fsum, log
from pathlib import Path

ROOT = Path(__file__).parents[1]
_HINDERING = ("PYTHONDONTWRITEBYTECODE",)
"""Settings that would let every process compile its modules anew."""


@dataclass(frozen=True)
class Spent:
    """What a process took: processor time and time on the wall [s], and its largest memory [kB]."""

    cpu: float
    wall: float
    memory: int


def process(words: Sequence[str], home: Path) -> Spent:
    """Run Python with some words in a folder; what it prints is lost."""
    environment = {name: value for name, value in os.environ.items() if name not in _HINDERING}
    environment["PYTHONPATH"] = f"{home}{os.pathsep}{ROOT}"
    environment["PYTHONPYCACHEPREFIX"] = str(home / ".compiled")
    start = time.perf_counter()
    child = subprocess.Popen(
        [sys.executable, *words],
        cwd=home,
        env=environment,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    _, status, usage = os.wait4(child.pid, 0)
    child.returncode = os.waitstatus_to_exitcode(status)
    if child.returncode:
        msg = f"{' '.join(words)} ended with {child.returncode}"
        raise RuntimeError(msg)
    return Spent(usage.ru_utime + usage.ru_stime, time.perf_counter() - start, usage.ru_maxrss)


def own(run: Callable[[], object]) -> float:
    """Return the processor time of a call in this process [s]."""
    start = time.process_time()
    run()
    return time.process_time() - start


def in_turn(rounds: int, *costs: Callable[[], float]) -> list[float]:
    """Return the median of each cost, measured in turn so that a slow moment falls on all."""
    for cost in costs:
        cost()
    seen = [[cost() for cost in costs] for _ in range(rounds)]
    return [statistics.median(each) for each in zip(*seen, strict=True)]


def exponent(sizes: Sequence[float], costs: Sequence[float]) -> float:
    """Return by which power of the size a cost grows: the slope of a line through the logarithms.

    Examples
    --------
    >>> round(exponent([1, 2, 4], [3, 12, 48]), 6)
    2.0
    """
    across, up = [log(size) for size in sizes], [log(cost) for cost in costs]
    middle, height = fsum(across) / len(across), fsum(up) / len(up)
    pairs = list(zip(across, up, strict=True))
    rise = fsum((x - middle) * (y - height) for x, y in pairs)
    return rise / fsum((x - middle) ** 2 for x in across)
