"""Cards for the lathe from a job spec.

A YAML spec of a screw-cut thread, its material, machine and heat treatment goes in; numbered
figures that explain themselves, an infeed schedule and a printable card come out. ``make`` holds
the whole flow.

Public are :func:`load`, :func:`work`, :func:`make_card`, :func:`make_binder`, :class:`Sheet` and
:class:`CardgenError`. Everything else may change.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from cardgen.bindery import make_binder
    from cardgen.core.figure import Sheet
    from cardgen.core.problems import CardgenError
    from cardgen.make import make_card, work
    from cardgen.spec.load import load

__version__ = "0.1.0"
__all__ = ["CardgenError", "Sheet", "load", "make_binder", "make_card", "work"]

_HOMES = {
    "CardgenError": "cardgen.core.problems",
    "Sheet": "cardgen.core.figure",
    "load": "cardgen.spec.load",
    "make_binder": "cardgen.bindery",
    "make_card": "cardgen.make",
    "work": "cardgen.make",
}


def __getattr__(name: str) -> object:
    """Return a public name, loaded when it is asked for: the command pays for what it uses."""
    from importlib import import_module

    if name not in _HOMES:
        msg = f"module {__name__!r} has no attribute {name!r}"
        raise AttributeError(msg)
    return getattr(import_module(_HOMES[name]), name)
