"""Words on the terminal to calls, results to the terminal. Nothing is worked out here.

Results go to standard output, messages to standard error. Exit codes: 0 done; 1 the job is unsafe
or impossible as written; 2 wrong usage; 3 a file is faulty; 4 stale cards were found; 70 a fault
of our own.
"""

from __future__ import annotations

import argparse
import gc
import os
import sys
from collections.abc import Callable, Sequence
from functools import partial
from importlib import import_module

from cardgen import __version__

LITTER = 20_000, 20, 20
"""When to look for litter: what a card is made of lives as long as the card, and looking after each
700 new objects, as Python does unasked, took a tenth of its time."""

TYPE_CHECKING = False  # as of typing, which would take a tenth of the time of `--help` to load
if TYPE_CHECKING:
    from pathlib import Path

    Run = Callable[[argparse.Namespace], int]


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code."""
    gc.set_threshold(*LITTER)
    arguments = _parser().parse_args(argv)
    try:
        return arguments.run(arguments)  # type: ignore[no-any-return]
    except BrokenPipeError:
        # The reader of our output has gone; nothing more can be said to it.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except KeyboardInterrupt:
        return 130


_JOBS = "job files, folders of them, or names of jobs in specs/jobs; without any, all in there"
_MACHINES = "machine files, or names of machines in specs/machines; without any, all in there"
_ONE_JOB = "a job file, or the name of a job in specs/jobs"
_FIRST_STEPS = """\
first steps:
  cardgen new --machine my-lathe   describe your lathe in the file that this writes
  cardgen new vice-screw           describe the thread in the file that this writes
  cardgen check vice-screw         see whether it can be cut
  cardgen make vice-screw          build/vice-screw.pdf, to print, laminate and pin up

`cardgen COMMAND --help` tells more of a command. Messages name the file, line and column."""


def _say_how(parser: argparse.ArgumentParser, _: argparse.Namespace) -> int:
    """Tell what there is to be said, where nothing was."""
    from cardgen.terminal import USAGE, say

    say(parser.format_help().rstrip())
    return USAGE


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="cardgen",
        description="Turns job specs for screw-cut threads into cards to pin beside the lathe.",
        epilog=_FIRST_STEPS,
        formatter_class=partial(argparse.RawDescriptionHelpFormatter, width=_columns() - 2),
    )
    parser.add_argument("--version", action="version", version=f"cardgen {__version__}")
    parser.set_defaults(run=partial(_say_how, parser))
    commands = parser.add_subparsers(dest="command", title="commands", metavar="COMMAND")

    def command(name: str, run: str, help: str) -> argparse.ArgumentParser:
        sub = commands.add_parser(name, help=help, description=help)
        sub.set_defaults(run=_late(run))
        return sub

    making = command(
        "make", "make.make_cards", "make the cards of the jobs named, or of all under specs/jobs"
    )
    making.add_argument("paths", nargs="*", type=_path, metavar="PATH", help=_JOBS)
    making.add_argument(
        "--out", type=_path, default="build", help="folder for the cards; build if not said"
    )
    making.add_argument(
        "--machine",
        type=_machine_file,
        metavar="FILE",
        help="use this machine instead: a file, or a name",
    )
    making.add_argument("--template", metavar="NAME", help="use this template instead")
    making.add_argument("--jobs", type=int, default=1, metavar="N", help="processes to work with")

    checking = command("check", "make.check", "validate and work out, write nothing")
    checking.add_argument("paths", nargs="*", type=_path, metavar="PATH", help=_JOBS)

    showing = command("figures", "figures.print_figures", "print every computed figure")
    showing.add_argument("paths", nargs="+", type=_path, metavar="JOB", help=_ONE_JOB)
    showing.add_argument("--json", action="store_true", help="one object a line, one line a job")

    why = command("why", "figures.explain", "print how one figure came about")
    why.add_argument("path", type=_path, metavar="JOB", help=_ONE_JOB)
    why.add_argument("figure", metavar="FIGURE", help="its name, as `cardgen figures` prints it")

    binding = command("binder", "binder.bind", "bind all cards into one PDF to print")
    binding.add_argument("paths", nargs="*", type=_path, metavar="PATH", help=_JOBS)
    binding.add_argument("--out", type=_path, default="build/binder.pdf", metavar="FILE")
    binding.add_argument(
        "--sheet",
        choices=("a4", "a3", "letter"),
        type=str.lower,
        help="several cards on a sheet, to be printed on both sides (turned over the long edge) "
        "and cut; without it one card a page",
    )
    binding.add_argument(
        "--machine",
        type=_machine_file,
        metavar="FILE",
        help="use this machine instead: a file, or a name",
    )
    binding.add_argument("--template", metavar="NAME", help="use this template instead")
    binding.add_argument(
        "--by",
        choices=("machine", "form", "material"),
        default="machine",
        help="a divider for each",
    )
    binding.add_argument(
        "--notes", type=_count, default=2, metavar="N", help="pages for notes at the end"
    )
    binding.add_argument(
        "--no-charts", action="store_true", help="no chart of pitches behind a machine's divider"
    )
    binding.add_argument("--one-sided", action="store_true", help="nothing on the backs of sheets")

    stale = command("stale", "cards.stale", "tell whether printed cards still hold")
    stale.add_argument(
        "cards", nargs="+", metavar="PATH-OR-CODE", help="a PDF, a folder, or the code on a card"
    )

    recover = command("recover", "cards.recover", "write out the spec files embedded in a card")
    recover.add_argument("card", type=_path, metavar="CARD.pdf", help="made by cardgen")
    recover.add_argument("--out", type=_path, default=".", metavar="DIR", help="folder for them")

    colouring = command(
        "colours", "colours.colours", "write a chart of temper and glow colours as cards"
    )
    colouring.add_argument("--out", type=_path, default="build", help="folder for the chart")
    colouring.add_argument("--template", default="a6-portrait", metavar="NAME", help="its shape")

    charting = command(
        "chart", "chart.chart", "chart every standard pitch that a machine cuts, with its error"
    )
    charting.add_argument("paths", nargs="*", type=_machine_file, metavar="MACHINE", help=_MACHINES)
    charting.add_argument(
        "--out", type=_path, default="build", help="folder for the charts; build if not said"
    )
    charting.add_argument("--template", default="a5-two-column", metavar="NAME", help="its shape")

    new = command("new", "start.new", "write a commented starter: a job, or with --machine a lathe")
    what = new.add_mutually_exclusive_group(required=True)
    what.add_argument("name", nargs="?", metavar="NAME", help="of a job, for specs/jobs")
    what.add_argument("--machine", metavar="NAME", help="of a machine, for specs/machines")
    new.add_argument(
        "--form", default="trapezoidal", help="form of a job's thread; a wrong one lists all"
    )

    schema = command(
        "schema", "start.print_schema", "print the JSON Schema of a kind of file, for editors"
    )
    schema.add_argument("kind", choices=("job", "machine", "shop", "material", "template"))

    watching = command(
        "watch", "watch.watch", "make cards again on each save, and show them on a page"
    )
    watching.add_argument("paths", nargs="*", type=_path, metavar="PATH", help=_JOBS)
    watching.add_argument(
        "--out", type=_path, default="build", help="folder for the cards; build if not said"
    )
    watching.add_argument(
        "--port", type=_port, default=0, metavar="N", help="of the page, on this machine only"
    )
    return parser


def _columns() -> int:
    """Return the terminal's width, without the archive formats that shutil would load for it."""
    try:
        return int(os.environ.get("COLUMNS", 0)) or os.get_terminal_size().columns
    except (ValueError, OSError):
        return 80


def _late(name: str) -> Run:
    """Return a command of ``cardgen.commands``, named ``MODULE.FUNCTION``, not yet loaded.

    Whoever asks for help or makes a slip waits for the words on this page and nothing else: a
    third of the time (measured).
    """

    def run(arguments: argparse.Namespace) -> int:
        module, _, function = name.partition(".")
        return int(getattr(import_module(f"cardgen.commands.{module}"), function)(arguments))

    return run


def _path(text: str) -> Path:
    from pathlib import Path

    return Path(text)


def _machine_file(text: str) -> Path:
    from cardgen.terminal import machine_file

    return machine_file(text)


def _port(text: str) -> int:
    number = int(text)
    if not 0 <= number <= 65535:
        msg = f"{text} is not a port from 0 to 65535"
        raise argparse.ArgumentTypeError(msg)
    return number


def _count(text: str) -> int:
    number = int(text)
    if not 0 <= number <= 100:
        msg = f"{text} is not a count from 0 to 100"
        raise argparse.ArgumentTypeError(msg)
    return number
