"""The one train of several that a test asks for."""

from __future__ import annotations

from typing import Any

from cardgen.rules.gears import ranked_trains
from cardgen.rules.train import Train


def best_train(*words: Any, **more: Any) -> Train | None:
    """The first of the ranked trains, or ``None`` if none goes together at all."""
    found = ranked_trains(*words, count=1, **more)
    return found[0] if found else None
