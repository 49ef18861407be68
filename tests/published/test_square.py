"""Square threads as others have printed them.

Sources
-------
- Machinery's Handbook, 27th ed. (2004) p.1848: depth and width of groove P/2; the nut's groove a
  little wider.
- NAVEDTRA 14345 (presumed; title not seen), figures 6-83 to 6-86: tool for the screw P/2, for the
  nut 0.001 to 0.003 in more; crest clearance 0.005 to 0.008 in per inch of diameter.
"""

from __future__ import annotations

import pytest

from cardgen.forms.form import read
from cardgen.forms.limits import nut_limits, screw_limits
from cardgen.forms.sizes import basic_sizes

SQUARE = read("square")
INCH = 25.4


@pytest.mark.parametrize(("diameter", "tpi"), [(1, 4), (1.25, 3.5), (2, 2.25), (0.75, 5)])
def test_proportions(diameter: float, tpi: float) -> None:
    pitch = INCH / tpi
    sizes = basic_sizes(SQUARE, diameter * INCH, pitch)
    section = sizes.section
    for width in (section.depth, section.crest_flat, section.root_flat):
        assert width == pytest.approx(pitch / 2)
    assert sizes.minor == pytest.approx(diameter * INCH - pitch)


def test_fit() -> None:
    sizes = basic_sizes(SQUARE, INCH, INCH / 4)
    screw, nut = screw_limits(SQUARE, sizes, 1, ""), nut_limits(SQUARE, sizes, 1, "")
    assert screw.groove.low == sizes.pitch / 2
    over = [(width - sizes.pitch / 2) / INCH for width in (nut.groove.low, nut.groove.high)]
    assert over == pytest.approx([0.001, 0.003])
    assert nut.major.low is not None
    clearance = (nut.major.low - sizes.major) / 2 / INCH
    assert clearance >= 0.005 - 1e-9
    assert clearance <= 0.008
    assert screw.evidence == "practice"
