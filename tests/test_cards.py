"""Whole cards of every demo job, on every template, in millimetres and in inches.

Each is checked the way it is used: nothing overlaps or is too small, and every number that is
dialled in, measured or ground can be read back from the finished PDF.
"""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from functools import cache
from io import BytesIO
from itertools import combinations
from pathlib import Path
from tempfile import mkdtemp

import pytest
from pypdf import PdfReader

from cardgen import make
from cardgen.card import place
from cardgen.card.marks import Picture, Text
from cardgen.core.rounding import limits_written, written
from cardgen.pdf import fonts

ROOT = Path(__file__).parents[1]
JOBS = sorted(path.stem for path in (ROOT / "specs" / "jobs").glob("*.yaml"))
TEMPLATES = sorted(path.stem for path in (ROOT / "templates").glob("*.yaml"))
UNITS = ("mm", "in")

MEASURED = (
    *(f"{of}.{size}_diameter" for of in ("thread", "mate") for size in ("major", "pitch", "minor")),
    "thread.groove_width",
    "tool.tip_width",
    "measure.over_wires",
    "mate.groove_width",
    "mate.backlash",
)
"""Figures whose limits the maker measures."""
GROUND = ("tool.relief_leading", "tool.relief_trailing", "tool.end_relief", "tool.rake")
"""Angles that are ground."""


@pytest.fixture(scope="module", autouse=True)
def shop() -> Iterator[None]:
    """Take away the copy of the demo jobs that other units were written into."""
    yield
    shutil.rmtree(folder(), ignore_errors=True)
    folder.cache_clear()


@cache
def folder() -> Path:
    return Path(mkdtemp(prefix="cardgen-"))


@cache
def worked(job: str, template: str, units: str) -> make.Worked:
    home = folder() / units
    if not home.exists():
        shutil.copytree(ROOT / "specs", home / "specs")
        shutil.copytree(ROOT / "templates", home / "templates")
        for path in (home / "specs" / "jobs").glob("*.yaml"):
            kept = re.sub(r"(?m)^units:.*\n", "", path.read_text("utf-8"))
            path.write_text(f"{kept}\nunits: {units}\n", "utf-8")
    done = make.work(home / "specs" / "jobs" / f"{job}.yaml", template=template)
    assert done.job.inch == (units == "in")
    return done


@cache
def picture(job: str, template: str, units: str) -> Picture:
    done = worked(job, template, units)
    return place.lay_out(
        done.sheets,
        make.facts(done),
        done.job.template,
        fonts.metrics(),
        inch=done.job.inch,
        show=done.job.show,
    )


@cache
def pdf(job: str, template: str, units: str) -> PdfReader:
    return PdfReader(BytesIO(make.draw(worked(job, template, units))))


@cache
def words(job: str, template: str, units: str) -> str:
    """Return what a reader of the PDF sees, runs of space as one."""
    pages = [page.extract_text() for page in pdf(job, template, units).pages]
    return " ".join(" ".join(pages).split())


def every_card(test: object) -> object:
    """Run a test for every job, template and system of units."""
    for name, values in (("units", UNITS), ("template", TEMPLATES), ("job", JOBS)):
        test = pytest.mark.parametrize(name, values)(test)  # type: ignore[arg-type]
    return test


@every_card
def test_nothing_overlaps_leaves_the_card_or_is_too_small(
    job: str, template: str, units: str
) -> None:
    shape = worked(job, template, units).job.template
    assert shape.body >= 9
    assert shape.dial >= 14
    for page in picture(job, template, units).pages:
        assert (page.width, page.height) == (shape.width, shape.height)
        texts = [box for box in page.boxes if box.kind == "text"]
        for one, other in combinations(sorted(texts, key=lambda box: box.top), 2):
            assert other.top >= one.bottom or not one.overlaps(other), (one, other)
        for box in texts:
            assert box.left >= shape.margin - 0.05
            assert box.top >= shape.margin - 0.05
            assert box.right <= page.width - shape.margin + 0.05
            assert box.bottom <= page.height - shape.margin + 0.05
        assert min(mark.size for mark in page.marks if isinstance(mark, Text)) >= shape.small


@every_card
def test_cards_are_counted_and_well_filled(job: str, template: str, units: str) -> None:
    pages = picture(job, template, units).pages
    shape = worked(job, template, units).job.template
    poor = 0
    for number, page in enumerate(pages, start=1):
        told = [mark.text for mark in page.marks if isinstance(mark, Text)]
        assert sum(f"card {number} of {len(pages)}" in text for text in told) == 1
        parts = {box.owner: box for box in page.boxes if box.kind == "part"}
        room = shape.columns * (parts["foot"].top - parts["head"].bottom)
        filled = sum(box.bottom - box.top for box in page.boxes if box.kind == "panel")
        poor += number < len(pages) and filled < 0.42 * room
    # One drawing that does not fit what is left may leave a card half empty, not several.
    assert poor <= 1


@pytest.mark.parametrize("units", UNITS)
@pytest.mark.parametrize("job", JOBS)
def test_every_setting_limit_and_relief_is_read_back(job: str, units: str) -> None:
    done = worked(job, "a5-two-column", units)
    text = words(job, "a5-two-column", units)
    where = 0
    for line in done.sheets.passes:
        # In order, each after its own number.
        where = text.find(f"{line.number} {line.compound or line.dial}", where)
        assert where >= 0, line
    figures = done.sheets.figures
    for id in MEASURED:
        if id in figures and (figures[id].low, figures[id].high) != (None, None):
            for limit in limits_written(figures[id], inch=done.job.inch).split(" / "):
                assert limit.split()[0] in text, (id, limit)
    for id in (*GROUND, "thread.blank_diameter", "thread.depth", "setup.speed"):
        if id in figures:
            assert written(figures[id], inch=done.job.inch) in text, id


@pytest.mark.parametrize("template", TEMPLATES)
@pytest.mark.parametrize("job", JOBS[:1] + JOBS[-1:])
def test_every_template_shows_every_setting(job: str, template: str) -> None:
    text = words(job, template, "mm")
    where = 0
    for line in worked(job, template, "mm").sheets.passes:
        where = text.find(f"{line.number} {line.compound or line.dial}", where)
        assert where >= 0, line


@pytest.mark.parametrize("template", TEMPLATES)
def test_all_type_is_embedded_as_truetype_subsets(template: str) -> None:
    reader = pdf(JOBS[-1], template, "mm")
    shape = worked(JOBS[-1], template, "mm").job.template
    assert len(reader.pages) == len(picture(JOBS[-1], template, "mm").pages)
    for page in reader.pages:
        across, up = (float(side) * 25.4 / 72 for side in page.mediabox[2:])
        assert (across, up) == pytest.approx((shape.width, shape.height), abs=0.01)
        for resource in page["/Resources"]["/Font"].values():
            font = resource.get_object()
            # The library's own dictionary names a base font that no text is set in.
            if font["/Subtype"] == "/TrueType":
                assert re.match(r"/[A-Z]{6}\+", font["/BaseFont"])
                assert "/FontFile2" in font["/FontDescriptor"]
            else:
                name = next(
                    key for key, each in page["/Resources"]["/Font"].items() if each == resource
                )
                assert f"{name} ".encode() not in page.get_contents().get_data()


@pytest.mark.parametrize("job", JOBS)
def test_a_card_of_one_ink_has_no_colour(job: str) -> None:
    for page in pdf(job, "a5-mono", "mm").pages:
        operators = page.get_contents().get_data().split()
        assert not {b"rg", b"RG", b"k", b"K", b"sc", b"SC", b"scn", b"SCN", b"sh"} & set(operators)
        assert b"g" in operators
