"""What a machine can cut, as a card to pin on its headstock: made for no job.

machine file -> chart -> picture -> PDF
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from cardgen import __version__
from cardgen.binder.code import code, digest
from cardgen.colour_chart import shape
from cardgen.core.problems import SpecError
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


def picture(of: Read, template: Template) -> Picture:
    """Return the chart of a machine, drawn."""
    from cardgen.card import place
    from cardgen.card.chart import panels
    from cardgen.card.view import Style, View
    from cardgen.pdf import fonts

    machine = of.machine
    view = View(
        figures={},
        passes=(),
        outlines={},
        steps={},
        findings=(),
        facts={
            "title": machine.title,
            "job": f"chart of {machine.name}",
            "material": "wheels for every standard pitch",
            "code": code(digest([("machine", of.content)], __version__)),
            "file": Path(machine.file).name,
            "version": __version__,
            "assumed": "\n".join(each.text for each in of.assumed if _matters(each)),
        },
        inch=machine.leadscrew_inch,
        style=Style(
            template.body, template.dial, template.head, template.small, template.ink == "mono"
        ),
    )
    shown = panels(work_out(machine), machine.thread_dial is not None)
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
    return of.machine.name, write.to_pdf(picture(of, shape(template, path.parent)))
