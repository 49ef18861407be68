"""The examples in docstrings are run, so that they stay true."""

from __future__ import annotations

import doctest
from importlib import import_module
from pkgutil import walk_packages

import pytest

import cardgen

MODULES = [
    found.name
    for found in walk_packages(cardgen.__path__, "cardgen.")
    if not found.name.endswith("__main__")
]


@pytest.mark.parametrize("name", MODULES)
def test_examples(name: str) -> None:
    assert doctest.testmod(import_module(name)).failed == 0
