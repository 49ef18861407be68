"""``chart``: which standard pitches a machine cuts, to pin on its headstock."""

from __future__ import annotations

import argparse
from pathlib import Path

from cardgen.terminal import DONE, FAULTY, MACHINES, each, put, say


def chart(arguments: argparse.Namespace) -> int:
    """Write the charts of the machines named, or of all, and print each file."""
    from cardgen.machine_chart import draw
    from cardgen.make import keep

    files = arguments.paths or sorted(MACHINES.glob("*.yaml"))
    if not files:
        say(f"no machine files under {MACHINES}; cardgen new --machine NAME writes one")
        return FAULTY

    def one(file: Path) -> int:
        name, content = draw(file, arguments.template)
        target = arguments.out / f"chart-{name}.pdf"
        keep(target, content)
        put(str(target))
        return DONE

    return each(files, one)
