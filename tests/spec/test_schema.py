"""The JSON Schema says what the door does: both are written from one vocabulary."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from copy import deepcopy
from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft7Validator

from cardgen import library
from cardgen.spec.fit import fit
from cardgen.spec.read import Listing, Node, Table, tree
from cardgen.spec.schema import KEYS, Kind, schema
from cardgen.spec.shape import (
    Either,
    Items,
    Keys,
    Measure,
    Names,
    Number,
    Row,
    Shape,
    Switch,
    Whole,
)
from cardgen.spec.starter_machine import starter_machine
from cardgen.spec.text import UnreadableError
from tests.spec.shop_floor import JOB, LEAST, MACHINE, MATERIAL, SHOP, TEMPLATE

MACHINES = Path(__file__).parents[2] / "specs" / "machines"
KINDS: tuple[Kind, ...] = tuple(KEYS)
GOOD: dict[Kind, tuple[str, ...]] = {
    "job": (JOB, LEAST),
    "machine": (
        MACHINE,
        starter_machine("my-lathe"),
        *(path.read_text("utf-8") for path in sorted(MACHINES.glob("*.yaml"))),
    ),
    "shop": (SHOP,),
    "material": (
        MATERIAL,
        *(library.text(f"materials/{name}.yaml") for name in ("c45", "o1", "bronze-pb1")),
    ),
    "template": (TEMPLATE,),
}
VALIDATORS = {kind: Draft7Validator(schema(kind)) for kind in KINDS}


def as_wanted(node: Node, shape: Shape | None) -> Any:
    """Return a tree as JSON, with numbers and switches where the vocabulary wants them."""
    if isinstance(node, Table):
        if isinstance(shape, Either):
            shape = shape.table
        below: dict[str, Shape] = {}
        if isinstance(shape, Keys):
            below = {word: key.shape for word, key in shape.keys.items()}
        elif isinstance(shape, Names):
            below = {word: shape.value for word in node.entries}
            below |= {word: key.shape for word, key in shape.known.items()}
        return {
            word: as_wanted(entry.value, below.get(word)) for word, entry in node.entries.items()
        }
    if isinstance(node, Listing):
        cells: list[Shape | None] = [None] * len(node.items)
        if isinstance(shape, Items):
            cells = [shape.item] * len(node.items)
        elif isinstance(shape, Row):
            cells = [*shape.cells, *cells][: len(cells)]
        return [as_wanted(item, cell) for item, cell in zip(node.items, cells, strict=True)]
    if isinstance(shape, Either):
        shape = shape.scalar
    text = node.value
    if isinstance(shape, Whole) and re.fullmatch(r"[+-]?[0-9]{1,9}", text):
        return int(text)
    if isinstance(shape, Number) and re.fullmatch(r"-?[0-9]{1,9}(\.[0-9]{1,9})?", text):
        return float(text)
    if isinstance(shape, Switch) and text in ("true", "false"):
        return text == "true"
    return text


def shape_at(shape: Shape, path: str) -> Shape | None:
    for word in path.split("."):
        if isinstance(shape, Either):
            shape = shape.table
        if isinstance(shape, Keys) and word in shape.keys:
            shape = shape.keys[word].shape
        elif isinstance(shape, Names):
            shape = shape.known[word].shape if word in shape.known else shape.value
        elif isinstance(shape, Items):
            shape = shape.item
        elif isinstance(shape, Row):
            shape = shape.cells[int(word) - 1]
        else:
            return None
    return shape.scalar if isinstance(shape, Either) else shape


@pytest.mark.parametrize("kind", KINDS)
def test_the_schema_is_a_schema(kind: Kind) -> None:
    Draft7Validator.check_schema(schema(kind))
    assert json.loads(json.dumps(schema(kind))) == schema(kind)


@pytest.mark.parametrize(("kind", "text"), [(k, t) for k in KINDS for t in GOOD[k]])
def test_an_editor_finds_nothing_wrong_with_a_good_file(kind: Kind, text: str) -> None:
    # An editor reads YAML its own way, as PyYAML's loader does here; keys are text to it.
    read = json.loads(json.dumps(yaml.safe_load(text)))
    assert list(VALIDATORS[kind].iter_errors(read)) == []


def patterns(node: Any) -> Iterator[str]:
    if isinstance(node, dict):
        yield from (value for key, value in node.items() if key == "pattern")
        yield from node.get("patternProperties", {})
        for value in node.values():
            yield from patterns(value)
    elif isinstance(node, list):
        for value in node:
            yield from patterns(value)


@pytest.mark.parametrize("kind", KINDS)
def test_patterns_are_those_of_editors_too(kind: Kind) -> None:
    for pattern in patterns(schema(kind)):
        assert pattern.startswith("^")
        assert pattern.endswith("$")
        # JavaScript knows no inline flags, names or possessive forms, and with its u flag no
        # escape that is not needed.
        assert not re.search(r"\(\?(?![:!=])", pattern), pattern
        for escape in re.findall(r"\\(.)", pattern):
            assert escape in r"\^$.*+?()[]{}|/n", pattern


@pytest.mark.parametrize("kind", KINDS)
def test_every_key_is_described(kind: Kind) -> None:
    def check(node: dict[str, Any]) -> None:
        for word, key in node.get("properties", {}).items():
            assert key["description"], word
            check(key)
            check(key.get("items", {}) if isinstance(key.get("items"), dict) else {})

    check(schema(kind))


JUNK = st.sampled_from(
    [
        "",
        "28",
        "28 mm",
        "1 1/8 in",
        "5 tpi",
        "28 kg",
        "1e5 mm",
        "nut",
        "none",
        "true",
        "no",
        "0.5",
        "-1",
        "9" * 50,
        "x" * 700,
        "52 HRC",
        "650 degC",
        "../x.yaml",
        "a..b",
        "Ab",
        "two words",
        [],
        ["28 mm"],
        [["1", "2"]],
        {},
        {"value": "28 mm"},
        {"low": "1", "high": "2"},
        {"step": "harden"},
    ]
)


def slots(node: Any) -> Iterator[tuple[Any, Any]]:
    if isinstance(node, dict):
        for key, value in node.items():
            yield node, key
            yield from slots(value)
    elif isinstance(node, list):
        for index, value in enumerate(node):
            yield node, index
            yield from slots(value)


def texts(node: Any) -> Any:
    """Return a tree with scalars as the text that YAML would write for them."""
    if isinstance(node, dict):
        return {str(key): texts(value) for key, value in node.items()}
    if isinstance(node, list):
        return [texts(value) for value in node]
    return {True: "true", False: "false"}[node] if isinstance(node, bool) else str(node)


@settings(max_examples=300, deadline=None)
@given(st.data(), st.sampled_from(KINDS))
def test_door_and_schema_agree_on_mutants(data: st.DataObject, kind: Kind) -> None:
    spec = texts(yaml.safe_load(data.draw(st.sampled_from(GOOD[kind]))))
    for _ in range(data.draw(st.integers(1, 3))):
        places = list(slots(spec))
        if not places:
            break
        holder, key = places[data.draw(st.integers(0, len(places) - 1))]
        match data.draw(st.sampled_from(["replace", "delete", "rename", "repeat"])):
            case "replace":
                holder[key] = deepcopy(data.draw(JUNK))
            case "delete":
                del holder[key]
            case "rename" if isinstance(holder, dict):
                holder[data.draw(st.sampled_from(["pitch", "Zz", "x.y", "1", "source"]))] = (
                    holder.pop(key)
                )
            case "repeat" if isinstance(holder, list):
                holder.extend([holder[key]] * data.draw(st.integers(1, 130)))
            case _:
                pass
    keys = KEYS[kind]()
    try:
        root = tree(yaml.safe_dump(spec).encode(), "spec.yaml")
    except UnreadableError:
        return
    found = fit(root, keys, "spec.yaml").problems
    by_schema = list(VALIDATORS[kind].iter_errors(as_wanted(root, keys)))
    if by_schema:
        assert found, by_schema[0].message
    else:
        # What only the door refuses is a matter of meaning: a unit, a range, a fraction.
        for problem in found:
            assert isinstance(shape_at(keys, problem.key), (Measure, Number)), str(problem)
