"""A worked-out job to a picture: panels into columns, columns onto cards, head and foot around.

A panel is a file in ``card/panels/``; only those that a card shows are imported. The picture is
proved whole before it leaves: see :mod:`cardgen.card.proof`.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from importlib import import_module

from cardgen.card.drawing import DrawingError
from cardgen.card.edge import draw_edge
from cardgen.card.flow import fill, refill
from cardgen.card.head import Frame, heading
from cardgen.card.panel import Block, Panel
from cardgen.card.pen import Box, Cells, Metrics, Page, Pen, Picture, Text
from cardgen.card.piece import Piece, lines_height
from cardgen.card.proof import prove, prove_part
from cardgen.card.rows import abreast
from cardgen.card.shape import Shape
from cardgen.card.stack import LayoutError, NoRoomError, Part, Stack
from cardgen.card.table import Kit
from cardgen.card.view import UNCHECKED, Style, View
from cardgen.core.figure import Sheets
from cardgen.core.words import ENGLISH, Words, told

GUTTER = 4.0
"""Clear space between columns [mm]."""
GAP = 2.2
"""Clear space between panels in a column [mm]."""
_LOW = 100.0
"""A card that is lower than this has a short head and a short foot [mm]."""
_READS_WELL = 60.0
"""The narrowest column that reads well: below it, drawings may have to be left out [mm]."""
_LARGEST = 1.5
"""How many times their size the numbers that are dialled in may become."""
_STEP = 2.0
"""By which they grow, in few enough steps to be quick [pt]."""


def lay_out(
    sheets: Sheets,
    facts: Mapping[str, str],
    template: Shape,
    metrics: Metrics,
    *,
    inch: bool = False,
    show: Sequence[str] | None = None,
    symbol: Callable[[], Cells] | None = None,
    words: Words = ENGLISH,
) -> Picture:
    """Return the cards of a job.

    Parameters
    ----------
    sheets
        Finished and not refused.
    facts
        Words that are not figures: ``job``, ``title``, ``note``, ``machine``, ``material``,
        ``date``, ``code``, ``file``, ``version``, and ``assumed`` (the defaults in a row). What is
        empty or absent is not printed.
    template
        Page, columns, type sizes, and the order of panels.
    metrics
        Of the typeface.
    inch
        Whether inches are written first.
    show
        The panels asked for; all of the template's order if not given.
    symbol
        Makes the card's code a QR symbol; asked by cards that have room for it alone.
    words
        In which texts are put.

    Raises
    ------
    LayoutError
        If a card cannot be drawn whole: a fault of ours.
    """
    view = replace(_view(sheets, facts, template, inch), symbol=symbol, words=words)
    names = [name for name in template.order if show is None or name in show]
    return arrange(view, template, metrics, _panels(names))


def arrange(view: View, template: Shape, metrics: Metrics, panels: Sequence[Panel]) -> Picture:
    """Return the cards that show some panels of a view, less those without their figures.

    What a card has to spare goes to the numbers that are read from afar: they are made as large
    as they can be, up to ``_LARGEST`` times their size, without another card. A drawing that the
    card is too small for is left out, and a note stands in its place.
    """
    while True:
        laid = _laid(view, template, metrics, panels)
        failed: list[str] = []
        pages = tuple(
            _page(laid, template, metrics, number, failed)
            for number in range(1, len(laid.cards) + 1)
        )
        if not failed:
            break
        view = replace(view, undrawn=view.undrawn.union(failed))
    facts = view.facts
    designation = view.written("thread.designation") if view.has("thread.designation") else ""
    title = " - ".join(part for part in (facts.get("title", ""), designation) if part)
    subject = " ".join(part for part in (facts.get("job", ""), facts.get("code", "")) if part)
    return Picture(pages, title, subject, view.style.mono)


@dataclass(frozen=True, slots=True)
class _Laid:
    """Cards before they are drawn: what stands where, within what frame."""

    frame: Frame
    cards: Sequence[Sequence[Sequence[Part]]]


def _laid(view: View, template: Shape, metrics: Metrics, panels: Sequence[Panel]) -> _Laid:
    live = live_area(template)
    width, columns = live.right - live.left, template.columns
    column = (width - GUTTER * (columns - 1)) / columns
    measuring = Pen(metrics, template.small, words=view.words)
    unchecked = any(figure.evidence == "memory" for figure in view.figures.values())
    clear = min(template.width - live.right, template.height - live.bottom)
    short = live.bottom - live.top < _LOW
    frame = Frame(view, measuring, width, unchecked, short, clear)
    head, foot = frame.head(1, 1).height, frame.foot(marked=True).height
    height = live.bottom - live.top - head - foot - 2 * frame.space
    if height < 20.0 or column < 25.0:
        msg = f"a card of {template.width:g} x {template.height:g} mm leaves no room for columns"
        raise NoRoomError(msg)
    # A drawing may stand under its panel's heading and a heading of its own.
    above = heading(measuring, column, template.head, "X").height + lines_height(2, template.body)
    view = replace(view, tallest=height - above)

    def stacks(grown: float) -> list[Stack]:
        grown_view = replace(view, style=replace(view.style, grown=grown))
        return _stacks(grown_view, panels, measuring, column, frame)

    cards = fill(stacks(0.0), columns, height, GAP)
    low, high = 0, int(template.dial * (_LARGEST - 1) / _STEP)
    while low < high:
        middle = (low + high + 1) // 2
        larger = refill(stacks(_STEP * middle), columns, height, GAP, len(cards))
        if larger is None:
            high = middle - 1
        else:
            cards, low = larger, middle
    return _Laid(frame, cards)


def live_area(template: Shape) -> Box:
    """Return the card less its margins and what its holes take."""
    left, top, right, bottom = (max(template.margin, side) for side in template.taken)
    return Box(left, top, template.width - right, template.height - bottom, "part", "card")


def _view(sheets: Sheets, facts: Mapping[str, str], template: Shape, inch: bool) -> View:
    return View(
        figures=sheets.figures,
        passes=sheets.passes,
        outlines={name: shape for sheet in sheets for name, shape in sheet.outlines.items()},
        steps={sheet.topic: tuple(sheet.steps) for sheet in sheets if sheet.steps},
        findings=sheets.findings,
        facts=facts,
        inch=inch,
        style=_style(template),
    )


def _style(template: Shape) -> Style:
    return Style(
        template.body,
        template.dial,
        template.head,
        template.small,
        template.ink == "mono",
        template.record_line,
    )


def _panels(names: Sequence[str]) -> list[Panel]:
    """Return the panels of these names; a word that has no panel yet is passed over."""
    found: list[Panel] = []
    for name in names:
        module = f"cardgen.card.panels.{name.replace('-', '_')}"
        try:
            panel = import_module(module).PANEL
        except ModuleNotFoundError as fault:
            if fault.name != module:
                raise
            continue
        found.append(panel)
    return found


def _stacks(
    view: View, panels: Sequence[Panel], pen: Pen, width: float, frame: Frame
) -> list[Stack]:
    """Return the panels' blocks, what must be minded before them, what was assumed after them."""
    kit = Kit(view, pen, width)
    size = view.style.head
    stacks: list[Stack] = []
    first: list[Block] = list(frame.left_out(width))
    first += kit.prose(view.facts.get("note", ""), weight="bold")
    if first:
        first.append(kit.space())
    first += [kit.warning(finding.text) for finding in view.findings]
    if first:
        stacks.append(Stack("mind", None, None, first, first=True))
    for panel in panels:
        if not view.has(*panel.needs):
            continue
        pen.owner = panel.name
        above = heading(pen, width, size, panel.title)
        again = heading(pen, width, view.style.body, panel.title, "continued")
        tallest = view.tallest + lines_height(2, view.style.body)
        given = [
            kit.no_room() if _unfit(block, tallest, view.undrawn) else block
            for block in panel.blocks(view, pen, width)
        ]
        blocks = abreast(given, width, view.style.body)
        if blocks:
            stacks.append(Stack(panel.name, above, again, blocks))
    assumed = view.facts.get("assumed", "")
    if assumed:
        assumptions = kit.note(told("Not stated, so assumed: {assumed}.", assumed=assumed))
        stacks.append(Stack("assumed", None, None, [assumptions], anywhere=True))
    return stacks


def _unfit(block: Block, tallest: float, undrawn: frozenset[str]) -> bool:
    """Whether a drawing is too high for the card, or its words are known to have no room."""
    if not isinstance(block, Piece) or not block.picture:
        return False
    return block.height > tallest or block.name in undrawn


def _page(laid: _Laid, template: Shape, metrics: Metrics, card: int, failed: list[str]) -> Page:
    """Draw one card; add the drawings whose words had no room to those that failed."""
    frame, cards, columns = laid.frame, len(laid.cards), laid.cards[card - 1]
    pen = Pen(metrics, template.small, template.ink == "mono", laid.frame.view.words)
    live = live_area(template)._replace(owner=f"card {card}")
    width = live.right - live.left
    each = (width - GUTTER * (template.columns - 1)) / template.columns
    head = _once(frame.head(card, cards), tell=card == 1)
    _draw(pen, "head", head, live.left, live.top, width)
    top = live.top + head.height + frame.space
    for place, parts in enumerate(columns):
        left = live.left + place * (each + GUTTER)
        for part in parts:
            y = top + part.top
            within = (left, y, left + each, y + part.height)
            with pen.tag("Sect", part.owner), pen.part(part.owner, within, "panel"):
                for number, block in enumerate(part.blocks, start=1):
                    drawn = _drawn(pen, f"{part.owner} {number}", block, left, y, each)
                    if not drawn and isinstance(block, Piece):
                        failed.append(block.name)
                    y += block.height
    marked = any(isinstance(mark, Text) and UNCHECKED in mark.text for mark in pen.marks)
    foot = _once(frame.foot(marked=marked), tell=card == 1 or marked)
    _draw(pen, "foot", foot, live.left, live.bottom - foot.height, width)
    if not failed:
        prove(pen, live)
    draw_edge(pen, template)
    return Page(
        template.width,
        template.height,
        tuple(pen.marks),
        tuple(pen.boxes),
        tuple(pen.tags),
        tuple(pen.spans),
    )


def _once(piece: Piece, *, tell: bool) -> Piece:
    """Return a head or a foot, to be passed over where it only repeats what was told before."""
    return piece if tell else replace(piece, role="Artifact")


def _drawn(pen: Pen, owner: str, block: Block, x: float, y: float, width: float) -> bool:
    """Draw a block; return whether it is whole.

    On a narrow or low card a drawing that leaves its place counts as one that has no room; on any
    other that is a fault of ours, which the proof will find.
    """
    if not isinstance(block, Piece) or not block.picture:
        _draw(pen, owner, block, x, y, width)
        return True
    try:
        _draw(pen, owner, block, x, y, width)
    except DrawingError:
        return False
    if width >= _READS_WELL:
        return True
    try:
        prove_part(pen, *pen.parts[-1])
    except LayoutError:
        return False
    return True


def _draw(pen: Pen, owner: str, block: Block, x: float, y: float, width: float) -> None:
    with pen.part(owner, (x, y, x + width, y + block.height)):
        block.draw(pen, x, y, width)
