"""The panels of thread, measuring and nut, for threads from the finest to the coarsest."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

import pytest

from cardgen.card.pen import Text
from cardgen.card.place import lay_out
from cardgen.core.figure import Sheets
from cardgen.pdf.fonts import metrics
from cardgen.spec.job import Thread
from tests.card.synthetic import Shape as Plain
from tests.sheets.test_thread_sheets import INCH, job_of, worked


@dataclass(frozen=True)
class Shape(Plain):
    width: float
    height: float
    margin: float = 5.0
    columns: int = 1
    order: tuple[str, ...] = ("thread", "measure", "mate")
    head: float = 12.0
    small: float = 7.0
    ink: Literal["colour", "mono"] = "mono"


THREADS = [
    ("metric", 1.0, Fraction(1, 5), 1, "right", "6g", False),
    ("metric", 10.0, Fraction(3, 2), 1, "left", "6g", False),
    ("metric", 300.0, Fraction(8), 1, "right", "8g", False),
    ("trapezoidal", 8.0, Fraction(3, 2), 1, "right", "7e", False),
    ("trapezoidal", 32.0, Fraction(6), 2, "left", "8e", False),
    ("trapezoidal", 160.0, Fraction(28), 1, "right", "9c", False),
    ("acme", 6.35, INCH / 16, 1, "right", "2G", True),
    ("acme", 127.0, INCH / 2, 3, "left", "4G", True),
    ("square", 12.7, INCH / 10, 1, "right", "", True),
    ("square", 101.6, INCH * 2 / 3, 1, "left", "", True),
]


@pytest.mark.parametrize("width", [70.0, 105.0])
@pytest.mark.parametrize("asked", THREADS, ids=lambda asked: f"{asked[0]}-{asked[1]:g}")
def test_panels_are_whole_and_print_the_limits(asked: tuple[object, ...], width: float) -> None:
    """Laying out proves every card: an overlap or a text outside its box raises."""
    form, diameter, pitch, starts, hand, cls, inch = asked
    job = job_of(
        Thread(form, "external", diameter, pitch, starts, hand, cls, 60.0, inch)  # type: ignore[arg-type]
    )
    sheets = Sheets(tuple(worked(job).values()))
    picture = lay_out(sheets, {"job": "x", "title": "x"}, Shape(width, 250.0), metrics(), inch=inch)  # type: ignore[arg-type]
    words = " ".join(
        mark.text for page in picture.pages for mark in page.marks if isinstance(mark, Text)
    )
    root = sheets.figures["thread.minor_diameter"]
    assert root.low is not None
    written = f"{root.low / 25.4:.4f}" if inch else f"{root.low:.3f}"
    assert written in words
    assert ("w" in words.split()) == ("measure.over_wires" in sheets.figures)
