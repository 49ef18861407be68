"""Mutation testing of ``cardgen/rules`` and ``cardgen/forms``: do the tests notice a wrong sign?

    nice python -m tests.mutate --count 300 --seed 1
    nice python -m tests.mutate --module rules/beam

Each mutant is one small change of one module: an operator, a comparison, a number, a result. It is
given to the tests that import the module and, should it survive, to the ledger and to those of the
sheets that use the module. A child process takes each, with the packages loaded already;
the changed module never touches the disk. The score and the survivors are printed, to be judged by
hand: a survivor is either a missing test or a change that changes nothing.
"""

from __future__ import annotations

import argparse
import ast
import contextlib
import copy
import importlib.util
import os
import random
import signal
import sys
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from importlib.abc import Loader, MetaPathFinder
from importlib.machinery import ModuleSpec
from pathlib import Path
from types import ModuleType

ROOT = Path(__file__).parents[1]
PARTS = ("rules", "forms")
PATIENCE = 90
"""Seconds after which a mutant that has sent the tests round in circles is called found."""

_COMPARE: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.LtE,
    ast.LtE: ast.Lt,
    ast.Gt: ast.GtE,
    ast.GtE: ast.Gt,
    ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq,
}
_OPERATE: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.Pow: ast.Mult,
}
_SWAP = {"min": "max", "max": "min", "sin": "cos", "cos": "sin", "floor": "ceil", "ceil": "floor"}


@dataclass(frozen=True, slots=True)
class Mutant:
    """A module with one change, the one of a number; with none if the number is below 0."""

    file: Path
    number: int
    line: int = 0
    was: str = ""
    now: str = ""

    @property
    def module(self) -> str:
        return ".".join(self.file.relative_to(ROOT).with_suffix("").parts)

    def __str__(self) -> str:
        return f"{self.file.relative_to(ROOT)}:{self.line}  {self.was}  ->  {self.now}"


def _changed(node: ast.AST) -> ast.AST | None:
    """Return a node with its one change, or ``None`` if it is not of a kind to change."""
    new = copy.deepcopy(node)
    if isinstance(new, ast.Compare) and type(new.ops[0]) in _COMPARE:
        new.ops[0] = _COMPARE[type(new.ops[0])]()
    elif isinstance(new, ast.BinOp) and type(new.op) in _OPERATE:
        new.op = _OPERATE[type(new.op)]()
    elif isinstance(new, ast.BoolOp):
        new.op = ast.Or() if isinstance(new.op, ast.And) else ast.And()
    elif isinstance(new, ast.UnaryOp) and isinstance(new.op, (ast.USub, ast.Not)):
        return new.operand
    elif isinstance(new, ast.Constant) and type(new.value) in {int, float}:
        new.value = new.value + 1 if isinstance(new.value, int) else new.value * 1.1 or 0.1
    elif isinstance(new, ast.Call) and isinstance(new.func, ast.Name) and new.func.id in _SWAP:
        new.func.id = _SWAP[new.func.id]
    else:
        return None
    return new


def _places(node: ast.AST) -> Iterator[tuple[ast.AST, str, int | None]]:
    """Yield parent, field and index of every node that counts: no messages, no annotations."""
    for field, value in ast.iter_fields(node):
        if field in {"annotation", "returns", "decorator_list", "slice"}:
            continue
        for index, child in enumerate(value if isinstance(value, list) else [value]):
            if not isinstance(child, ast.AST):
                continue
            to_msg = isinstance(child, ast.Assign) and "msg" in ast.unparse(child.targets[0])
            if to_msg or isinstance(child, (ast.Raise, ast.Assert, ast.JoinedStr)):
                continue
            yield node, field, index if isinstance(value, list) else None
            yield from _places(child)


def _replaced(node: ast.AST) -> ast.AST | None:
    """Return what stands for a node in a mutant, or ``None`` if it is left as it is."""
    if isinstance(node, ast.Return) and isinstance(node.value, (ast.Call, ast.Name, ast.Attribute)):
        return ast.Return(ast.Constant(None))
    return _changed(node)


Change = tuple[ast.AST, str, int | None, ast.AST, ast.AST]
"""Parent, field, index in it, the node that is there, the node to be put there."""


def _changes(tree: ast.AST) -> Iterator[Change]:
    for parent, field, index in _places(tree):
        held = getattr(parent, field)
        node = held if index is None else held[index]
        new = _replaced(node)
        if new is not None:
            yield parent, field, index, node, ast.copy_location(new, node)


def mutants(file: Path) -> Iterator[Mutant]:
    """Yield every mutant of a module, one change each."""
    tree = ast.parse(file.read_text(encoding="utf-8"))
    for number, (*_, node, new) in enumerate(_changes(tree)):
        yield Mutant(file, number, node.lineno, ast.unparse(node), ast.unparse(new))


def source(mutant: Mutant) -> str:
    """Return the text of the changed module."""
    tree = ast.parse(mutant.file.read_text(encoding="utf-8"))
    for number, (parent, field, index, _, new) in enumerate(_changes(tree)):
        if number == mutant.number:
            if index is None:
                setattr(parent, field, new)
            else:
                getattr(parent, field)[index] = new
            break
    return ast.unparse(ast.fix_missing_locations(tree))


@cache
def _imports(file: Path) -> frozenset[str]:
    """Return the modules of ours that a file imports, by dotted name."""
    found = set()
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom) and node.module:
            found |= {node.module, *(f"{node.module}.{name.name}" for name in node.names)}
        elif isinstance(node, ast.Import):
            found |= {name.name for name in node.names}
    return frozenset(found)


def _tests_of(module: str) -> list[str]:
    folders = ("rules", "published", "sheets")
    files = [file for name in folders for file in sorted((ROOT / "tests" / name).glob("test_*.py"))]
    helped = [
        f"tests.{helper.parent.name}.{helper.stem}"
        for name in folders
        for helper in (ROOT / "tests" / name).glob("*.py")
        if not helper.stem.startswith("test_") and module in _imports(helper)
    ]
    wanted = {module, *helped}
    return [str(file.relative_to(ROOT)) for file in files if wanted & _imports(file)]


@cache
def stages(module: str) -> list[list[str]]:
    """Return the tests to ask, nearest first."""
    asked = _tests_of(module)
    topic = module.rpartition(".")[2].partition("_")[0]
    near = sorted((t for t in asked if "/sheets/" not in t), key=lambda test: topic not in test)
    users = [
        ".".join(file.relative_to(ROOT).with_suffix("").parts)
        for file in sorted((ROOT / "cardgen").rglob("*.py"))
        if module in _imports(file)
    ]
    topics = {user.rpartition(".")[2].strip("_").partition("_")[0] for user in users}
    sheets = [
        str(file.relative_to(ROOT))
        for file in sorted((ROOT / "tests" / "sheets").glob("test_*.py"))
        if topics & set(file.stem.split("_"))
    ]
    far = [] if near else [test for user in users for test in _tests_of(user)]
    rest = list(dict.fromkeys(["tests/test_ledger.py", *asked, *far, *sheets]))
    return [[f"{module.replace('.', '/')}.py", *near], [test for test in rest if test not in near]]


class _Changed(MetaPathFinder, Loader):
    """Gives one module's changed source to whoever imports it."""

    def __init__(self, mutant: Mutant) -> None:
        self.mutant = mutant

    def find_spec(self, name: str, *_: object) -> ModuleSpec | None:
        if name != self.mutant.module:
            return None
        return importlib.util.spec_from_file_location(name, self.mutant.file, loader=self)

    def create_module(self, spec: ModuleSpec) -> None:
        return None

    def exec_module(self, module: ModuleType) -> None:
        exec(compile(source(self.mutant), str(self.mutant.file), "exec"), module.__dict__)


def survives(mutant: Mutant) -> bool:
    """Whether no test of any stage fails that does not fail without the change."""
    for number, tests in enumerate(stages(mutant.module)):
        if tests and not _passes(mutant, tests):
            if _sound(mutant.file, number):
                return False
            print(f"not asked, for they fail as it is: {' '.join(tests)}", flush=True)
    return True


@cache
def _sound(file: Path, stage: int) -> bool:
    """Whether the tests of a stage pass while nothing is changed."""
    same = Mutant(file, -1)
    return _passes(same, stages(same.module)[stage])


def _passes(mutant: Mutant, tests: Sequence[str]) -> bool:
    child = os.fork()
    if not child:
        _run_and_leave(mutant, tests)
    end = time.monotonic() + PATIENCE
    while time.monotonic() < end:
        done, status = os.waitpid(child, os.WNOHANG)
        if done:
            return os.waitstatus_to_exitcode(status) == 0
        time.sleep(0.02)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    return False


def _run_and_leave(mutant: Mutant, tests: Sequence[str]) -> None:
    import hypothesis
    import pytest

    code = 1
    with contextlib.suppress(BaseException):
        null = os.open(os.devnull, os.O_WRONLY)
        os.dup2(null, 1)
        os.dup2(null, 2)
        sys.meta_path.insert(0, _Changed(mutant))
        # The same examples each time; the first that fails will do.
        once = (hypothesis.Phase.explicit, hypothesis.Phase.generate)
        hypothesis.settings.register_profile("once", derandomize=True, phases=once)
        hypothesis.settings.load_profile("once")
        options = ["-x", "-q", "-p", "no:cacheprovider", "-p", "no:xdist", "--doctest-modules"]
        # Rewriting asserts, pytest would read the module itself, from the disk.
        options.append("--assert=plain")
        code = int(pytest.main([*options, *tests]))
        code = 0 if code == pytest.ExitCode.NO_TESTS_COLLECTED else code
    os._exit(code)


def main() -> None:
    parser = argparse.ArgumentParser(description="Mutation testing of rules and forms.")
    parser.add_argument("--count", type=int, default=300, help="mutants to draw")
    parser.add_argument("--seed", default="1")
    parser.add_argument("--module", help="one module only, such as rules/beam")
    asked = parser.parse_args()
    os.environ.pop("CI", None)
    os.chdir(ROOT)
    # Loaded once, for all the children; of our own code nothing may be loaded yet.
    for name in ("hypothesis", "numpy", "pytest", "scipy.optimize", "shapely.geometry", "yaml"):
        with contextlib.suppress(ImportError):
            importlib.import_module(name)
    assert not any(name.startswith("cardgen") for name in sys.modules)
    pattern = f"{asked.module}.py" if asked.module else "*/*.py"
    files = [f for f in sorted((ROOT / "cardgen").glob(pattern)) if f.parent.name in PARTS]
    drawn = [mutant for file in files for mutant in mutants(file)]
    total = len(drawn)
    random.Random(asked.seed).shuffle(drawn)
    drawn = drawn[: asked.count]
    alive = []
    for number, mutant in enumerate(drawn, 1):
        if survives(mutant):
            alive.append(mutant)
        what = "survived" if alive and alive[-1] is mutant else "found"
        print(f"[{number}/{len(drawn)}] {what}: {mutant}", flush=True)
    found = len(drawn) - len(alive)
    share = 100 * found / max(1, len(drawn))
    print(f"{found} of {len(drawn)} found ({share:.1f} %), drawn from {total}, seed {asked.seed}")


if __name__ == "__main__":
    main()
