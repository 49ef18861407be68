"""The passes as settings of the dial, to be followed and ticked off one by one."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from cardgen.card.panel import Block, Panel
from cardgen.card.pen import Pen
from cardgen.card.piece import Piece
from cardgen.card.table import Column, Kit
from cardgen.card.view import View
from cardgen.core.figure import Pass
from cardgen.core.rounding import MM_PER_INCH, rounded

_WAYS: Mapping[str, str] = {
    "plunge": "straight in, cross-slide",
    "flank": "along the flank, compound",
    "rough-then-form": "rough first, then form tool",
}
_RULERS: Mapping[str, tuple[str, str]] = {
    "chip": ("chip", "the thickest chip the tool may take"),
    "force": ("force", "what this lathe is built for"),
    "deflection": ("bend", "how far the work may bend away"),
    "work stress": ("stress", "what the work may bear if the tool digs in"),
    "blade": ("blade", "what the blade may bear if it digs in"),
    "power": ("power", "what the spindle has"),
    "remaining": ("last", "what was left to cut"),
    "finish": ("finish", "a light last cut"),
    "spring": ("", ""),
}
"""Limit to its short word on the card, and what the word stands for."""

_FIRST = 4
"""Blocks of the table, head included, that stand in one column with the block after them."""

_BEFORE = ("set-over", "rest", "dial", "zero", "check", "tool-change", "pass", "starts")
_AFTER = ("spring", "measure")
_WORST = (
    ("cutting.force_max", "cutting.force_allowed"),
    ("cutting.deflection_max", "cutting.deflection_allowed"),
    ("cutting.work_stress_max", "cutting.work_stress_allowed"),
    ("cutting.tool_stress_max", "cutting.tool_stress_allowed"),
    ("cutting.power_max", "cutting.power_allowed"),
)


def blocks(view: View, pen: Pen, width: float) -> Sequence[Block]:
    """Return the panel's blocks for a column of a width [mm]."""
    kit = Kit(view, pen, width)
    return [
        *_setting(view, kit),
        *_steps(view, kit, _BEFORE),
        kit.space(1.0),
        *_table(view, kit),
        kit.note(_legend(view)),
        kit.space(1.0),
        *_steps(view, kit, _AFTER),
        *_pick_up(view, kit),
        *_worst(view, kit),
    ]


def _setting(view: View, kit: Kit) -> Iterator[Block]:
    """Give the way of feeding, and the large numbers that are set once."""
    method = view.figures["cutting.method"]
    way = _WAYS.get(str(method.value), str(method.value))
    # The note begins with the method's own word; the reason follows it.
    reason = method.note.partition(": ")[2]
    yield kit.paragraph(f"{view.label('cutting.method')}: {way}", weight="bold", keep=True)
    if reason:
        yield kit.note(f"{reason[0].upper()}{reason[1:]}.")
    cells = []
    if view.has("setup.compound_angle"):
        id = "setup.compound_angle"
        cells.append((view.label(id), view.written(id), "from straight in"))
    if view.has("cutting.rough_width"):
        id = "cutting.rough_width"
        cells.append((view.label(id) + view.mark(id), view.written(id), ""))
    cells.append((view.label("cutting.dial_total"), view.written("cutting.dial_total"), ""))
    yield kit.bigs(cells)


def _table(view: View, kit: Kit) -> Iterator[Block]:
    """Give the table; its first rows stay together, so that none stands alone under the head."""
    for k, block in enumerate(kit.table(_columns(view), list(_rows(view)))):
        if isinstance(block, Piece) and k < _FIRST:
            yield replace(block, keep=True)
        else:
            yield block


def _columns(view: View) -> list[Column]:
    feeding = "Compound" if _fed_by_compound(view) else "Cross-slide dial"
    return [
        Column("No.", align="end"),
        Column(feeding, dial=True),
        Column("Bite, in" if view.inch else "Bite, mm", align="end"),
        Column("Ruled by", stretch=True),
        Column("", tick=True),
    ]


def _rows(view: View) -> Iterator[Sequence[str] | str]:
    """Give a row for each pass, and a band where the tool or the kind of pass changes."""
    before = ""
    for line in view.passes:
        band = _band(view, line.step) if line.step != before else ""
        if band:
            yield band
        before = line.step
        yield (
            str(line.number),
            line.compound if _fed_by_compound(view) else line.dial,
            "" if line.step == "spring" else _bite(view, line),
            _RULERS.get(line.limited_by, (line.limited_by, ""))[0],
            "",
        )


def _band(view: View, step: str) -> str:
    if step == "spring":
        return "Spring passes: same setting again"
    if not view.has("cutting.rough_width"):
        return ""
    return {
        "rough": f"Roughing tool, {view.written('cutting.rough_width')} wide",
        "widen": "Form tool: centre it in the groove, touch beside it, set 0 anew",
        "finish": "Form tool, the full width of the bottom",
    }.get(step, "")


def _bite(view: View, line: Pass) -> str:
    if view.inch:
        return rounded(line.increment / MM_PER_INCH, 4)
    return rounded(line.increment, 3)


def _legend(view: View) -> str:
    used = dict.fromkeys(line.limited_by for line in view.passes)
    words = [_RULERS[ruler] for ruler in used if ruler in _RULERS and _RULERS[ruler][0]]
    listed = "; ".join(f"{short}: {long}" for short, long in words)
    return f"Bite: inwards, on the radius. Ruled by, what one more division would break: {listed}."


def _fed_by_compound(view: View) -> bool:
    return any(line.compound for line in view.passes)


def _steps(view: View, kit: Kit, kinds: Sequence[str]) -> Iterator[Block]:
    for step in view.steps.get("cutting", ()):
        if step.kind in kinds:
            yield kit.item(step.text)


def _pick_up(view: View, kit: Kit) -> Iterator[Block]:
    for step in view.steps.get("cutting", ()):
        if step.kind == "pick-up":
            yield kit.heading("Place lost, or tool reground")
            yield kit.paragraph(step.text)


def _worst(view: View, kit: Kit) -> Iterator[Block]:
    """Give the hardest moments, each beside what is allowed."""
    yield kit.heading("Hardest pass, and what is allowed")
    for worst, allowed in _WORST:
        if view.has(worst, allowed):
            value = f"{view.bare(worst)} of {view.written(allowed)}"
            yield kit.pair(f"{view.label(worst)}{view.mark(worst)}", value)
    yield from kit.figures("cutting.unsupported_length", "cutting.time")


PANEL = Panel("infeed", "Infeed", ("cutting.passes", "cutting.dial_total"), blocks)
