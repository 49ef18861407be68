"""Every fault of a job file is told: where it is, with what is allowed, and only once."""

from __future__ import annotations

from pathlib import Path

import pytest

from cardgen.core.problems import Problem, SpecError
from cardgen.spec.load import load
from tests.spec.shop_floor import JOB, LEAST, lay_out


def problems(path: Path, **options: object) -> tuple[Problem, ...]:
    with pytest.raises(SpecError) as caught:
        load(path, **options)  # type: ignore[arg-type]
    for problem in caught.value.problems:
        text = str(problem)
        assert len(text) < 2000
        assert problem.found
        assert problem.allowed
        assert problem.place.line >= 1
        assert problem.place.column >= 1
    return caught.value.problems


def at(problem: Problem, text: str) -> str:
    """Return what stands under a problem's caret, to the end of the line."""
    assert problem.place.source_line == text.splitlines()[problem.place.line - 1]
    return problem.place.source_line[problem.place.column - 1 :]


# Each: what is replaced, by what, the key, what stands under the caret, words of the message.
FAULTS = [
    ("cardgen: 1", "cardgen: 2", "cardgen", "2", "out of range"),
    ("cardgen: 1\n", "", "cardgen", "job: press", "cardgen is missing"),
    ("job: press-main-screw", "job: ../press", "job", "../press", "cannot stand here"),
    ("job: press-main-screw", "job: /etc/press", "job", "/etc/press", "cannot stand here"),
    ("job: press-main-screw", "job: press screw", "job", "press screw", "cannot stand here"),
    ("job: press-main-screw\n", "", "job", "cardgen: 1", "job is missing"),
    ("units: mm", "units: cm", "units", "cm", "not a word known here"),
    ("units: mm", "unit: mm", "unit", "unit: mm", "did you mean units?"),
    ("units: mm", "diameter: 5 mm", "diameter", "diameter: 5 mm", "it belongs under thread"),
    ("form: trapezoidal", "form: trapezodal", "thread.form", "trapezodal", "trapezoidal?"),
    (
        "form: trapezoidal",
        "form: trapezoidal\n  variant: push",
        "thread.variant",
        "push",
        "trapezoidal threads have no variant push",
    ),
    ("  form: trapezoidal\n", "", "thread.form", "thread:", "form is missing"),
    ("groove: 8 mm", "groove: 8 mm\n  blind: 20 mm", "work.blind", "20 mm", "external thread"),
    ("blank: 10 mm", "blank: 10 mm\n  bar: 16 mm", "tool.bar", "16 mm", "external thread"),
    ("diameter: 28 mm", "diameter: 28", "thread.diameter", "28", "write 28 mm or 28 in"),
    ("diameter: 28 mm", "diameter: 28 kg", "thread.diameter", "kg", "not a unit known here"),
    ("diameter: 28 mm", "diameter: 28 degC", "thread.diameter", "degC", "not of a length"),
    ("diameter: 28 mm", "diameter: 28 m", "thread.diameter", "28 m", "0.5 to 500 mm"),
    ("diameter: 28 mm", "diameter: -28 mm", "thread.diameter", "-28 mm", "out of range"),
    ("diameter: 28 mm", "diameter:", "thread.diameter", "diameter:", "nothing is written"),
    ("diameter: 28 mm", "diameter: [28 mm]", "thread.diameter", "diameter: [", "a list stands"),
    ("diameter: 28 mm", "diameter: {a: b}", "thread.diameter", "diameter: {", "a table of keys"),
    ("diameter: 28 mm", "diametr: 28 mm", "thread.diametr", "diametr: ", "did you mean diameter"),
    ("  diameter: 28 mm\n", "", "thread.diameter", "thread:", "neither diameter nor size"),
    ("pitch: 5 mm", "pitch: 1e1 mm", "thread.pitch", "e1 mm", "not one plain number"),
    ("pitch: 5 mm", "pitch: 9**9**9", "thread.pitch", "**9**9", "not one plain number"),
    ("pitch: 5 mm", "pitch: 28 mm", "thread.pitch", "28 mm", "leaves no core"),
    ("pitch: 5 mm", "pitch: 40 mm", "thread.pitch", "40 mm", "were the two exchanged?"),
    ("pitch: 5 mm", "module: 2 mm", "thread.module", "2 mm", "only with form: worm"),
    ("pitch: 5 mm", "pitch: 5 mm\n  series: UNC", "thread.series", "UNC", "form: unified"),
    (
        "pitch: 5 mm",
        "pitch: 5 mm\n  custom: {leading-flank: 5 deg, trailing-flank: 5 deg, depth: 2 mm}",
        "thread.custom",
        "custom: {",
        "only with form: custom",
    ),
    ("starts: 1", "starts: 9", "thread.starts", "9", "a whole number from 1 to 8"),
    ("starts: 1", "starts: 0", "thread.starts", "0", "out of range"),
    ("starts: 1", "starts: 1.5", "thread.starts", "1.5", "not a plain number"),
    ("starts: 1", "starts: two", "thread.starts", "two", "not a plain number"),
    ("hand: right", "hand: rigth", "thread.hand", "rigth", "did you mean right?"),
    ("class: 7e", "class: 7H", "thread.class", "7H", "one of 7e, 8e, 8c, 9c"),
    ("class: 7e", "class: 6g", "thread.class", "6g", "not a class of trapezoidal"),
    ("class: 7e", "class: 7-e", "thread.class", "7-e", "a tolerance class"),
    ("  length: 120 mm\n", "", "thread.length", "thread:", "length is missing"),
    ("thread:\n", "thred:\n", "thred", "thred:", "did you mean thread?"),
    ("kind: nut", "kind: rack", "mate.class", "7H", "class has no meaning for a rack"),
    ("length: 35 mm", "length: 35 mm\n  teeth: 3", "mate.teeth", "3", "only for a rack"),
    ("class: 7H", "class: 7e", "mate.class", "7e", "one of 7H, 8H, 9H"),
    ("bronze-pb1", "bronze-pb2", "mate.material", "bronze-pb2", "did you mean bronze-pb1?"),
    ("material: c45", "material: ../c45", "work.material", "../c45", "cannot stand here"),
    ("material: c45", "material: c..45", "work.material", "c..45", "cannot stand here"),
    ("material: c45", "material: /c45", "work.material", "/c45", "cannot stand here"),
    ("material: c45", "material: c44", "work.material", "c44", "did you mean c45?"),
    ("  material: c45\n", "", "work.material", "work:", "material is missing"),
    ("stock: 30 mm", "stock: 27 mm", "work.stock", "27 mm", "28 mm or more"),
    ("stickout: 160 mm", "stickout: 120 mm", "work.stickout", "120 mm", "128 mm or more"),
    ("  groove: 8 mm\n", "", "work.groove", "work:", "its width is not given"),
    ("thread-end: groove", "thread-end: open", "work.groove", "8 mm", "leave groove out"),
    ("  thread-end: groove\n", "", "work.groove", "8 mm", "say thread-end: groove"),
    ("[3.0 mm, 3.5 mm]", "3.0 mm", "tool.wires", "3.0 mm", "write [3.0 mm]"),
    ("3.5 mm]", "3.5]", "tool.wires.2", "3.5]", "write 3.5 mm"),
    ("3.5 mm]", "0 mm]", "tool.wires.2", "0 mm]", "out of range"),
    ("bench-metric.yaml", "bench-metrik.yaml", "machine", "../", "did you mean bench-metric.yaml?"),
    ("../machines/bench-metric.yaml", "/etc/passwd", "machine", "/etc", "relative to this file"),
    ("../machines/bench-metric.yaml", "~/lathe.yaml", "machine", "~/", "relative to this file"),
    ("../machines/bench-metric.yaml", "C:/l.yaml", "machine", "C:/", "relative to this file"),
    ("../machines/bench-metric.yaml", "../../etc/shadow", "machine", "../", "a .yaml file"),
    ("step: temper", "step: tempr", "heat.2.step", "tempr", "did you mean temper?"),
    ("step: blacken", "step: harden", "heat.3.step", "harden", "hardened twice"),
    ("step: blacken", "step: normalise", "heat.3.step", "normalise", "after hardening undoes it"),
    ("52 HRC", "52", "heat.1.hardness", "52}", "write 52 HRC"),
    ("52 HRC", "300 HB", "heat.1.hardness", "HB}", "Rockwell C"),
    ("320 degC", "320 C", "heat.2.temperature", "C, time", "did you mean degC?"),
    ("320 degC", "3200 degC", "heat.2.temperature", "3200 degC", "50 to 1350 degC"),
    ("time: 1 h", "time: soon", "heat.2.time", "soon", "does not begin with a number"),
    (
        "temperature: 300 degC}",
        "temperature: 300 degC, hardness: 40 HRC}",
        "heat.3.hardness",
        "40 HRC",
        "only with harden or temper",
    ),
    ("  load: 8 kN\n", "", "duty.load", "duty:", "load is missing"),
    ("friction: 0.12", "friction: 12", "duty.friction", "12", "0.01 to 0.6"),
    ("friction: 0.12", "friction: some", "duty.friction", "some", "not a plain number"),
    ("friction: 0.12", "friction: 1/0", "duty.friction", "1/0", "not a plain number"),
    ("template: a5-two-column", "template: a5", "card.template", "a5", "there is no template"),
    ("template: a5-two-column", "template: ../a5", "card.template", "../a5", "cannot stand here"),
    ("show: [thread, setup", "show: [thread, set-up", "card.show.2", "set-up", "mean setup?"),
    ("note: Cut the nut first.", "note: Cut: first", "", ": first", "a second colon"),
]


@pytest.mark.parametrize(("old", "new", "key", "under", "words"), FAULTS)
def test_a_fault_is_told_once_and_where_it_is(
    tmp_path: Path, old: str, new: str, key: str, under: str, words: str
) -> None:
    assert JOB.count(old) >= 1
    text = JOB.replace(old, new, 1)
    found = problems(lay_out(tmp_path, text))
    assert len(found) == 1, "\n".join(map(str, found))
    assert found[0].key == key
    assert at(found[0], text).startswith(under)
    assert words in str(found[0])


def test_three_mistakes_are_three_problems_in_order(tmp_path: Path) -> None:
    text = (
        JOB.replace("diameter: 28 mm", "diameter: 28")
        .replace("hand: right", "hand: rihgt")
        .replace("stock: 30 mm", "stok: 30 mm")
    )
    found = problems(lay_out(tmp_path, text))
    assert [(p.place.line, p.key) for p in found] == [
        (10, "thread.diameter"),
        (13, "thread.hand"),
        (25, "work.stok"),
    ]


def test_no_fault_hides_another(tmp_path: Path) -> None:
    text = (
        JOB.replace("pitch: 5 mm", "pitch: 5")
        .replace("stock: 30 mm", "stock: 20 mm")
        .replace("stickout: 160 mm", "stickout: 60 mm")
        .replace("class: 7H", "class: 7h")
        .replace("52 HRC", "52")
        .replace("c45", "c4555")
        .replace("step: blacken", "step: normalise")
    )
    assert [p.key for p in problems(lay_out(tmp_path, text))] == [
        "thread.pitch",
        "mate.class",
        "work.material",
        "work.stock",
        "work.stickout",
        "heat.1.hardness",
        "heat.3.step",
    ]


def test_the_message_shows_file_line_and_caret(tmp_path: Path) -> None:
    path = lay_out(tmp_path, JOB.replace("pitch: 5 mm", "pitch: 5"))
    (found,) = problems(path)
    assert str(found).splitlines() == [
        f"{path}:11:10  thread.pitch",
        "  5 has no unit",
        "      pitch: 5",
        "             ^",
        "  allowed: a pitch with its unit, such as 5 mm or 5 tpi",
        "  mend:    write 5 mm or 5 tpi",
    ]


@pytest.mark.parametrize(
    ("thread", "key", "words"),
    [
        ('{form: metric, size: "Tr 28x5", length: 9 mm}', "thread.size", "form: trapezoidal"),
        ('{form: metric, size: "M10x", length: 9 mm}', "thread.size", "not a designation"),
        ('{form: metric, size: "M1000x2", length: 9 mm}', "thread.size", "0.5 to 500 mm"),
        ('{form: trapezoidal, size: "Tr 99x45P5", length: 9 mm}', "thread.size", "from 1 to 8"),
        ('{form: metric, size: "M10x10", length: 9 mm}', "thread.size", "leaves no core"),
        (
            '{form: metric, size: "M10x1.5", diameter: 12 mm, length: 9 mm}',
            "thread.diameter",
            "leave out diameter, or size",
        ),
        (
            '{form: metric, size: "M10x1.5", pitch: 1.25 mm, length: 9 mm}',
            "thread.pitch",
            "contradicts size: M10x1.5",
        ),
        (
            '{form: trapezoidal, size: "Tr 20x8 P4", starts: 1, length: 9 mm}',
            "thread.starts",
            "the starts of the designation, 2",
        ),
        (
            '{form: trapezoidal, size: "Tr 20x4 LH", hand: right, length: 9 mm}',
            "thread.hand",
            "hand: left, as LH says",
        ),
        (
            '{form: trapezoidal, size: "Tr 20x4-7e", class: 8e, length: 9 mm}',
            "thread.class",
            "the class of the designation, 7e",
        ),
        ('{form: metric, size: "M10-7H", length: 9 mm}', "thread.size", "one of 3h4h, 4g, 4h"),
        (
            "{form: square, diameter: 20 mm, pitch: 4 mm, class: 7e, length: 9 mm}",
            "thread.class",
            "no tolerance class",
        ),
        ("{form: square, diameter: 20 mm, length: 9 mm}", "thread.pitch", "no pitch is given"),
        ("{form: metric, diameter: 11.3 mm, length: 9 mm}", "thread.pitch", "no pitch is given"),
        ("{form: metric, size: 'M11.3', length: 9 mm}", "thread.pitch", "no pitch is given"),
    ],
)
def test_a_thread_that_contradicts_itself(
    tmp_path: Path, thread: str, key: str, words: str
) -> None:
    line = LEAST.splitlines()[2]
    found = problems(lay_out(tmp_path, LEAST.replace(line, f"thread: {thread}")))
    assert len(found) == 1, "\n".join(map(str, found))
    assert found[0].key == key
    assert words in str(found[0])


def test_a_size_that_agrees_with_its_keys_is_let_through(tmp_path: Path) -> None:
    text = JOB.replace("  diameter: 28 mm", '  size: "Tr 28x5-7e"\n  diameter: 28 mm')
    assert load(lay_out(tmp_path, text)).thread.pitch == 5


@pytest.mark.parametrize(
    ("steps", "key", "words"),
    [
        ("[{step: temper, temperature: 300 degC}]", "heat.1.step", "no hardening before it"),
        ("[{step: harden}, {step: temper}]", "heat.2", "how far to temper"),
        (
            "[{step: temper, temperature: 300 degC}, {step: harden}]",
            "heat.1.step",
            "harden, then temper",
        ),
        ("{step: harden}", "heat", "a list in brackets"),
        ("[]", "heat", "has 0 items"),
        ("[harden]", "heat.1", "a table with the keys"),
        ("[{temperature: 300 degC}]", "heat.1.step", "step is missing"),
    ],
)
def test_heat_steps_make_sense_in_their_order(
    tmp_path: Path, steps: str, key: str, words: str
) -> None:
    found = problems(lay_out(tmp_path, f"{LEAST}heat: {steps}\n"))
    assert len(found) == 1, "\n".join(map(str, found))
    assert found[0].key == key
    assert words in str(found[0])


@pytest.mark.parametrize(
    "steps",
    [
        "[{step: harden, hardness: 52 HRC}, {step: temper}]",
        "[{step: harden}, {step: temper, hardness: 52 HRC}]",
        "[{step: normalise}, {step: harden}, {step: temper, temperature: 200 degC}]",
        "[{step: blacken, temperature: 680 degC}]",
        "[{step: stress-relieve}]",
    ],
)
def test_heat_steps_in_order_are_let_through(tmp_path: Path, steps: str) -> None:
    assert load(lay_out(tmp_path, f"{LEAST}heat: {steps}\n")).heat


def test_a_flood_of_faults_is_cut_off_and_counted(tmp_path: Path) -> None:
    text = JOB + "".join(f"k{n}: 1\n" for n in range(3000))
    found = problems(lay_out(tmp_path, text))
    assert len(found) <= 101
    doubled = JOB + "units: mm\n" * 500
    found = problems(lay_out(tmp_path, doubled))
    assert len(found) == 101
    assert found[-1].found == "400 more faults follow"
