"""What was said of each job when a binder was made: an unchanged one says it again, unasked.

Kept beside the binder's note on the shelf, by the fingerprint of each job, so that nothing need be
worked out to repeat it. Whoever damages it only makes the jobs be worked out again.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass

from cardgen.core.figure import Finding


@dataclass(frozen=True, slots=True)
class Told:
    """What was said of one job.

    Attributes
    ----------
    findings
        Its warnings and refusals.
    too_large
        Why its cards are on no sheet of the binder; empty if they are.
    """

    findings: tuple[Finding, ...]
    too_large: str = ""

    @property
    def refused(self) -> bool:
        """Whether the job must not be cut as written."""
        return any(finding.refuses for finding in self.findings)


def packed(binder: str, told: Mapping[str, Told]) -> bytes:
    """Return what was said, as it is kept.

    Parameters
    ----------
    binder
        The binder's fingerprint.
    told
        What was said of each job, by the job's fingerprint.
    """
    lines = {
        mark: [each.too_large, *([one.id, one.text, one.refuses] for one in each.findings)]
        for mark, each in told.items()
    }
    return json.dumps({"binder": binder, "jobs": lines}, ensure_ascii=False).encode()


def unpacked(kept: bytes, binder: str) -> dict[str, Told] | None:
    """Return what was said of a binder's jobs; ``None`` if it is damaged, or of another binder."""
    try:
        held = json.loads(kept)
        if held["binder"] != binder:
            return None
        return {
            str(mark): Told(
                tuple(Finding(str(id), str(text), bool(refuses)) for id, text, refuses in findings),
                str(too_large),
            )
            for mark, (too_large, *findings) in held["jobs"].items()
        }
    except (AttributeError, KeyError, TypeError, ValueError, RecursionError):
        return None
