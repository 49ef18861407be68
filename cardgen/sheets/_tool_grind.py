"""Which nose to grind: one groove, any blank, as much working clearance as the blade can bear."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from math import atan, degrees, radians, sqrt, tan

from cardgen.core.figure import Sheet
from cardgen.rules import boring
from cardgen.rules import tool as rule
from cardgen.rules.clearance import Clearances, least_clearances, side_touch, solid
from cardgen.rules.helicoid import Groove, Straight, straight_edge
from cardgen.rules.helix import lead_angle
from cardgen.rules.tool import Nose, Side
from cardgen.sheets._constants import value
from cardgen.sheets._tool_tables import PRACTICE, working_clearance
from cardgen.spec.job import Job


def groove_of(job: Job, sheet: Sheet, width: float) -> Groove:
    """Return the groove as the tool sees it, its bottom so wide in the axial section.

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
        width=width,
    )


@dataclass(frozen=True, slots=True)
class Face:
    """The edges to grind on the face, straight, for one groove.

    Attributes
    ----------
    leading, trailing
        Both edges, as they stand for the section of the groove's helicoid with the face.
    """

    leading: Straight
    trailing: Straight

    @property
    def tip(self) -> float:
        """Width across the point [mm]."""
        return self.leading.half + self.trailing.half


def face_of(groove: Groove, rake: float, tilt: float) -> Face:
    """Return the edges of a face with a rake, tipped by a tilt."""
    return Face(*(straight_edge(groove, sign, rake, tilt) for sign in (-1.0, 1.0)))


@dataclass(frozen=True, slots=True)
class Grind:
    """All that is settled about a tool but its blank and its working clearance.

    Lengths in mm, angles in rad. ``end_relief_usual`` is the end relief for the material alone,
    ``corner`` the radius of the rounded corners, 0 for sharp ones.
    """

    groove: Groove
    face: Face
    rake: float
    end_relief: float
    tilt: float
    corner: float = 0.0
    end_relief_usual: float = 0.0

    @property
    def tip(self) -> float:
        """Width across the point [mm]."""
        return self.face.tip

    @property
    def as_drawn(self) -> bool:
        """Whether the face is level and flat, so that it bears the axial section itself."""
        return not self.tilt and not self.rake

    @property
    def plain(self) -> bool:
        """Whether the wall leans least at root and crest, at the edge: by the lead angle there."""
        return self.as_drawn and not self.groove.internal

    def plan_angle(self, sign: float) -> float:
        """Return the angle of a side's edge as seen square on to the blank's top.

        A blade between parallel walls is nowhere wider than at its point, even where the section
        with a tipped or raked face widens.
        """
        edge = self.face.leading if sign < 0 else self.face.trailing
        if not self.groove.parallel:
            return atan(edge.slope)
        return min(atan(edge.slope), 0.0) - radians(value(PRACTICE, "back_taper"))

    def touching(self, blank: float, sign: float) -> float:
        """Return the relief at which a side just touches the groove, its corners sharp or round."""
        if self.plain:
            at = self.groove.root if sign < 0 else self.groove.crest
            return -sign * lead_angle(self.groove.lead, 2 * at)
        return _touching(self, blank, sign)

    def blade_length(self, blank: float) -> float:
        """Return the length to grind: clear of the crest, and beyond the end relief's run.

        In a nut the foot reaches the crest farther back than the face does.
        """
        groove, beyond = self.groove, value(PRACTICE, "beyond_end_relief")
        over_depth = abs(groove.crest - groove.root) + value(PRACTICE, "beyond_depth")
        over_end = blank * tan(self.end_relief) + beyond
        if not groove.internal:
            return max(over_depth, over_end)
        foot = groove.root - sqrt(max(groove.crest**2 - blank**2, 0.0)) + beyond
        return max(over_depth, over_end, foot)

    def nose(self, blank: float, clearance: float) -> Nose:
        """Return the ground nose on a blank, with a working clearance."""
        leading, trailing = (self.touching(blank, sign) + clearance for sign in (-1.0, 1.0))
        return self.with_reliefs(blank, leading, trailing)

    def with_reliefs(self, blank: float, leading: float, trailing: float) -> Nose:
        """Return the nose on a blank, its sides relieved so much."""
        return Nose(
            tip_width=self.tip,
            leading=Side(self.plan_angle(-1.0), leading),
            trailing=Side(self.plan_angle(1.0), trailing),
            end_relief=self.end_relief,
            rake=self.rake,
            tilt=self.tilt,
            length=self.blade_length(blank),
            height=blank,
        )

    def swept(self, nose: Nose) -> Clearances:
        """Return the clearances of a nose, its corners sharp or round."""
        return least_clearances(nose, self.groove, self.corner)

    def clearances(self) -> Sequence[float]:
        """Return the working clearances to try, the usual one first."""
        usual, least = working_clearance(degrees(self.groove.steepest))
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
        return replace(
            self, end_relief=max(self.end_relief_usual, boring.heel_relief(heel) + clear)
        )

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


@lru_cache(maxsize=64)
def _touching(grind: Grind, blank: float, sign: float) -> float:
    """Return the relief of the touch, which no clearance changes: it is asked for many times."""
    upright = grind.with_reliefs(blank, 0.0, 0.0)
    corners = {0.0, grind.corner} if grind.groove.internal else {0.0}
    return max(
        side_touch(solid(upright, grind.groove, corner), sign, grind.groove.crest).relief
        for corner in corners
    )
