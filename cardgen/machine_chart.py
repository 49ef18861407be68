"""What a machine can cut, as a card to pin on its headstock: made for no job.

machine file -> chart -> picture -> PDF
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from cardgen import __version__
from cardgen.binder.code import code, digest
from cardgen.binder.record import ChartError, charted
from cardgen.binder.stale import Moved
from cardgen.colour_chart import shape, shop_words
from cardgen.core.chart import Chart
from cardgen.core.problems import SpecError
from cardgen.core.rounding import rounded
from cardgen.core.words import ENGLISH, Said, Words, joined
from cardgen.sheets.chart import work_out
from cardgen.spec import machine as machines
from cardgen.spec.find import record_name
from cardgen.spec.job import Assumed, Template
from cardgen.spec.lathe import Machine
from cardgen.spec.text import UnreadableError, content

if TYPE_CHECKING:
    from cardgen.card.pen import Picture


@dataclass(frozen=True, slots=True)
class Read:
    """A machine file that is sound, with its bytes and what it left open."""

    machine: Machine
    content: bytes
    assumed: tuple[Assumed, ...]


def read(path: Path) -> Read:
    """Read a machine file.

    Raises
    ------
    SpecError
        If it is faulty.
    """
    try:
        written = content(path, str(path))
    except UnreadableError as error:
        raise SpecError(error.problems) from error
    outcome = machines.machine(written, str(path), record_name(path, path.parent))
    if outcome.record is None:
        raise SpecError(outcome.problems)
    return Read(outcome.record, written, outcome.assumed)


def picture(of: Read, chart: Chart, template: Template, words: Words = ENGLISH) -> Picture:
    """Return the chart of a machine, drawn, put in some words."""
    from cardgen.card import place
    from cardgen.card.chart import panels
    from cardgen.card.view import Style, View
    from cardgen.pdf import fonts, symbol

    machine = of.machine
    short = code(digest([("machine", of.content)], __version__))
    view = View(
        figures={},
        passes=(),
        outlines={},
        steps={},
        findings=(),
        facts={
            # What the maker wrote is said in his words.
            "title": Said(machine.title),
            "job": f"chart of {machine.name}",
            "material": "wheels for every standard pitch",
            "code": short,
            "file": Path(machine.file).name,
            "version": __version__,
            "assumed": joined((each.text for each in of.assumed if _matters(each)), "; "),
        },
        inch=machine.leadscrew_inch,
        symbol=partial(symbol.identity, short, __version__),
        words=words,
        style=Style(
            template.body, template.dial, template.head, template.small, template.ink == "mono"
        ),
    )
    shown = panels(chart, machine.thread_dial is not None)
    return place.arrange(view, template, fonts.metrics(), shown)


def _matters(assumed: Assumed) -> bool:
    """Whether a default has to do with the wheels."""
    return assumed.key.startswith("machine.train")


def draw(path: Path, template: str) -> tuple[str, bytes]:
    """Return the name of a machine and its chart as PDF bytes.

    Parameters
    ----------
    path
        The machine file.
    template
        Name of a template.

    Raises
    ------
    SpecError
        If machine or template is faulty.
    """
    from cardgen.pdf import write

    of = read(path)
    chart = work_out(of.machine)
    words = shop_words(path.parent)
    drawn = picture(of, chart, shape(template, path.parent), words)
    name = of.machine.name
    return name, write.to_pdf(drawn, attachments=charted(name, _said(chart)), words=words)


def _said(chart: Chart) -> dict[str, str]:
    """Return what a chart says of each pitch, as text."""
    lines = [("mm", line) for line in chart.metric] + [("tpi", line) for line in chart.inch]
    return {
        f"{line.pitch} {unit}": ", ".join(
            part
            for part in (
                line.wheels,
                line.lever,
                "no train" if line.error_ppm is None else f"{rounded(line.error_ppm, 0)} ppm",
                line.marks,
            )
            if part
        )
        for unit, line in lines
    }


def moved_since(chart: ChartError, machines: Path) -> tuple[Moved, ...]:
    """Return the lines of a chart that differ from those of today's machine file.

    Parameters
    ----------
    chart
        As it was found in a PDF.
    machines
        Folder of the machine files.

    Raises
    ------
    SpecError
        If the machine file is gone or faulty.
    """
    now = _said(work_out(read(machines / f"{Path(chart.machine).name}.yaml").machine))
    return tuple(
        Moved(pitch, chart.lines.get(pitch, "absent"), now.get(pitch, "absent"))
        for pitch in dict.fromkeys([*now, *chart.lines])
        if chart.lines.get(pitch) != now.get(pitch)
    )
