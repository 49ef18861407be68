"""What all tests share: how generated examples are chosen."""

from __future__ import annotations

import os

from hypothesis import settings

# Examples have no deadline: a busy machine must not look like a fault. A change is judged by the
# same examples each time it is checked for landing; whoever works at a desk gets fresh ones with
# each run, so that rare faults are met there.
settings.register_profile("desk", deadline=None)
settings.register_profile("landing", deadline=None, derandomize=True)
settings.load_profile("landing" if os.environ.get("CI") else "desk")
