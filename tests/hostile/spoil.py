"""Spec files of all five kinds, good in shape but for a few values, made from a seed."""

from __future__ import annotations

import json
import random
from collections.abc import Iterator, Mapping
from typing import Any

import yaml

from cardgen.core.unit_table import KINDS
from cardgen.spec.keys import job, machine, material, shop, template
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
from tests.hostile.floor import FILES

SHAPES = {
    "job": job.keys(),
    "machine": machine.keys(),
    "shop": shop.keys(),
    "material": material.keys(),
    "template": template.keys(),
}
GOOD: Mapping[str, Any] = {
    kind: yaml.load(text, Loader=yaml.BaseLoader) for kind, (_, text) in FILES.items()
}

STRANGE = (
    *("", " ", "~", "null", "true", "0", "-1", "1e999", "nan", "inf", ".inf", "9" * 400, "1/0"),
    *("../../../etc/passwd", "/etc/passwd", "..", ".", "CON", "a/b", "a\\b", "-rf", "$(id)", "%s"),
    *("<b>bold</b>", "javascript:alert(1)", "https://example.org/x", ") Tj (", "\\) Tj", "%%EOF"),
    *(
        "W" * 80,
        "W" * 5000,
        "é" * 80,
        "ö\u0308\u0308",
        "مرحبا",
        "שלום",
        "😀",
        "螺纹",
        "\u00ad" * 20,
    ),
    *(
        "\u202e",
        "\x00",
        "\x1b[2J",
        "\ufeff",
        "\u2028",
        "{{",
        "}}",
        "{x}",
        "&a",
        "*a",
        "!!py",
        "]]>",
    ),
    *("0 mm", "-5 mm", "1e9 mm", "5 tpi", "1/3 in", "0 tpi", "300 degC", "1 lightyear", "28", "mm"),
    *("cardgen: 1", "[", "{", "]", "- x", "? x", ": ", "#", "'", '"', "|", ">"),
)


def leaves(shape: Shape, path: tuple[str, ...] = ()) -> Iterator[tuple[tuple[str, ...], Shape]]:
    """Yield every key of a vocabulary that holds a value, with its shape."""
    if isinstance(shape, Either):
        yield path, shape.scalar
        shape = shape.table
    if isinstance(shape, Keys):
        for word, key in shape.keys.items():
            yield from leaves(key.shape, (*path, word))
    else:
        yield path, shape


def _number(chance: random.Random, low: float, high: float) -> float:
    """Return a bound, a value near one, or one between; small ones as often as large ones."""
    kind = chance.randrange(6)
    if kind == 0:
        return low
    if kind == 1:
        return high
    floor = max(low, high * 1e-4, 1e-6) if low >= 0 else low
    if kind < 5 and floor > 0:
        return float(floor * (high / floor) ** chance.random())
    return chance.uniform(low, high)


def value(shape: Shape, chance: random.Random) -> Any:
    """Return a value that a shape lets through, more or less."""
    if isinstance(shape, Measure):
        return f"{_number(chance, shape.low, shape.high):.6g} {KINDS[shape.dimension].house}"
    if isinstance(shape, Number):
        return f"{_number(chance, shape.low, shape.high):.6f}"
    if isinstance(shape, Whole):
        return str(round(_number(chance, shape.low, shape.high)))
    if isinstance(shape, Switch):
        return chance.choice(["true", "false"])
    if isinstance(shape, Word):
        return chance.choice(shape.words)
    if isinstance(shape, Line):
        return chance.choice(STRANGE)[: shape.longest]
    if isinstance(shape, Row):
        return [value(cell, chance) for cell in shape.cells]
    if isinstance(shape, Items):
        most = min(shape.most, chance.choice([1, 3, 8, 100]))
        return [value(shape.item, chance) for _ in range(max(shape.least, most))]
    if isinstance(shape, Names):
        words = [chance.choice("ABCDEF") for _ in range(chance.randrange(1, 5))]
        return {word: value(shape.value, chance) for word in words}
    if isinstance(shape, Either):
        return value(chance.choice([shape.scalar, shape.table]), chance)
    return {
        word: value(key.shape, chance)
        for word, key in shape.keys.items()
        if key.needed or chance.random() < 0.3
    }


def _put(tree: Any, path: tuple[str, ...], leaf: Any) -> None:
    for word in path[:-1]:
        below = tree.get(word)
        tree[word] = tree = below if isinstance(below, dict) else {}
    if leaf is None:
        tree.pop(path[-1], None)
    else:
        tree[path[-1]] = leaf


def spoilt(kind: str, chance: random.Random) -> str:
    """Return a file of a kind with some keys set anew, most of them to what is allowed."""
    tree = json.loads(json.dumps(GOOD[kind]))
    keys = list(leaves(SHAPES[kind]))
    for _ in range(chance.choice([1, 1, 1, 2, 5])):
        path, shape = chance.choice(keys)
        fate = chance.random()
        if fate < 0.85:
            _put(tree, path, value(shape, chance))
        elif fate < 0.95:
            _put(tree, path, chance.choice(STRANGE))
        else:
            _put(tree, path, None)
    lines = (f"{word}: {json.dumps(leaf, ensure_ascii=False)}\n" for word, leaf in tree.items())
    text = "".join(lines)
    if chance.random() < 0.1:
        start = chance.randrange(len(text))
        text = text[:start] + chance.choice(STRANGE) + text[start + chance.randrange(12) :]
    return text
