"""Words on the terminal to calls, results to the terminal. Nothing is worked out here.

Results go to standard output, messages to standard error. Exit codes: 0 done; 1 the job is unsafe
or impossible as written; 2 wrong usage; 3 a file is faulty; 4 stale cards were found; 70 a fault
of our own.
"""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path

from cardgen import __version__
from cardgen.core.figure import Finding
from cardgen.core.problems import SpecError, nearest

DONE, REFUSED, USAGE, FAULTY, STALE, OURS = 0, 1, 2, 3, 4, 70
JOBS = Path("specs") / "jobs"


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code."""
    arguments = _parser().parse_args(argv)
    try:
        return int(arguments.run(arguments))
    except BrokenPipeError:
        # The reader of our output has gone; nothing more can be said to it.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return DONE
    except KeyboardInterrupt:
        return 130


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="cardgen",
        description="Turns job specs for screw-cut threads into cards to pin beside the lathe.",
    )
    parser.add_argument("--version", action="version", version=f"cardgen {__version__}")
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")

    def command(
        name: str, run: Callable[[argparse.Namespace], int], help: str
    ) -> argparse.ArgumentParser:
        sub = commands.add_parser(name, help=help, description=help)
        sub.set_defaults(run=run)
        return sub

    make = command("make", _make, "make the cards of the jobs named, or of all under specs/jobs")
    make.add_argument("paths", nargs="*", type=Path, metavar="PATH")
    make.add_argument("--out", type=Path, default=Path("build"), help="folder for the cards")
    make.add_argument("--machine", type=Path, metavar="FILE", help="use this machine instead")
    make.add_argument("--template", metavar="NAME", help="use this template instead")
    make.add_argument("--jobs", type=int, default=1, metavar="N", help="processes to work with")

    check = command("check", _check, "validate and work out, write nothing")
    check.add_argument("paths", nargs="*", type=Path, metavar="PATH")

    figures = command("figures", _figures, "print every computed figure")
    figures.add_argument("paths", nargs="+", type=Path, metavar="JOB")
    figures.add_argument("--json", action="store_true", help="one object a line, one line a job")

    why = command("why", _why, "print how one figure came about")
    why.add_argument("path", type=Path, metavar="JOB")
    why.add_argument("figure", metavar="FIGURE")

    stale = command("stale", _stale, "tell whether printed cards still hold")
    stale.add_argument("cards", nargs="+", metavar="PATH-OR-CODE")

    recover = command("recover", _recover, "write out the spec files embedded in a card")
    recover.add_argument("card", type=Path, metavar="CARD.pdf")
    recover.add_argument("--out", type=Path, default=Path(), metavar="DIR")

    new = command("new", _new, "write a commented starter job to specs/jobs")
    new.add_argument("name", metavar="NAME")
    new.add_argument("--form", default="trapezoidal", help="form of thread")

    schema = command("schema", _schema, "print the JSON Schema of a kind of file, for editors")
    schema.add_argument("kind", choices=("job", "machine", "shop", "material", "template"))
    return parser


def _say(text: str) -> None:
    sys.stderr.write(text + "\n")


def _print(text: str) -> None:
    sys.stdout.write(text + "\n")


class _NoFileError(Exception):
    """A path on the command line leads nowhere."""


def _job_files(paths: Sequence[Path]) -> list[Path]:
    """Return the job files named: files as they are, folders searched, all jobs if none."""
    files: list[Path] = []
    for path in paths or [JOBS]:
        by_name = JOBS / f"{path}.yaml"
        if path.is_dir():
            files += sorted(path.rglob("*.yaml"))
        elif path.is_file() or not by_name.is_file():
            files.append(path)
        else:
            files.append(by_name)
    if not files:
        msg = f"no job files under {', '.join(str(path) for path in paths or [JOBS])}"
        raise _NoFileError(msg)
    return files


def _each(files: Iterable[Path], run: Callable[[Path], int]) -> int:
    """Run something for each job; one faulty job does not stop the rest; return the worst code."""
    worst = DONE
    for file in files:
        try:
            code = run(file)
        except SpecError as error:
            _say(str(error))
            code = FAULTY
        except BrokenPipeError:
            raise
        except OSError as error:
            _say(f"{error.filename or file}: {error.strerror or error}")
            code = FAULTY
        except Exception:  # the last net: our fault, said as such
            code = _our_fault(file)
        worst = max(worst, code)
    return worst


def _our_fault(file: Path) -> int:
    import traceback

    _say(f"{file}: this is a fault in cardgen, not in your file. Nothing was written.")
    _say(traceback.format_exc())
    return OURS


def _tell(findings: Iterable[Finding], file: Path) -> None:
    for finding in findings:
        _say(f"{file}: {'REFUSED' if finding.refuses else 'note'}: {finding.text}  [{finding.id}]")


def _with_files(paths: Sequence[Path], run: Callable[[Path], int]) -> int:
    try:
        files = _job_files(paths)
    except _NoFileError as error:
        _say(str(error))
        return FAULTY
    return _each(files, run)


def _make(arguments: argparse.Namespace) -> int:
    from cardgen import make

    try:
        files = _job_files(arguments.paths)
    except _NoFileError as error:
        _say(str(error))
        return FAULTY
    show_progress = sys.stderr.isatty()
    total = len(files)
    count = 0

    def tell(file: Path, made: make.Made) -> int:
        nonlocal count
        count += 1
        if show_progress:
            _say(f"[{count}/{total}] {file.name}: {made.status}")
        _tell(made.findings, file)
        if made.status == "refused":
            old = arguments.out / f"{file.stem}.pdf"
            if old.exists():
                _say(f"{old}: is of an earlier state of this job; take it down")
            return REFUSED
        if made.status == "made":
            _print(str(made.file))
        return DONE

    def one(file: Path) -> make.Made:
        return make.make_card(
            file, arguments.out, machine=arguments.machine, template=arguments.template
        )

    if arguments.jobs > 1 and total > 1:
        return _make_together(arguments, files, tell)
    return _each(files, lambda file: tell(file, one(file)))


def _make_together(
    arguments: argparse.Namespace, files: Sequence[Path], tell: Callable[..., int]
) -> int:
    from concurrent.futures import ProcessPoolExecutor
    from functools import partial

    from cardgen.make import make_card

    work = partial(
        make_card, out=arguments.out, machine=arguments.machine, template=arguments.template
    )
    with ProcessPoolExecutor(max_workers=min(arguments.jobs, len(files))) as pool:
        waiting = {file: pool.submit(work, file) for file in files}
        return _each(files, lambda file: tell(file, waiting[file].result()))


def _check(arguments: argparse.Namespace) -> int:
    from cardgen.make import work

    def run(file: Path) -> int:
        worked = work(file)
        _tell(worked.sheets.findings, file)
        _print(f"{file}: {'refused' if worked.sheets.refused else 'good'}")
        return REFUSED if worked.sheets.refused else DONE

    return _with_files(arguments.paths, run)


def _figures(arguments: argparse.Namespace) -> int:
    import json

    from cardgen.core.rounding import limits_written, written
    from cardgen.explain import as_json
    from cardgen.make import work

    def run(file: Path) -> int:
        worked = work(file)
        sheets = worked.sheets
        if arguments.json:
            told = as_json(sheets, job=worked.job.name, version=__version__, code=worked.code)
            _print(json.dumps(told, ensure_ascii=False))
        else:
            _print(f"{worked.job.name}  {worked.code}")
            for figure in sheets.figures.values():
                value = written(figure, inch=worked.job.inch)
                limits = limits_written(figure, inch=worked.job.inch)
                shown = value if limits == value else f"{value}  ({limits})"
                _print(f"  {figure.id:<32} {shown}")
            _tell(sheets.findings, file)
        return REFUSED if sheets.refused else DONE

    return _with_files(arguments.paths, run)


def _why(arguments: argparse.Namespace) -> int:
    from cardgen.explain import why
    from cardgen.make import work

    def run(file: Path) -> int:
        worked = work(file)
        figures = worked.sheets.figures
        if arguments.figure not in figures:
            near = nearest(arguments.figure, list(figures))
            hint = f"; did you mean {near}?" if near else ""
            _say(f"{arguments.figure} is not a figure of {worked.job.name}{hint}")
            return USAGE
        _print(why(figures, arguments.figure, worked.job.places, worked.job.machine.places))
        return DONE

    return _with_files([arguments.path], run)


def _stale(arguments: argparse.Namespace) -> int:
    from cardgen import shelf

    worst = DONE
    for word in arguments.cards:
        path = Path(word)
        cards = sorted(path.rglob("*.pdf")) if path.is_dir() else [path]
        if not path.exists():
            worst = max(worst, _stale_code(word))
            continue
        for card in cards:
            try:
                moved = shelf.moved_since(card, JOBS)
            except shelf.NoCardError as error:
                _say(f"{card}: {error}")
                worst = max(worst, FAULTY)
            except SpecError as error:
                _say(f"{card}: its job can no longer be read")
                _say(str(error))
                worst = max(worst, FAULTY)
            else:
                _print(f"{card}: {'stale' if moved else 'holds'}")
                for line in moved:
                    _print(f"  {line}")
                worst = max(worst, STALE if moved else DONE)
    return worst


def _stale_code(word: str) -> int:
    from cardgen import shelf

    if not shelf.is_code(word):
        _say(f"{word}: neither a file, a folder, nor a card's code (a sign may be misread)")
        return FAULTY
    job = shelf.job_of_code(word, JOBS)
    _print(f"{word}: {f'holds, {job}' if job else 'stale: no job gives this code today'}")
    return DONE if job else STALE


def _recover(arguments: argparse.Namespace) -> int:
    from cardgen import shelf

    try:
        for file in shelf.recover(arguments.card, arguments.out):
            _print(str(file))
    except shelf.NoCardError as error:
        _say(f"{arguments.card}: {error}")
        return FAULTY
    except FileExistsError as error:
        _say(f"{error.filename}: exists already with other content; choose another folder")
        return USAGE
    except OSError as error:
        _say(f"{error.filename}: {error.strerror}")
        return FAULTY
    return DONE


def _new(arguments: argparse.Namespace) -> int:
    from cardgen.make import keep
    from cardgen.spec.starter import starter

    target = JOBS / f"{arguments.name}.yaml"
    try:
        content = starter(arguments.name, arguments.form)
    except ValueError as error:
        _say(str(error))
        return USAGE
    if target.exists():
        _say(f"{target} exists already; choose another name")
        return USAGE
    try:
        keep(target, content.encode())
    except OSError as error:
        _say(f"{error.filename or target}: {error.strerror or error}")
        return FAULTY
    _print(str(target))
    return DONE


def _schema(arguments: argparse.Namespace) -> int:
    import json

    from cardgen.spec.schema import schema

    _print(json.dumps(schema(arguments.kind), indent=2, ensure_ascii=False))
    return DONE
