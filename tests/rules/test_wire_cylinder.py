"""A wire is a cylinder, not a ball: laid into the groove by brute force, free to turn."""

from __future__ import annotations

from math import cos, pi, radians, sin, sqrt, tan

import numpy as np
import pytest
from scipy.optimize import brentq, minimize_scalar

from cardgen.rules.wires import Groove, over_wires

# Pitch, starts, flanks, crest, pitch and root diameter, wire: lead angles up to 16 degrees.
SCREWS = [
    pytest.param(5, 1, 15, 15, 28, 25.5, 22.5, 2.6, id="Tr 28x5"),
    pytest.param(6, 3, 15, 15, 32, 29, 25, 3.0, id="Tr 32x18 P6"),
    pytest.param(5.08, 3, 14.5, 14.5, 25.4, 22.86, 19.8, 2.6, id="Acme, three starts"),
    pytest.param(6, 4, 5, 5, 30, 27, 24, 3.1, id="modified square, four starts"),
    pytest.param(7, 1, 3, 30, 40, 34.75, 27.85, 4.0, id="saw-tooth"),
    pytest.param(7, 4, 30, 3, 40, 34.75, 27.85, 4.0, id="saw-tooth, four starts"),
    pytest.param(4.233, 4, 7, 45, 37.9, 35.4, 32.3, 2.5, id="buttress, four starts"),
]


class Screw:
    """Both flanks of one groove as clouds of points, from root to crest."""

    def __init__(self, row: tuple[float, ...]) -> None:
        pitch, starts, near, far, crest, middle, root, self.wire = row
        self.groove = Groove(pitch * starts, middle, pitch / 2, radians(near), radians(far))
        self.radii = root / 2, crest / 2

    def clear(self, side: float, centre: float, along: float, slant: float) -> float:
        """Least distance of a flank from the cylinder's surface, by a grid that closes in."""
        groove = self.groove
        slope = tan(groove.far if side > 0 else groove.near)
        low, high = self.radii
        radii, turns = (low, high), (-0.8, 0.8)
        for _ in range(7):
            r, phi = np.meshgrid(np.linspace(*radii, 25), np.linspace(*turns, 25), indexing="ij")
            x, y = r * np.cos(phi) - centre, r * np.sin(phi)
            half = groove.width / 2 + (r - groove.pitch_diameter / 2) * slope
            z = groove.lead * phi / (2 * pi) + side * half - along
            squared = x * x + (y * sin(slant) - z * cos(slant)) ** 2
            at = np.unravel_index(np.argmin(squared), squared.shape)
            reach = (radii[1] - radii[0]) / 16, (turns[1] - turns[0]) / 16
            radii = max(low, float(r[at]) - reach[0]), min(high, float(r[at]) + reach[0])
            turns = float(phi[at]) - reach[1], float(phi[at]) + reach[1]
        return sqrt(float(squared[at])) - self.wire / 2

    def rest(self, slant: float) -> float:
        """Distance from the axis at which the cylinder touches both flanks."""
        width, middle = self.groove.width, self.groove.pitch_diameter / 2

        def between(centre: float) -> float:
            """Where along the axis both flanks are equally near."""

            def nearer(along: float) -> float:
                return self.clear(-1, centre, along, slant) - self.clear(1, centre, along, slant)

            return float(brentq(nearer, -width, width, xtol=1e-7))

        def room(centre: float) -> float:
            return self.clear(1, centre, between(centre), slant)

        return float(brentq(room, middle - self.wire / 3, middle + self.wire / 2, xtol=1e-7))

    def lowest(self) -> float:
        """The same at the slant that lets it sink deepest."""
        lead = self.groove.lead_angle
        found = minimize_scalar(
            self.rest, bounds=(0.88 * lead, lead), method="bounded", options={"xatol": 1e-4}
        )
        return float(found.fun)


@pytest.mark.parametrize("row", [param.values for param in SCREWS], ids=[p.id for p in SCREWS])
def test_a_cylinder_rests_where_a_ball_does(row: tuple[float, ...]) -> None:
    """To a tenth of a micrometre on the size over wires, unlike flanks and large leads too."""
    screw = Screw(row)
    expected = 2 * screw.lowest() + screw.wire
    assert over_wires(screw.groove, screw.wire) == pytest.approx(expected, abs=1e-4)


def test_between_a_square_flank_the_twist_holds_a_cylinder_up_by_micrometres() -> None:
    """Where one flank stands square to the axis the cylinder binds, a ball does not."""
    screw = Screw((6, 2, 0, 45, 36, 34, 32, 3.0))
    held = 2 * screw.lowest() + screw.wire - over_wires(screw.groove, screw.wire)
    assert 0 <= held < 5e-3
