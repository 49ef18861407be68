"""The README's pictures: there, small, and made by the script that says so."""

from __future__ import annotations

import re
from io import BytesIO
from pathlib import Path

import numpy as np
from PIL import Image

from tests import gallery

ROOT = Path(__file__).parents[1]


def test_every_picture_of_the_readme_is_there_and_no_other() -> None:
    told = set(re.findall(r"build/gallery/([\w-]+\.png)", (ROOT / "README.md").read_text("utf-8")))
    held = {path.name for path in gallery.GALLERY.glob("*.png")}
    assert told <= held
    jobs = {path.stem for path in gallery.JOBS}
    assert {name.rsplit("-", 1)[0] for name in held} == jobs | {"templates.png"}
    assert sum((gallery.GALLERY / name).stat().st_size for name in held) <= gallery.LARGEST


def test_cards_together_stand_apart_and_on_the_page() -> None:
    ink = (200, 0, 0)
    sizes = [(297, 420), (420, 297), (210, 148), (74, 105), (54, 86), (700, 90)]
    cards = [(f"{w}", Image.new("RGB", (w, h), ink)) for w, h in sizes]
    page = gallery.together(cards)
    pixels = (np.asarray(page) == ink).all(axis=2).sum()
    assert pixels == sum(w * h for w, h in sizes)


def test_a_picture_keeps_its_size_and_its_red() -> None:
    card = Image.new("RGB", (120, 80), "white")
    card.paste((200, 0, 0), (10, 10, 40, 40))
    (image,) = [Image.open(BytesIO(gallery.png(card)))]
    assert image.size == card.size
    assert image.convert("RGB").getpixel((20, 20)) == (200, 0, 0)
