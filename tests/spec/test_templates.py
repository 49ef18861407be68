"""Templates: the shipped ones are read, and one that cannot be printed says all that is wrong."""

from __future__ import annotations

from math import degrees, pi, tan
from pathlib import Path

import pytest

from cardgen import library
from cardgen.pdf.fonts import font
from cardgen.spec.job import Hole, Template
from cardgen.spec.legibility import capital_height, least_type
from cardgen.spec.template import template

SHIPPED = sorted((Path(__file__).parents[2] / "templates").glob("*.yaml"))
PLAIN = """\
cardgen: 1
template: x
page: A5
order: [thread]
"""
NO_FILM = "seal-edge: 0 mm"


def read(text: str) -> Template:
    outcome = template(text.encode(), "x.yaml", "x")
    assert outcome.record is not None, [str(problem) for problem in outcome.problems]
    return outcome.record


def faults(text: str) -> list[tuple[str, int, str]]:
    outcome = template(text.encode(), "x.yaml", "x")
    assert outcome.record is None
    return [(each.key, each.place.line, str(each)) for each in outcome.problems]


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_a_shipped_template_is_read_and_commented(path: Path) -> None:
    outcome = template(path.read_bytes(), path.name, path.stem)
    assert outcome.problems == ()
    assert path.read_text("utf-8").startswith("# ")


def test_every_page_size_has_a_template() -> None:
    sizes = set()
    for path in SHIPPED:
        record = template(path.read_bytes(), path.name, path.stem).record
        assert record is not None
        sizes.add(tuple(sorted((record.width, record.height))))
    for row in library.table("card/page_sizes"):
        assert tuple(sorted((float(row["width_mm"]), float(row["height_mm"])))) in sizes, row


@pytest.mark.parametrize(
    ("words", "diameter", "places"),
    [
        # ISO 838: 6 mm, 80 mm apart, 12 mm from the edge, about the middle of the side.
        (f"page: A5\nholes: two\n{NO_FILM}", 6.0, [(12.0, 65.0), (12.0, 145.0)]),
        # The edge that the standard means is that of the film where a card has one.
        ("page: A5\nholes: two\nseal-edge: 4 mm", 6.0, [(8.0, 65.0), (8.0, 145.0)]),
        (
            f"page: A4\nholes: four\n{NO_FILM}",
            6.0,
            [(12.0, y) for y in (28.5, 108.5, 188.5, 268.5)],
        ),
        (
            f"page: letter\nholes: us-three\n{NO_FILM}",
            8.0,
            [(12.7, y) for y in (31.75, 139.7, 247.65)],
        ),
        ("page: A6\nholes: hanging", 5.0, [(52.5, 6.0)]),
        ("page: A5\nholes: none", 0.0, []),
    ],
)
def test_holes_are_where_the_standard_has_them(
    words: str, diameter: float, places: list[tuple[float, float]]
) -> None:
    record = read(PLAIN.replace("page: A5", words))
    assert len(record.holes) == len(places)
    for hole, place in zip(record.holes, places, strict=True):
        assert (hole.x, hole.y) == pytest.approx(place)
    assert {hole.diameter for hole in record.holes} <= {diameter}
    for hole in record.holes:
        assert isinstance(hole, Hole)
        edge = record.taken[0] - hole.x if record.taken[0] else record.taken[1] - hole.y
        assert edge >= hole.diameter / 2 + 1.0


def test_the_least_type_follows_from_the_visual_angle() -> None:
    for distance in (350.0, 700.0, 1000.0, 2500.0):
        seen = 2 * degrees(tan(capital_height(distance) / 2 / distance)) * 60
        assert seen == pytest.approx(16.0, abs=0.01)
        size = least_type("dial", distance)
        capital = size * 25.4 / 72 * font("regular").face.capHeight / 1000
        assert capital >= distance * 16 / 60 * pi / 180
        assert capital < distance * 16 / 60 * pi / 180 + 0.03


def test_a_reading_distance_fills_in_the_sizes_that_are_not_stated() -> None:
    record = read(PLAIN.replace("page: A5", "page: A4\nreading-distance: 1 m"))
    assert (record.dial, record.body, record.small) == (20.0, 12.9, 10.0)
    near = read(PLAIN + "reading-distance: 500 mm\n")
    assert (near.dial, near.body, near.small) == (14.0, 9.0, 7.0)


def test_all_that_cannot_be_printed_is_said_at_once_with_its_line() -> None:
    found = faults(
        "cardgen: 1\ntemplate: x\npage: A7\nmargin: 2 mm\nholes: us-three\ncorners: 12 mm\n"
        "columns: 3\norder: [thread]\nreading-distance: 1 m\ntype: {dial: 15 pt}\n"
    )
    assert {(key, line) for key, line, _ in found} == {
        ("type.dial", 10),
        ("corners", 6),
        ("holes", 5),
        ("page", 3),
    }
    told = {key: text for key, _, text in found}
    assert "20 pt or more" in told["type.dial"]
    assert "ISO 9241-3:1992" in told["type.dial"]
    assert "or one of none, two, hanging" in told["holes"]
    assert "margin of 3.5 mm or more" in told["corners"]
    assert "fewer columns" in told["page"]


@pytest.mark.parametrize(
    ("page", "word"),
    [
        ("{width: 300 mm, height: 41 mm}", "no room under its head"),
        ("{width: 50 mm, height: 200 mm}", "no room for its columns"),
    ],
)
def test_a_card_without_room_says_how_large_it_must_be(page: str, word: str) -> None:
    ((key, line, text),) = faults(PLAIN.replace("page: A5", f"page: {page}"))
    assert (key, line) == ("page", 3)
    assert word in text
    assert "mm or more" in text


def test_new_words_come_through() -> None:
    record = read(PLAIN + "corners: 3 mm\ntrim: outline\nrecord-line: 10 mm\n")
    assert (record.corners, record.trim, record.record_line) == (3.0, "outline", 10.0)
