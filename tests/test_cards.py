"""Whole cards of every demo job, on every template, in millimetres and in inches.

Each is checked the way it is used: nothing overlaps or is too small, no line runs through a word,
and every number that is dialled in, measured or ground can be read back from the finished PDF.
The fast run meets every job, every template and both systems of units; the slow one all of them
with one another.
"""

from __future__ import annotations

import re
import shutil
from collections.abc import Callable, Iterator
from functools import cache
from io import BytesIO
from itertools import combinations, product
from math import cos, hypot, radians, sin
from pathlib import Path
from tempfile import mkdtemp
from typing import TypeGuard

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader
from shapely import LineString, Polygon, STRtree

from cardgen import make
from cardgen.card import place
from cardgen.card.marks import HAIR, WHITE, Arc, Disc, Mark, Picture, Text
from cardgen.card.marks import Path as Line
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
        two = (home / "specs" / "jobs" / "cheese-press-screw.yaml").read_text("utf-8")
        four = two.replace("(P6)", "(P3)").replace("job: cheese-press-screw", "job: four-starts")
        (home / "specs" / "jobs" / f"{FOUR_STARTS}.yaml").write_text(four, "utf-8")
    done = make.work(home / "specs" / "jobs" / f"{job}.yaml", template=template)
    assert done.job.inch == (units == "in")
    return done


@cache
def picture(job: str, template: str, units: str) -> Picture:
    return make.picture(worked(job, template, units))


@cache
def pdf(job: str, template: str, units: str) -> PdfReader:
    return PdfReader(BytesIO(make.draw(worked(job, template, units))))


@cache
def words(job: str, template: str, units: str) -> str:
    """Return what a reader of the PDF sees, runs of space as one."""
    pages = [page.extract_text() for page in pdf(job, template, units).pages]
    return " ".join(" ".join(pages).split())


def some() -> Iterator[tuple[str, str, str]]:
    """Yield job, template and units: two jobs a template, so that each job and each is met."""
    for number, template in enumerate(TEMPLATES):
        for turn in range(2):
            job = JOBS[(2 * number + turn) % len(JOBS)]
            yield job, template, UNITS[(number + turn) % 2]


FAST = frozenset(some())


def every_card(test: Callable[[str, str, str], None]) -> Callable[[str, str, str], None]:
    """Run a test for every job, template and system of units, most of them in the slow run."""
    cases = [
        pytest.param(*case, marks=[] if case in FAST else [pytest.mark.slow])
        for case in product(JOBS, TEMPLATES, UNITS)
    ]
    return pytest.mark.parametrize(("job", "template", "units"), cases)(test)


def test_the_fast_run_meets_every_job_and_every_template() -> None:
    assert {job for job, _, _ in FAST} == set(JOBS)
    assert {(template, units) for _, template, units in FAST} == set(product(TEMPLATES, UNITS))


@every_card
def test_nothing_overlaps_leaves_the_card_or_is_too_small(
    job: str, template: str, units: str
) -> None:
    shape = worked(job, template, units).job.template
    assert shape.body >= 9
    assert shape.dial >= 14
    left, top, right, bottom = (max(shape.margin, side) for side in shape.taken)
    for page in picture(job, template, units).pages:
        assert (page.width, page.height) == (shape.width, shape.height)
        texts = [box for box in page.boxes if box.kind == "text"]
        for one, other in combinations(sorted(texts, key=lambda box: box.top), 2):
            assert other.top >= one.bottom or not one.overlaps(other), (one, other)
        for box in texts:
            assert box.left >= left - 0.05
            assert box.top >= top - 0.05
            assert box.right <= page.width - right + 0.05
            assert box.bottom <= page.height - bottom + 0.05
            for hole in shape.holes:
                x = min(max(hole.x, box.left), box.right)
                y = min(max(hole.y, box.top), box.bottom)
                assert hypot(x - hole.x, y - hole.y) > hole.diameter / 2 + 1.0
        assert min(mark.size for mark in page.marks if isinstance(mark, Text)) >= shape.small


FOUR_STARTS = "four-starts"
"""A job with four starts and as many passes as any."""
title = st.text("abcdefg hijk WM 0123456789 Ø×°-()", min_size=1, max_size=80)
note = st.text("abcdefg hijk WM 0123456789 .,;", max_size=600)


@settings(max_examples=25, deadline=None, derandomize=True)
@given(st.sampled_from(TEMPLATES), title, note)
def test_long_titles_and_notes_leave_a_card_of_many_starts_whole(
    template: str, title: str, note: str
) -> None:
    done = worked(FOUR_STARTS, template, "mm")
    assert done.job.thread.starts == 4
    facts = {**make.facts(done), "title": title, "note": note}
    # The engine proves each card from its boxes, and raises what it finds.
    drawn = place.lay_out(done.sheets, facts, done.job.template, fonts.metrics())
    said = "".join(mark.text for page in drawn.pages for mark in page.marks if is_text(mark))
    for words in (title, note):
        assert "".join(words.split()) in "".join(said.split())


def is_text(mark: Mark) -> TypeGuard[Text]:
    return isinstance(mark, Text)


def lines(mark: Mark) -> list[tuple[float, float]]:
    """Return the points of a stroked mark, a curve as a run of short lines."""
    if isinstance(mark, Line):
        return [*mark.points, mark.points[0]] if mark.closed else list(mark.points)
    assert isinstance(mark, (Disc, Arc))
    start, extent = (0.0, 360.0) if isinstance(mark, Disc) else (mark.start, mark.extent)
    turns = [radians(start + extent * step / 24) for step in range(25)]
    return [(mark.x + mark.radius * cos(t), mark.y - mark.radius * sin(t)) for t in turns]


def ground(mark: Text) -> Polygon:
    """Return what the letters of a text cover, less a hair's breadth."""
    width = fonts.metrics().width(mark.text, mark.size, mark.weight)
    start = {"start": 0.0, "middle": -width / 2, "end": -width}[mark.anchor]
    c, s = cos(radians(mark.angle)), sin(radians(mark.angle))
    rise = fonts.metrics().ascent(mark.size)
    corners = [(start, 0.0), (start + width, 0.0), (start + width, rise), (start, rise)]
    turned = [(mark.x + u * c - v * s, mark.y - u * s - v * c) for u, v in corners]
    return Polygon(turned).buffer(-0.2)


@every_card
def test_no_line_runs_through_a_word(job: str, template: str, units: str) -> None:
    for page in picture(job, template, units).pages:
        texts = [(number, mark) for number, mark in enumerate(page.marks) if isinstance(mark, Text)]
        grounds = [(number, mark, ground(mark)) for number, mark in texts if mark.text.strip()]
        tree = STRtree([area for _, _, area in grounds])
        for number, mark in enumerate(page.marks):
            if not isinstance(mark, (Line, Disc, Arc)) or mark.stroke is None:
                continue
            run = LineString(lines(mark))
            for at in tree.query(run, predicate="intersects"):
                place, text, area = grounds[at]
                # Hatching may be broken for a word: a white ground lies between the two.
                broken = mark.width == HAIR and any(
                    isinstance(cover, Line)
                    and cover.fill == WHITE
                    and len(cover.points) > 2
                    and Polygon(cover.points).buffer(0.01).contains(area)
                    for cover in page.marks[number + 1 : place]
                )
                assert broken, (text.text, mark)


@every_card
def test_cards_are_counted_and_well_filled(job: str, template: str, units: str) -> None:
    pages = picture(job, template, units).pages
    shape = worked(job, template, units).job.template
    shares = []
    for number, page in enumerate(pages, start=1):
        told = [mark.text for mark in page.marks if isinstance(mark, Text)]
        assert sum(f"card {number} of {len(pages)}" in text for text in told) == 1
        parts = {box.owner: box for box in page.boxes if box.kind == "part"}
        room = shape.columns * (parts["foot"].top - parts["head"].bottom)
        filled = sum(box.bottom - box.top for box in page.boxes if box.kind == "panel")
        shares.append(filled / room)
    # The last card may be nearly empty; a drawing that does not fit what is left costs some room.
    before = shares[:-1]
    assert not before or sum(before) / len(before) > 0.6, shares


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


@every_card
def test_every_card_shows_every_setting(job: str, template: str, units: str) -> None:
    text = words(job, template, units)
    where = 0
    for line in worked(job, template, units).sheets.passes:
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
