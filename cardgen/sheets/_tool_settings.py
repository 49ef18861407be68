"""Figures of the grinder: how the blank is set for each face, what comes off, what is left."""

from __future__ import annotations

from math import degrees

from cardgen.core.figure import Sheet
from cardgen.rules import grinding
from cardgen.rules.tool import Nose
from cardgen.spec.job import Job

_COMPOUND = "geometry of a compound angle"
_BLADE = "geometry of the blade"
_REACH = "(w / 2 + max(0, lb tan(b{0})) + hb max(0, 0 - tan(k{0})))"
"""How far a side stands out from the point's middle, in the grammar of figures."""


def settings(job: Job, sheet: Sheet, nose: Nose) -> None:
    """Record protractor and table for both sides, the stock to grind off, and what is left."""
    for name, side in (("leading", nose.leading), ("trailing", nose.trailing)):
        rest = grinding.rest_for_side(side, nose.rake)
        sheet.add(
            f"tool.protractor_{name}",
            degrees(rest.protractor),
            formula="atan(tan(b) + tan(g) tan(k))",
            inputs={
                "b": sheet.ref(f"tool.flank_{name}"),
                "g": sheet.ref("tool.rake"),
                "k": sheet.ref(f"tool.relief_{name}"),
            },
            source=_COMPOUND,
            basis="computed",
            note="shank to the wheel's face; negative: narrower behind the point",
        )
        sheet.add(
            f"tool.rest_{name}",
            degrees(rest.table),
            formula="atan(tan(k) cos(q))",
            inputs={
                "k": sheet.ref(f"tool.relief_{name}"),
                "q": sheet.ref(f"tool.protractor_{name}"),
            },
            source=_COMPOUND,
            basis="computed",
            note="square to the wheel's face; positive slopes down away from the wheel",
        )
    sheet.add(
        "tool.point_off_centre",
        nose.off_centre,
        formula=f"max(0, {_REACH.format(2)} - hb / 2) - max(0, {_REACH.format(1)} - hb / 2)",
        inputs={
            "w": sheet.ref("tool.tip_width"),
            "lb": sheet.ref("tool.blade_length"),
            "hb": sheet.ref("tool.blade_height"),
            "b1": sheet.ref("tool.flank_leading"),
            "b2": sheet.ref("tool.flank_trailing"),
            "k1": sheet.ref("tool.relief_leading"),
            "k2": sheet.ref("tool.relief_trailing"),
        },
        source=_BLADE,
        basis="computed",
        note="towards the leading side, so that the blade with its lean lies within the blank",
    )
    for name, sign in (("leading", "-"), ("trailing", "+")):
        off = nose.off_centre if name == "trailing" else -nose.off_centre
        sheet.add(
            f"tool.stock_{name}",
            job.tool.blank / 2 + off - nose.tip_width / 2,
            formula=f"B / 2 {sign} e - w / 2",
            inputs={
                "B": sheet.ref("tool.blank"),
                "e": sheet.ref("tool.point_off_centre"),
                "w": sheet.ref("tool.tip_width"),
            },
            source=_BLADE,
            basis="computed",
            note="off the blank's side, at the point, on the face",
        )
    _left(sheet, nose)


def _left(sheet: Sheet, nose: Nose) -> None:
    """Record the height and the section of blade that are left where it joins the shank."""
    sheet.add(
        "tool.height_left",
        nose.height_left,
        formula="hb - lb tan(g)",
        inputs={
            "hb": sheet.ref("tool.blade_height"),
            "lb": sheet.ref("tool.blade_length"),
            "g": sheet.ref("tool.rake"),
        },
        source=_BLADE,
        basis="computed",
        note="where the blade joins the shank, under a face that falls away",
    )
    sheet.add(
        "tool.section_left",
        grinding.section_left(
            nose.shank_width, nose.height_left, nose.leading.relief, nose.trailing.relief
        ),
        formula="hl (ws - hl (tan(k1) + tan(k2)) / 2)",
        inputs={
            "hl": sheet.ref("tool.height_left"),
            "ws": sheet.ref("tool.shank_width"),
            "k1": sheet.ref("tool.relief_leading"),
            "k2": sheet.ref("tool.relief_trailing"),
        },
        source=_BLADE,
        basis="computed",
        note="square to the shank, where the blade joins it",
    )
