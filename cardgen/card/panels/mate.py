"""The nut (or the rack): sizes with their limits, and the play that the pair may have."""

from __future__ import annotations

from collections.abc import Sequence

from cardgen.card.panel import Block, Panel
from cardgen.card.panels._mate_pair import lettered, pair
from cardgen.card.panels._mate_rack import rack
from cardgen.card.panels._sizes import sizes_table
from cardgen.card.pen import Pen
from cardgen.card.table import Kit
from cardgen.card.view import View
from cardgen.core.words import joined, told

_SIZES = (
    "mate.pitch_diameter",
    "mate.major_diameter",
    "mate.groove_width",
)
_SCREW_SIZES = ("mate.pitch_diameter", "mate.minor_diameter", "mate.groove_width")


def blocks(view: View, pen: Pen, width: float) -> Sequence[Block]:
    """Return the panel's blocks for a column of a width [mm]."""
    kit = Kit(view, pen, width)
    if view.has("mate.tooth_pitch"):
        return rack(kit, view)
    return [
        kit.paragraph(view.written("mate.designation"), weight="bold", keep=True),
        *kit.figures("mate.material", "mate.length", "mate.length_group"),
        *pair(kit, view),
        *_bore(view, kit),
        *sizes_table(view, kit, _SCREW_SIZES if view.internal else _SIZES),
        kit.big(
            view.lettered("mate.backlash"),
            view.limits("mate.backlash"),
        ),
        *lettered(
            kit, view, "mate.engagement_least", "mate.crest_clearance", "mate.root_clearance"
        ),
        kit.space(1.0),
        *(kit.item(step.text) for step in view.steps.get("mate", ())),
        kit.note(told("Limits: {source}.", source=view.figures["mate.groove_width"].source)),
    ]


def _bore(view: View, kit: Kit) -> list[Block]:
    """Say to what the nut is bored and what threads it; of a screw, to what it is turned."""
    if view.internal:
        crest = "mate.major_diameter"
        return [kit.big(joined(["Turn the screw, d", view.mark(crest)], ""), view.limits(crest))]
    bore = "mate.minor_diameter"
    label = joined(["Bore the nut, D1", view.mark(bore)], "")
    made: list[Block] = [kit.big(label, view.limits(bore))]
    made += _tap_drill(view, kit)
    if view.has("mate.drill"):
        made.append(kit.pair("Drill first, then bore true", view.written("mate.drill")))
    if view.has("mate.bar_largest"):
        bar, bit = (view.written(f"mate.{id}") for id in ("bar_largest", "blank"))
        made.append(kit.pair("Boring bar, bit, at most", f"⌀ {bar}, {bit}"))
    return made


def _tap_drill(view: View, kit: Kit) -> list[Block]:
    """Say which drill a nut that is tapped needs, and how much thread that leaves."""
    if not view.has("mate.tap_drill"):
        return []
    left = view.written("mate.tap_engagement")
    text = told("{drill}, {left} of the depth", drill=view.written("mate.tap_drill"), left=left)
    return [kit.pair("If tapped, drill", text)]


PANEL = Panel(
    name="mate",
    title="Mate",
    needs=("mate.backlash",),
    blocks=blocks,
)
