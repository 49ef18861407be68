"""A file's tree measured against the shape it must have: values out, and every fault noted."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from fractions import Fraction

from cardgen.core.problems import Place, Problem, nearest
from cardgen.core.units import Quantity, QuantityError, read
from cardgen.spec import meant
from cardgen.spec.allowed import allowed
from cardgen.spec.lettering import unwritable
from cardgen.spec.read import Listing, Node, Table, Text, walk
from cardgen.spec.shape import (
    Either,
    Items,
    Keys,
    Line,
    Measure,
    Names,
    Number,
    Row,
    Shape,
    Switch,
    Whole,
    Word,
)

Value = Quantity | Fraction | int | bool | str

MOST = 100
"""Problems of one file after which nothing more is looked for."""

_NUMBER = re.compile(r"-?[0-9]{1,9}(?:[.,][0-9]{1,9})?|[0-9]{1,6}/[0-9]{1,6}")
_WHOLE = re.compile(r"[+-]?[0-9]{1,9}")
_SWITCH = {"true": True, "yes": True, "false": False, "no": False}


@dataclass(slots=True)
class Answers:
    """What a file says: values by dotted key path, and what is wrong with it.

    A value that is faulty is absent, and the fault is in ``problems``; so a check that needs it
    has nothing to do.

    Attributes
    ----------
    shown
        What the file is called in messages.
    root
        The place of the file's first key, for keys that are missing.
    places
        Place of every key written, faulty or not; items of a list count from 1.
    shape
        What the file was measured against.
    values
        Value of every key with one value that is not faulty.
    counts
        Length of every list.
    plain
        Keys whose value is written without quotes, so that a caret can point into it.
    misspelt
        Keys that an unknown word most likely stands for.
    unread
        Count of keys that were not looked at, because so much was wrong before them.
    """

    shown: str
    root: Place
    places: dict[str, Place]
    shape: Keys
    values: dict[str, Value] = field(default_factory=dict)
    counts: dict[str, int] = field(default_factory=dict)
    plain: set[str] = field(default_factory=set)
    misspelt: set[str] = field(default_factory=set)
    problems: list[Problem] = field(default_factory=list)
    unread: int = 0

    @property
    def full(self) -> bool:
        """Whether so much is wrong that looking further helps nobody."""
        return len(self.problems) >= MOST

    def written(self, path: str) -> bool:
        """Whether the key is in the file, faulty or misspelt or not.

        What follows from a faulty key is not a fault of its own.
        """
        if path in self.places:
            return True
        while path:
            if path in self.misspelt:
                return True
            path = path.rpartition(".")[0]
        return False

    def quantity(self, path: str) -> Quantity | None:
        """Return a quantity, if the file gives one."""
        value = self.values.get(path)
        return value if isinstance(value, Quantity) else None

    def exact(self, path: str) -> Fraction | None:
        """Return a quantity in its house unit or a plain number, exact."""
        value = self.values.get(path)
        if isinstance(value, Quantity):
            return value.exact
        return value if isinstance(value, Fraction) else None

    def number(self, path: str) -> float | None:
        """Return a quantity in its house unit or a plain number."""
        exact = self.exact(path)
        return None if exact is None else float(exact)

    def text(self, path: str) -> str | None:
        """Return a word or a text."""
        value = self.values.get(path)
        return value if isinstance(value, str) else None

    def whole(self, path: str) -> int | None:
        """Return a whole number."""
        value = self.values.get(path)
        return value if isinstance(value, int) and not isinstance(value, bool) else None

    def switch(self, path: str) -> bool | None:
        """Return a true or false."""
        value = self.values.get(path)
        return value if isinstance(value, bool) else None

    def items(self, path: str) -> list[str]:
        """Return the paths of a list's items."""
        return [f"{path}.{count}" for count in range(1, self.counts.get(path, 0) + 1)]

    def below(self, path: str) -> list[str]:
        """Return the last words of the keys written directly below a path."""
        start = f"{path}."
        found = (key[len(start) :] for key in self.places if key.startswith(start))
        return [word for word in found if "." not in word]

    def place(self, path: str) -> Place:
        """Return a key's place; that of the nearest table above it if it is not written."""
        while path and path not in self.places:
            path = path.rpartition(".")[0]
        return self.places.get(path, self.root)

    def fault(
        self, path: str, found: str, allowed: str, mend: str = "", *, offset: int = 0
    ) -> None:
        """Note a fault of a key."""
        place = self.place(path)
        if path in self.plain and place.column + offset <= len(place.source_line):
            place = Place(place.file, place.line, place.column + offset, place.source_line)
        self.problems.append(Problem(place, path, found, allowed, mend))


def fit(root: Table, shape: Keys, shown: str) -> Answers:
    """Measure a file's tree against its shape.

    Parameters
    ----------
    root
        The tree.
    shape
        What the file may hold.
    shown
        What to call the file in messages.
    """
    answers = Answers(shown, root.place, dict(walk(root)), shape)
    _table(root, shape, "", answers)
    if answers.unread:
        found = f"{answers.unread} more keys follow that were not looked at"
        place = answers.problems[-1].place
        answers.problems.append(Problem(place, "", found, "fewer faults", "mend these first"))
    for path, value in answers.values.items():
        missing = unwritable(value) if isinstance(value, str) else ""
        if missing:
            answers.fault(
                path,
                f"the card's typeface has no sign {missing!r} (U+{ord(missing):04X})",
                "letters of the Latin, Greek and Cyrillic scripts and common signs",
                offset=value.index(missing) if isinstance(value, str) else 0,
            )
    return answers


def _fit(node: Node, shape: Shape, path: str, answers: Answers) -> None:
    if isinstance(shape, Either):
        if isinstance(node, Table):
            _table(node, shape.table, path, answers)
        else:
            _fit(node, shape.scalar, path, answers)
    elif isinstance(shape, Keys):
        if isinstance(node, Table):
            _table(node, shape, path, answers)
        else:
            known, kind = tuple(shape.keys), _kind(node)
            mend = f"write {{{known[0]}: {kind}}}" if len(known) == 1 else ""
            wanted = f"a table with the keys {', '.join(known)}"
            answers.fault(path, f"{kind} stands here", wanted, mend)
    elif isinstance(shape, Names):
        _names(node, shape, path, answers)
    elif isinstance(shape, (Items, Row)):
        _listing(node, shape, path, answers)
    elif isinstance(node, Text):
        _scalar(node, shape, path, answers)
    else:
        answers.fault(path, f"{_kind(node)} stands here", f"one value: {allowed(shape)}")


def _kind(node: Node) -> str:
    if isinstance(node, Table):
        return "a table of keys"
    return "a list" if isinstance(node, Listing) else _said(node.value)


def _cut(text: str, longest: int = 60) -> str:
    return text if len(text) <= longest else text[:longest] + "…"


def _table(node: Table, shape: Keys, path: str, answers: Answers) -> None:
    for count, (word, entry) in enumerate(node.entries.items()):
        if answers.full:
            answers.unread += len(node.entries) - count
            return
        key = shape.keys.get(word)
        if key is None:
            _unknown(word, entry.key.place, path, shape, answers)
        else:
            _fit(entry.value, key.shape, _join(path, word), answers)
    for word, key in shape.keys.items():
        below = _join(path, word)
        if key.needed and not answers.written(below):
            mend = f"add {word}. {key.about}"
            answers.fault(below, f"{word} is missing", f"{word}: {allowed(key.shape)}", mend)


def _join(path: str, word: str) -> str:
    return f"{path}.{word}" if path else word


def _unknown(word: str, place: Place, path: str, shape: Keys, answers: Answers) -> None:
    owner = _owner(word, path, answers.shape)
    other = meant.key(word)
    near = "" if owner or other else nearest(word, tuple(shape.keys))
    if near:
        answers.misspelt.add(_join(path, near))
        other = f"did you mean {near}?"
    mend = f"it belongs under {owner}" if owner else other
    found, below = f"{_cut(word) or 'an empty word'} is not a key known here", _join(path, word)
    answers.problems.append(Problem(place, _cut(below), found, ", ".join(shape.keys), mend))


def _owner(word: str, path: str, root: Keys) -> str:
    """Return the one table of the file's vocabulary that has a key, if it is another one."""
    owners = [
        name
        for name, key in root.keys.items()
        if name != path and isinstance(key.shape, Keys) and word in key.shape.keys
    ]
    return owners[0] if len(owners) == 1 else ""


def _names(node: Node, shape: Names, path: str, answers: Answers) -> None:
    if not isinstance(node, Table):
        answers.fault(path, f"{_kind(node)} stands here", f"a table with {shape.meaning}")
        return
    if len(node.entries) > shape.most:
        answers.fault(path, f"{len(node.entries)} keys stand here", f"at most {shape.most}")
        return
    for word, entry in node.entries.items():
        below = _join(path, word)
        if word in shape.known:
            _fit(entry.value, shape.known[word].shape, below, answers)
        elif re.fullmatch(shape.pattern, word):
            _fit(entry.value, shape.value, below, answers)
        else:
            answers.problems.append(
                Problem(
                    entry.key.place,
                    _cut(below),
                    f"{_cut(word) or 'an empty word'} cannot stand here",
                    shape.meaning,
                )
            )


def _listing(node: Node, shape: Items | Row, path: str, answers: Answers) -> None:
    cells = 0 if isinstance(shape, Items) else len(shape.cells)
    least, most = (shape.least, shape.most) if isinstance(shape, Items) else (cells, cells)
    count = str(most) if least == most else f"{least} to {most}"
    wanted = (
        f"a list in brackets of {count}, each {allowed(shape.item)}"
        if isinstance(shape, Items)
        else "a list in brackets: " + "; then ".join(allowed(cell) for cell in shape.cells)
    )
    if not isinstance(node, Listing):
        single = isinstance(node, Text) and node.value and isinstance(shape, Items)
        mend = f"write [{_kind(node)}]" if single else ""
        answers.fault(path, f"{_kind(node)} stands here", wanted, mend)
        return
    if not least <= len(node.items) <= most:
        answers.fault(path, f"the list has {len(node.items)} items", wanted)
        return
    answers.counts[path] = len(node.items)
    for index, item in enumerate(node.items):
        inner = shape.item if isinstance(shape, Items) else shape.cells[index]
        _fit(item, inner, f"{path}.{index + 1}", answers)


def _scalar(
    node: Text,
    shape: Measure | Number | Whole | Switch | Word | Line,
    path: str,
    answers: Answers,
) -> None:
    if node.plain:
        answers.plain.add(path)
    value = _value(node.value, shape, path, answers)
    if value is not None:
        answers.values[path] = value


def _value(
    text: str,
    shape: Measure | Number | Whole | Switch | Word | Line,
    path: str,
    answers: Answers,
) -> Value | None:
    if isinstance(shape, Measure):
        return _measure(text, shape, path, answers)
    if isinstance(shape, Word):
        if text in shape.words:
            return text
        mend = meant.word(text, shape.words)
        answers.fault(path, f"{_said(text)} is not a word known here", allowed(shape), mend)
        return None
    if isinstance(shape, Line):
        if 0 < len(text) <= shape.longest and (
            not shape.pattern or re.fullmatch(shape.pattern, text)
        ):
            return text
        found = f"{_said(text)} cannot stand here"
        answers.fault(path, found, allowed(shape), meant.line(text, shape))
        return None
    if isinstance(shape, Switch):
        if text in _SWITCH:
            return _SWITCH[text]
        mend = meant.word(text, tuple(_SWITCH))
        answers.fault(path, f"{_said(text)} is neither true nor false", allowed(shape), mend)
        return None
    pattern = _WHOLE if isinstance(shape, Whole) else _NUMBER
    if not pattern.fullmatch(text) or text.endswith("/0"):
        mend = f"write it in digits, without a unit, such as {shape.low:g}"
        answers.fault(path, f"{_said(text)} is not a plain number", allowed(shape), mend)
        return None
    try:
        number = Fraction(text.replace(",", "."))
    except ZeroDivisionError:
        answers.fault(path, f"{_said(text)} divides by nothing", allowed(shape))
        return None
    if not shape.low <= float(number) <= shape.high:
        answers.fault(path, f"{text} is out of range", allowed(shape))
        return None
    return int(number) if isinstance(shape, Whole) else number


def _measure(text: str, shape: Measure, path: str, answers: Answers) -> Quantity | None:
    try:
        quantity = read(text, shape.dimension)
    except QuantityError as error:
        answers.fault(path, error.found, error.allowed, error.mend, offset=error.offset)
        return None
    if not shape.low <= float(quantity.exact) <= shape.high:
        answers.fault(path, f"{_said(text)} is out of range", allowed(shape))
        return None
    return quantity


def _said(text: str) -> str:
    return _cut(text) or "nothing"
