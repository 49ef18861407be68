"""Imports run one way: each part may import only what stands in this table, in ours and others'."""

from __future__ import annotations

import ast
import sys
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parent.parent / "cardgen"

KIT = ("grid", "panel", "pen", "piece", "proof", "shape", "table", "view")

# part -> (our parts it may import, third-party packages it may import)
ALLOWED: dict[str, tuple[set[str], set[str]]] = {
    "core": ({"core"}, {"pint"}),
    "library": ({"core"}, set()),
    "rules": ({"rules", "core"}, {"numpy"}),
    "forms": ({"forms", "core", "rules", "library"}, set()),
    "spec": ({"spec", "core", "library", "forms", "rules"}, {"yaml", "jsonschema"}),
    "sheets": (
        {"sheets", "core", "library", "rules", "forms", "spec.job", "spec.lathe", "spec.substance"},
        set(),
    ),
    "card": ({"card", "core"}, set()),
    "pdf": ({"pdf", "core", "card.pen"}, {"reportlab", "pypdf", "font_source_sans_pro", "segno"}),
    # The binder draws its own pages with the kit of the cards, but knows no panel.
    "binder": (
        {"binder", "core", "pdf"}
        | {
            f"card.{kit}"
            for kit in ("grid", "panel", "pen", "piece", "proof", "shape", "table", "view")
        },
        {"pypdf"},
    ),
    "explain": ({"core"}, set()),
    "make": ({"core", "library", "spec", "sheets", "card", "pdf", "binder", "explain"}, set()),
    "shelf": ({"core", "make", "pdf.finish", "binder", "explain"}, set()),
    "bindery": (
        {"core", "make", "library", "spec", "sheets", "binder", "pdf", "machine_chart"},
        set(),
    ),
    "colour_chart": ({"core", "library", "spec", "sheets", "card", "pdf", "binder"}, set()),
    "machine_change": ({"core", "make", "shelf", "spec", "binder", "explain"}, set()),
    "machine_chart": (
        {"core", "spec", "sheets", "card", "pdf", "binder", "colour_chart"},
        set(),
    ),
    "preview": ({"preview"}, set()),
    "watch": ({"core", "make", "preview"}, set()),
    "terminal": ({"core"}, set()),
    "commands": (
        {"make", "bindery", "shelf", "watch", "preview", "core", "explain", "spec", "terminal"}
        | {"colour_chart", "machine_change", "machine_chart"},
        set(),
    ),
    "cli": ({"commands", "terminal"}, set()),
}


def part_of(module: str) -> str:
    return module.removeprefix("cardgen.").split(".")[0]


def imports(path: Path) -> set[str]:
    found: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: relative import"
            assert node.module is not None
            found |= {f"{node.module}.{alias.name}" for alias in node.names}
    return found


MODULES = sorted(path for path in PACKAGE.rglob("*.py") if path.parent != PACKAGE) + [
    path for path in PACKAGE.glob("*.py") if path.stem not in {"__init__", "__main__"}
]


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(PACKAGE)))
def test_imports_run_down_the_flow(path: Path) -> None:
    relative = path.relative_to(PACKAGE)
    part = relative.parts[0].removesuffix(".py")
    ours, others = ALLOWED[part]
    for name in imports(path):
        top = name.split(".")[0]
        if top == "cardgen":
            inner = name.removeprefix("cardgen").removeprefix(".")
            if inner == "__version__":
                continue
            assert any(inner == allowed or inner.startswith(f"{allowed}.") for allowed in ours), (
                f"{relative} imports {name}"
            )
        elif top not in sys.stdlib_module_names:
            assert top in others, f"{relative} imports {name}"


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(PACKAGE)))
def test_modules_are_small(path: Path) -> None:
    assert len(path.read_text("utf-8").splitlines()) <= 400


def test_heavy_libraries_are_not_loaded_by_the_command() -> None:
    """``cardgen --help`` and the working of a sheet must not pay for what they do not use."""
    import subprocess

    code = "import sys, cardgen.cli; print([m for m in sys.modules])"
    loaded = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True
    ).stdout
    for heavy in ("reportlab", "pint", "numpy", "jsonschema", "pypdf", "yaml"):
        assert f"'{heavy}'" not in loaded
