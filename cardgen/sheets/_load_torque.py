"""What turns the screw: friction, torque in the thread and at the collar, and what holds it."""

from __future__ import annotations

from math import fsum, radians

from cardgen import library
from cardgen.core.figure import Input, Sheet
from cardgen.core.rounding import rounded, with_unit
from cardgen.core.words import told
from cardgen.rules import screw
from cardgen.sheets._constants import evidence, value
from cardgen.sheets._form import form_of
from cardgen.sheets._load_strength import family
from cardgen.spec.job import Job

_TABLE = "load/constants"
_NORMAL = "cos(atan(tan(a) cos(phi)))"
_MOTT = "Mott, Machine Elements in Mechanical Design 4th ed., ch. 17 (exact form)"
_COLLAR = "Shigley's Mechanical Engineering Design 9th ed., eq. 8-6"


def record_friction(job: Job, sheet: Sheet) -> bool:
    """Record the friction of the pair with its range; return whether there is any to go by."""
    assert job.duty is not None  # noqa: S101
    given = job.duty.friction
    nut = family(None if job.mate is None else job.mate.material)
    rows = [
        row
        for row in library.table("load/friction")
        if row["screw"] == family(job.work.material) and nut in ("", row["nut"])
    ]
    if job.mate is not None and job.mate.material is not None and not nut:
        rows = []
    if not rows and given is None:
        sheet.warn(
            "load.no_friction",
            "No friction is published for this pair of materials; state duty.friction to have "
            "the torque.",
        )
        return False
    oiled = [row for row in rows if row["condition"] == "oiled"]
    low = min((float(row["low"]) for row in rows), default=given)
    high = max((float(row["high"]) for row in rows), default=given)
    middle = fsum(float(r["low"]) + float(r["high"]) for r in oiled) / (2 * len(oiled) or 1)
    mu = middle if given is None else given
    sheet.add(
        "load.friction",
        mu,
        low=mu if low is None else min(low, mu),
        high=mu if high is None else max(high, mu),
        formula="mu",
        inputs={
            "mu": Input(mu, "", "spec:duty.friction", "read")
            if given is not None
            else Input(mu, "", f"table:load/friction {rows[0]['screw']}", "read")
        },
        source=rows[0]["source"] if rows else "the job",
        basis="data",
        evidence=evidence(rows[0]["evidence"]) if rows else "read",
        note="as the job says; limits from oiled to dry"
        if given is not None
        else "middle of the oiled range; limits from oiled to dry"
        + ("" if nut else ", whatever the nut"),
    )
    return True


def _flank(job: Job, sheet: Sheet) -> str:
    """Return the flank that the form is made to bear on, else the one by which friction is greater.

    The job does not say which one is loaded.
    """
    loaded = form_of(job).loaded
    if loaded and f"thread.{loaded}_flank" in sheet:
        return f"thread.{loaded}_flank"
    sides = [id for id in ("thread.leading_flank", "thread.trailing_flank") if id in sheet]
    return max(sides, key=sheet.number, default="")


def record_torque(job: Job, sheet: Sheet) -> None:
    flank = _flank(job, sheet)
    if not flank:
        return
    load, diameter = sheet.number("load.load"), sheet.number("thread.pitch_diameter")
    phi = radians(sheet.number("thread.lead_angle_pitch"))
    normal = screw.normal_flank(radians(sheet.number(flank)), phi)
    friction = sheet["load.friction"]
    assert friction.low is not None and friction.high is not None  # noqa: S101, PT018
    locking = screw.locking_friction(phi, normal)
    angles = {"phi": sheet.ref("thread.lead_angle_pitch"), "a": sheet.ref(flank)}
    common = {
        "F": sheet.ref("load.load"),
        "d2": sheet.ref("thread.pitch_diameter"),
        "mu": sheet.ref("load.friction"),
        **angles,
    }
    _record_locking(sheet, locking, angles)
    try:
        up = [
            screw.torque_raise(load, diameter, phi, normal, mu) / 1000
            for mu in (friction.low, friction.number, friction.high)
        ]
    except ValueError:
        sheet.refuse(
            "load.locked",
            told(
                "At a friction of {high} no torque turns this thread: its lead angle of "
                "{angle}° is too steep. Take fewer starts.",
                high=f"{friction.high:g}",
                angle=f"{sheet.number('thread.lead_angle_pitch'):.1f}",
            ),
        )
        return
    down = [
        screw.torque_lower(load, diameter, phi, normal, mu) / 1000
        for mu in (friction.low, friction.number, friction.high)
    ]
    up_formula = f"F d2 / 2 ({_NORMAL} tan(phi) + mu) / ({_NORMAL} - mu tan(phi)) / 1000"
    down_formula = f"F d2 / 2 (mu - {_NORMAL} tan(phi)) / ({_NORMAL} + mu tan(phi)) / 1000"
    runs = "negative: the load drives the screw back" if down[1] < 0 else ""
    collar = _record_collar(job, sheet)
    if collar is None:
        alone = "in the thread alone; a collar or pad adds its own"
        _record(sheet, "load.torque_raise", up, up_formula, common, _MOTT, alone)
        _record(sheet, "load.torque_lower", down, down_formula, common, _MOTT, runs)
    else:
        _record(sheet, "load.thread_torque_raise", up, up_formula, common, _MOTT, "")
        _record(sheet, "load.thread_torque_lower", down, down_formula, common, _MOTT, runs)
        for way, in_thread in (("raise", up), ("lower", down)):
            both = [a + b for a, b in zip(in_thread, collar, strict=True)]
            parts = {
                "Tt": sheet.ref(f"load.thread_torque_{way}"),
                "Tc": sheet.ref("load.collar_torque"),
            }
            _record(sheet, f"load.torque_{way}", both, "Tt + Tc", parts, _COLLAR, "with the collar")
    lead, torque = sheet.number("thread.lead"), sheet["load.torque_raise"]
    assert torque.low is not None and torque.high is not None  # noqa: S101, PT018
    sheet.add(
        "load.efficiency",
        screw.efficiency(load, lead, torque.number * 1000),
        low=screw.efficiency(load, lead, torque.high * 1000),
        high=screw.efficiency(load, lead, torque.low * 1000),
        formula="F L / (2 pi T 1000)",
        inputs={
            "F": sheet.ref("load.load"),
            "L": sheet.ref("thread.lead"),
            "T": sheet.ref("load.torque_raise"),
        },
        source=_MOTT,
        basis="handbook",
    )
    _record_handle(job, sheet)


def _record(
    sheet: Sheet,
    id: str,
    values: list[float],
    formula: str,
    inputs: dict[str, Input],
    said: str,
    note: str,
) -> None:
    """Record a torque at the least, the stated and the greatest friction."""
    low, middle, high = values
    sheet.add(
        id,
        middle,
        low=low,
        high=high,
        formula=formula,
        inputs=inputs,
        source=said,
        basis="handbook",
        note=note,
    )


def _record_collar(job: Job, sheet: Sheet) -> list[float] | None:
    """Record what the collar takes, and return it at each friction; ``None`` without a collar."""
    duty = job.duty
    assert duty is not None  # noqa: S101
    if duty.collar is None:
        return None
    stated, thread = duty.collar_friction, sheet["load.friction"]
    assert thread.low is not None and thread.high is not None  # noqa: S101, PT018
    frictions = [stated] * 3 if stated is not None else [thread.low, thread.number, thread.high]
    sheet.add(
        "load.collar_friction",
        frictions[1],
        low=frictions[0],
        high=frictions[2],
        formula="mu",
        inputs={
            "mu": sheet.ref("load.friction")
            if stated is None
            else Input(stated, "", "spec:duty.collar-friction", "read")
        },
        source="the job" if stated is not None else "common practice: as in the thread",
        basis="data" if stated is not None else "practice",
        evidence="read" if stated is not None else "practice",
    )
    load = sheet.number("load.load")
    taken = [screw.collar_torque(load, mu, duty.collar) / 1000 for mu in frictions]
    inputs = {
        "F": sheet.ref("load.load"),
        "mu": sheet.ref("load.collar_friction"),
        "dc": Input(duty.collar, "mm", "spec:duty.collar", "read"),
    }
    _record(sheet, "load.collar_torque", taken, "F mu dc / 2000", inputs, _COLLAR, "")
    return taken


def _record_locking(sheet: Sheet, locking: float, angles: dict[str, Input]) -> None:
    sheet.add(
        "load.locking_friction",
        locking,
        formula=f"{_NORMAL} tan(phi)",
        inputs=angles,
        source=_MOTT,
        basis="handbook",
    )
    friction = sheet["load.friction"]
    assert friction.low is not None and friction.high is not None  # noqa: S101, PT018
    if friction.low >= locking:
        word = "yes"
    elif friction.high < locking:
        word = "no"
    else:
        word = "within the friction range"
    sheet.add(
        "load.self_locking",
        word,
        inputs={"mu": sheet.ref("load.friction"), "mu0": sheet.ref("load.locking_friction")},
        source=_MOTT,
        basis="handbook",
        note=told(
            "friction from {low} to {high}; it holds from {locking}; shaking loosens any thread",
            low=rounded(friction.low, 2),
            high=rounded(friction.high, 2),
            locking=rounded(locking, 3, "up"),
        ),
    )
    if word != "yes":
        sheet.warn(
            "load.runs_back",
            told(
                "Under load the screw can turn back by itself: it holds only from a friction "
                "of {locking}, and this pair has {low} to {high}. Fit a lock or a brake, or "
                "take fewer starts.",
                locking=rounded(locking, 3, "up"),
                low=rounded(friction.low, 2),
                high=rounded(friction.high, 2),
            ),
        )


def _record_handle(job: Job, sheet: Sheet) -> None:
    assert job.duty is not None  # noqa: S101
    handle = job.duty.handle
    if handle is None:
        return
    torque = sheet["load.torque_raise"]
    assert torque.low is not None and torque.high is not None  # noqa: S101, PT018
    force = torque.number * 1000 / handle
    sheet.add(
        "load.handle_force",
        force,
        low=torque.low * 1000 / handle,
        high=torque.high * 1000 / handle,
        formula="T 1000 / l",
        inputs={
            "T": sheet.ref("load.torque_raise"),
            "l": Input(handle, "mm", "spec:duty.handle", "read"),
        },
        source="moment about the axis",
        basis="computed",
    )
    most = value(_TABLE, "hand-force")
    if force > most:
        longer = torque.number * 1000 / most
        sheet.warn(
            "load.heavy_handle",
            told(
                "The handle needs {force}, more than the {most} N that one person pulls for "
                "a moment: make it {longer} long, or lower the load.",
                force=with_unit(force, "N", 0),
                most=f"{most:g}",
                longer=with_unit(longer, "mm", 0, "up"),
            ),
        )
