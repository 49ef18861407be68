"""A template file to a :class:`~cardgen.spec.job.Template`."""

from __future__ import annotations

from functools import lru_cache
from typing import Literal, cast

from cardgen.spec import paper
from cardgen.spec.fit import Answers
from cardgen.spec.job import Template
from cardgen.spec.keys.template import LEAST_BODY, LEAST_DIAL, keys
from cardgen.spec.legibility import least_type, rule_source
from cardgen.spec.outcome import Outcome, answers_of, default, unreadable
from cardgen.spec.text import UnreadableError

_POINT = 25.4 / 72
_SIZES = ("body", "dial", "head", "small")


@lru_cache(maxsize=32)
def template(content: bytes, shown: str, name: str) -> Outcome[Template]:
    """Read a template file.

    Parameters
    ----------
    content
        The file's bytes.
    shown
        What to call it in messages.
    name
        The name by which a job asks for it.
    """
    try:
        said = answers_of(content, shown, keys())
    except UnreadableError as error:
        return unreadable(error)
    given = said.text("template")
    if given is not None and given != name:
        said.fault("template", f"the file is called {name} and says {given}", f"template: {name}")
    sizes = _sizes(said)
    page = paper.page(said)
    corners = paper.corners(said, page)
    holes, taken = paper.punched(said, page) if page else ((), paper.NO_SIDES)
    if page:
        paper.room(said, page, taken, sizes["body"], sizes["dial"])
    _order(said)
    if said.problems or page is None:
        return Outcome(None, tuple(said.problems))
    width, height = page
    return Outcome(
        Template(
            name=name,
            title=said.text("title") or name,
            width=width,
            height=height,
            margin=paper.length(said, "margin"),
            seal_edge=paper.length(said, "seal-edge"),
            columns=said.whole("columns") or 1,
            order=tuple(said.text(path) or "" for path in said.items("order")),
            body=sizes["body"],
            dial=sizes["dial"],
            head=sizes["head"],
            small=sizes["small"],
            ink=cast(Literal["colour", "mono"], said.text("ink") or "colour"),
            holes=holes,
            taken=taken,
            corners=corners,
            trim=cast(Literal["none", "corners", "outline"], said.text("trim") or "none"),
            record_line=paper.length(said, "record-line"),
        )
    )


def _points(said: Answers, key: str) -> float | None:
    value = said.exact(f"type.{key}")
    # Exact division: 9 pt must come back as 9, or the smallest-size rule would trip on noise.
    return None if value is None else float(value * 72 / 254 * 10)


def _sizes(said: Answers) -> dict[str, float]:
    given = {key: _points(said, key) for key in (*_SIZES, "minimum")}
    for key, least in (("body", LEAST_BODY), ("dial", LEAST_DIAL)):
        size = given[key]
        if size is not None and size < least:
            said.fault(
                f"type.{key}", f"{key} type of {size:g} pt is too small", f"{least} pt or more"
            )
    minimum = given["minimum"]
    distance = said.number("reading-distance")
    sizes: dict[str, float] = {}
    for key in _SIZES:
        size = given[key]
        if size is None:
            size = default(f"template.{key}", "length").value / _POINT
            size = round(size, 6)
            if key == "small" and minimum is not None:
                size = minimum
            if distance is not None:
                size = max(size, least_type(key, distance))
        elif distance is not None and size < least_type(key, distance):
            said.fault(
                f"type.{key}",
                f"{key} type of {size:g} pt cannot be read from {distance:g} mm, where a capital"
                f" must be {rule_source()} high",
                f"{least_type(key, distance):g} pt or more, or a shorter reading-distance",
            )
        elif minimum is not None and size < minimum:
            said.fault(
                f"type.{key}",
                f"{key} type of {size:g} pt is below the minimum of {minimum:g} pt",
                "sizes of the minimum or more",
            )
        sizes[key] = size
    body, small = sizes["body"], sizes["small"]
    if small > body:
        at = "type.small" if given["small"] is not None else "type.minimum"
        said.fault(
            at, f"the smallest type, {small:g} pt, is larger than body", f"{body:g} pt or less"
        )
    return sizes


def _order(said: Answers) -> None:
    seen: set[str] = set()
    for path in said.items("order"):
        word = said.text(path)
        if word is not None and word in seen:
            said.fault(path, f"{word} stands twice", "each panel once")
        seen.add(word or "")
