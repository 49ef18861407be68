"""``colours``: the chart of temper and glow colours, on cards of their own."""

from __future__ import annotations

import argparse
from pathlib import Path

from cardgen.core.problems import SpecError
from cardgen.terminal import DONE, FAULTY, JOBS, put, say


def colours(arguments: argparse.Namespace) -> int:
    """Write the chart and print the file that was written."""
    from cardgen.colour_chart import draw, shape, shop_words
    from cardgen.make import keep

    target = arguments.out / "colours.pdf"
    try:
        keep(target, draw(shape(arguments.template, Path.cwd()), shop_words(JOBS)))
    except SpecError as error:
        say(str(error))
        return FAULTY
    except OSError as error:
        say(f"{error.filename or target}: {error.strerror or error}")
        return FAULTY
    put(str(target))
    return DONE
