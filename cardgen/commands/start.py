"""``new`` and ``schema``: help with writing a spec."""

from __future__ import annotations

import argparse

from cardgen.terminal import DONE, FAULTY, JOBS, MACHINES, SHOP, USAGE, put, say


def new(arguments: argparse.Namespace) -> int:
    """Write a commented starter: a job, or a machine.

    The first machine of a folder also gets a shop file, so that jobs need not name it.
    """
    from cardgen.make import keep
    from cardgen.spec.starter import starter
    from cardgen.spec.starter_machine import starter_machine, starter_shop

    files = {}
    try:
        if arguments.machine is not None:
            target = MACHINES / f"{arguments.machine}.yaml"
            content = starter_machine(arguments.machine)
            if not SHOP.exists():
                files[SHOP] = starter_shop(arguments.machine)
        else:
            target = JOBS / f"{arguments.name}.yaml"
            content = starter(arguments.name, arguments.form)
    except ValueError as error:
        say(str(error))
        return USAGE
    if target.exists():
        say(f"{target} exists already; choose another name")
        return USAGE
    try:
        for file, text in {target: content, **files}.items():
            keep(file, text.encode())
            put(str(file))
    except OSError as error:
        say(f"{error.filename or target}: {error.strerror or error}")
        return FAULTY
    say(_next_step(arguments))
    return DONE


def _next_step(arguments: argparse.Namespace) -> str:
    """Return what to do with what was written."""
    if arguments.machine is not None:
        return f"Measure your lathe and write it in. Jobs use the machine that {SHOP} names."
    if not SHOP.exists():
        return "Next: cardgen new --machine NAME for your lathe, which every job needs."
    return f"Write your thread in. Then: cardgen check {arguments.name}"


def print_schema(arguments: argparse.Namespace) -> int:
    """Print the JSON Schema of a kind of file."""
    import json

    from cardgen.spec.schema import schema

    put(json.dumps(schema(arguments.kind), indent=2, ensure_ascii=False))
    return DONE
