"""What the door makes of the inch forms: sizes, variants, series, modules, stated profiles."""

from __future__ import annotations

from fractions import Fraction
from math import pi
from pathlib import Path

import pytest

from cardgen.core.problems import SpecError
from cardgen.make import work
from cardgen.spec.load import load
from tests.spec.shop_floor import lay_out

F = Fraction
INCH = F(254, 10)
FRAME = """\
cardgen: 1
job: demo
thread:
  length: 20 mm
  {}
work: {{material: c45}}
"""


def job(tmp_path: Path, *lines: str) -> Path:
    return lay_out(tmp_path, FRAME.format("\n  ".join(lines)))


@pytest.mark.parametrize(
    ("form", "size", "data", "diameter", "pitch"),
    [
        ("acme", "1-5 ACME-2G", "acme", INCH, INCH / 5),
        ("acme", "1-5 ACME-3C", "acme+centralizing", INCH, INCH / 5),
        ("stub-acme", "1/2-10 STUB ACME", "stub-acme", INCH / 2, INCH / 10),
        ("stub-acme", "1/2-10 STUB ACME M2-LH", "stub-acme+modified-2", INCH / 2, INCH / 10),
        ("unified", "1/2-13 UNC-2A", "unified", INCH / 2, INCH / 13),
        ("unified", "3/8-24 UNF-2A LH", "unified", 3 * INCH / 8, INCH / 24),
        ("unified", "10-24 UNC-2A", "unified", F("0.19") * INCH, INCH / 24),
        ("unified", "1-8 UNC-3A", "unified", INCH, INCH / 8),
        ("unified", "2-4.5 UNC-2A", "unified", 2 * INCH, INCH / F("4.5")),
        ("buttress-inch", "2-8 BUTT-2A", "buttress-inch", 2 * INCH, INCH / 8),
        ("buttress-inch", "2-8 PUSH-BUTT-3A-LH", "buttress-inch+push", 2 * INCH, INCH / 8),
    ],
)
def test_a_designation_is_taken_and_printed(
    tmp_path: Path, form: str, size: str, data: str, diameter: Fraction, pitch: Fraction
) -> None:
    path = job(tmp_path, f"form: {form}", f'size: "{size}"')
    thread = load(path).thread
    assert thread.form == data
    assert thread.diameter == pytest.approx(float(diameter))
    assert thread.pitch_exact == pitch
    assert thread.hand == ("left" if size.endswith("LH") else "right")
    assert work(path).sheets.figures["thread.designation"].value == size


@pytest.mark.parametrize(
    ("lines", "series", "tpi"),
    [
        (("diameter: 1/2 in",), "UNC", F(13)),
        (("diameter: 1/2 in", "series: UNF"), "UNF", F(20)),
        (("diameter: 1/2 in", "pitch: 28 tpi"), "UNEF", F(28)),
        (("diameter: 1/2 in", "pitch: 16 tpi"), "UN", F(16)),
        (("diameter: 1/2 in", "pitch: 14 tpi"), "UNS", F(14)),
        (("diameter: 0.53 in", "pitch: 12 tpi", "series: UNS"), "UNS", F(12)),
    ],
)
def test_the_series_of_a_unified_thread(
    tmp_path: Path, lines: tuple[str, ...], series: str, tpi: Fraction
) -> None:
    thread = load(job(tmp_path, "form: unified", *lines)).thread
    assert thread.series == series
    assert INCH / thread.pitch_exact == tpi


@pytest.mark.parametrize(
    ("lines", "data", "pitch"),
    [
        (("module: 2 mm",), "worm+module", 2 * pi),
        (("module: 2 mm", "variant: standard"), "worm+module", 2 * pi),
        (("diametral-pitch: 12",), "worm", 25.4 * pi / 12),
        (("pitch: 1/4 in",), "worm", 6.35),
        (("pitch: 6.35 mm", "variant: module"), "worm+module", 6.35),
    ],
)
def test_the_pitch_of_a_worm(
    tmp_path: Path, lines: tuple[str, ...], data: str, pitch: float
) -> None:
    thread = load(job(tmp_path, "form: worm", "diameter: 40 mm", *lines)).thread
    if "variant: standard" in lines:
        data = "worm"
    assert thread.form == data
    assert thread.pitch == pytest.approx(pitch, rel=1e-12)


@pytest.mark.parametrize(
    ("inch", "metric"),
    [
        (("form: acme", "diameter: 1 in", "pitch: 5 tpi"), ("diameter: 25.4 mm", "pitch: 5.08 mm")),
        (
            ("form: unified", "diameter: 3/4 in", "pitch: 10 tpi"),
            ("diameter: 19.05 mm", "pitch: 2.54 mm"),
        ),
        (
            ("form: buttress-inch", "diameter: 2 in", "pitch: 10 tpi"),
            ("diameter: 50.8 mm", "pitch: 2.54 mm"),
        ),
        (
            ("form: worm", "diameter: 2 in", "pitch: 1/4 in"),
            ("diameter: 50.8 mm", "pitch: 6.35 mm"),
        ),
    ],
)
def test_inches_and_millimetres_give_the_same_figures(
    tmp_path: Path, inch: tuple[str, ...], metric: tuple[str, ...]
) -> None:
    first, second = (
        work(job(tmp_path / name, *lines)).sheets.figures
        for name, lines in (("in", inch), ("mm", (inch[0], *metric)))
    )
    sizes = [id for id in first if id.startswith("thread.") and first[id].value != ""]
    for id in sizes:
        if isinstance(first[id].value, str):
            continue
        assert (first[id].value, first[id].low, first[id].high) == (
            second[id].value,
            second[id].low,
            second[id].high,
        ), id


CUSTOM = "custom: {{leading-flank: 5 deg, trailing-flank: 20 deg, depth: 2.5 mm{}}}"


@pytest.mark.parametrize(
    ("lines", "key", "words"),
    [
        (("form: unified", 'size: "1/2-14 UNC-2A"'), "thread.size", "is not UNC"),
        (
            ("form: unified", "diameter: 1/2 in", "pitch: 13 tpi", "series: UNF"),
            "thread.series",
            "UNF",
        ),
        (("form: unified", "diameter: 0.53 in"), "thread.pitch", "listed near it"),
        (("form: acme", 'size: "1-5 ACME-5C"'), "thread.size", "2C, 3C, 4C"),
        (("form: acme", "diameter: 1 in", "variant: push"), "thread.variant", "no variant push"),
        (
            ("form: stub-acme", 'size: "1-5 STUB ACME M1"', "variant: modified-2"),
            "thread.variant",
            "contradicts size",
        ),
        (
            ("form: worm", "diameter: 40 mm", "module: 2 mm", "pitch: 6 mm"),
            "thread.module",
            "both given",
        ),
        (("form: worm", "diameter: 40 mm"), "thread.pitch", "neither module"),
        (("form: custom", "diameter: 28 mm", "pitch: 5 mm"), "thread.custom", "not given"),
        (
            ("form: custom", "diameter: 28 mm", "pitch: 5 mm", CUSTOM.format(", crest: 3 mm")),
            "thread.custom",
            "nowhere equally wide",
        ),
        (
            (
                "form: custom",
                "diameter: 28 mm",
                "pitch: 5 mm",
                CUSTOM.format(", root-radius: 2 mm"),
            ),
            "thread.custom",
            "no room for a radius",
        ),
    ],
)
def test_what_is_refused(tmp_path: Path, lines: tuple[str, ...], key: str, words: str) -> None:
    with pytest.raises(SpecError) as caught:
        load(job(tmp_path, *lines))
    told = str(caught.value)
    assert key in told
    assert words in told


def test_a_stated_profile_reaches_the_card(tmp_path: Path) -> None:
    path = job(
        tmp_path,
        "form: custom",
        "diameter: 28 mm",
        "pitch: 5 mm",
        CUSTOM.format(", crest: 1.9 mm, root-radius: 0.3 mm, clearance: 0.1 mm"),
    )
    figures = work(path).sheets.figures
    for id, value in (
        ("leading_flank", 5.0),
        ("trailing_flank", 20.0),
        ("depth", 2.5),
        ("crest_flat", 1.9),
        ("root_radius", 0.3),
        ("clearance", 0.1),
    ):
        assert figures[f"thread.{id}"].value == pytest.approx(value), id
    # Two roundings with a flat between them are not one arc.
    assert "thread.root_shape" not in figures
