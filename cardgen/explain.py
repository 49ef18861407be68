"""Figures for other programs and for the doubter: as JSON, and as a chain down to the spec."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from cardgen.core.figure import Figure, Input, Sheets
from cardgen.core.problems import Place

_NAME = re.compile(r"[A-Za-z_][A-Za-z0-9_']*")
_DEPTH = 12
_METHOD = "method:"
_PRODUCT = re.compile(r"(?<=[\w.)']) +(?=[\w(])")
"""A space that multiplies, in the grammar of formulas."""


def as_json(sheets: Sheets, *, job: str, version: str, code: str) -> dict[str, Any]:
    """Return everything worked out for a job as plain lists and mappings.

    Parameters
    ----------
    sheets
        Of the job.
    job, version, code
        The job's name, cardgen's version and the card's short code.

    Returns
    -------
    dict
        Keys ``job``, ``version``, ``code``, ``figures``, ``schedule``, ``warnings``; what does
        not apply is left out, never ``None``.
    """
    return {
        "job": job,
        "version": version,
        "code": code,
        "figures": [_figure(figure) for figure in sheets.figures.values()],
        "schedule": [
            {
                "pass": line.number,
                "depth": line.depth,
                "increment": line.increment,
                "dial": line.dial,
                "compound": line.compound,
                "force": line.force,
                "limited_by": line.limited_by,
                "step": line.step,
                "used": line.used,
                "nearest": line.nearest,
            }
            for line in sheets.passes
        ],
        "warnings": [
            {"id": finding.id, "text": finding.text, "refuses": finding.refuses}
            for finding in sheets.findings
        ],
    }


def _figure(figure: Figure) -> dict[str, Any]:
    limits = {"low": figure.low, "high": figure.high}
    return {
        "id": figure.id,
        "label": figure.name.label,
        "symbol": figure.name.symbol,
        "value": figure.value,
        **{key: limit for key, limit in limits.items() if limit is not None},
        "unit": figure.name.unit,
        "formula": figure.formula,
        "inputs": {symbol: part.value for symbol, part in figure.inputs.items()},
        "from": {symbol: part.origin for symbol, part in figure.inputs.items()},
        "source": figure.source,
        "basis": figure.basis,
        "evidence": figure.evidence,
        **({"note": figure.note} if figure.note else {}),
    }


def why(
    figures: Mapping[str, Figure],
    id: str,
    places: Mapping[str, Place],
    machine_places: Mapping[str, Place],
) -> str:
    """Return how one figure came about, down to the lines of the spec.

    Parameters
    ----------
    figures
        All figures of the job.
    id
        The figure to explain.
    places, machine_places
        Key path to place, of the job file and of the machine file.

    Returns
    -------
    str
        A tree, one step of indentation for each step down. A figure that was already explained
        higher up is named, not repeated.
    """
    lines: list[str] = []
    told: set[str] = set()

    def tell(figure: Figure, symbol: str, depth: int) -> None:
        pad = "  " * depth
        lines.append(f"{pad}{symbol} = {_value(figure)}   {figure.name.label} ({figure.id})")
        if figure.id in told:
            lines.append(f"{pad}    as above")
            return
        told.add(figure.id)
        if figure.formula.startswith(_METHOD):
            lines.append(f"{pad}    by {figure.formula.removeprefix(_METHOD).strip()}")
        elif figure.formula and figure.formula not in figure.inputs:
            # A formula that only repeats its one input says nothing that the line below does not.
            lines.append(f"{pad}    = {figure.formula}")
            if figure.inputs:
                lines.append(f"{pad}    = {_with_numbers(figure)}")
        if figure.note:
            lines.append(f"{pad}    {figure.note}")
        lines.append(f"{pad}    [{_grounds(figure)}]")
        for part_symbol, part in figure.inputs.items():
            below = figures.get(part.origin)
            if below is not None and depth < _DEPTH and part.value == below.value:
                tell(below, part_symbol, depth + 1)
            else:
                told_part = f"{pad}  {part_symbol} = {_number(part.value)} {part.unit}".rstrip()
                if below is None or depth >= _DEPTH:
                    lines.append(f"{told_part}   [{_origin(part, places, machine_places)}]")
                    continue
                lines.append(f"{told_part}   {_which(part, below)}")
                tell(below, below.name.symbol or below.id, depth + 2)

    figure = figures[id]
    tell(figure, figure.name.symbol or figure.id, 0)
    return "\n".join(lines)


def _number(value: float | str) -> str:
    return value if isinstance(value, str) else f"{value:.7g}"


def _value(figure: Figure) -> str:
    text = f"{_number(figure.value)} {figure.name.unit}".rstrip()
    limits = [_number(limit) for limit in (figure.low, figure.high) if limit is not None]
    return f"{text} ({' to '.join(limits)})" if limits else text


def _with_numbers(figure: Figure) -> str:
    def number_of(match: re.Match[str]) -> str:
        part = figure.inputs.get(match.group())
        if part is None:
            return match.group()
        number = _number(part.value)
        return f"({number})" if number.startswith("-") else number

    return _NAME.sub(number_of, _PRODUCT.sub(" × ", figure.formula))


def _which(part: Input, figure: Figure) -> str:
    """Say which number of a figure an input is, when it is not its value."""
    named = f"{figure.name.label} ({figure.id})"
    if part.value == figure.low:
        return f"lower limit of {named}"
    if part.value == figure.high:
        return f"upper limit of {named}"
    return f"from {named}"


def _grounds(figure: Figure) -> str:
    words = {"memory": "; not checked against the source", "practice": ""}
    return f"{figure.basis}: {figure.source}{words.get(figure.evidence, '')}"


def _origin(part: Input, places: Mapping[str, Place], machine_places: Mapping[str, Place]) -> str:
    kind, _, key = part.origin.partition(":")
    known = {"spec": places, "machine": machine_places}.get(kind)
    if known is None:
        told = {"table": f"cardgen/data, table {key}", "material": f"the material's data, {key}"}
        return told.get(kind, part.origin)
    place = known.get(key)
    if place is None and kind == "spec" and key.startswith("thread."):
        place = known.get("thread.size")  # a designation stands for diameter, pitch and class
    if place is None:
        return f"{key}: not stated, assumed"
    return f"{place.file}:{place.line} {key}"
