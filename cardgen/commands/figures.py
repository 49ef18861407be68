"""``figures`` and ``why``: the numbers, and how one of them came about."""

from __future__ import annotations

import argparse
from collections.abc import Iterable
from pathlib import Path

from cardgen import __version__
from cardgen.core.problems import nearest
from cardgen.terminal import DONE, REFUSED, USAGE, put, say, tell, with_files

_MOST = 6
"""How many figures are offered for one that is not there."""


def print_figures(arguments: argparse.Namespace) -> int:
    """Print every figure of the jobs named, for people or for other programs."""
    import json

    from cardgen.core.rounding import limits_written, written
    from cardgen.explain import as_json
    from cardgen.make import work

    def run(file: Path) -> int:
        worked = work(file)
        sheets = worked.sheets
        if arguments.json:
            told = as_json(sheets, job=worked.job.name, version=__version__, code=worked.code)
            put(json.dumps(told, ensure_ascii=False))
        else:
            put(f"{worked.job.name}  {worked.code}")
            for figure in sheets.figures.values():
                value = written(figure, inch=worked.job.inch)
                limits = limits_written(figure, inch=worked.job.inch)
                shown = value if limits == value else f"{value}  ({limits})"
                put(f"  {figure.id:<32} {shown}")
            tell(sheets.findings, file)
        return REFUSED if sheets.refused else DONE

    return with_files(arguments.paths, run)


def _hint(arguments: argparse.Namespace, figures: Iterable[str]) -> str:
    """Return which figures may have been meant: those that hold the word, or the nearest."""
    known = list(figures)
    within = [id for id in known if arguments.figure in id][:_MOST]
    near = " or ".join(within) or nearest(arguments.figure, known)
    return f"; did you mean {near}?" if near else f"; cardgen figures {arguments.path} names all"


def explain(arguments: argparse.Namespace) -> int:
    """Print how one figure came about."""
    from cardgen.explain import why
    from cardgen.make import work

    def run(file: Path) -> int:
        worked = work(file)
        figures = worked.sheets.figures
        if arguments.figure not in figures:
            hint = _hint(arguments, figures)
            say(f"{arguments.figure} is not a figure of {worked.job.name}{hint}")
            return USAGE
        put(why(figures, arguments.figure, worked.job.places, worked.job.machine.places))
        return DONE

    return with_files([arguments.path], run)
