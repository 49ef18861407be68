"""The passes as settings of the dial, to be followed and ticked off one by one."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import groupby

from cardgen.card.panel import Block, Panel
from cardgen.card.panels._infeed_chart import LETTERS, chart
from cardgen.card.panels._infeed_ways import compared, easing
from cardgen.card.pen import Pen
from cardgen.card.table import Kit
from cardgen.card.ticklist import tick_list
from cardgen.card.view import View
from cardgen.core.figure import Pass
from cardgen.core.rounding import MM_PER_INCH, rounded
from cardgen.core.words import joined, part, sentence, told

_WAYS: Mapping[str, str] = {
    "plunge": "straight in, cross-slide",
    "flank": "along the flank, compound",
    "alternate": "flanks in turn, compound to and fro",
    "rough-then-form": "rough first, then form tool",
    "widen": "rough in steps side by side, then form tool",
}
_NUT_WAYS: Mapping[str, str] = {**_WAYS, "plunge": "straight OUT, towards you, cross-slide"}
_RULERS: Mapping[str, str] = {
    "chip": "the thickest chip the tool may take",
    "force": "the force this lathe is built for",
    "deflection": "how far the work may bend",
    "work stress": "what the work bears if the tool digs in",
    "blade": "what the blade bears if it digs in",
    "power": "the spindle's power",
    "remaining": "what was left to share out",
    "finish": "a light last cut",
}
"""Limit to its words on the card."""
_NUT_RULERS: Mapping[str, str] = {
    **_RULERS,
    "deflection": "how far the boring bar may bend",
    "work stress": "what the boring bar bears if the tool digs in",
}

_SIDEWAYS = (
    "cutting.aside_most",
    "cutting.grooves",
    "cutting.strip_width",
    "cutting.opened_width",
)
"""Where the compound moves the tool sideways: by how much, and how often."""
_BEFORE = ("set-over", "rest", "dial", "zero", "check", "tool-change", "pass", "starts")
_AFTER = ("spring", "measure")
_WORST = (
    ("cutting.force_max", "cutting.force_allowed", "force"),
    ("cutting.deflection_max", "cutting.deflection_allowed", "bend of the work"),
    ("cutting.work_stress_max", "cutting.work_stress_allowed", "its stress if the tool digs in"),
    ("cutting.tool_stress_max", "cutting.tool_stress_allowed", "stress of the blade"),
    ("cutting.power_max", "cutting.power_allowed", "power"),
)
_NUT_WORST = tuple(
    (worst, allowed, "bend of the boring bar" if worst == "cutting.deflection_max" else words)
    for worst, allowed, words in _WORST
)


def blocks(view: View, pen: Pen, width: float) -> Sequence[Block]:
    """Return the panel's blocks for a column of a width [mm]."""
    kit = Kit(view, pen, width)
    return [
        *_setting(view, kit),
        *_steps(view, kit, _BEFORE),
        kit.space(1.0),
        *_table(view, kit),
        *chart(kit),
        kit.note(_legend(view)),
        kit.space(1.0),
        *_steps(view, kit, _AFTER),
        *_pick_up(view, kit),
        *_worst(view, kit),
        *compared(kit),
        *easing(kit),
    ]


def _setting(view: View, kit: Kit) -> Iterator[Block]:
    """Give the way of feeding, and the large numbers that are set once."""
    method = view.figures["cutting.method"]
    way = (_NUT_WAYS if view.internal else _WAYS)[_way(view)]
    yield kit.paragraph(sentence(way, ""), weight="bold", keep=True)
    if reason := part(method.note, "reason"):
        yield kit.note(sentence(reason))
    cells = []
    if view.has("setup.compound_angle"):
        id = "setup.compound_angle"
        cells.append((view.label(id), view.written(id), _from(view)))
    if view.has("cutting.rough_width"):
        id = "cutting.rough_width"
        cells.append((view.marked(id), view.written(id), ""))
    cells.append((view.label("cutting.dial_total"), view.written("cutting.dial_total"), ""))
    yield kit.bigs(cells)
    yield from kit.figures(*_SIDEWAYS)


def _from(view: View) -> str:
    return "from straight out" if view.internal else "from straight in"


def _table(view: View, kit: Kit) -> Iterator[Block]:
    """Give the settings, under a head that is repeated and a band where the tool changes."""
    compound = _way(view) == "flank"
    rows = [(str(line.number), _set(view, line)) for line in view.passes]
    whole = tick_list(kit.pen, kit.width, kit.body, kit.dial, rows, kit.large)
    words = "Compound dial" if compound else "Cross-slide dial"
    if view.internal:
        words = told("{dial}, wound OUT from 0", dial=words)
    if _way(view) == "alternate":
        words = told("{dial}; compound aside", dial=words)
    head = kit.paragraph(
        told("{settings}, down each column", settings=words) if whole.across > 1 else words,
        size=kit.small,
        weight="bold",
        keep=True,
    )
    yield head
    bands: list[tuple[str, str]] = []
    for line in view.passes:
        bands.append(_band(view, line) or (bands[-1] if bands else ("", "")))
    for band, lines in groupby(zip(bands, rows, strict=True), key=lambda each: each[0]):
        words, aside = band
        if words:
            yield replace(kit.heading(words), under=head)
        if aside:
            yield kit.big("Compound on to", aside, keep=True)
        yield replace(whole, rows=[row for _, row in lines], under=head)


def _set(view: View, line: Pass) -> str:
    """Write what is set for a pass: one dial, or both where flanks are cut in turn."""
    way = _way(view)
    if way == "flank":
        return line.compound
    if way == "alternate":
        return told("{dial}, aside {aside}", dial=line.dial, aside=_aside(line.compound))
    return line.dial


def _aside(setting: str) -> str:
    """Return a setting of the compound, less than a turn in divisions alone."""
    return part(setting, "rest") if part(setting, "turns") == "0" else setting


def _band(view: View, line: Pass) -> tuple[str, str] | None:
    """Return what is written above a run of passes, and what the compound is set on to."""
    if line.step == "spring":
        return "Spring passes: same setting again", ""
    if not view.has("cutting.rough_width"):
        return None
    if line.step == "side":
        return "Roughing tool again, beside its groove", line.compound
    words = {
        "rough": told("Roughing tool, {width} wide", width=view.written("cutting.rough_width")),
        "widen": "Form tool: centre it in the groove, touch beside it, set 0 anew",
        "finish": "Form tool, the full width of the bottom",
    }.get(line.step)
    return (words, "") if words else None


def _bite(view: View, line: Pass) -> str:
    if view.inch:
        return rounded(line.increment / MM_PER_INCH, 4)
    return rounded(line.increment, 3)


def _legend(view: View) -> str:
    """Say how deep the bites are and which limit ruled which passes."""
    cuts = [line for line in view.passes if line.step != "spring"]
    bites = sorted({_bite(view, line) for line in cuts}, key=float)
    ruled: dict[str, list[int]] = {}
    for line in cuts:
        ruled.setdefault(line.limited_by, []).append(line.number)
    words = _NUT_RULERS if view.internal else _RULERS
    listed = joined(
        (
            told(
                "{letter} {limit} ({passes})",
                letter=LETTERS[limit],
                limit=words[limit],
                passes=_ranges(numbers),
            )
            for limit, numbers in ruled.items()
        ),
        "; ",
    )
    unit = "in" if view.inch else "mm"
    least, most = f"{bites[0]} {unit}", bites[-1]
    if len(bites) == 1:
        return told(
            "Bites of {bite}, on the radius. Ruled by: {limits}.", bite=least, limits=listed
        )
    return told(
        "Bites of {most} to {least}, on the radius. Ruled by: {limits}.",
        most=most,
        least=least,
        limits=listed,
    )


def _ranges(numbers: Sequence[int]) -> str:
    """Write rising numbers in short.

    Examples
    --------
    >>> _ranges([1, 2, 3, 5, 7, 8])
    '1–3, 5, 7–8'
    """
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(f"{run[0]}–{run[-1]}" if len(run) > 1 else f"{run[0]}" for run in runs)


def _way(view: View) -> str:
    return str(view.figures["cutting.method"].value)


def _steps(view: View, kit: Kit, kinds: Sequence[str]) -> Iterator[Block]:
    for step in view.steps.get("cutting", ()):
        if step.kind in kinds:
            yield kit.item(step.text)


def _pick_up(view: View, kit: Kit) -> Iterator[Block]:
    texts = [step.text for step in view.steps.get("cutting", ()) if step.kind == "pick-up"]
    if texts:
        yield kit.heading("Place lost, or tool reground")
        yield from (kit.paragraph(text) for text in texts)


def _worst(view: View, kit: Kit) -> Iterator[Block]:
    """Give the hardest moments, each beside what is allowed."""
    texts = [
        told(
            "{what}{mark} {most} of {allowed}",
            what=words,
            mark=view.mark(worst),
            most=view.bare(worst),
            allowed=view.written(allowed),
        )
        for worst, allowed, words in (_NUT_WORST if view.internal else _WORST)
        if view.has(worst, allowed)
    ]
    if texts:
        yield kit.note(
            told("Hardest pass, of what is allowed: {limits}.", limits=joined(texts, "; "))
        )


PANEL = Panel("infeed", "Infeed", ("cutting.passes", "cutting.dial_total"), blocks)
