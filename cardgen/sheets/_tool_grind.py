"""Which nose to grind: one groove, any blank, as much working clearance as the blade can bear."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import atan, cos, degrees, radians, tan

from cardgen.core.figure import Sheet
from cardgen.rules import boring
from cardgen.rules import tool as rule
from cardgen.rules.tool import Nose, Side
from cardgen.sheets._constants import value
from cardgen.sheets._tool_tables import PRACTICE, working_clearance
from cardgen.spec.job import Job


@dataclass(frozen=True, slots=True)
class Groove:
    """What the tool must cut; leading and trailing as the tool's sides. Lengths mm, angles rad.

    ``root`` and ``crest`` are the radii to which the point and the surface of the work reach: in a
    nut the root is the larger.
    """

    lead: float
    root: float
    crest: float
    leading: float
    trailing: float
    internal: bool = False

    @property
    def parallel(self) -> bool:
        """Whether both flanks stand square to the axis."""
        return self.leading == 0 and self.trailing == 0

    @property
    def steepest_deg(self) -> float:
        """The larger flank angle [deg]."""
        return degrees(max(self.leading, self.trailing))


def groove_of(job: Job, sheet: Sheet) -> Groove:
    """Return the groove as the tool sees it.

    The thread's own leading flank faces the end on which the nut starts, taken to be the
    tailstock's; it is the groove's flank at the chuck side. In a nut, whose ridges lie in the
    screw's grooves, it is the flank at the tailstock side.
    """
    internal = job.thread.surface == "internal"
    chuck, tailstock = (
        radians(sheet.number(f"thread.{flank}_flank")) for flank in ("leading", "trailing")
    )
    if internal:
        chuck, tailstock = tailstock, chuck
    chuck_leads = job.thread.hand == "right"
    minor, major = (sheet.number(f"thread.{at}_diameter") / 2 for at in ("minor", "major"))
    return Groove(
        lead=sheet.number("thread.lead"),
        root=major if internal else minor,
        crest=minor if internal else major,
        leading=chuck if chuck_leads else tailstock,
        trailing=tailstock if chuck_leads else chuck,
        internal=internal,
    )


@dataclass(frozen=True, slots=True)
class Grind:
    """All that is settled about a tool but its blank and its working clearance.

    Lengths in mm, angles in rad. ``heel`` is how far round a nut's bore the blade's foot lies,
    ``end_relief_usual`` the end relief for the material alone.
    """

    groove: Groove
    tip: float
    rake: float
    end_relief: float
    tilt: float
    heel: float = 0.0
    end_relief_usual: float = 0.0

    def face_angle(self, flank: float) -> float:
        """Return the angle to grind on the face for a flank of the groove."""
        groove = self.groove
        return rule.face_angle(flank, self.tilt, groove.root, groove.crest, self.rake)

    def plan_angle(self, flank: float) -> float:
        """Return the angle of a side's edge as seen square on to the blank's top."""
        if self.groove.parallel:
            return -radians(value(PRACTICE, "back_taper"))
        return atan(tan(self.face_angle(flank)) / cos(self.rake))

    def lean_leading(self) -> float:
        """Return how far the wall on the leading side leans, where the helix is steepest."""
        groove = self.groove
        if groove.internal:
            return boring.lean_leading(groove.lead, 2 * groove.crest, groove.leading, self.heel)
        flank = self._seen(groove.leading)
        return rule.wall_lean(groove.lead, groove.root, self.tilt, self.tip / 2, flank)

    def lean_trailing(self) -> float:
        """Return how far the wall on the trailing side leans, where the helix is flattest."""
        groove = self.groove
        if groove.internal:
            return boring.lean_trailing(groove.lead, 2 * groove.root, groove.trailing, self.heel)
        flank = self._seen(groove.trailing)
        half = self.tip / 2 + (groove.crest - groove.root) * tan(flank)
        return rule.wall_lean(groove.lead, groove.crest, self.tilt, half, flank)

    def _seen(self, flank: float) -> float:
        return atan(tan(flank) * cos(self.tilt))

    def blade_length(self, blank: float) -> float:
        """Return the length to grind: clear of the crest, and beyond the end relief's run."""
        over_depth = abs(self.groove.crest - self.groove.root) + value(PRACTICE, "beyond_depth")
        over_end = blank * tan(self.end_relief) + value(PRACTICE, "beyond_end_relief")
        return max(over_depth, over_end)

    def nose(self, blank: float, clearance: float) -> Nose:
        """Return the ground nose on a blank, with a working clearance."""
        groove = self.groove
        return Nose(
            tip_width=self.tip,
            leading=Side(
                self.plan_angle(groove.leading),
                rule.relief_leading(self.lean_leading(), clearance),
            ),
            trailing=Side(
                self.plan_angle(groove.trailing),
                rule.relief_trailing(self.lean_trailing(), clearance),
            ),
            end_relief=self.end_relief,
            rake=self.rake,
            tilt=self.tilt,
            length=self.blade_length(blank),
            height=blank,
        )

    def clearances(self) -> Sequence[float]:
        """Return the working clearances to try, the usual one first."""
        usual, least = working_clearance(self.groove.steepest_deg)
        step = value(PRACTICE, "clearance_step")
        tried = rule.clearance_between(usual.value_deg, least.value_deg, step)
        return [radians(clearance) for clearance in tried]

    def best_clearance(self, blank: float) -> float:
        """Return the largest clearance that leaves the wanted foot; the least if none does."""
        wanted = value(PRACTICE, "foot_wanted") * self.tip
        tried = self.clearances()
        return next((c for c in tried if self.nose(blank, c).foot_width >= wanted), tried[-1])

    def on(self, blank: float) -> Grind:
        """Return the same for another blank: in a nut the heel goes by the blade's height."""
        if not self.groove.internal:
            return self
        heel = boring.heel_angle(blank, 2 * self.groove.crest)
        clear = radians(value(PRACTICE, "heel-clear"))
        relief = max(self.end_relief_usual, boring.heel_relief(heel) + clear)
        return replace(self, heel=heel, end_relief=relief)

    def can_be_ground(self, blank: float) -> bool:
        """Whether a blank is wide enough, and low enough to leave a foot under the blade."""
        grind = self.on(blank)
        if grind.groove.internal and grind.end_relief > radians(value(PRACTICE, "end-relief-most")):
            return False
        nose = grind.nose(blank, grind.best_clearance(blank))
        return nose.blank_needed <= blank and nose.foot_width >= self.foot_least

    @property
    def foot_least(self) -> float:
        """The thinnest foot that is ground [mm]."""
        return value(PRACTICE, "foot_least") * self.tip
