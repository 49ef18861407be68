"""The thread: its sizes with their limits, and its section to scale."""

from __future__ import annotations

from collections.abc import Sequence

from cardgen.card.panel import Block, Panel
from cardgen.card.panels._nut_profile import nut_profile
from cardgen.card.panels._sizes import sizes_table
from cardgen.card.panels._thread_profile import profile
from cardgen.card.pen import Pen
from cardgen.card.table import Kit
from cardgen.card.view import View
from cardgen.core.words import joined, told

_SIZES = (
    "thread.major_diameter",
    "thread.pitch_diameter",
    "thread.minor_diameter",
    "thread.groove_width",
)


def blocks(view: View, pen: Pen, width: float) -> Sequence[Block]:
    """Return the panel's blocks for a column of a width [mm]."""
    kit = Kit(view, pen, width)
    lead = ("thread.lead",) if view.number("thread.starts") > 1 else ()
    return [
        kit.paragraph(_name(view), weight="bold", keep=True),
        *kit.illustrated(lambda half: [_profile(half, view)], lambda half: [_turn(view, half)]),
        *sizes_table(view, kit, _SIZES),
        *kit.figures(
            "thread.pitch",
            *lead,
            *(f"thread.{side}_radius" for side in _flat_sides(view)),
            "thread.length",
            "thread.drill",
        ),
        *_flanks(view, kit),
        _angles(view, kit),
        *_ends(view, kit),
        kit.note(told("Limits: {source}.", source=view.figures["thread.blank_diameter"].source)),
    ]


def _profile(kit: Kit, view: View) -> Block:
    return nut_profile(kit, view) if view.internal else profile(kit, view)


def _name(view: View) -> str:
    starts = view.number("thread.starts")
    right = view.figures["thread.hand"].value == "right"
    words = [view.written("thread.form"), "right hand" if right else "left hand"]
    if view.internal:
        words.insert(1, "NUT")
    if starts > 1:
        words.append(told("{starts} starts", starts=view.written("thread.starts")))
    return joined(words, ", ")


def _turn(view: View, kit: Kit) -> Block:
    """Give what is set before the first cut and what the cut comes to."""
    return kit.bigs(
        [
            (
                view.label("thread.blank_diameter"),
                view.written("thread.blank_diameter"),
                _no_less(view),
            ),
            (view.label("thread.depth"), view.written("thread.depth"), "radial"),
        ]
    )


def _flanks(view: View, kit: Kit) -> list[Block]:
    """Return both flank angles, where they differ: which side carries the load matters then."""
    flanks = [view.written(f"thread.{side}_flank") for side in ("leading", "trailing")]
    if flanks[0] == flanks[1]:
        return []
    return [kit.pair("Flank, leading / trailing", " / ".join(flanks))]


def _flat_sides(view: View) -> list[str]:
    """Return the sides, crest or root, whose corners may be rounded; one arc stands drawn."""
    return [side for side in ("crest", "root") if not view.has(f"thread.{side}_shape")]


def _no_less(view: View) -> str:
    high, bar, low = view.limits("thread.blank_diameter").partition(" / ")
    if view.internal:
        return told("at most {high}", high=high) if bar else ""
    return told("least {low}", low=low) if bar else ""


def _angles(view: View, kit: Kit) -> Block:
    angles = [view.written(f"thread.lead_angle_{at}") for at in ("major", "pitch", "minor")]
    at = "D4 / D2 / D1" if view.internal else "d / d2 / d3"
    return kit.pair(told("Lead angle at {at}", at=at), " / ".join(angles))


def _ends(view: View, kit: Kit) -> list[Block]:
    """Say how the end is chamfered, and how deep the run-out groove is; or how long the run-out."""
    if not view.has("thread.chamfer_diameter", "thread.undercut_diameter"):
        return []
    chamfer = view.limits("thread.chamfer_diameter")
    rows: list[Block] = [
        kit.pair(
            told(
                "Chamfer the end, {chamfer_angle}, to",
                chamfer_angle=view.written("thread.chamfer_angle"),
            ),
            f"⌀ {chamfer}",
        )
    ]
    stop = view.figures.get("setup.stop")
    if stop is not None and stop.inputs["end"].value == "groove":
        groove = f"⌀ {view.written('thread.undercut_diameter')}"
        rows.append(
            kit.pair(
                joined(["Run-out groove down to", view.mark("thread.undercut_diameter")], ""),
                groove,
            )
        )
    else:
        rows.append(kit.figure("thread.run_out"))
    return rows


PANEL = Panel(
    name="thread",
    title="Thread",
    needs=("thread.depth", "thread.groove_width", "thread.lead_angle_minor"),
    blocks=blocks,
)
