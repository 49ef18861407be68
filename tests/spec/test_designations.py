"""What makers write off a drawing, through the door and back onto the card."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from cardgen import library
from cardgen.core.problems import SpecError
from cardgen.forms.form import names, read
from cardgen.forms.sizes import designation
from cardgen.spec.keys.words import form_data, forms
from cardgen.spec.load import load
from cardgen.spec.size import read_size
from tests.spec.shop_floor import lay_out

INCH = Fraction(254, 10)

TAKEN = [
    ("trapezoidal", "Tr40x7", "Tr 40x7-7e"),
    ("trapezoidal", "TR 40 X 7 LH", "Tr 40x7 LH-7e"),
    ("trapezoidal", "Tr 40x14(P7)LH-7e", "Tr 40x14 (P7) LH-7e"),
    ("trapezoidal", "Tr  40x14   P7", "Tr 40x14 (P7)-7e"),
    ("metric", "M8", "M8x1.25-6g"),
    ("metric", "m 10 × 1", "M10x1-6g"),
    ("metric", "M6-6g-LH", "M6x1-6g LH"),
    ("metric", "M16xPh3P1.5 (two starts)-6g", "M16xPh3P1.5-6g"),
    ("unified", "1/4-20UNC-2A", "1/4-20 UNC-2A"),
    ("unified", "0.250-20 UNC-2A", "1/4-20 UNC-2A"),
    ("unified", ".190-32 UNF", "10-32 UNF-2A"),
    ("unified", "#10-32 UNF", "10-32 UNF-2A"),
    ("unified", "No. 10-32 UNF-2A", "10-32 UNF-2A"),
    ("unified", "7/16-20 UNRF-2A", "7/16-20 UNF-2A"),
    ("unified", '1/4"-20 UNC - 2A LH', "1/4-20 UNC-2A LH"),
    ("unified", "2 1/2-8UN-3A", "2 1/2-8 UN-3A"),
    ("unified", "1.250-0.0833P-0.1667L UNF-2A", "1 1/4-0.0833P-0.1667L UNF-2A"),
    ("whitworth", "1/2 Whitworth", "1/2 in - 12 BSW, medium"),
    ("whitworth", "W 1/2", "1/2 in - 12 BSW, medium"),
    ("whitworth", "1/2 in. - 12 TPI BSW", "1/2 in - 12 BSW, medium"),
    ("whitworth", "1/2 BSW, 2 starts LH", "1/2 in - 12 BSW, 2 starts LH, medium"),
    ("whitworth", "BSF 3/8 LH", "3/8 in - 20 BSF LH, medium"),
    ("pipe-parallel", "G1/2A", "G 1/2 A"),
    ("pipe-parallel", 'G 1/2" B LH', "G 1/2 B LH"),
    ("pipe-parallel", "1/2 BSPP", "G 1/2 A"),
    ("ba", "BA 2", "2 BA, normal"),
    ("ba", "2 B.A.", "2 BA, normal"),
    ("ba", "16BA", "16 BA, normal"),
    ("acme", "1.250-5-ACME-2G", "1 1/4-5 ACME-2G"),
    ("acme", "1-5ACME 2G", "1-5 ACME-2G"),
    ("acme", "1 1/4-5 ACME-2G-LH", "1 1/4-5 ACME-2G-LH"),
    ("acme", "1.750-6-ACME-4C-LH", "1 3/4-6 ACME-4C-LH"),
    ("acme", "2.500-0.3333P-0.6667L-ACME-4C (Two Start)", "2 1/2-0.3333P-0.6667L ACME-4C"),
    ("acme", "3-0.5P-1L-ACME-2G", "3-0.5P-1L ACME-2G"),
    ("unified", ".086-0.0179P-0.0357L UNC-2A", "0.086-0.0179P-0.0357L UNC-2A"),
    ("stub-acme", "1.250-5-STUB ACME", "1 1/4-5 STUB ACME"),
    ("stub-acme", '0.500"-20 Stub Acme-2G LH', "1/2-20 STUB ACME-LH"),
    ("stub-acme", "1/2-10 STUB ACME M2-3G-LH", "1/2-10 STUB ACME M2-3G-LH"),
    ("buttress-metric", "S28x5", "S 28x5-7e"),
    ("buttress-metric", "S 40x14 (P7) LH-7e", "S 40x14 (P7) LH-7e"),
    ("buttress-inch", "2.5-10-BUTT-2A", "2 1/2-10 BUTT-2A"),
    ("buttress-inch", "2.500-0.125P-0.25L BUTT-2A", "2 1/2-0.125P-0.25L BUTT-2A"),
    ("knuckle", 'RD 40 x 1/6"', "Rd 40x1/6-7h"),
    ("knuckle", "Rd 40x1/3 P1/6 LH", "Rd 40x1/3 P1/6 LH-7h"),
]

REFUSED = [
    ("metric", "MJ10x1.5", "aerospace"),
    ("metric", "M20x2-6H/5g6g", "class under mate"),
    ("metric", "M10x1.5-6g-S", "length under mate"),
    ("metric", "M20-6H", "surface: internal"),
    ("metric", "M16xPh3P1.5 (three starts)-6g", "not three"),
    ("trapezoidal", "Tr 28x5-7H", "surface: internal"),
    ("trapezoidal", "Tr 28x5 7e", "hyphen"),
    ("trapezoidal", "Tr28*5", "an x there"),
    ("unified", "#10-32", "UNC"),
    ("unified", "1/4-20 UNJC-3A", "aerospace"),
    ("unified", "1/4-20 NC-2", "UNC for NC"),
    ("unified", "10-24 UNC-3B", "3A for the screw"),
    ("unified", "1/4-21 UNC", "UNS instead of UNC"),
    ("unified", "1.25-0.1P-0.25L UNF-2A", "whole number of pitches"),
    ("whitworth", "1/2-20 BSW", "12 threads per inch"),
    ("pipe-parallel", "Rp 1/2", "ISO 7-1"),
    ("pipe-parallel", "R 1/2", "ISO 7-1"),
    ("pipe-parallel", "1/2 NPT", "ASME B1.20.1"),
    ("pipe-parallel", "G 7", "near it: 5 1/2, 6"),
    ("ba", "17 BA", "0 to 16"),
    ("acme", "1-5 ACME-5G", "2G, 3G, 4G, 2C, 3C, 4C"),
    ("knuckle", "Rd 40x4", "part of an inch"),
    ("square", "Sq 28x5", "diameter and pitch"),
    ("stub-acme", "1-5 ACME STUB", "STUB ACME"),
]


def job(tmp_path: Path, form: str, size: str) -> Path:
    text = f"""\
cardgen: 1
job: demo
thread: {{form: {form}, size: '{size}', length: 20 mm}}
work: {{material: c45}}
"""
    return lay_out(tmp_path, text)


@pytest.mark.parametrize(("form", "text", "printed"), TAKEN, ids=[text for _, text, _ in TAKEN])
def test_a_designation_is_printed_in_its_standard_s_words(
    tmp_path: Path, form: str, text: str, printed: str
) -> None:
    thread = load(job(tmp_path, form, text)).thread
    assert printed == designation(
        read(thread.form, thread.series), thread.diameter, thread.pitch_exact, thread.starts,
        thread.hand, thread.class_, inch=thread.inch,
    )  # fmt: skip
    # What is printed is itself a designation of the same thread.
    again = load(job(tmp_path, form, printed)).thread
    assert (again.diameter, again.pitch_exact, again.starts, again.hand, again.class_) == (
        thread.diameter, thread.pitch_exact, thread.starts, thread.hand, thread.class_,
    )  # fmt: skip


@pytest.mark.parametrize("name", [name for name in names() if read(name).sizes])
def test_every_listed_size_is_read_as_it_is_printed(name: str) -> None:
    """Number sizes, thirds of an inch and all: what a card prints is never read as another size."""
    form = read(name)
    for row in (row for table in form.sizes for row in library.table(table)):
        inch = "tpi" in row
        diameter = Fraction(row["d_in"]) * INCH if "d_in" in row else Fraction(row["d_mm"])
        pitch = INCH / Fraction(row["tpi"]) if inch else Fraction(row["p_mm"])
        of_series = read(name, row["series"]) if name == "unified" else form
        for starts, hand in ((1, "right"), (2, "left"), (3, "right")):
            printed = designation(
                of_series, float(diameter), pitch, starts, hand, form.default_class, inch=inch
            )
            size = read_size(printed)
            assert float(size.diameter) == pytest.approx(float(diameter), abs=1e-3), printed
            assert size.pitch is not None
            assert float(size.pitch) == pytest.approx(float(pitch), abs=1e-3), printed
            assert (size.starts, size.hand or "right") == (starts, hand), printed
            assert size.form == name.partition("+")[0], printed


@pytest.mark.parametrize(("form", "text", "words"), REFUSED, ids=[text for _, text, _ in REFUSED])
def test_a_foreign_designation_is_told_what_it_is(
    tmp_path: Path, form: str, text: str, words: str
) -> None:
    with pytest.raises(SpecError) as caught:
        load(job(tmp_path, form, text))
    (problem,) = caught.value.problems
    assert problem.key == "thread.size"
    assert words in f"{problem.found}; {problem.allowed}; {problem.mend}"


@pytest.mark.parametrize(
    ("lines", "words"),
    [
        ("diameter: 1/2 in, series: BSF", "1/2 in - 16 BSF, medium"),
        ("diameter: 1/2 in, series: BSW", "1/2 in - 12 BSW, medium"),
        ("diameter: 12.7 mm, series: BSF", "1/2 in - 16 BSF, medium"),
    ],
)
def test_a_whitworth_series_gives_the_pitch(tmp_path: Path, lines: str, words: str) -> None:
    path = job(tmp_path, "whitworth", "x")
    path.write_text(path.read_text("utf-8").replace("size: 'x'", lines), "utf-8")
    thread = load(path).thread
    form = read(thread.form)
    printed = designation(
        form, thread.diameter, thread.pitch_exact, 1, "right", thread.class_, inch=True
    )
    assert printed == words


@pytest.mark.parametrize(
    ("form", "lines", "key", "words"),
    [
        ("whitworth", "diameter: 0.52 in, series: BSF", "thread.pitch", "1/2 in with 16 tpi"),
        ("whitworth", "diameter: 13 mm, series: BSF", "thread.pitch", "12.7 mm with 16 tpi"),
        ("whitworth", "diameter: 1/2 in, pitch: 20 tpi, series: BSF", "thread.series", "16 tpi"),
        ("whitworth", "diameter: 1/2 in, series: UNC", "thread.series", "form: unified"),
        ("unified", "diameter: 1/2 in, series: BSF", "thread.series", "form: whitworth"),
        ("unified", "diameter: 0.2 in", "thread.pitch", "No. 10 with 24 tpi, No. 12"),
        ("pipe-parallel", "diameter: 1/2 in", "thread.diameter", 'size: "G 1/2"'),
        ("pipe-parallel", "diameter: 1 in, pitch: 11 tpi", "thread.diameter", "33.249 mm"),
        ("acme", "diameter: 1.3 in", "thread.pitch", "1 1/4 in with 5 tpi"),
        ("metric", "diameter: 10 mm, series: BSW", "thread.series", "unified or whitworth"),
    ],
)
def test_what_no_standard_lists_is_told_its_neighbours(
    tmp_path: Path, form: str, lines: str, key: str, words: str
) -> None:
    path = job(tmp_path, form, "x")
    path.write_text(path.read_text("utf-8").replace("size: 'x'", lines), "utf-8")
    with pytest.raises(SpecError) as caught:
        load(path)
    (problem,) = caught.value.problems
    assert problem.key == key
    assert words in f"{problem.found}; {problem.allowed}; {problem.mend}"


@pytest.mark.parametrize("form", [f for f in forms() if "usual_pitch" in form_data(f)])
@pytest.mark.parametrize(("diameter", "unit"), [("40.123 mm", " mm with"), ("1.57 in", " in with")])
def test_every_form_names_neighbours(tmp_path: Path, form: str, diameter: str, unit: str) -> None:
    path = job(tmp_path, form, "x")
    text = path.read_text("utf-8").replace("size: 'x'", f"diameter: {diameter}")
    path.write_text(text, "utf-8")
    with pytest.raises(SpecError) as caught:
        load(path)
    (problem,) = caught.value.problems
    assert problem.key == "thread.pitch"
    assert unit in problem.mend


@pytest.mark.parametrize(
    ("written", "taken"), [("2", "2B"), ("2b", "2B"), ("2B", "2B"), ("2A", None), ("4", None)]
)
def test_the_class_of_the_mate(tmp_path: Path, written: str, taken: str | None) -> None:
    path = job(tmp_path, "unified", "1/2-13 UNC-2A")
    text = path.read_text("utf-8") + f"mate: {{kind: nut, class: {written}}}\n"
    path.write_text(text, "utf-8")
    if taken is not None:
        mate = load(path).mate
        assert mate is not None
        assert mate.class_ == taken
        return
    with pytest.raises(SpecError) as caught:
        load(path)
    (problem,) = caught.value.problems
    assert problem.key == "mate.class"
    assert ("2B for the nut" in problem.mend) == (written == "2A")
