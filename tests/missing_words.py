"""Which texts of the cards have no translation yet: ``python -m tests.missing_words de``.

Prints lines for the end of ``cardgen/data/words/LANGUAGE.toml``, to be filled in. Texts are found
in three ways: patterns and the like by reading the program, what stands in data files by reading
these, and everything else by drawing every demo job and listening to what the pen is asked to say.
"""

from __future__ import annotations

import ast
import csv
import re
import sys
import tomllib
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from unittest.mock import patch

import yaml

from cardgen import bindery, colour_chart, library, machine_chart, make
from cardgen.binder.bind import Style
from cardgen.card.pen import Picture
from cardgen.core.names import NAMES
from cardgen.core.nut_names import NUT_NAMES
from cardgen.core.problems import SpecError
from cardgen.core.words import Told, Words
from cardgen.sheets.chart import work_out
from cardgen.spec.job import Job

ROOT = Path(__file__).parents[1]
PROGRAM = ROOT / "cardgen"
JOBS = sorted((ROOT / "specs" / "jobs").glob("*.yaml"))
TEMPLATES = sorted(path.stem for path in (ROOT / "templates").glob("*.yaml"))
LANGUAGES = sorted(path.stem for path in (PROGRAM / "data" / "words").glob("*.toml"))

_WORD = re.compile(r"[A-Za-z]{3,}")
_UNITS = re.compile(
    r"(?:mm²?|MPa|kN|HRC|rev/min|min⁻¹|m/min|ft/min|mm/s|ppm|tpi|deg|degC|rpm"
    r"|[0-9./×−±⌀ §°%+:()-])+"
)
# Told as they are in every language: standards, books, names of materials, designations.
_AS_IT_IS = re.compile(
    r"^(?:ISO|DIN|BS|ASME|ANSI|NAVEDTRA|Machinery|Shigley|Mott|Khurmi|Peterson)\b|^[A-Z]+ ?\d"
    r"|^\S+\.yaml|^cardgen \d|^[A-Z0-9]{4}-[A-Z0-9]{4}"
    r"|\d-?(?:UNC|UNF|UNEF|UNS|UN|ACME|STUB|BUTT)\b"
)
# What is called with a text that a card prints, and which of its arguments that is.
_SAYING = {
    **dict.fromkeys(["told", "Column", "Step", "heading", "item", "note", "paragraph"], 0),
    **dict.fromkeys(["say", "sentence", "sentences", "tell", "warning"], 0),
    **dict.fromkeys(["Panel", "warn"], 1),
}
# Columns of the tables from which a card takes words.
_COLUMNS = {
    "heat/finishes": ("label",),
    "heat/furnaces": ("label",),
    "heat/glow_colours": ("name",),
    "heat/group_limits": ("reason",),
    "heat/quench_media": ("name",),
    "heat/temper_colours": ("name",),
    "load/bearing_pressure": ("use",),
    "tool/grinding": ("text",),
}


@dataclass(frozen=True, slots=True)
class Listening(Words):
    """Words that remember what they were asked to say.

    Attributes
    ----------
    asked
        Every text and every pattern.
    missed
        Those of them without a translation.
    names
        What the maker wrote himself.
    """

    asked: dict[str, None] = field(default_factory=dict)
    missed: dict[str, None] = field(default_factory=dict)
    names: frozenset[str] = frozenset()

    def say(self, text: str) -> str:
        key = text.pattern if isinstance(text, Told) else text
        # What is said already, or begins a said one, is of another type.
        if isinstance(text, Told) or type(text) is str:
            self.asked[key] = None
            if key not in self.catalogue and wants_words(key, self.names):
                self.missed[key] = None
        # Not the zero-argument super: a slotted dataclass is not the class it was written as.
        return Words.say(self, text)


def wants_words(text: str, names: frozenset[str] = frozenset()) -> bool:
    """Whether a text has words of a language in it, other than the job's own."""
    if text in names or _AS_IT_IS.search(text):
        return False
    for name in sorted(names, key=len, reverse=True):
        text = text.replace(name, " ")
    rest = _UNITS.sub(" ", re.sub(r"\{\w+\}", " ", text))
    return bool(_WORD.search(rest))


def own_words(worked: make.Worked) -> frozenset[str]:
    """Return the names that no language changes: designations, levers and ranges of a lathe."""
    sheets, machine = worked.sheets, worked.job.machine
    designations = [
        str(figure.value) for figure in sheets.figures.values() if "designation" in figure.id
    ]
    ranges = [each.name for each in machine.ranges if each.name]
    return frozenset([*designations, *machine.gearbox, *ranges])


def listening(language: str, names: frozenset[str] = frozenset()) -> Listening:
    """Return words of a language that listen."""
    return Listening(library.words(language), True, language, names=names)


@contextmanager
def _in(words: Words) -> Iterator[None]:
    def said(job: Job) -> Words:
        return words

    with patch.object(make, "words", said), patch.object(bindery, "words", said):
        yield


def heard(language: str, worked: make.Worked) -> tuple[Listening, Picture]:
    """Return what a job's cards are asked to say, and the cards."""
    words = listening(language, own_words(worked))
    with _in(words):
        return words, make.picture(worked)


def heard_of_charts(language: str, template: str) -> Listening:
    """Return what the charts of colours and of machines, and the binder's own pages, say."""
    worked = [make.work(job, template=template) for job in JOBS[:3]]
    read = [machine_chart.read(path) for path in sorted((ROOT / "specs/machines").glob("*.yaml"))]
    names = [*map(own_words, worked), *(frozenset(of.machine.gearbox) for of in read)]
    words = listening(language, frozenset().union(*names))
    shape = worked[0].job.template
    colour_chart.picture(shape, words)
    for of in read:
        machine_chart.picture(of, work_out(of.machine), shape, words)
    binder = bindery.begin(Style(sheet=(297.0, 420.0), notes=1))
    with _in(words):
        for each in worked:
            bindery.take(binder, each)
        bindery.finish(binder, worked[0].fingerprint)
    return words


def worked_jobs(templates: Sequence[str]) -> Iterator[make.Worked]:
    """Give every demo job on some templates."""
    for job in JOBS:
        for template in templates:
            try:
                yield make.work(job, template=template)
            except SpecError:
                continue


def _calls() -> Iterator[tuple[str, ast.Call, str]]:
    """Give every call in what makes cards: what is called, the call, its file and line."""
    for path in sorted(PROGRAM.rglob("*.py")):
        # What is said on a terminal is English.
        if "commands" in path.parts:
            continue
        for node in ast.walk(_tree(path)):
            if not isinstance(node, ast.Call):
                continue
            called = node.func
            name = called.attr if isinstance(called, ast.Attribute) else ""
            name = called.id if isinstance(called, ast.Name) else name
            yield name, node, f"{path.relative_to(ROOT)}:{node.lineno}"


@cache
def _tree(path: Path) -> ast.Module:
    return ast.parse(path.read_text("utf-8"))


@cache
def patterns() -> dict[str, str]:
    """Return every pattern that is told and every text that is said, with file and line."""
    found: dict[str, str] = {}
    for name, call, where in _calls():
        first = _SAYING.get(name, len(call.args))
        texts = call.args[first:] if name == "sentences" else call.args[first : first + 1]
        for text in texts:
            if isinstance(text, ast.Constant) and isinstance(text.value, str):
                found[text.value] = where
    return found


@cache
def constants() -> frozenset[str]:
    """Return every text that is written in the program."""
    return frozenset(
        node.value
        for path in PROGRAM.rglob("*.py")
        for node in ast.walk(_tree(path))
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    )


def labels() -> Iterator[str]:
    """Give the label of every figure, and those that stand within a sentence."""
    for name in (*NAMES.values(), *NUT_NAMES.values()):
        yield name.label
    for id, name in NAMES.items():
        if id.startswith("load.limit_") and id != "load.limit_rules":
            yield name.label.lower()


@cache
def data_texts() -> frozenset[str]:
    """Return the words that cards take from data files."""
    data = PROGRAM / "data"
    found: set[str] = set()
    for path in sorted((data / "materials").glob("*.yaml")):
        material = yaml.safe_load(path.read_text("utf-8"))
        # Within a sentence a title stands without the condition after its comma.
        found |= {material["title"], material["title"].partition(",")[0]}
        found.add(material.get("heat-note") or "")
    for path in sorted((data / "forms").glob("*.toml")):
        form = tomllib.loads(path.read_text("utf-8"))
        found |= {form["title"], form.get("usual_pitch", {}).get("words", "")}
    notes = tomllib.loads((data / "safety" / "notes.toml").read_text("utf-8"))
    for text in (notes["closing"]["text"], *(note["text"] for note in notes["note"])):
        found.add(re.sub(r"\{[a-z_.]+\}", lambda part: part[0].replace(".", "_"), text))
    for table, columns in _COLUMNS.items():
        with (data / f"{table}.csv").open(encoding="utf-8", newline="") as file:
            for row in csv.DictReader(line for line in file if not line.startswith("#")):
                found |= {row[column] for column in columns}
    return frozenset(found - {""})


@cache
def data_cells() -> frozenset[str]:
    """Return every text of every data file that is no catalogue of words."""
    data = PROGRAM / "data"
    found: set[str] = set()
    for path in sorted(data.rglob("*.csv")):
        with path.open(encoding="utf-8", newline="") as file:
            for row in csv.reader(file):
                found.update(row)
    for path in sorted(data.rglob("*.toml")):
        if path.parent.name != "words":
            found |= set(_leaves(tomllib.loads(path.read_text("utf-8"))))
    for path in sorted(data.rglob("*.yaml")):
        found |= set(_leaves(yaml.safe_load(path.read_text("utf-8"))))
    return frozenset(found)


def _leaves(branch: object) -> Iterator[str]:
    if isinstance(branch, dict):
        for part in branch.values():
            yield from _leaves(part)
    elif isinstance(branch, list):
        for part in branch:
            yield from _leaves(part)
    elif isinstance(branch, str):
        yield branch


def written() -> dict[str, str]:
    """Return all texts that are found by reading, and where."""
    found = dict.fromkeys(labels(), "a label") | dict.fromkeys(data_texts(), "a data file")
    return {text: where for text, where in (found | patterns()).items() if wants_words(text)}


def missing(language: str) -> dict[str, str]:
    """Return each text without a translation, and where it was found."""
    known = library.words(language)
    found = {text: where for text, where in written().items() if text not in known}
    for worked in worked_jobs(TEMPLATES):
        for text in heard(language, worked)[0].missed:
            found.setdefault(text, f"a card of {worked.job.name}")
    for text in heard_of_charts(language, TEMPLATES[0]).missed:
        found.setdefault(text, "a chart, or the binder")
    return found


def _quoted(text: str) -> str:
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n") + '"'


if __name__ == "__main__":
    for text, where in missing(sys.argv[1]).items():
        print(f'{_quoted(text)} = ""  # {where}')
