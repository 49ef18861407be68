"""Make the pictures of the README: every demo job's first card, one job whole, all templates.

Run ``python -m tests.gallery`` after a change of what cards look like, look at ``build/gallery``
and commit it. It is no command of the product: it needs a renderer, which only the tests do.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from io import BytesIO
from pathlib import Path

import pypdfium2
from font_source_sans_pro import font_directory
from PIL import Image, ImageDraw, ImageFont

from cardgen import make

ROOT = Path(__file__).parents[1]
GALLERY = ROOT / "build" / "gallery"
JOBS = sorted((ROOT / "specs" / "jobs").glob("*.yaml"))
TEMPLATES = sorted((ROOT / "templates").glob("*.yaml"))
WHOLE = "nipping-press-screw"
"""The job of which all cards are shown, and which stands in every template."""
LARGEST = 600_000
"""What all pictures together may take in the repository [bytes]."""

_FIRST, _NEXT, _OTHER, _TEMPLATE = 100.0, 64.0, 50.0, 36.0
"""Dots per inch: of the first card of the job that is shown whole, of its others, of the other
jobs' cards, and of a card among all templates."""
_COLOURS = 16
"""Print has few: black, grey, the warnings' and the temper colours, and what lies between."""
_WIDE, _GAP, _LINE = 1120, 14, 18
"""Width of the page of all templates, space between its cards, height of a name below [px]."""


def pictures(pdf: bytes, dpi: float) -> Iterator[Image.Image]:
    """Yield the pages of a file."""
    for page in pypdfium2.PdfDocument(pdf):
        yield page.render(scale=dpi / 72).to_pil().convert("RGB")


def png(picture: Image.Image) -> bytes:
    """Return a picture as a small PNG."""
    out = BytesIO()
    few = picture.quantize(_COLOURS, method=Image.Quantize.MEDIANCUT, dither=Image.Dither.NONE)
    few.save(out, "PNG", optimize=True)
    return out.getvalue()


def framed(picture: Image.Image) -> Image.Image:
    """Return a picture with a hair line around it, for white cards on a white page."""
    ImageDraw.Draw(picture).rectangle(
        (0, 0, picture.width - 1, picture.height - 1), outline=(150, 150, 150)
    )
    return picture


def rows(cards: Sequence[tuple[str, Image.Image]]) -> list[list[tuple[str, Image.Image]]]:
    """Return cards in rows no wider than the page, the highest first."""
    found: list[list[tuple[str, Image.Image]]] = []
    left = _WIDE
    for name, card in sorted(cards, key=lambda each: (-each[1].height, -each[1].width, each[0])):
        if not found or left + card.width + _GAP > _WIDE:
            found.append([])
            left = _GAP
        found[-1].append((name, card))
        left += card.width + _GAP
    return found


def together(cards: Sequence[tuple[str, Image.Image]]) -> Image.Image:
    """Return cards on one page, all in one scale, each with its name below."""
    parts = rows(cards)
    high = _GAP + sum(row[0][1].height + _LINE + _GAP for row in parts)
    page = Image.new("RGB", (_WIDE, high), "white")
    pen = ImageDraw.Draw(page)
    font = ImageFont.truetype(str(Path(font_directory) / "SourceSansPro-Regular.ttf"), 13)
    top = _GAP
    for row in parts:
        left = _GAP
        for name, card in row:
            page.paste(card, (left, top))
            pen.text((left, top + card.height + 2), name, "black", font)
            left += card.width + _GAP
        top += row[0][1].height + _LINE + _GAP
    return page


def made() -> Iterator[tuple[str, bytes]]:
    """Yield the name and the content of each picture."""
    for job in JOBS:
        pdf = make.draw(make.work(job))
        if job.stem != WHOLE:
            yield f"{job.stem}-1.png", png(framed(next(pictures(pdf, _OTHER))))
            continue
        shown = [next(pictures(pdf, _FIRST)), *list(pictures(pdf, _NEXT))[1:]]
        for number, page in enumerate(shown, start=1):
            yield f"{job.stem}-{number}.png", png(framed(page))
    job = ROOT / "specs" / "jobs" / f"{WHOLE}.yaml"
    firsts = [
        (
            each.stem,
            framed(next(pictures(make.draw(make.work(job, template=each.stem)), _TEMPLATE))),
        )
        for each in TEMPLATES
    ]
    yield "templates.png", png(together(firsts))


def main() -> None:
    """Write all pictures in place of the old ones."""
    new = dict(made())
    size = sum(map(len, new.values()))
    if size > LARGEST:
        raise SystemExit(f"the pictures take {size} bytes: more than {LARGEST}")
    GALLERY.mkdir(parents=True, exist_ok=True)
    for old in GALLERY.glob("*.png"):
        old.unlink()
    for name, content in new.items():
        (GALLERY / name).write_bytes(content)
    print(f"{len(new)} pictures, {size} bytes, in {GALLERY}")


if __name__ == "__main__":
    main()
