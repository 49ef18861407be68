"""YAML to a tree with places: what is kept, what is refused, and that nothing hangs or recurses."""

from __future__ import annotations

import os
import time
from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from cardgen.spec import read
from cardgen.spec.read import DEEPEST, Listing, Table, Text, tree
from cardgen.spec.text import LARGEST, UnreadableError, content
from tests.spec.shop_floor import JOB, MACHINE, MATERIAL, TEMPLATE


def plain(node: Text | Listing | Table) -> Any:
    if isinstance(node, Table):
        return {word: plain(entry.value) for word, entry in node.entries.items()}
    if isinstance(node, Listing):
        return [plain(item) for item in node.items]
    return node.value


def refusal(data: bytes | str) -> list[tuple[int, int, str]]:
    with pytest.raises(UnreadableError) as caught:
        tree(data.encode() if isinstance(data, str) else data, "spec.yaml")
    problems = caught.value.problems
    assert all(len(str(problem)) < 2000 for problem in problems)
    return [(p.place.line, p.place.column, p.found) for p in problems]


def test_scalars_stay_text_and_remember_their_place() -> None:
    root = tree(b"a: 0x10\nb:\n  - yes\n  - {c: 1e5, d: '2020-01-01'}\n", "spec.yaml")
    assert plain(root) == {"a": "0x10", "b": ["yes", {"c": "1e5", "d": "2020-01-01"}]}
    listing = root.entries["b"].value
    assert isinstance(listing, Listing)
    table = listing.items[1]
    assert isinstance(table, Table)
    key, value = table.entries["c"].key.place, table.entries["c"].value.place
    assert (key.line, key.column) == (4, 6)
    assert (value.line, value.column) == (4, 9)
    assert value.source_line == "  - {c: 1e5, d: '2020-01-01'}"
    assert [path for path, _ in read.walk(root)] == ["a", "b", "b.1", "b.2", "b.2.c", "b.2.d"]


@pytest.mark.parametrize("text", [JOB, MACHINE, MATERIAL, TEMPLATE])
def test_both_parsers_grow_the_same_tree(text: str, monkeypatch: pytest.MonkeyPatch) -> None:
    fast = tree(text.encode(), "spec.yaml")
    monkeypatch.setattr(read, "_FAST", yaml.SafeLoader)
    assert tree(text.encode(), "spec.yaml") == fast


_MARKS = [": ", ":", "\n", "\n  ", "\n- ", "- ", "[", "]", "{", "}", ", ", "'", '"', "#", " "]
# Left out: a question mark in braces, and a block mark before a number sign, which
# only the fast parser reads.
_RARE = ["&x ", "*x ", "!t ", "|\n", ">\n", "---", "...", "%", "<<", "\t", "é", "1"]
_YAMLISH = st.lists(st.sampled_from(["a", "b", "c", *_MARKS, *_RARE]), max_size=24).map("".join)


@given(_YAMLISH)
def test_both_parsers_agree_on_what_is_refused(text: str) -> None:
    outcomes = []
    fast = read._FAST
    for loader in (fast, yaml.SafeLoader):
        read._FAST = loader
        try:
            outcomes.append(tree(text.encode(), "spec.yaml"))
        except UnreadableError as error:
            outcomes.append(tuple(error.problems))
        finally:
            read._FAST = fast
    assert outcomes[0] == outcomes[1]


@given(st.recursive(st.text("ab1 .,/%é", min_size=1), lambda inner: st.lists(inner, max_size=4)))
def test_what_was_dumped_is_read_back(value: object) -> None:
    text = yaml.safe_dump({"key": value}, allow_unicode=True, default_style='"')
    assert plain(tree(text.encode(), "spec.yaml")) == {"key": value}


@pytest.mark.parametrize(
    ("text", "line", "column", "words"),
    [
        ("a: 1\nb: 2\na: 3\n", 3, 1, "a is written twice, first on line 1"),
        ("a: {b: 1, b: 2}\n", 1, 11, "b is written twice"),
        ("a: &x 1\n", 1, 4, "&x names a value"),
        ("a: 1\nb: [*x]\n", 2, 5, "*x stands for something"),
        ("a: !!str 1\n", 1, 4, "the tag"),
        ("a: !thing {b: 1}\n", 1, 4, "the tag !thing"),
        ("a: ! b\n", 1, 4, "the tag !"),
        ("<<: {a: 1}\n", 1, 1, "<< merges"),
        ("? [a]\n: b\n", 1, 3, "a list or a table stands where a key is wanted"),
        ("a: 1\n---\nb: 2\n", 2, 1, "a second document"),
        ("%TAG ! tag:x,2000:\n---\na: b\n", 1, 1, "%TAG"),
        ("a: 'b\n", 1, 4, "a quote is opened here and not closed"),
        ("a: [1, 2\n", 1, 4, "a bracket is opened here and not closed"),
        ("a: b: c\n", 1, 5, "a second colon"),
        ("a:\n\tb: 1\n", 2, 1, "here is a tab"),
        ("a: ' #'\t\n", 1, 8, "here is a tab"),
        ("a: 'b\n  #'\t\n", 2, 5, "here is a tab"),
        ("a: x\0y\n", 1, 5, "does not print, U+0000"),
        ('a: "x\\0y"\n', 1, 4, "does not print, U+0000"),
        ('a: "\\ud800"\n', 1, 4, "does not print, U+D800"),
        ('a: "\\e[2J"\n', 1, 4, "does not print, U+001B"),
        ("a: b\u202ec\n", 1, 5, "right-to-left override"),
        ("a: b\u2028c\n", 1, 5, "line separator"),
        ("a: 1\rb: 2\n", 1, 5, "U+000D"),
        ("", 1, 1, "empty"),
        ("# nothing\n", 1, 1, "empty"),
        ("- a\n", 1, 1, "not a list of keys"),
        ("just words\n", 1, 1, "not a list of keys"),
    ],
)
def test_what_a_spec_never_needs_is_refused(text: str, line: int, column: int, words: str) -> None:
    first = refusal(text)[0]
    assert first[:2] == (line, column)
    assert words in first[2]


def test_every_fault_of_a_tree_is_told() -> None:
    found = refusal("a: 1\na: 2\nb: &x 1\nc: *x\nd: !t 1\n<<: {e: 1}\n")
    assert [line for line, _, _ in found] == [2, 3, 4, 5, 6]


def test_bytes_that_are_not_utf_8_are_pointed_at() -> None:
    assert refusal("a: é\nb: ".encode() + b"\xff\xfe\n")[0][:2] == (2, 4)
    assert "not UTF-8" in refusal("a: 1\n".encode("utf-16"))[0][2]


def test_a_byte_order_mark_and_dos_lines_are_read_over() -> None:
    root = tree(b"\xef\xbb\xbfa: 1\r\nb: 2\r\n", "spec.yaml")
    assert plain(root) == {"a": "1", "b": "2"}
    assert root.entries["a"].key.place.column == 1
    assert root.entries["b"].value.place.source_line == "b: 2"


def test_nesting_stops_at_its_limit() -> None:
    deep = "".join("  " * level + "a:\n" for level in range(DEEPEST - 1))
    tree((deep + "  " * (DEEPEST - 1) + "a: 1\n").encode(), "spec.yaml")
    assert "nesting is too deep" in refusal(deep + "  " * DEEPEST + "a: {b: 1}\n")[0][2]


@pytest.mark.parametrize(
    "text",
    [
        "[" * 60_000,
        "{" * 60_000,
        "a: " + "{a: " * 15_000,
        "- " * 30_000,
        "? " * 30_000,
        "a: " + "[" * 30_000 + "]" * 30_000,
        "&a " * 20_000,
        "!" * 60_000,
        "'" * 60_000,
        '"' + "\\" * 60_000,
        "a: |\n" + " x\n" * 20_000 + "b: [",
        "a: 1\n" * 12_000,
        "".join(f"k{n}: [x, y]\n" for n in range(4_000)) + "z: [",
        "a:\n" + " " * 60_000 + "b",
    ],
)
def test_no_file_exhausts_stack_or_patience(text: str) -> None:
    start = time.process_time()
    try:
        tree(text.encode(), "spec.yaml")
    except UnreadableError as error:
        longest = max(len(str(problem)) for problem in error.problems[:50])
    else:
        longest = 0
    assert longest < 2000
    assert time.process_time() - start < 3


def test_files_have_a_largest_size(tmp_path: Path) -> None:
    file = tmp_path / "spec.yaml"
    file.write_bytes(b"#" * LARGEST)
    assert len(content(file, "spec.yaml")) == LARGEST
    file.write_bytes(b"#" * (LARGEST + 1))
    with pytest.raises(UnreadableError, match="too large"):
        content(file, "spec.yaml")


def test_only_plain_files_are_opened(tmp_path: Path) -> None:
    with pytest.raises(UnreadableError, match="no such file"):
        content(tmp_path / "none.yaml", "none.yaml")
    with pytest.raises(UnreadableError, match=r"folder|plain file|cannot be read"):
        content(tmp_path, "folder")
    with pytest.raises(UnreadableError, match="cannot be read"):
        content(tmp_path / "x\0y", "x")
    with pytest.raises(UnreadableError, match="cannot be read"):
        content(tmp_path / ("x" * 300), "x")
    if hasattr(os, "mkfifo"):
        os.mkfifo(tmp_path / "pipe")
        with pytest.raises(UnreadableError, match="plain file"):
            content(tmp_path / "pipe", "pipe")
        with pytest.raises(UnreadableError, match="plain file"):
            content(Path("/dev/zero"), "zero")
