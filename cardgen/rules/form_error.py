"""How far the wall that straight edges leave differs from the thread's own.

Axes, signs and units as in ``rules.helicoid``.
"""

from __future__ import annotations

from dataclasses import replace
from math import cos, sin, sqrt

from cardgen.rules.helicoid import Groove
from cardgen.rules.solid import Solid


def form_error(tool: Solid, groove: Groove, places: int = 33) -> float:
    """Return by how much the flanks cut differ from the groove's own, square to the flank [mm].

    The corners are taken sharp: where they are rounded is another matter than form.
    """
    sharp = replace(tool, corner=0.0)
    worst = 0.0
    for sign in (-1.0, 1.0):
        for k in range(places):
            radius = groove.root + (groove.crest - groove.root) * k / (places - 1)
            off = sharp.wall(sign, radius) - groove.wall(sign, radius)
            worst = max(worst, abs(off) * cos(groove.flank(sign)))
    return worst


def hollow(tool: Solid) -> float:
    """Return by how much the middle of a tipped point cuts deeper than its corners [mm]."""
    aside = tool.nose.tip_width / 2 * sin(tool.nose.tilt)
    return tool.outwards * (sqrt(tool.root**2 + aside**2) - tool.root)
