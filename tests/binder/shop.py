"""A shop of many jobs: the demo jobs again and again, each time in another size."""

from __future__ import annotations

import re
from pathlib import Path

ROOT = Path(__file__).parents[2]
# Each with the longest thread that its bar leaves room for, and the shortest [mm or in].
VARIED = {
    "nipping-press-screw": (120.0, 60.0, "mm"),
    "book-press-screw": (6.0, 3.0, "in"),
    "ratchet-stud": (30.0, 15.0, "mm"),
    "loom-tension-screw": (45.0, 25.0, "mm"),
}


def open_shop(folder: Path, count: int) -> None:
    """Write so many jobs into a folder, no two of one length and name."""
    folder.mkdir(parents=True)
    specs = [
        ((ROOT / "specs" / "jobs" / f"{name}.yaml").read_text("utf-8"), name, *sizes)
        for name, sizes in VARIED.items()
    ]
    each = -(-count // len(specs))
    for number in range(count):
        text, name, most, least, unit = specs[number % len(specs)]
        length = most - (most - least) * (number // len(specs)) / each
        own = f"{name}-{number:04d}"
        text = text.replace(f"job: {name}", f"job: {own}")
        text, found = re.subn(
            r"length: [\d./ ]+ (mm|in)", f"length: {length:.3f} {unit}", text, count=1
        )
        assert found == 1
        (folder / f"{own}.yaml").write_text(text, encoding="utf-8")
