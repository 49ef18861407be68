"""What the preview page says: each job with its card, or with what is wrong with it."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from html import escape
from typing import Literal

Status = Literal["good", "refused", "faulty"]

_WORDS: dict[Status, str] = {
    "good": "card made",
    "refused": "refused",
    "faulty": "file at fault",
}


@dataclass(frozen=True, slots=True)
class Shown:
    """A job on the page.

    Attributes
    ----------
    name
        The job's file, as it is called on the terminal.
    told
        Faults with their lines, reasons of a refusal, or notes.
    card
        The PDF to show; ``None`` if there is none.
    """

    name: str
    status: Status
    told: tuple[str, ...]
    card: bytes | None


@dataclass(frozen=True, slots=True)
class Snapshot:
    """All that the page shows at one time.

    Attributes
    ----------
    revision
        Grows with each rebuild, so that an open page sees that it is behind.
    """

    revision: int = 0
    jobs: tuple[Shown, ...] = ()

    def state(self) -> bytes:
        """Return what an open page asks for again and again."""
        return json.dumps({"revision": self.revision}).encode()


SCRIPT = b"""\
"use strict";
const shown = document.body.dataset.revision;
let silent = false;
setInterval(async () => {
  try {
    const answer = await fetch("/state", {cache: "no-store"});
    const state = await answer.json();
    if (silent || String(state.revision) !== shown) location.reload();
  } catch {
    silent = true;
    document.getElementById("behind").hidden = false;
  }
}, 500);
"""

STYLE = b"""\
body { font: 16px/1.4 sans-serif; margin: 1em auto; max-width: 70em; padding: 0 1em; color: #111;
  background: #fff; }
h2 { border-top: 2px solid #111; padding-top: .3em; margin: 1.2em 0 .3em; font-size: 1.1em; }
h2 span { font-weight: normal; }
.faulty h2, .refused h2 { border-top-width: 8px; }
pre { white-space: pre-wrap; background: #eee; padding: .6em; margin: 0 0 .5em;
  border-left: 4px solid #111; }
iframe { width: 100%; height: 46em; border: 1px solid #999; }
#behind { font-weight: bold; border: 2px solid #111; padding: .4em; }
"""


def page(snapshot: Snapshot) -> bytes:
    """Return the page as HTML.

    All text of a job file is escaped; the page runs no script but its own.
    """
    parts = [_job(number, job, snapshot.revision) for number, job in enumerate(snapshot.jobs)]
    return "\n".join(
        [
            '<!doctype html><html lang="en"><head><meta charset="utf-8">',
            "<title>Cards being written</title>",
            '<link rel="stylesheet" href="/style.css"></head>',
            f'<body data-revision="{snapshot.revision}"><h1>{_sum(snapshot.jobs)}</h1>',
            '<p id="behind" hidden>The watch has ended: what stands here may be old.</p>',
            *parts,
            '<script src="/page.js"></script></body></html>',
        ]
    ).encode()


def _sum(jobs: Sequence[Shown]) -> str:
    bad = sum(job.status != "good" for job in jobs)
    count = f"{len(jobs)} job{'' if len(jobs) == 1 else 's'}"
    return f"{count}, {bad} with no card" if bad else count


def _job(number: int, job: Shown, revision: int) -> str:
    told = "".join(f"<pre>{escape(text)}</pre>" for text in job.told)
    name = escape(job.name)
    card = (
        f'<iframe title="Card of {name}" src="/card/{number}?revision={revision}"></iframe>'
        if job.card is not None
        else ""
    )
    return (
        f'<section class="{job.status}"><h2>{name} <span>{_WORDS[job.status]}</span></h2>'
        f"{told}{card}</section>"
    )
