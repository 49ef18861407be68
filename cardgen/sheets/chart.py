"""Every standard pitch on one machine: the wheels, the error and the marks of the thread dial."""

from __future__ import annotations

from fractions import Fraction
from typing import Literal

from cardgen import library
from cardgen.core.chart import Chart, Line
from cardgen.core.words import joined
from cardgen.rules.thread_dial import closes_anywhere, usable_marks
from cardgen.rules.train import Train, lead_error
from cardgen.sheets._setup_search import trains
from cardgen.sheets._setup_words import practised
from cardgen.spec.lathe import Machine

INCH = Fraction(127, 5)


def work_out(machine: Machine) -> Chart:
    """Return the chart of a machine."""
    tables = library.table("setup/chart_pitches")
    return Chart(
        [_line(machine, pitch, pitch) for pitch in _listed("mm", rising=False)],
        [_line(machine, count, INCH / count) for count in _listed("inch", rising=True)],
        machine.leadscrew_inch,
        tuple(dict.fromkeys(row["source"].partition(",")[0] for row in tables)),
    )


def _listed(per: str, *, rising: bool) -> list[Fraction]:
    """Return the pitches [mm] or the threads per inch of the standards, each once, in order."""
    found = {
        Fraction(size[row["column"]])
        for row in library.table("setup/chart_pitches")
        if row["per"] == per
        for size in library.table(row["table"])
    }
    return sorted(found, reverse=not rising)


def _line(machine: Machine, written: Fraction, pitch: Fraction) -> Line:
    text = f"{float(written):g}"
    found = trains(machine, pitch, count=1)
    error = lead_error(found[0], machine.leadscrew_exact, pitch) if found else Fraction(1)
    if abs(error) > practised("chart-near"):
        return Line(text, "", "", None, "too-much", "")
    train = found[0]
    return Line(
        text,
        str(train),
        train.lever,
        float(error * 10**6),
        _drift(float(abs(error))),
        _marks(machine, train),
    )


def _drift(error: float) -> Literal["none", "some", "too-much"]:
    part = error * practised("chart-nut")
    if part > practised("drift-refused"):
        return "too-much"
    return "some" if part > practised("drift-warned") else "none"


def _marks(machine: Machine, train: Train) -> str:
    screw = machine.leadscrew_exact
    cut = screw * train.ratio
    if closes_anywhere(screw, cut):
        return "any"
    if machine.thread_dial is None:
        return "closed"
    own, marks = machine.thread_dial
    found = {gear: usable_marks(screw, cut, gear, marks) for gear in (own, *machine.dial_gears)}
    gear = max(found, key=lambda each: len(found[each]))
    if not found[gear]:
        return "closed"
    serving = "any" if len(found[gear]) == marks else ", ".join(map(str, found[gear]))
    return joined([serving, f"({gear})"]) if machine.dial_gears else serving
