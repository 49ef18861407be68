"""A template file to a :class:`~cardgen.spec.job.Template`."""

from __future__ import annotations

from functools import lru_cache
from typing import Literal, cast

from cardgen import library
from cardgen.spec.fit import Answers
from cardgen.spec.job import Template
from cardgen.spec.keys.template import LEAST_BODY, LEAST_DIAL, keys
from cardgen.spec.outcome import Outcome, answers_of, default, unreadable
from cardgen.spec.read import UnreadableError

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
    page = _page(said)
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
            margin=_length(said, "margin"),
            seal_edge=_length(said, "seal-edge"),
            columns=said.whole("columns") or 1,
            order=tuple(said.text(path) or "" for path in said.items("order")),
            body=sizes["body"],
            dial=sizes["dial"],
            head=sizes["head"],
            small=sizes["small"],
            ink=cast(Literal["colour", "mono"], said.text("ink") or "colour"),
        )
    )


def _length(said: Answers, key: str) -> float:
    value = said.number(key)
    return default(f"template.{key}", "length").value if value is None else value


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
    sizes: dict[str, float] = {}
    for key in _SIZES:
        size = given[key]
        if size is None:
            size = default(f"template.{key}", "length").value / _POINT
            size = round(size, 6)
            if key == "small" and minimum is not None:
                size = minimum
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


def _page(said: Answers) -> tuple[float, float] | None:
    word = said.text("page")
    turned = said.text("orientation")
    if word is not None:
        row = next(
            row for row in library.table("card/page_sizes") if row["name"].lower() == word.lower()
        )
        short, long = sorted((float(row["width_mm"]), float(row["height_mm"])))
        page = (long, short) if turned == "landscape" else (short, long)
    else:
        width, height = said.number("page.width"), said.number("page.height")
        if width is None or height is None:
            return None
        page = (width, height)
        if turned is not None and (turned == "landscape") != (width > height):
            said.fault(
                "orientation",
                f"{width:g} mm wide and {height:g} mm high is not {turned}",
                "an orientation that fits width and height, or none",
            )
    least = 2 * _length(said, "margin") + 30 * (said.whole("columns") or 1)
    if page[0] < least:
        said.fault(
            "page",
            f"a card {page[0]:g} mm wide leaves no room for its columns",
            f"{least:g} mm or more for these columns and margins, or fewer columns",
        )
    return page


def _order(said: Answers) -> None:
    seen: set[str] = set()
    for path in said.items("order"):
        word = said.text(path)
        if word is not None and word in seen:
            said.fault(path, f"{word} stands twice", "each panel once")
        seen.add(word or "")
