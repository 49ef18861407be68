"""After which passes the work is measured, so that it is finished by its size and not by a dial."""

from __future__ import annotations

from collections.abc import Sequence

from cardgen.core.figure import Input, Pass, Sheet
from cardgen.rules.dialling import reading

STOPS = (1, 2, 3)
"""The stops to measure at, as they are counted in the figures' names."""
_MIDDLE = reading(0, 1)
"""What the compound shows in the middle of the groove."""
_PARTS = (0.25, 0.12)
"""Depth left at the first two, as parts of what stands between crest and pitch line."""


def record_stops(sheet: Sheet) -> None:
    """Record three passes after which to measure, and the depth that is left at each."""
    if "thread.pitch_diameter" not in sheet:
        return
    proud = abs(sheet.number("thread.blank_diameter") - sheet.number("thread.pitch_diameter")) / 2
    roughed = "cutting.rough_width" in sheet
    in_turn = sheet["cutting.method"].value == "alternate"
    lines = [
        line for line in sheet.passes if _shows_the_groove(line, roughed=roughed, in_turn=in_turn)
    ]
    full = sheet.passes[-1].depth
    before = [line for line in lines if 1e-9 < full - line.depth <= proud * _PARTS[0] * 1.5]
    chosen = _chosen(before, full, proud)
    for count, line in zip(STOPS, chosen, strict=False):
        sheet.add(
            f"cutting.stop_{count}_pass",
            float(line.number),
            formula="method: passes near a quarter and an eighth of the height from pitch line "
            "to crest, and the last before full depth",
            inputs={"h": sheet.ref("thread.depth")},
            source="this schedule",
            basis="practice",
            evidence="practice",
        )
        sheet.add(
            f"cutting.stop_{count}_left",
            full - line.depth,
            formula="hf - t",
            inputs={
                "hf": Input(full, "mm", "constant", "derived"),
                "t": Input(line.depth, "mm", "constant", "derived"),
            },
            source="this schedule",
            basis="computed",
            note="depth left, on the radius",
        )


def _shows_the_groove(line: Pass, *, roughed: bool, in_turn: bool) -> bool:
    """Whether the groove has the form tool's shape after a pass, on both sides alike."""
    if line.step in {"spring", "side"} or (line.step == "rough" and roughed):
        return False
    return not in_turn or line.compound == _MIDDLE


def _chosen(before: Sequence[Pass], full: float, proud: float) -> list[Pass]:
    """Return the passes nearest to the depths that should be left, each once, in order."""
    if not before:
        return []
    found = {before[-1].number: before[-1]}
    for part in _PARTS:
        others = [line for line in before if line.number not in found]
        if others:
            line = min(others, key=lambda line: abs(full - line.depth - part * proud))
            found[line.number] = line
    return [found[number] for number in sorted(found)]
