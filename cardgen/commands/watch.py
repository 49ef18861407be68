"""``watch``: cards made again on each save, and a page that shows them."""

from __future__ import annotations

import argparse
import sys
import time
from pathlib import Path
from threading import Thread

from cardgen.terminal import DONE, FAULTY, NoFileError, job_files, put, say

_EVERY = 0.4
"""Time between two looks at the files [s]."""


def watch(arguments: argparse.Namespace) -> int:
    """Serve the page and rebuild until the maker ends it with Ctrl-C."""
    from cardgen.preview.page import Snapshot
    from cardgen.preview.serve import ADDRESS, server
    from cardgen.watch import Seen, rebuild, seen

    shown = Snapshot()
    try:
        page = server(arguments.port, lambda: shown)
    except OSError as error:
        say(f"port {arguments.port} cannot be had: {error.strerror}; name another with --port")
        return FAULTY
    Thread(target=page.serve_forever, daemon=True).start()
    put(f"http://{ADDRESS}:{page.server_address[1]}/  (end with Ctrl-C)")
    sys.stdout.flush()
    before: Seen | None = None
    try:
        while True:
            files = _jobs(arguments.paths)
            now = seen((Path("specs"), Path("templates")), files)
            if now != before:
                before, shown = now, rebuild(files, arguments.out, shown)
                for job in shown.jobs:
                    say(f"{job.name}: {job.status}")
            time.sleep(_EVERY)
    except KeyboardInterrupt:
        return DONE
    finally:
        page.shutdown()
        page.server_close()


def _jobs(paths: list[Path]) -> list[Path]:
    """Return the jobs as they are now: files come and go while one writes."""
    try:
        return job_files(paths)
    except NoFileError:
        return []
