"""What lead the wheels cut, how far it is off, and whether the nut can take that."""

from __future__ import annotations

from fractions import Fraction
from math import gcd

from cardgen.core.figure import Sheet, Step
from cardgen.core.rounding import rounded
from cardgen.core.words import told
from cardgen.rules.train import Train, lead_error
from cardgen.sheets._setup_search import conversions
from cardgen.sheets._setup_words import given, known, lead, length, practice, practised
from cardgen.spec.job import Job

METHOD = (
    "lead = leadscrew x drivers / driven x gearbox (F. D. Jones, Turning and Boring, 1919), "
    "in exact fractions over every train of the wheels owned"
)

_NO_WHEEL = 1000
"""Teeth that no change wheel has."""


def record_lead(job: Job, sheet: Sheet, train: Train) -> None:
    """Record the lead that is cut, its error and its check, and judge the drift in the nut."""
    machine, thread = job.machine, job.thread
    cut = machine.leadscrew_exact * train.ratio
    error = lead_error(train, machine.leadscrew_exact, thread.lead_exact)
    sheet.add(
        "setup.lead_cut",
        float(cut),
        formula="Ls i",
        inputs={
            "Ls": given(machine.leadscrew, "mm", "machine:leadscrew.pitch"),
            "i": sheet.ref("setup.train_ratio"),
        },
        source=METHOD,
        basis="computed",
    )
    sheet.add(
        "setup.lead_error_ppm",
        float(error * 10**6),
        formula="(Lc / L - 1) * 1000000",
        inputs={"Lc": sheet.ref("setup.lead_cut"), "L": lead(job, sheet)},
        source="definition: of the lead wanted; positive is too coarse",
        basis="computed",
        note="Exact." if error == 0 else _missing_factor(job, train),
    )
    over = known(sheet, "thread.length", given(thread.length, "mm", "spec:thread.length"))
    sheet.add(
        "setup.lead_error_over_thread",
        float(error) * float(over.value),
        formula="e / 1000000 * l",
        inputs={"e": sheet.ref("setup.lead_error_ppm"), "l": over},
        source="definition",
        basis="computed",
    )
    if job.mate is not None and job.mate.length is not None:
        sheet.add(
            "setup.lead_error_over_mate",
            float(error) * job.mate.length,
            formula="e / 1000000 * ln",
            inputs={
                "e": sheet.ref("setup.lead_error_ppm"),
                "ln": given(job.mate.length, "mm", "spec:mate.length"),
            },
            source="definition",
            basis="computed",
        )
    turns = practised("check-turns")
    sheet.add(
        "setup.check_travel",
        turns * float(cut),
        formula="N Lc",
        inputs={"N": practice("check-turns"), "Lc": sheet.ref("setup.lead_cut")},
        source="common practice",
        basis="practice",
        note="By hand, half-nut closed, backlash taken up first.",
    )
    sheet.steps.append(
        Step(
            told(
                "Half-nut closed, backlash taken up: turn the spindle {turns} times by hand "
                "and measure how far the carriage went.",
                turns=f"{turns:g}",
            ),
            "check",
            "common practice",
        )
    )
    _judge_drift(job, sheet, train)


def _judge_drift(job: Job, sheet: Sheet, train: Train) -> None:
    """Warn of, or refuse, a lead that drifts too far within the nut."""
    thread = job.thread
    mate = job.mate.length if job.mate else None
    # Without a nut's length, that of a usual nut: about one diameter.
    engagement = mate or min(thread.diameter, thread.length)
    error = lead_error(train, job.machine.leadscrew_exact, thread.lead_exact)
    drift = abs(float(error)) * engagement
    part = drift / thread.pitch
    if part <= practised("drift-warned"):
        return
    text = told(
        "The nearest lead that these wheels cut is {ppm} ppm off: over {nut} of nut that is "
        "{drift} mm, {part} % of the pitch. {factor}",
        ppm=rounded(float(error * 10**6), 0),
        nut=length(job, engagement),
        drift=rounded(drift, 3),
        part=rounded(100 * part, 1),
        factor=_missing_factor(job, train),
    )
    if bought := _conversions(job, error):
        text = told("{trouble} Of the wheels to buy: {wheels}.", trouble=text, wheels=bought)
    if part > practised("drift-refused"):
        sheet.refuse("setup.wrong_lead", text)
    else:
        sheet.warn("setup.lead_drift", text)


def _missing_factor(job: Job, train: Train) -> str:
    """Return which prime of the wanted ratio no wheel brings, if that is why none is exact."""
    machine, beside = job.machine, train.lever_ratio * train.fixed_ratio
    wanted = job.thread.lead_exact / (machine.leadscrew_exact * beside)
    fixed = (teeth for teeth in (machine.fixed_first, machine.fixed_last) if teeth is not None)
    wheels = (*machine.gears, *fixed)
    missing: list[int] = []
    for part in (wanted.numerator, wanted.denominator):
        rest = part
        for teeth in wheels:
            while (common := gcd(rest, teeth)) > 1:
                rest //= common
        missing += _primes(rest)
    # The lead of a worm by module holds pi, to many places: no wheel has that many teeth.
    if not missing or max(missing) > _NO_WHEEL:
        return "No train of these wheels is exact."
    pattern = "An exact lead needs wheels whose teeth are multiples of {primes}."
    if len(missing) == 1:
        pattern = "An exact lead needs a wheel with a multiple of {primes} teeth."
    return told(pattern, primes=", ".join(map(str, missing)))


def _conversions(job: Job, error: Fraction) -> str:
    """Return which wheels that are often bought for it would cut the lead better."""
    said: str = ""
    for teeth, least in conversions(job.machine, job.thread.lead_exact, error):
        pattern = "with {teeth} teeth it is {ppm} ppm off" if least else "with {teeth} teeth, exact"
        wheels = " + ".join(map(str, teeth))
        each = told(pattern, teeth=wheels, ppm=rounded(float(least * 10**6), 0))
        said = told("{some}; {other}", some=said, other=each) if said else each
    return said


def _primes(number: int) -> list[int]:
    found, divisor = [], 2
    while number > 1 and divisor * divisor <= number and divisor < 1000:
        if number % divisor == 0:
            found.append(divisor)
            while number % divisor == 0:
                number //= divisor
        divisor += 1
    return [*found, number] if number > 1 else found
