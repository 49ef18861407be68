"""Straight in, along the flank, or rough first? Every way is worked out, and the quickest taken.

Lengths in mm, angles in rad unless named ``_deg``, times in s.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from cardgen.core.words import told
from cardgen.rules.case import METHODS, Case, Impossible, Method, Plan, Practice
from cardgen.rules.infeed import Known, Stuck
from cardgen.rules.roughing import rough_then_form, roughed, widen
from cardgen.rules.ways import alternate, feed_angle_deg, flank, plunge

__all__ = [
    "METHODS",
    "Case",
    "Impossible",
    "Method",
    "Plan",
    "Practice",
    "again",
    "best",
    "choose",
    "compare",
    "feed_angle_deg",
    "plan",
]

_WAYS: Mapping[Method, Callable[[Case], Plan | Impossible]] = {
    "plunge": plunge,
    "flank": flank,
    "alternate": alternate,
    "rough-then-form": rough_then_form,
    "widen": widen,
}
_FULL_WIDTH: Mapping[Method, int] = {"plunge": 2, "flank": 1, "alternate": 1}
"""Ways with one tool, and how many of its flanks cut at a time."""


def plan(case: Case, method: Method) -> Plan | Impossible:
    """Work out one way of cutting the thread."""
    return _WAYS[method](case)


def compare(case: Case) -> dict[Method, Plan | Impossible]:
    """Work out every way of cutting the thread."""
    known: Known = {}
    return {
        "plunge": plunge(case),
        "flank": flank(case),
        "alternate": alternate(case),
        "rough-then-form": rough_then_form(case, known),
        "widen": widen(case, known),
    }


def again(case: Case, planned: Plan) -> Plan | Impossible:
    """Return the same way of cutting in another case, with the same roughing tool if it fits."""
    if planned.rough_width is None:
        return plan(case, planned.method)
    practice = case.practice
    width = min(planned.rough_width, case.point - practice.rough_side, practice.plunge_tip)
    if width < practice.rough_least:
        return Impossible("the groove is too narrow for a roughing tool")
    return roughed(case, planned.method, width, planned.asides)


def choose(case: Case, asked: Method | None) -> tuple[Plan | Impossible, str]:
    """Return the way to cut the thread, and the reason for it.

    Parameters
    ----------
    case
        The thread.
    asked
        The way that the job asks for; ``None`` to choose.
    """
    if asked is not None:
        return plan(case, asked), "as the job asks"
    return best(case, compare(case))


def best(case: Case, plans: Mapping[Method, Plan | Impossible]) -> tuple[Plan, str]:
    """Return the quickest of the ways that are safe, and the reason.

    A way that cuts with more edge at a time than practice allows, or a sharp thread with both
    flanks, is only taken where nothing else is safe.

    Parameters
    ----------
    plans
        As :func:`compare` gives them.
    """
    possible = [found for found in plans.values() if isinstance(found, Plan)]
    safe = [found for found in possible if found.passes]
    if not safe:
        # The one that gets deepest tells most of what would have to change.
        whole = [found for found in possible if found.method in _FULL_WIDTH]
        return max(whole, key=_got_to), "no way of feeding is safe"
    against = {found.method: _against(case, found) for found in safe}
    proper = [found for found in safe if not against[found.method]]
    quickest = min(proper or safe, key=lambda found: found.time(case.pace))
    if not proper:
        reason = told("{against}, but nothing else is safe", against=against[quickest.method])
        return quickest, reason
    if len(safe) == 1:
        return quickest, "no other way is safe"
    if quickest is min(safe, key=lambda found: found.time(case.pace)):
        return quickest, "the quickest of the ways that are safe"
    return quickest, next(reason for reason in against.values() if reason)


def _got_to(found: Plan) -> float:
    """Return the depth beyond which no pass is safe [mm]."""
    return found.found.before * found.lathe.step if isinstance(found.found, Stuck) else 0.0


def _against(case: Case, found: Plan) -> str:
    """Return what speaks against a way of cutting that is safe; empty for nothing."""
    practice = case.practice
    if found.method not in _FULL_WIDTH:
        return ""
    if case.point > practice.plunge_tip:
        return told(
            "the point is {point} mm wide, over {most} mm",
            point=f"{case.point:.2f}",
            most=f"{practice.plunge_tip:g}",
        )
    edge = case.edge(_FULL_WIDTH[found.method])
    if edge > practice.plunge_edge:
        return told(
            "{edge} mm of edge would cut at full depth, over {most} mm",
            edge=f"{edge:.1f}",
            most=f"{practice.plunge_edge:g}",
        )
    if found.method == "plunge" and case.flatter_deg >= practice.vee_least:
        return "a sharp thread is not cut with both flanks at once"
    return ""
