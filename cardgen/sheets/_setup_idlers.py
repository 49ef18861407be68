"""Which idlers stand in a train, so that it reaches and turns the leadscrew the right way."""

from __future__ import annotations

from collections import Counter

from cardgen.core.figure import Sheet
from cardgen.core.words import told
from cardgen.rules.meshing import Quadrant, idlers_for
from cardgen.rules.train import Train
from cardgen.spec.job import Job

GEOMETRY = "geometry of wheels in mesh: each mesh turns the motion round"
_IDLERS = {
    (1, False): "one: {first}, or any that reaches",
    (2, False): "two: {first} and {second}, or any that reach",
    (1, True): "one: {first}, or any that reaches and clears the {wheel}",
    (2, True): "two: {first} and {second}, or any that reach and clear the {wheel}",
}
"""What is said of one or two idlers, of a single train and of a compound one."""


def record_idlers(job: Job, sheet: Sheet, train: Train, arm: Quadrant | None) -> tuple[int, ...]:
    """Record the idlers of a train and return them; none where no spare wheel does it."""
    machine, right = job.machine, job.thread.hand == "right"
    own = Counter(each for each in (machine.fixed_first, machine.fixed_last) if each is not None)
    spare = tuple((Counter(machine.gears) - (Counter(train.wheels) - own)).elements())
    ways = [
        idlers_for(train.pairs, same_way=same_way, spare=spare, quadrant=arm)
        # A tumbler turns the motion round, so that the idlers need only bridge the gap.
        for same_way in ((right, not right) if machine.tumbler else (right,))
    ]
    idlers = min((each for each in ways if each is not None), key=len, default=None)
    odd = (len(train.pairs) % 2 == 1) == right
    parity = "an odd number" if odd else "none or two"
    text = _idlers_told(train, idlers, parity)
    if machine.tumbler:
        pattern = "{idlers}; tumbler so that the leadscrew turns {way}"
        text = told(pattern, idlers=text, way=str(sheet["setup.leadscrew_turns"].value))
    elif idlers is None:
        text = told("{idlers}, so use the tumbler", idlers=text)
    sheet.add(
        "setup.idlers",
        text,
        formula="method: meshes and idlers together even in number if the leadscrew turns with "
        "the spindle, odd if against it; the fewest that bridge the gap",
        inputs={"train": sheet.ref("setup.train"), "hand": sheet.ref("setup.leadscrew_turns")},
        source=GEOMETRY,
        basis="computed",
        note="With the tumbler any number serves that bridges the gap."
        if machine.tumbler
        else told(
            "A tumbler's wheels count too: {parity} in all, and one more or one less "
            "turns the leadscrew the other way.",
            parity=parity,
        ),
    )
    return idlers or ()


def _idlers_told(train: Train, idlers: tuple[int, ...] | None, parity: str) -> str:
    """Return how many idlers there are, and which."""
    if idlers is None:
        return told("{parity}; no spare wheel does it", parity=parity)
    if not idlers:
        return "none"
    parts = dict(zip(("first", "second"), map(str, idlers), strict=False))
    if len(train.pairs) > 1:
        # In a compound train the second wheel on the first stud stands before the idler's axle.
        parts["wheel"] = f"{train.pairs[1][0]}"
    return told(_IDLERS[len(idlers), len(train.pairs) > 1], **parts)
