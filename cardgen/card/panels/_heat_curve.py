"""The tempering curve: hardness over temperature as published, with the point to work to."""

from __future__ import annotations

from cardgen.card.panel import Block
from cardgen.card.pen import BLACK, HAIR, NARROW, SOFT, TINT, WHITE, WIDE, Pen
from cardgen.card.piece import Draw, first_base, lines_height
from cardgen.card.table import Kit
from cardgen.card.view import UNCHECKED, View
from cardgen.core.figure import Step
from cardgen.core.words import joined

CURVE = "curve-"
"""How the kind of the step begins that names the curve's source; its evidence follows."""
_POINT = ("heat.temper_temperature", "heat.hardness_final")
_WIDE = 80.0
"""Column width from which the curve is drawn higher [mm]."""
_HIGH, _LOW = 32.0, 26.0
"""Height of the curve with its numbers in a wide and in a narrow column [mm]."""
_DOT = 0.55
"""Radius of a published point [mm]."""


def tempering_curve(kit: Kit, steps: tuple[Step, ...]) -> list[Block]:
    """Return the curve under its heading, and whose it is; nothing without rows or a point."""
    view = kit.view
    said = next((step for step in steps if step.kind.startswith(CURVE)), None)
    if said is None or "heat.temper_curve" not in view.outlines or not view.has(*_POINT):
        return []
    remembered = said.kind == f"{CURVE}memory"
    height = min(_HIGH if kit.width >= _WIDE else _LOW, view.tallest)
    made: list[Block] = [
        kit.heading(joined(["Hardness after tempering", *([UNCHECKED] if remembered else [])])),
        kit.sketch(height, _curve(view, height)),
    ]
    if remembered:
        made.append(kit.note("Curve from memory, not checked: test on scrap."))
    else:
        made.append(
            kit.note("Dots as published, small test bars; another cast may differ by 2 HRC.")
        )
    return made


def _curve(view: View, height: float) -> Draw:
    """Return the drawing of hardness over tempering temperature with the point to work to."""
    points = view.outlines["heat.temper_curve"].points
    avoid = view.outlines.get("heat.avoid_temper")
    size = view.style.small
    at, hardness = (view.number(id) for id in _POINT)
    hottest = max(points[-1][0], at)
    low = min(*(h for _, h in points), hardness) - 3
    high = max(h for _, h in points) + 3

    def draw(pen: Pen, x: float, y: float, width: float) -> None:
        line = lines_height(1, size)
        left = x + pen.width("00 HRC", size) + 1.5
        right, top, bottom = x + width - 6.0, y + line / 2, y + height - line - 1.0

        def place(temperature: float, hrc: float) -> tuple[float, float]:
            return (
                left + (right - left) * temperature / hottest,
                bottom - (bottom - top) * (hrc - low) / (high - low),
            )

        if avoid is not None:
            (cold, _), (hot, _) = avoid.points
            band = place(cold, low)[0], place(min(hot, hottest), low)[0]
            if band[0] < band[1]:
                pen.rect(band[0], top, band[1], bottom, stroke=None, fill=TINT)
            _name_band(pen, band, bottom - 1.0, place(at, hardness)[0], size)
        pen.path(((left, top), (left, bottom), (right, bottom)), width=NARROW)
        pen.path([place(*point) for point in points], width=WIDE)
        for point in points:
            pen.disc(*place(*point), _DOT, stroke=None, fill=BLACK)
        spot = place(at, hardness)
        pen.path(((left, spot[1]), spot, (spot[0], bottom)), stroke=SOFT, width=HAIR, dash=(1, 1))
        pen.disc(*spot, 1.1, width=NARROW, fill=WHITE)
        sink = pen.metrics.ascent(size) / 2
        room = (high - low) * line / (bottom - top) * 1.1
        for hrc in _clear_of(hardness, (points[0][1], points[-1][1]), room):
            pen.text(
                left - 1.0,
                place(0, hrc)[1] + sink,
                f"{hrc:.0f} HRC",
                size,
                anchor="end",
            )
        under = bottom + 0.6 + first_base(pen, size)
        apart = hottest * pen.width("000 °C", size) / (right - left) * 1.2
        for temperature in _clear_of(at, (0.0, points[-1][0]), apart):
            text = f"{temperature:.0f} °C"
            pen.text(place(temperature, low)[0], under, text, size, anchor="middle")

    return draw


def _name_band(pen: Pen, band: tuple[float, float], base: float, line: float, size: float) -> None:
    """Write what the band is beside the line down from the point, if there is room."""
    wide = pen.width("brittle", size) + 1.0
    sides = [band]
    if band[0] - wide < line < band[1] + wide:
        sides = [(band[0], min(band[1], line)), (max(band[0], line), band[1])]
    left, right = max(sides, key=lambda side: side[1] - side[0])
    if right - left >= wide:
        pen.text((left + right) / 2, base, "brittle", size, anchor="middle", ink=SOFT)


def _clear_of(value: float, ends: tuple[float, float], apart: float) -> list[float]:
    """Return what to write at an axis: the point's own value, and the ends that are clear of it."""
    return [value, *(end for end in ends if abs(end - value) > apart)]
