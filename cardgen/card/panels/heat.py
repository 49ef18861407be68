"""Heat treatment: the order of heats with the numbers big, what comes of them, the colours."""

from __future__ import annotations

from cardgen.card.panel import Block, Panel
from cardgen.card.pen import BLACK, HAIR, NARROW, SOFT, TINT, WHITE, WIDE, Pen
from cardgen.card.piece import Draw, Piece, first_base, lines_height, put_lines
from cardgen.card.span import span
from cardgen.card.swatches import chart
from cardgen.card.table import Kit
from cardgen.card.view import View
from cardgen.core.figure import Step
from cardgen.core.swatch import Swatch

_CURVE_FROM = 80.0
"""Column width from which there is room for the tempering curve [mm]."""
_CURVE_HIGH = 32.0
"""Height of the tempering curve with its numbers [mm]."""


def blocks(view: View, pen: Pen, width: float) -> list[Block]:
    """Return the panel's blocks."""
    kit = Kit(view, pen, width)
    steps = view.steps.get("heat", ())
    made: list[Block] = []
    for number, step in enumerate((s for s in steps if s.kind not in ("swatch", "glow")), 1):
        made.append(_step(kit, number, step))
    made += [span(kit, id) for id in _ANSWERS if view.has(id)]
    made += _remarks(kit)
    made += _charts(kit, steps)
    if width >= _CURVE_FROM and "heat.temper_curve" in view.outlines and view.has(*_POINT):
        made.append(kit.heading("Hardness after tempering"))
        made.append(kit.sketch(_CURVE_HIGH, _curve(view)))
    return made


def _step(kit: Kit, number: int, step: Step) -> Piece:
    """Return one heat: its number in a disc, its first sentence big, the rest to read."""
    big, _, rest = step.text.partition(". ")
    radius = 2.6
    indent = 2 * radius + 1.4
    heads = kit.pen.wrap(big, kit.dial, kit.width - indent, "bold")
    lines = kit.pen.wrap(rest, kit.body, kit.width - indent)
    head_height = lines_height(len(heads), kit.dial)
    height = head_height + lines_height(len(lines), kit.body) + 1.2

    def draw(pen: Pen, x: float, y: float, width: float) -> None:
        base = y + first_base(pen, kit.dial)
        centre = base - pen.metrics.ascent(kit.dial) / 2
        pen.disc(x + radius, centre, radius, stroke=None, fill=BLACK)
        sink = pen.metrics.ascent(kit.body) / 2
        pen.text(
            x + radius,
            centre + sink,
            str(number),
            kit.body,
            weight="bold",
            anchor="middle",
            ink=WHITE,
        )
        put_lines(pen, heads, x + indent, y, kit.dial, weight="bold")
        put_lines(pen, lines, x + indent, y + head_height, kit.body)

    return Piece(height, draw)


_ANSWERS = ("heat.hardness_quenched", "heat.hardness_final", "heat.torch_temperature")
_CRITICAL = ("heat.a1", "heat.ac3", "heat.ms")


def _remarks(kit: Kit) -> list[Block]:
    """Return the critical temperatures and what is to be known of the temper by torch."""
    view = kit.view
    known = [
        f"{view.label(id)}{view.mark(id)} {view.written(id)}" for id in _CRITICAL if view.has(id)
    ]
    said = [", ".join(known)] if known else []
    if view.has("heat.torch_temperature"):
        said.append(f"By torch {view.figures['heat.torch_temperature'].note}")
    return [kit.space(0.6), kit.note(". ".join(said) + ".")] if said else []


def _charts(kit: Kit, steps: tuple[Step, ...]) -> list[Block]:
    made: list[Block] = []
    for kind, title, remark in (
        ("glow", "Glow in shade, °C", "Books differ by 100 °C in these names."),
        (
            "swatch",
            "Temper colours, °C, in a heat of minutes",
            "Held for an hour the colours run ahead: go by the thermometer.",
        ),
    ):
        swatches = [Swatch.read(step.text) for step in steps if step.kind == kind]
        if swatches:
            made.append(kit.heading(title))
            piece = chart(kit.pen, kit.width, kit.body, swatches, kit.view.style.mono)
            made.append(Piece(piece.height, piece.drawn, keep=True))
            if not any(swatch.chosen for swatch in swatches):
                remark = (
                    f"{kit.view.written('heat.temper_temperature')} has no colour here. {remark}"
                )
            made.append(kit.note(remark))
    return made


_POINT = ("heat.temper_temperature", "heat.hardness_final")


def _curve(view: View) -> Draw:
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
        right, top, bottom = x + width - 6.0, y + line / 2, y + _CURVE_HIGH - line - 1.0

        def place(temperature: float, hrc: float) -> tuple[float, float]:
            return (
                left + (right - left) * temperature / hottest,
                bottom - (bottom - top) * (hrc - low) / (high - low),
            )

        if avoid is not None:
            (cold, _), (hot, _) = avoid.points
            band = place(cold, low)[0], place(min(hot, hottest), low)[0]
            pen.rect(band[0], top, band[1], bottom, stroke=None, fill=TINT)
            base = bottom - 1.0
            pen.text(sum(band) / 2, base, "brittle", size, anchor="middle", ink=SOFT)
        pen.path(((left, top), (left, bottom), (right, bottom)), width=NARROW)
        pen.path([place(*point) for point in points], width=WIDE)
        spot = place(at, hardness)
        pen.path(((left, spot[1]), spot, (spot[0], bottom)), stroke=SOFT, width=HAIR, dash=(1, 1))
        pen.disc(*spot, 1.1, width=NARROW, fill=WHITE)
        sink = pen.metrics.ascent(size) / 2
        for hrc in _clear_of(hardness, (points[0][1], points[-1][1]), 8):
            pen.text(left - 1.0, place(0, hrc)[1] + sink, f"{hrc:.0f} HRC", size, anchor="end")
        under = bottom + 0.6 + first_base(pen, size)
        for temperature in _clear_of(at, (0.0, points[-1][0]), 100):
            text = f"{temperature:.0f} °C"
            pen.text(place(temperature, low)[0], under, text, size, anchor="middle")

    return draw


def _clear_of(value: float, ends: tuple[float, float], apart: float) -> list[float]:
    """Return what to write at an axis: the point's own value, and the ends that are clear of it."""
    return [value, *(end for end in ends if abs(end - value) > apart)]


PANEL = Panel("heat", "Heat treatment", ("heat.section",), blocks)
