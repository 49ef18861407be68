"""A card's marks as a bare reportlab script, which is what the benchmarks measure against.

The script is what one would write by hand for this one card and no other: it holds the finished
marks as calls of reportlab's canvas, with the same typeface, and works nothing out.
"""

from __future__ import annotations

from itertools import groupby

from cardgen.card.pen import POINT, Arc, Disc, Mark, Page, Picture, Symbol, Text

HEADER = """
import io
import os
from font_source_sans_pro import font_directory
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

FILES = {"regular": "SourceSansPro-Regular.ttf", "bold": "SourceSansPro-Semibold.ttf"}
for name, file in FILES.items():
    pdfmetrics.registerFont(TTFont(name, os.path.join(font_directory, file)))


def card():
    out = io.BytesIO()
    c = Canvas(out, invariant=1, pageCompression=1, initialFontName="regular")
"""


def calls(mark: Mark, height: float) -> list[str]:
    """Return the canvas calls for one mark."""
    k = 1 / POINT

    def x(value: float) -> str:
        return f"{value * k:.2f}"

    def y(value: float) -> str:
        return f"{(height - value) * k:.2f}"

    lines = []
    if isinstance(mark, Text):
        put = {"start": "drawString", "middle": "drawCentredString", "end": "drawRightString"}
        ink = mark.ink
        lines.append(f"c.setFillColorRGB({ink.red}, {ink.green}, {ink.blue})")
        lines.append(f"c.setFont({mark.weight!r}, {mark.size})")
        if mark.angle:
            lines += ["c.saveState()", f"c.translate({x(mark.x)}, {y(mark.y)})"]
            lines.append(f"c.rotate({mark.angle})")
            lines.append(f"c.{put[mark.anchor]}(0, 0, {mark.text!r})")
            lines.append("c.restoreState()")
        else:
            lines.append(f"c.{put[mark.anchor]}({x(mark.x)}, {y(mark.y)}, {mark.text!r})")
        return lines
    if isinstance(mark, Symbol):
        # One rectangle for each run of dark cells, in one path.
        lines += ["c.setFillColorRGB(0, 0, 0)", "p = c.beginPath()"]
        side = mark.cell * k
        for row, cells in enumerate(mark.cells.rows):
            first = 0
            for dark, run in groupby(cells):
                after = first + len(list(run))
                if dark:
                    left, low = mark.x * k + first * side, y(mark.y + (row + 1) * mark.cell)
                    lines.append(
                        f"p.rect({left:.2f}, {low}, {(after - first) * side:.2f}, {side:.2f})"
                    )
                first = after
        return [*lines, "c.drawPath(p, stroke=0, fill=1)"]
    stroke, fill = mark.stroke, None if isinstance(mark, Arc) else mark.fill
    if stroke is not None:
        lines.append(f"c.setStrokeColorRGB({stroke.red}, {stroke.green}, {stroke.blue})")
        lines.append(f"c.setLineWidth({mark.width * k:.3f})")
        lines.append(f"c.setDash({[round(part * k, 2) for part in mark.dash]})")
    if fill is not None:
        lines.append(f"c.setFillColorRGB({fill.red}, {fill.green}, {fill.blue})")
    drawn = f"stroke={int(stroke is not None)}, fill={int(fill is not None)}"
    if isinstance(mark, Disc):
        lines.append(f"c.circle({x(mark.x)}, {y(mark.y)}, {x(mark.radius)}, {drawn})")
    elif isinstance(mark, Arc):
        box = f"{x(mark.x - mark.radius)}, {y(mark.y + mark.radius)}, "
        box += f"{x(mark.x + mark.radius)}, {y(mark.y - mark.radius)}"
        lines.append(f"c.arc({box}, {mark.start}, {mark.extent})")
    elif len(mark.points) == 2 and not mark.closed:
        (x1, y1), (x2, y2) = mark.points
        lines.append(f"c.line({x(x1)}, {y(y1)}, {x(x2)}, {y(y2)})")
    else:
        lines.append("p = c.beginPath()")
        for step, (u, v) in zip(
            ["moveTo"] + ["lineTo"] * len(mark.points), mark.points, strict=False
        ):
            lines.append(f"p.{step}({x(u)}, {y(v)})")
        if mark.closed:
            lines.append("p.close()")
        lines.append(f"c.drawPath(p, {drawn})")
    return lines


def bare(picture: Picture) -> str:
    """Return the bare script as a module with one function ``card() -> bytes``."""

    def page(sheet: Page) -> list[str]:
        size = f"c.setPageSize(({sheet.width / POINT:.2f}, {sheet.height / POINT:.2f}))"
        drawn = [line for mark in sheet.marks for line in calls(mark, sheet.height)]
        return [size, *drawn, "c.showPage()"]

    body = [line for sheet in picture.pages for line in page(sheet)]
    body += ["c.save()", "return out.getvalue()"]
    return HEADER + "".join(f"    {line}\n" for line in body)
