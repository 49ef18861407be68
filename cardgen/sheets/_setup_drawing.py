"""The train as it stands on the machine, for a panel to draw.

Hands over, in mm of the wheels' own size, y up, the spindle's axle at (0, 0) and the leadscrew's to
the right of it: ``setup.wheel.1`` ... in the order of ``setup.train`` and ``setup.idler.1`` ...,
each the centre and a point on the pitch circle.
"""

from __future__ import annotations

from cardgen.core.figure import Outline, Sheet
from cardgen.rules.meshing import Quadrant, axles, links, span_range
from cardgen.rules.train import Train
from cardgen.sheets._setup_words import practised

_SPREAD = 0.94
"""Of the greatest span, in the drawing."""


def draw(sheet: Sheet, train: Train, idlers: tuple[int, ...], arm: Quadrant | None) -> None:
    """Hand over the pitch circles of a train and its idlers."""
    m = arm.module if arm else 1.0
    known = arm or Quadrant(m, practised("stud-radius"))
    lengths = links(train.pairs, idlers, m)
    least, reach = span_range(train.pairs, idlers, known)
    least = max(least, known.centre_min or least)
    furthest = min(reach, known.centre_max or reach)
    try:
        # A little less than stretched shows best what meshes with what.
        places = axles(lengths, max(least, _SPREAD * furthest) if least <= furthest else reach)
    except ValueError:
        places = axles(lengths, reach)  # too uneven a chain to be curled: shown stretched
    (first, last), *others = train.pairs
    on_axle = [[first], *([idler] for idler in idlers), [last]]
    for driver, driven in others:
        on_axle[-1].append(driver)
        on_axle.append([driven])
    wheels = idle = 0
    for number, (teeth, (x, y)) in enumerate(zip(on_axle, places, strict=True)):
        for count in teeth:
            if 1 <= number <= len(idlers):
                idle += 1
                name = f"setup.idler.{idle}"
            else:
                wheels += 1
                name = f"setup.wheel.{wheels}"
            sheet.outlines[name] = Outline(((x, y), (x + m * count / 2.0, y)))
