"""YAML text to a tree of our own nodes, each of which remembers where it stands.

Scalars stay text: whether ``5`` or ``yes`` is a number or a word is for the key to say, not for
YAML. What a spec never needs is refused: anchors and aliases, tags, merge keys, directives,
second documents, deep nesting. The tree is built from the parser's events without recursion, so
that no file can exhaust the stack.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

import yaml

from cardgen.core.problems import Place, Problem
from cardgen.spec.text import UnreadableError, decoded, odd, unprintable, whole

DEEPEST = 20
"""Levels of nesting that a spec file may have."""


@dataclass(frozen=True, slots=True)
class Text:
    """A scalar, as written (quotes and folding undone).

    Attributes
    ----------
    plain
        Whether it was written without quotes, so that ``offset`` columns into the text are as
        many columns into the line.
    """

    value: str
    place: Place
    plain: bool


@dataclass(frozen=True, slots=True)
class Listing:
    """A sequence."""

    items: list[Node]
    place: Place


@dataclass(frozen=True, slots=True)
class Entry:
    """One key of a table with its value."""

    key: Text
    value: Node


@dataclass(frozen=True, slots=True)
class Table:
    """A mapping; keys are unique."""

    entries: dict[str, Entry]
    place: Place


Node = Text | Listing | Table


def tree(data: bytes, shown: str) -> Table:
    """Return the tree of a spec file.

    Parameters
    ----------
    data
        The file's bytes.
    shown
        What to call it in messages.

    Raises
    ------
    UnreadableError
        With every fault that could be found: one for a fault of the YAML itself.
    """
    text = decoded(data, shown)
    growth = _Growth(shown, text.split("\n"))
    try:
        growth.take_all(text, _FAST)
    except (yaml.YAMLError, RecursionError):
        # The fast parser looks far ahead and words its complaints in its own way. What is refused,
        # and how, is for the reference parser to say, so that it does not depend on the platform.
        growth = _Growth(shown, growth.lines)
        try:
            growth.take_all(text, yaml.SafeLoader)
        except yaml.MarkedYAMLError as error:
            growth.problems.append(_syntax(error, growth))
        except (yaml.YAMLError, RecursionError) as error:
            growth.problems.append(whole(shown, f"this is not YAML: {error}", "a YAML document"))
    if growth.problems:
        raise UnreadableError(growth.problems)
    root = growth.root
    if not isinstance(root, Table):
        found = "the file is empty" if root is None else "the file is not a list of keys and values"
        place = growth.place_at(0, 0) if root is None else root.place
        raise UnreadableError(
            [Problem(place, "", found, "keys and values, the first one cardgen: 1")]
        )
    return root


_FAST: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


_ONE_DOCUMENT = ("one document in a file", "delete the line, or make two files of this one")
_INDENTED = "this line is indented differently from those above"
_INDENT = "indent it as its neighbours are; or the line above it lacks its colon"

# What the parser says, and what it means to the person who wrote the file.
_COMPLAINTS = (
    ("<stream end>", "a bracket is opened here and not closed", "close it"),
    ("unexpected end of stream", "a quote is opened here and not closed", "close it"),
    (
        "mapping values are not allowed",
        "a second colon stands here",
        "put text that holds a colon in quotes",
    ),
    ("expected <block end>", _INDENTED, _INDENT),
    (
        "could not find expected ':'",
        "this is neither a key with a colon nor a value",
        "write a colon and a blank after the key",
    ),
    ("expected ',' or", "a bracket is opened here and not closed", "close it"),
)
_FIRST_COLON = re.compile(r"\s*(?:- +)?[^\s:]+")


def _syntax(error: yaml.MarkedYAMLError, growth: _Growth) -> Problem:
    what = error.problem or error.context or "not readable"
    mark, mend = error.problem_mark or error.context_mark, ""
    for sign, words, help_ in _COMPLAINTS:
        if sign in what:
            what, mend = words, help_
            opened = "opened" in words or "neither" in words
            if opened and error.context_mark is not None:
                mark = error.context_mark
            break
    if mark and "second colon" in what and mark.line < len(growth.lines):
        before = growth.lines[mark.line][: mark.column]
        if _FIRST_COLON.fullmatch(before):
            what, mend = _INDENTED, _INDENT
    place = growth.place_at(mark.line, mark.column) if mark else growth.place_at(0, 0)
    found = f"this is not YAML: {what}"
    return Problem(place, "", found, "lines of key: value, indented with spaces", mend)


@dataclass(slots=True)
class _Level:
    """A table or listing that is still open."""

    node: Table | Listing
    key: Text | None = None


@dataclass(slots=True)
class _Growth:
    """The tree while it grows, event by event."""

    shown: str
    lines: list[str]
    problems: list[Problem] = field(default_factory=list)
    root: Node | None = None
    stopped: bool = False
    _open: list[_Level] = field(default_factory=list)
    _documents: int = 0

    def place_at(self, line: int, column: int) -> Place:
        """Return a place from the parser's counts, which begin at 0."""
        source = self.lines[line] if line < len(self.lines) else ""
        return Place(self.shown, line + 1, column + 1, source)

    def take_all(self, text: str, loader: Any) -> None:
        """Grow from the events of a whole text; stop where reading on makes no sense."""
        for event in yaml.parse(text, Loader=loader):
            self._take(event)
            if self.stopped:
                return

    def _take(self, event: Any) -> None:
        """Add what one event of the parser says."""
        place = self.place_at(event.start_mark.line, event.start_mark.column)
        if isinstance(event, yaml.DocumentStartEvent):
            self._document(event, place)
        elif isinstance(event, yaml.AliasEvent):
            self._refuse(place, f"*{event.anchor} stands for something written elsewhere")
            self._put(Text("", place, plain=False))
        elif isinstance(event, yaml.NodeEvent):
            self._node(event, place)
        elif isinstance(event, (yaml.MappingEndEvent, yaml.SequenceEndEvent)):
            self._open.pop()

    def _document(self, event: Any, place: Place) -> None:
        self._documents += 1
        if self._documents > 1:
            self._refuse(place, "a second document begins here", *_ONE_DOCUMENT)
            self.stopped = True
        if event.tags:
            self._refuse(place, "a %TAG directive gives new meaning to what follows")

    def _node(self, event: Any, place: Place) -> None:
        if event.anchor is not None:
            self._refuse(place, f"&{event.anchor} names a value to be used elsewhere")
        if event.tag is not None:
            self._refuse(place, f"the tag {event.tag[:40]} says what kind of value follows")
        if isinstance(event, yaml.ScalarEvent):
            at = odd(event.value)
            if at is not None or "\t" in event.value:
                char = "\t" if at is None else event.value[at]
                self.problems.append(unprintable(place, char))
            if not event.value and not event.style:
                # Nothing is written, and parsers differ on where: its key's place is sure.
                place = self._above()
            self._put(Text(event.value, place, plain=not event.style))
            return
        node = Table({}, place) if isinstance(event, yaml.MappingStartEvent) else Listing([], place)
        self._put(node)
        self._open.append(_Level(node))
        if len(self._open) > DEEPEST:
            allowed = f"at most {DEEPEST} levels of nesting"
            self._refuse(place, "the nesting is too deep for a spec", allowed)
            self.stopped = True

    def _above(self) -> Place:
        """Return the place of the key that waits for a value, or else of what is open."""
        if not self._open:
            return self.place_at(0, 0)
        level = self._open[-1]
        return level.node.place if level.key is None else level.key.place

    def _put(self, node: Node) -> None:
        """Give a finished or freshly opened node to the level that is open."""
        if not self._open:
            self.root = node
            return
        level = self._open[-1]
        if isinstance(level.node, Listing):
            level.node.items.append(node)
        elif level.key is None:
            level.key = self._as_key(node)
        else:
            key, level.key = level.key, None
            if key.value in level.node.entries:
                first = level.node.entries[key.value].key.place
                self.problems.append(
                    Problem(
                        key.place,
                        key.value[:60],
                        f"{key.value[:60]} is written twice, first on line {first.line}",
                        "each key once",
                        "delete one of the two",
                    )
                )
            else:
                level.node.entries[key.value] = Entry(key, node)

    def _as_key(self, node: Node) -> Text:
        if not isinstance(node, Text):
            self._refuse(node.place, "a list or a table stands where a key is wanted", "a word")
            return Text("", node.place, plain=False)
        if node.value == "<<" and node.plain:
            self._refuse(node.place, "<< merges another table into this one")
        return node

    def _refuse(self, place: Place, found: str, allowed: str = "", mend: str = "") -> None:
        plain = "plain keys and values; anchors, aliases, tags and merge keys are not read"
        self.problems.append(Problem(place, "", found, allowed or plain, mend))


def walk(node: Node, path: str = "") -> Iterator[tuple[str, Place]]:
    """Yield the dotted path and place of every key below a node; list items count from 1."""
    pending: list[tuple[str, Node]] = [(path, node)]
    while pending:
        here, current = pending.pop()
        if isinstance(current, Table):
            for word, entry in current.entries.items():
                below = f"{here}.{word}" if here else word
                scalar = isinstance(entry.value, Text)
                yield below, entry.value.place if scalar else entry.key.place
                pending.append((below, entry.value))
        elif isinstance(current, Listing):
            for count, item in enumerate(current.items, 1):
                yield f"{here}.{count}", item.place
                pending.append((f"{here}.{count}", item))
