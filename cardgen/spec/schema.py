"""The spec files' vocabulary as JSON Schema (draft-07), so that editors can complete and check.

Editors read YAML their own way: ``1`` is a number for them, ``5 mm`` a string. The schema is
written for what they see; the door itself keeps scalars as text and measures them against the
same vocabulary.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from typing import Any, Literal

from cardgen.core.unit_names import NAMED, is_open
from cardgen.core.unit_table import KINDS, words_for
from cardgen.core.units import LONGEST, NUMBER
from cardgen.spec.allowed import allowed
from cardgen.spec.keys import job, machine, material, shop, template
from cardgen.spec.shape import (
    Either,
    Items,
    Key,
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

Kind = Literal["job", "machine", "shop", "material", "template"]

KEYS: Mapping[Kind, Callable[[], Keys]] = {
    "job": job.keys,
    "machine": machine.keys,
    "shop": shop.keys,
    "material": material.keys,
    "template": template.keys,
}
"""Each kind of spec file with its vocabulary."""

_NUMBER_TEXT = r"-?[0-9]{1,9}([.,][0-9]{1,9})?|[0-9]{1,6}/[0-9]{1,6}"


def schema(kind: Kind) -> dict[str, Any]:
    """Return the JSON Schema of a kind of spec file.

    Parameters
    ----------
    kind
        ``job``, ``machine``, ``shop``, ``material`` or ``template``.
    """
    return {
        "$schema": "http://json-schema.org/draft-07/schema#",
        "title": f"cardgen {kind}",
        **_table(KEYS[kind]()),
    }


def _table(shape: Keys) -> dict[str, Any]:
    needed = [word for word, key in shape.keys.items() if key.needed]
    return {
        "type": "object",
        "properties": {word: _key(key) for word, key in shape.keys.items()},
        **({"required": needed} if needed else {}),
        "additionalProperties": False,
    }


def _key(key: Key) -> dict[str, Any]:
    inner = _shape(key.shape)
    example = _example(key.shape)
    return {
        "description": f"{key.about} Takes {allowed(key.shape)}.",
        **inner,
        **({"examples": example} if example else {}),
    }


def _example(shape: Shape) -> list[str]:
    if isinstance(shape, Either):
        return _example(shape.scalar)
    return list(KINDS[shape.dimension].examples) if isinstance(shape, Measure) else []


def _shape(shape: Shape) -> dict[str, Any]:
    if isinstance(shape, Keys):
        return _table(shape)
    if isinstance(shape, Names):
        known = {word: _key(key) for word, key in shape.known.items()}
        return {
            "type": "object",
            **({"properties": known} if known else {}),
            "patternProperties": {f"^(?:{shape.pattern})$": _shape(shape.value)},
            "additionalProperties": False,
            "maxProperties": shape.most,
        }
    if isinstance(shape, Items):
        return {
            "type": "array",
            "items": _shape(shape.item),
            "minItems": shape.least,
            "maxItems": shape.most,
        }
    if isinstance(shape, Row):
        count = len(shape.cells)
        return {
            "type": "array",
            "items": [_shape(cell) for cell in shape.cells],
            "minItems": count,
            "maxItems": count,
        }
    if isinstance(shape, Either):
        return {"anyOf": [_shape(shape.scalar), _shape(shape.table)]}
    return _scalar(shape)


def _scalar(shape: Measure | Number | Whole | Switch | Word | Line) -> dict[str, Any]:
    if isinstance(shape, Measure):
        return {"type": "string", "maxLength": LONGEST, "pattern": _quantity(shape)}
    if isinstance(shape, Number):
        return {
            "anyOf": [
                {"type": "number", "minimum": shape.low, "maximum": shape.high},
                {"type": "string", "pattern": f"^(?:{_NUMBER_TEXT})$"},
            ]
        }
    if isinstance(shape, Whole):
        if shape.low == shape.high:
            return {"const": shape.low}
        return {"type": "integer", "minimum": shape.low, "maximum": shape.high}
    if isinstance(shape, Switch):
        return {"anyOf": [{"type": "boolean"}, {"enum": ["yes", "no"]}]}
    if isinstance(shape, Word):
        return {"enum": list(shape.words)}
    pattern = {"pattern": f"^(?:{shape.pattern})$"} if shape.pattern else {}
    text = {"type": "string", "minLength": 1, "maxLength": shape.longest, **pattern}
    return {"anyOf": [text, {"type": "number"}]} if shape.numeric else text


def _quantity(shape: Measure) -> str:
    # Escaped by hand: an editor's regular expressions refuse an escape that is not needed.
    units = "|".join(re.sub(r"([\^*])", r"\\\1", unit) for unit in words_for(shape.dimension))
    further = f"|{NAMED}" if is_open(shape.dimension) else ""
    return f"^ *{NUMBER} *(?:{units}{further}) *$"
