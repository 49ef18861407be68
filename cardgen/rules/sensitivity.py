"""Which change would ease the cut most? Each is put into the case and the hardest passes cut again.

A schedule goes to its limits wherever it may, so that a better set-up shows in the same bites using
less of what they come nearest to, and in fewer passes when the schedule is worked out anew.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from cardgen.rules.boring import Bar
from cardgen.rules.case import Case, Impossible, Plan
from cardgen.rules.cutting import Law
from cardgen.rules.holding import Work
from cardgen.rules.infeed import Bite, Schedule, Stuck
from cardgen.rules.methods import again
from cardgen.rules.passes import LIMITS, Cut, Lathe, LimitName, Stage


@dataclass(frozen=True, slots=True)
class Eased:
    """What a change does.

    Attributes
    ----------
    used
        How much the same bites would use of the limit that they come nearest to.
    limit
        Which limit that is.
    plan
        The same way of cutting, worked out anew.
    """

    used: float
    limit: LimitName
    plan: Plan


def hardest_bites(schedule: Schedule) -> tuple[Bite, ...]:
    """Return the pass that asks most of each limit but the chip's thickness, each once."""
    found = [
        max(schedule.bites, key=lambda bite: bite.cut.of(name)) for name in LIMITS if name != "chip"
    ]
    return tuple(dict.fromkeys(found))


def used(lathe: Lathe, cuts: Iterable[tuple[Stage, Cut]]) -> tuple[LimitName, float]:
    """Return the limit that some passes come nearest to, and how much of it they use.

    The thickest chip is left out: it is a matter of how the tool cuts, not of what bends or breaks.
    """
    shares = (
        (name, cut.of(name) / lathe.limit(name, stage))
        for stage, cut in cuts
        for name in LIMITS
        if name != "chip"
    )
    return max(shares, key=lambda share: share[1])


def eased(
    changed: Case, planned: Plan, bites: Sequence[tuple[str, int, int, bool]]
) -> Eased | None:
    """Return what some passes would ask in a changed case; ``None`` if it cannot be cut so at all.

    Parameters
    ----------
    planned
        The way of cutting, kept.
    bites
        Step, division before, divisions, and whether the tool goes back to the middle, of the
        passes that are hardest now.
    """
    found = again(changed, planned)
    if isinstance(found, Impossible):
        return None
    cuts = [
        (stage, found.lathe.cut(stage, before, divisions, back=back))
        for stage, before, divisions, back in _placed(found, bites)
    ]
    if not cuts:
        return None
    limit, share = used(found.lathe, cuts)
    return Eased(share, limit, found)


def _placed(
    found: Plan, bites: Sequence[tuple[str, int, int, bool]]
) -> Iterable[tuple[Stage, int, int, bool]]:
    """Give the same bites in the stages of another plan, no deeper than those go."""
    stages: Mapping[str, Stage] = {stage.step: stage for stage in reversed(found.stages)}
    for step, before, divisions, back in bites:
        stage = stages.get(step)
        if stage is not None:
            yield stage, max(min(before, stage.end - divisions), stage.start), divisions, back


def as_bites(bites: Iterable[Bite]) -> list[tuple[str, int, int, bool]]:
    """Return what :func:`eased` asks of some passes."""
    return [
        (bite.stage.step, bite.before, bite.divisions, bite.stage.strokes > 1 and not bite.aside)
        for bite in bites
    ]


def least_bite(stuck: Stuck) -> list[tuple[str, int, int, bool]]:
    """Return the same of the pass that no schedule gets beyond."""
    return [(stuck.stage.step, stuck.before, stuck.bite, False)]


def with_work(case: Case, work: Work | Bar) -> Case:
    """Return the case with the bar held, or the boring bar chosen, otherwise."""
    return replace(case, lathe=replace(case.lathe, work=work))


def slower(case: Case, speed: float) -> Case:
    """Return the case at another spindle speed."""
    return replace(case, lathe=replace(case.lathe, speed=speed))


def softer(case: Case, part: float) -> Case:
    """Return the case with a material that takes only a part of the force."""

    def eased_law(law: Law) -> Law:
        return replace(law, kc11=law.kc11 * part)

    return replace(case, confined=eased_law(case.confined), open=eased_law(case.open))


def stouter(case: Case, factor: float) -> Case:
    """Return the case with a larger tool blank."""
    blade = case.blade
    return replace(
        case, blade=replace(blade, height=blade.height * factor, blank=blade.blank * factor)
    )


def narrower(case: Case, width: float) -> Case:
    """Return the case with roughing tools no wider than this [mm]."""
    return replace(case, practice=replace(case.practice, plunge_tip=width))


def finer(case: Case, part: float) -> Case:
    """Return the case with a groove and tool smaller in proportion."""
    work, blade = case.lathe.work, case.blade
    if isinstance(work, Work):
        work = replace(work, root=work.blank - (work.blank - work.root) * part)
    return replace(
        case,
        lathe=replace(case.lathe, work=work),
        depth=case.depth * part,
        shallowest=None,
        deepest=None,
        point=case.point * part,
        blade=replace(
            blade, tip=blade.tip * part, shank=blade.shank * part, length=blade.length * part
        ),
    )
