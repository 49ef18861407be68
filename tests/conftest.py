"""What all tests share: how generated examples are chosen."""

from __future__ import annotations

import os

from hypothesis import settings

# A change is judged by the same examples each time it is checked for landing; whoever works at a
# desk gets fresh ones with each run, so that rare faults are met there.
settings.register_profile("landing", derandomize=True)
if os.environ.get("CI"):
    settings.load_profile("landing")
