"""A made-up job for the layout tests: figures that show shape, not shop data, and its panels."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from math import radians, tan
from typing import Literal

from cardgen.card.drawing import Drawing
from cardgen.card.panel import Block, Panel
from cardgen.card.pen import Pen
from cardgen.card.table import Column, Kit
from cardgen.card.view import Style, View
from cardgen.core.figure import Evidence, Figure, Finding
from cardgen.spec.job import Hole

ORDER = ("thread", "setup", "infeed", "tool", "measure", "mate", "heat", "load", "safety")


@dataclass(frozen=True)
class Shape:
    """A template as the layout engine reads it."""

    width: float
    height: float
    margin: float
    columns: int
    order: tuple[str, ...] = ORDER
    body: float = 9.0
    dial: float = 14.0
    head: float = 12.0
    small: float = 7.0
    ink: Literal["colour", "mono"] = "colour"
    taken: tuple[float, float, float, float] = (0.0, 0.0, 0.0, 0.0)
    holes: tuple[Hole, ...] = ()
    corners: float = 0.0
    trim: Literal["none", "corners", "outline"] = "none"
    record_line: float = 8.5


A5 = Shape(148.0, 210.0, 6.0, 2)
A5_LYING = Shape(210.0, 148.0, 6.0, 3)
A6 = Shape(105.0, 148.0, 5.0, 1, head=11.0)
A6_LYING = Shape(148.0, 105.0, 5.0, 2, head=11.0)
A7 = Shape(74.0, 105.0, 4.0, 1, head=11.0)
ID_1 = Shape(54.0, 85.6, 3.0, 1, head=10.0)
ID_1_LYING = Shape(85.6, 54.0, 3.0, 1, head=10.0)
A4 = Shape(210.0, 297.0, 8.0, 2, body=13.0, dial=20.0, head=16.0, small=10.0)
SHAPES = (A5, A5_LYING, A6, A6_LYING, A7, ID_1, ID_1_LYING, A4)


def figure(
    id: str,
    value: float | str,
    low: float | None = None,
    high: float | None = None,
    evidence: Evidence = "derived",
) -> Figure:
    return Figure(id, value, low, high, "", {}, "made up", "computed", evidence, "")


FIGURES = (
    figure("thread.designation", "Tr 28 × 5 LH - 7e"),
    figure("thread.hand", "left"),
    figure("thread.major_diameter", 28.0, 27.665, 28.0),
    figure("thread.pitch_diameter", 25.5, 25.094, 25.394),
    figure("thread.minor_diameter", 22.5, 21.894, 22.394, evidence="memory"),
    figure("thread.blank_diameter", 27.9, 27.7, 28.0),
    figure("thread.depth", 2.75),
    figure("thread.lead", 5.0),
    figure("thread.crest_flat", 1.83),
    figure("thread.root_flat", 1.695),
    figure("thread.lead_angle_pitch", 3.5713),
    figure("setup.train", "40/60 × 50/20"),
    figure("setup.speed", 60.0),
    figure("setup.time_to_stop", 23.94),
    figure("setup.dial_marks", "1 3 5 7"),
)
FACTS = {
    "job": "main-screw",
    "title": "Main screw, nipping press",
    "machine": "Bench lathe, metric leadscrew",
    "material": "C45, as rolled",
    "code": "K7MQ-29XF",
    "file": "main-screw.yaml",
    "version": "0.1.0",
    "assumed": "one start\nno rest\nopen thread end",
}


def view(shape: Shape = A5, **changes: object) -> View:
    style = Style(shape.body, shape.dial, shape.head, shape.small, shape.ink == "mono")
    made = View(
        figures={figure.id: figure for figure in FIGURES},
        passes=(),
        outlines={},
        steps={},
        findings=(
            Finding("setup.stop", "The carriage meets the shoulder 1.2 s after the thread's end."),
        ),
        facts=FACTS,
        inch=False,
        style=style,
    )
    return replace(made, **changes)  # type: ignore[arg-type]


def _profile(drawing: Drawing) -> None:
    half = 1.695 / 2
    top = half + 2.75 * tan(radians(15))
    cut = [(-7, -6), (-7, 0), (-top, 0), (-half, -2.75), (half, -2.75), (top, 0), (7, 0), (7, -6)]
    drawing.section(cut, edges=False)
    drawing.outline(cut[1:-1])
    drawing.break_line((-7, -6), (7, -6))
    reach = half / tan(radians(15))
    drawing.horizontal((-half, -2.75), (half, -2.75), "1.695", -13)
    drawing.vertical((top, 0), (half, -2.75), "2.750", 22)
    drawing.angle((0, -2.75 - reach), 75, 105, "30°", 7, legs_from=(2.75 + reach) * 1.036)
    drawing.leader((-half, -2.75), "R 0.25", toward=215)


def _thread(view: View, pen: Pen, width: float) -> Sequence[Block]:
    kit = Kit(view, pen, width)
    return [
        kit.big("Turn the blank to", view.written("thread.blank_diameter"), "28.00 / 27.70 mm"),
        *kit.figures(
            "thread.major_diameter",
            "thread.pitch_diameter",
            "thread.minor_diameter",
            "thread.depth",
            "thread.lead",
            "thread.lead_angle_pitch",
        ),
        kit.space(),
        kit.drawing((-7.2, -6.4, 7.2, 0), _profile, tallest=52, clear=(9, 11, 10, 8)),
        kit.note("Profile 5:1. Limits by the standard's own rules."),
    ]


def _setup(view: View, pen: Pen, width: float) -> Sequence[Block]:
    kit = Kit(view, pen, width)
    return [
        kit.bigs(
            [
                ("Wheels", view.written("setup.train"), ""),
                ("Spindle speed", view.written("setup.speed"), "ruled by the stop"),
            ]
        ),
        *kit.figures("setup.time_to_stop", "setup.dial_marks"),
        kit.paragraph("Cut towards the tailstock: the leadscrew turns with the spindle."),
    ]


def infeed(rows: int) -> Panel:
    def blocks(view: View, pen: Pen, width: float) -> Sequence[Block]:
        kit = Kit(view, pen, width)
        columns = [
            Column("Pass", "end"),
            Column("Dial", "end", dial=True),
            Column("Bite mm", "end"),
            Column("Ruled by", stretch=True),
            Column("", "end", tick=True),
        ]
        lines: list[Sequence[str] | str] = ["Rough"]
        for number in range(rows):
            turns, rest = divmod(number * 7, 50)
            lines.append((str(number + 1), f"{turns} + {rest:02d}", "0.14", "force", ""))
        return [
            kit.item("Touch the blank with the tool and set the dial to 0.", "1"),
            *kit.table(columns, lines),
            kit.note("Two spring passes at the last setting."),
        ]

    return Panel("infeed", "Infeed", (), blocks)


def _safety(view: View, pen: Pen, width: float) -> Sequence[Block]:
    kit = Kit(view, pen, width)
    texts = (
        "Left-hand thread: the run-out is at the tailstock.",
        "Never leave the key in the chuck.",
        "Swarf cuts: use a hook, not a hand.",
    )
    return [kit.item(text) for text in texts]


def panel(name: str, blocks: Callable[[View, Pen, float], Sequence[Block]]) -> Panel:
    return Panel(name, name.capitalize(), (), blocks)


def panels(rows: int = 14) -> list[Panel]:
    return [
        panel("thread", _thread),
        panel("setup", _setup),
        infeed(rows),
        panel("safety", _safety),
    ]
