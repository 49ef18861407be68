"""Which texts of the cards have no translation yet: ``python -m tests.missing_words de``.

Prints lines for the end of ``cardgen/data/words/LANGUAGE.toml``, to be filled in. Texts are found
in two ways: patterns, by reading the program; everything else, by drawing every demo job on every
template and listening to what the pen is asked to say.
"""

from __future__ import annotations

import ast
import re
import sys
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from cardgen import library, make
from cardgen.core.names import NAMES
from cardgen.core.nut_names import NUT_NAMES
from cardgen.core.problems import SpecError
from cardgen.core.words import Told, Words
from cardgen.spec.job import Job

ROOT = Path(__file__).parents[1]
JOBS = sorted((ROOT / "specs" / "jobs").glob("*.yaml"))
TEMPLATES = sorted(path.stem for path in (ROOT / "templates").glob("*.yaml"))

_WORD = re.compile(r"[A-Za-z]{3,}")
_UNITS = re.compile(
    r"(?:mm²?|MPa|kN|HRC|rev/min|min⁻¹|ft/min|m/min|mm/s|ppm|tpi|deg|degC|rpm"
    r"|[0-9./×−±⌀ §°%+:()-])+"
)
# Told as they are in every language: standards, books, names of materials, designations.
_AS_IT_IS = re.compile(
    r"^(?:ISO|DIN|BS|ASME|ANSI|NAVEDTRA|Machinery|Shigley|Mott|Khurmi|Peterson)\b|^[A-Z]+ ?\d"
    r"|^\S+\.yaml|^cardgen \d|^[A-Z0-9]{4}-[A-Z0-9]{4}"
    r"|\d-?(?:UNC|UNF|UNEF|UNS|UN|ACME|STUB|BUTT)\b"
)

_NAMED = (
    "thread.designation",
    "mate.designation",
    "setup.train",
    "setup.train_2",
    "setup.train_3",
    "setup.gearbox",
)
"""Figures that are designations, or what the machine's file calls its levers."""


@dataclass(frozen=True, slots=True)
class Listening(Words):
    """Words that remember what they could not say."""

    missed: dict[str, None] = field(default_factory=dict)
    names: frozenset[str] = frozenset()

    def say(self, text: str) -> str:
        key = text.pattern if isinstance(text, Told) else text
        if type(text) in (str, Told) and key not in self.catalogue and wants_words(key, self.names):
            self.missed[key] = None
        # Not the zero-argument super: a slotted dataclass is not the class it was written as.
        return Words.say(self, text)


def wants_words(text: str, names: frozenset[str] = frozenset()) -> bool:
    """Whether a text has words of a language in it, other than the job's own."""
    rest = _UNITS.sub(" ", re.sub(r"\{\w+\}", " ", text))
    return bool(_WORD.search(rest)) and text not in names and not _AS_IT_IS.search(text)


def own_words(worked: make.Worked) -> frozenset[str]:
    """Return what the maker wrote himself: titles, notes and names are never translated."""
    facts = make.facts(worked)
    told = [text for key, text in facts.items() if key != "assumed"]
    lines = [line for text in told for line in text.split("\n")]
    parts = [facts[key] for key in ("machine", "material", "date") if facts.get(key)]
    machine = worked.job.machine
    figures = worked.sheets.figures
    named = [str(figures[id].value) for id in _NAMED if id in figures]
    ranges = [each.name for each in machine.ranges]
    names = [*ranges, machine.title, machine.name]
    return frozenset([*told, *lines, *named, " · ".join(parts), *names])


def heard(language: str, worked: make.Worked) -> dict[str, None]:
    """Return what a job's cards say that has no translation."""
    listening = Listening(library.words(language), True, language, names=own_words(worked))

    def words(job: Job) -> Words:
        return listening

    usual, make.words = make.words, words
    try:
        make.picture(worked)
    finally:
        make.words = usual
    return listening.missed


def worked_jobs() -> Iterator[make.Worked]:
    """Give every demo job on every template."""
    for job in JOBS:
        for template in TEMPLATES:
            try:
                yield make.work(job, template=template)
            except SpecError:
                continue


def patterns() -> Iterator[tuple[str, str]]:
    """Give every pattern that is told anywhere in the program, with its file and line."""
    for path in sorted((ROOT / "cardgen").rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if not isinstance(node, ast.Call) or not node.args:
                continue
            name = node.func.id if isinstance(node.func, ast.Name) else ""
            first = node.args[0]
            if name == "told" and isinstance(first, ast.Constant) and isinstance(first.value, str):
                yield first.value, f"{path.relative_to(ROOT)}:{node.lineno}"


def labels() -> Iterator[str]:
    """Give the label of every figure."""
    for name in (*NAMES.values(), *NUT_NAMES.values()):
        yield name.label


def missing(language: str) -> dict[str, str]:
    """Return each text without a translation, and where it was found."""
    known = library.words(language)
    found = {text: where for text, where in patterns() if text not in known and wants_words(text)}
    found |= {text: "a label" for text in labels() if text not in known and wants_words(text)}
    for worked in worked_jobs():
        for text in heard(language, worked):
            found.setdefault(text, f"a card of {worked.job.name}")
    return found


def _quoted(text: str) -> str:
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n") + '"'


if __name__ == "__main__":
    for text, where in missing(sys.argv[1]).items():
        print(f'{_quoted(text)} = ""  # {where}')
