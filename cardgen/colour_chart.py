"""The colours of hot steel as cards of their own, in any template: made for no job.

shipped tables -> steps -> picture -> PDF
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from cardgen import __version__, library
from cardgen.binder.record import ColoursError, coloured
from cardgen.binder.stale import Moved
from cardgen.core.figure import Step
from cardgen.core.problems import Place, Problem, SpecError
from cardgen.core.words import ENGLISH, Words
from cardgen.sheets._heat_chart import colour_chart
from cardgen.spec import template as templates
from cardgen.spec.find import near_names, shipped, upward
from cardgen.spec.job import Template
from cardgen.spec.load import spoken
from cardgen.spec.material import material
from cardgen.spec.substance import Material

if TYPE_CHECKING:
    from cardgen.card.pen import Picture

_CARBON = "w1"
_TAPS = {"Water-hardening drill rod": "w1", "Oil-hardening drill rod": "o1"}
"""Steels that taps and chasers are made of in the shop, by the name they are sold under."""


def shape(name: str, folder: Path) -> Template:
    """Return a template by its name: the maker's own, looked for from a folder upwards, or shipped.

    Raises
    ------
    SpecError
        If there is no such template, or it is faulty.
    """
    place = Place(f"templates/{name[:60]}.yaml", 1, 1)
    own = upward(folder, f"templates/{name}.yaml", None) if name.isprintable() else None
    if own is not None:
        content, shown = own.read_bytes(), str(own)
    else:
        file = shipped("templates", name)
        if file is None:
            known, near = near_names(folder, "templates", name, None)
            mend = f"did you mean {near}?" if near else ""
            found = f"there is no template {name[:60]}"
            raise SpecError([Problem(place, "template", found, f"one of {known}", mend)])
        content, shown = file.content, file.shown
    outcome = templates.template(content, shown, name)
    if outcome.record is None:
        raise SpecError(list(outcome.problems))
    return outcome.record


def shop_words(folder: Path) -> Words:
    """Return the words in which a shop's charts are put.

    Raises
    ------
    SpecError
        If the shop file above the folder is faulty.
    """
    language, comma = spoken(folder)
    return Words(library.words(language), comma, language)


def picture(template: Template, words: Words = ENGLISH) -> Picture:
    """Return the chart, drawn: temper colours, glow, heat at the grinder, shop-made taps."""
    from cardgen.card import place
    from cardgen.card.panels._colours import PANELS
    from cardgen.card.view import Style, View
    from cardgen.pdf import fonts

    view = View(
        figures={},
        passes=(),
        outlines={},
        steps=_told(),
        findings=(),
        facts={"title": "Colours of hot steel", "job": "colours", "version": __version__},
        inch=False,
        style=Style(
            template.body, template.dial, template.head, template.small, template.ink == "mono"
        ),
        words=words,
    )
    return place.arrange(view, template, fonts.metrics(), PANELS)


def draw(template: Template, words: Words = ENGLISH) -> bytes:
    """Return the chart as PDF bytes, the same for the same template."""
    from cardgen.pdf import write

    return write.to_pdf(picture(template, words), attachments=coloured(_said()), words=words)


def moved_since(chart: ColoursError) -> tuple[Moved, ...]:
    """Return the lines of a printed chart that differ from those of today."""
    now = _said()
    return tuple(
        Moved(line, chart.lines.get(line, "absent"), now.get(line, "absent"))
        for line in dict.fromkeys([*now, *chart.lines])
        if chart.lines.get(line) != now.get(line)
    )


def _told() -> Mapping[str, tuple[Step, ...]]:
    return colour_chart(_steel(_CARBON), {word: _steel(of) for word, of in _TAPS.items()})


def _said() -> dict[str, str]:
    """Return what the chart says, each line by its panel and number."""
    return {
        f"{topic} {number}": step.text
        for topic, steps in _told().items()
        for number, step in enumerate(steps, start=1)
    }


def _steel(name: str) -> Material:
    file = shipped("materials", name)
    if file is None:
        msg = f"the shipped material {name} is missing"
        raise FileNotFoundError(msg)
    outcome = material(file.content, file.shown, name)
    if outcome.record is None:
        raise SpecError(list(outcome.problems))
    return outcome.record
