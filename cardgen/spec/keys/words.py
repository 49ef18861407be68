"""Words and shapes that several kinds of spec file share."""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from typing import Any

from cardgen import library
from cardgen.spec.shape import Key, Line, Whole

FORMS = (
    "square",
    "acme",
    "stub-acme",
    "trapezoidal",
    "metric",
    "unified",
    "whitworth",
    "pipe-parallel",
    "ba",
    "buttress-metric",
    "buttress-inch",
    "knuckle",
    "worm",
    "custom",
)
"""Every form that a spec may name; :func:`forms` says which of them can be worked out."""

STANDARD = "standard"
"""The variant that every form has: itself."""

_PANELS = ("thread", "setup", "infeed", "tool", "measure", "mate", "heat", "load", "safety")

DECIMALS = ("point", "comma")

VERSION = Key(Whole(1, 1), "Version of the spec's words; always 1.", needed=True)

NAME = Line(60, r"[A-Za-z0-9][A-Za-z0-9-]*", "a short name of letters, digits and hyphens")
MATERIAL_NAME = Line(
    40,
    r"[A-Za-z0-9]+(?:[._+-][A-Za-z0-9]+)*",
    "a material's name: letters and digits, joined by single dots, hyphens, pluses or underscores",
    numeric=True,
)
TITLE = Line(80, r"[^\n]+", "a title on one line")
PROSE = Line(600, "", "text")
FILE = Line(
    200,
    r"(?![/~]|[A-Za-z]:)[^\\\n]+\.ya?ml",
    "a path to a .yaml file, relative to this file, with / between folders",
)


@cache
def forms() -> tuple[str, ...]:
    """Return the forms that this version works out: those with a file in ``data/forms``."""
    return tuple(name for name in library.names("forms", ".toml") if "+" not in name)


@cache
def languages() -> tuple[str, ...]:
    """Return the languages of a card: English, and those with a file in ``data/words``."""
    return ("en", *library.names("words", ".toml"))


@cache
def variants(form: str) -> tuple[str, ...]:
    """Return the variants of a form: what stands after its name in ``FORM+VARIANT.toml``."""
    start = f"{form}+"
    return tuple(n[len(start) :] for n in library.names("forms", ".toml") if n.startswith(start))


@cache
def all_variants() -> tuple[str, ...]:
    """Return every word that names a variant of some form, the standard's own first."""
    return (STANDARD, *sorted({name for form in forms() for name in variants(form)}))


def form_data(form: str) -> Any:
    """Return what a form's file says: ``title``, ``classes``, ``default_class`` ..."""
    return library.form(form)


@cache
def panels() -> tuple[str, ...]:
    """Return the panels a card may show: the agreed words, then any further panel there is."""
    folder = files("cardgen") / "card" / "panels"
    found = (item.name.removesuffix(".py") for item in folder.iterdir() if item.is_file())
    further = sorted(name for name in found if name.isidentifier() and not name.startswith("_"))
    return _PANELS + tuple(name for name in further if name not in _PANELS)
