"""``chart``: which standard pitches a machine cuts, to pin on its headstock."""

from __future__ import annotations

import argparse
from pathlib import Path

from cardgen.terminal import DONE, FAULTY, MACHINES, each, put, say


def chart(arguments: argparse.Namespace) -> int:
    """Write the charts of the machines named, or of all, and print each file."""
    from cardgen.machine_chart import draw
    from cardgen.make import keep

    files = [_by_name(path) for path in arguments.paths] or sorted(MACHINES.glob("*.yaml"))
    if not files:
        say(f"no machine files under {MACHINES}")
        return FAULTY

    def one(file: Path) -> int:
        name, content = draw(file, arguments.template)
        target = arguments.out / f"chart-{name}.pdf"
        keep(target, content)
        put(str(target))
        return DONE

    return each(files, one)


def _by_name(path: Path) -> Path:
    """Return the machine file that is meant: a path as it is, or a name under specs/machines."""
    named = MACHINES / f"{path}.yaml"
    return named if not path.is_file() and named.is_file() else path
