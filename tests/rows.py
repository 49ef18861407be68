"""Rows of published tables kept beside the tests."""

from __future__ import annotations

import csv
from fractions import Fraction
from pathlib import Path

DATA = Path(__file__).parent / "data"


def rows(name: str) -> list[dict[str, str]]:
    return list(csv.DictReader((DATA / f"{name}.csv").read_text("utf-8").splitlines()))


def number(text: str) -> float:
    """A printed number, whole + fraction too: ``1+1/8``."""
    return float(sum(Fraction(part) for part in text.split("+")))
