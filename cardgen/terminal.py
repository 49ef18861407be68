"""What every command shares: exit codes, the two streams, and the job files that a path means."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path

from cardgen.core.figure import Finding
from cardgen.core.problems import SpecError

DONE, REFUSED, USAGE, FAULTY, STALE, OURS = 0, 1, 2, 3, 4, 70
JOBS = Path("specs") / "jobs"
MACHINES = Path("specs") / "machines"
SHOP = Path("specs") / "shop.yaml"


def say(text: str) -> None:
    """Write a line to standard error."""
    sys.stderr.write(_harmless(text) + "\n")


def put(text: str) -> None:
    """Write a result to standard output."""
    sys.stdout.write(_harmless(text) + "\n")


def _harmless(text: str) -> str:
    """Return a text that cannot steer a terminal, whichever file or argument it came from."""
    if text.isprintable():
        return text
    return "".join(char if char.isprintable() or char in "\n\t" else "?" for char in text)


def machine_file(word: str) -> Path:
    """Return the machine file that a word means: a path, or a name under specs/machines."""
    return _by_name(Path(word), MACHINES)


def _by_name(path: Path, folder: Path) -> Path:
    """Return a path as it is, or the file of that name in a folder of specs."""
    named = folder / f"{path}.yaml"
    try:
        if path.is_file():
            return path
        # A word that names no file yet is looked for where it would be, so that the near ones are
        # told.
        return named if named.is_file() or (path.name == str(path) and not path.suffix) else path
    except OSError:  # a name that no file can have: whoever opens it says so
        return path


class NoFileError(Exception):
    """A path on the command line leads nowhere."""


def job_files(paths: Sequence[Path]) -> list[Path]:
    """Return the job files named: files as they are, folders searched, all jobs if none.

    Raises
    ------
    NoFileError
        If there are none, or if a path cannot be followed.
    """
    files: list[Path] = []
    for path in paths or [JOBS]:
        try:
            files += _below(path) if path.is_dir() else [_by_name(path, JOBS)]
        except OSError as error:  # a name that no file can have, a folder that may not be read
            msg = f"{str(path)[:200]}: {error.strerror or error}"
            raise NoFileError(msg) from error
    if not files:
        where = ", ".join(str(path) for path in paths or [JOBS])
        msg = f"no job files (NAME.yaml) under {where}; cardgen new NAME writes one"
        raise NoFileError(msg)
    return files


def _below(folder: Path) -> list[Path]:
    for other in sorted(folder.rglob("*.yml")):
        say(f"{other}: not read: name it {other.stem}.yaml")
    return sorted(folder.rglob("*.yaml"))


def each(files: Iterable[Path], run: Callable[[Path], int]) -> int:
    """Run something for each job; one faulty job does not stop the rest; return the worst code."""
    worst = DONE
    for file in files:
        try:
            code = run(file)
        except SpecError as error:
            say(str(error))
            code = FAULTY
        except BrokenPipeError:
            raise
        except OSError as error:
            say(f"{error.filename or file}: {error.strerror or error}")
            code = FAULTY
        except Exception:  # the last net: our fault, said as such
            code = _our_fault(file)
        worst = max(worst, code)
    return worst


def _our_fault(file: Path) -> int:
    import traceback

    say(f"{file}: this is a fault in cardgen, not in your file. Nothing was written.")
    say(traceback.format_exc())
    return OURS


def tell(findings: Iterable[Finding], file: Path) -> None:
    """Write the warnings and refusals of a job to standard error."""
    for finding in findings:
        say(f"{file}: {'REFUSED' if finding.refuses else 'note'}: {finding.text}  [{finding.id}]")


def with_files(paths: Sequence[Path], run: Callable[[Path], int]) -> int:
    """Run something for each job that the paths mean; return the worst code."""
    try:
        files = job_files(paths)
    except NoFileError as error:
        say(str(error))
        return FAULTY
    return each(files, run)
