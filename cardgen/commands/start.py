"""``new`` and ``schema``: help with writing a spec."""

from __future__ import annotations

import argparse

from cardgen.terminal import DONE, FAULTY, JOBS, MACHINES, USAGE, put, say


def new(arguments: argparse.Namespace) -> int:
    """Write a commented starter: a job, or a machine."""
    from cardgen.make import keep
    from cardgen.spec.starter import starter
    from cardgen.spec.starter_machine import starter_machine

    try:
        if arguments.machine is not None:
            target = MACHINES / f"{arguments.machine}.yaml"
            content = starter_machine(arguments.machine)
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
        keep(target, content.encode())
    except OSError as error:
        say(f"{error.filename or target}: {error.strerror or error}")
        return FAULTY
    put(str(target))
    return DONE


def print_schema(arguments: argparse.Namespace) -> int:
    """Print the JSON Schema of a kind of file."""
    import json

    from cardgen.spec.schema import schema

    put(json.dumps(schema(arguments.kind), indent=2, ensure_ascii=False))
    return DONE
