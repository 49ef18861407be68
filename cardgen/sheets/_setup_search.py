"""The search for change wheels on a machine as its file describes it."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from cardgen import library
from cardgen.rules.gears import ranked_trains
from cardgen.rules.meshing import Quadrant
from cardgen.rules.train import PAIRS, Fixed, Train, lead_error
from cardgen.sheets._setup_words import practised
from cardgen.spec.lathe import Machine

SHOWN = 3
"""Trains that a card shows: the best, and two to fall back on."""


def quadrant(machine: Machine) -> Quadrant | None:
    """Return what can be put together; ``None`` where the wheels' module is not known."""
    if machine.module is None:
        return None
    return Quadrant(
        machine.module,
        machine.stud_radius or practised("stud-radius"),
        machine.centre_min,
        machine.centre_max,
        machine.stud_min,
        machine.stud_max,
    )


def roomy_radius(machine: Machine) -> float:
    """Radius about an axle that a comfortable train leaves free [mm]."""
    more = practised("roomy-radius") - practised("stud-radius")
    return more + (machine.stud_radius or practised("stud-radius"))


def fixed(machine: Machine) -> Fixed:
    """Return what stays on the machine."""
    return Fixed(machine.fixed_first, machine.fixed_last, machine.fixed_ratio)


def trains(
    machine: Machine, lead: Fraction, *, count: int = SHOWN, bought: tuple[int, ...] = ()
) -> tuple[Train, ...]:
    """Return the best trains for a lead [mm], the best first.

    Parameters
    ----------
    count
        How many.
    bought
        Wheels that are not owned, but might be.
    """
    return ranked_trains(
        lead,
        machine.leadscrew_exact,
        machine.gears + bought,
        count=count,
        arrangements=tuple(word for word in PAIRS if word in machine.arrangements),
        levers=machine.gearbox or None,
        fixed=fixed(machine),
        now=machine.wheels_now,
        quadrant=quadrant(machine),
        roomy_radius=roomy_radius(machine),
    )


def conversions(
    machine: Machine, lead: Fraction, error: Fraction
) -> Iterator[tuple[tuple[int, ...], Fraction]]:
    """Yield wheels that are not owned and would cut a lead better, and the error with them.

    Parameters
    ----------
    error
        Of the wheels owned, as a part of the lead.
    """
    for row in library.table("setup/conversion_wheels"):
        teeth = (int(each) for each in row["teeth"].split())
        missing = tuple(each for each in teeth if each not in machine.gears)
        if not missing:
            continue
        found = trains(machine, lead, count=1, bought=missing)
        least = lead_error(found[0], machine.leadscrew_exact, lead) if found else error
        if abs(least) < abs(error):
            yield missing, least
