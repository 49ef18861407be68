"""Machine, shop, material and template files: found where they should be, and judged by name."""

from __future__ import annotations

from fractions import Fraction
from math import pi
from pathlib import Path

import pytest

from cardgen import library
from cardgen.core.problems import Problem, SpecError
from cardgen.spec.load import load
from cardgen.spec.material import material
from tests.spec.shop_floor import JOB, LEAST, MACHINE, MATERIAL, SHOP, TEMPLATE, lay_out


def problems(path: Path, **options: object) -> tuple[Problem, ...]:
    with pytest.raises(SpecError) as caught:
        load(path, **options)  # type: ignore[arg-type]
    return caught.value.problems


def rewrite(folder: Path, name: str, text: str) -> None:
    (folder / name).parent.mkdir(parents=True, exist_ok=True)
    (folder / name).write_text(text, encoding="utf-8")


MACHINE_FAULTS = [
    ("per-turn: 2 mm, reads", "per-turn: 2.01 mm, reads", "cross-slide.per-turn", "100.5"),
    ("per-turn: 2 mm, reads", "per-turn: 0.01 in, reads", "cross-slide.per-turn", "12.7"),
    ("per-turn: 2 mm, reads", "per-turn: 30 mm, reads", "cross-slide.per-turn", "1500"),
    ("reads: diameter", "reads: diametre", "cross-slide.reads", "did you mean diameter?"),
    ("gears: [20,", "gears: [9,", "gears.1", "from 10 to 200"),
    ("127]", "270]", "gears.15", "from 10 to 200"),
    ("gears: [20,", "gears: [20.5,", "gears.1", "not a plain number"),
    ("[60 rev/min,", "[60,", "spindle.speeds.1", "write 60 rev/min"),
    ("200 rev/min", "110 rev/min", "spindle.speeds.3", "stands twice"),
    ("leadscrew: {pitch: 3 mm}", "leadscrew: {pitch: 3}", "leadscrew.pitch", "3 mm or 3 tpi"),
    ("leadscrew: {pitch: 3 mm}", "leadscrew: 3 mm", "leadscrew", "a table with the keys pitch"),
    ("leadscrew: {pitch: 3 mm}\n", "", "leadscrew", "leadscrew is missing"),
    ("min: 60 mm, max: 160 mm", "min: 160 mm, max: 60 mm", "train.centre-distance.max", "below"),
    ("[single, compound]", "[single, single]", "train.arrangements.2", "stands twice"),
    ("[single, compound]", "[singel]", "train.arrangements.1", "did you mean single?"),
    ("power: 550 W", "power: 550", "spindle.power", "550 W"),
    (
        "speeds: [",
        "ranges: {low: {min: 8 rev/min, max: 9 rev/min}}\n  speeds: [",
        "spindle.speeds",
        "speeds and ranges both",
    ),
    (
        "speeds: [60 rev/min, 110 rev/min, 200 rev/min, 350 rev/min, 700 rev/min]",
        "ranges: {low: {min: 90 rev/min, max: 80 rev/min}}",
        "spindle.ranges.low.max",
        "not above",
    ),
    (
        "speeds: [60 rev/min, 110 rev/min, 200 rev/min, 350 rev/min, 700 rev/min]",
        "ranges: {low: {min: 90 rev/min}}",
        "spindle.ranges.low",
        "speeds, or both min and max",
    ),
    (
        "  speeds: [60 rev/min, 110 rev/min, 200 rev/min, 350 rev/min, 700 rev/min]\n",
        "",
        "spindle.speeds",
        "no speed is given",
    ),
    ("{ratios: {A: 1, B: 2, C: 0.5}}", "{}", "gearbox", "neither ratios nor levers"),
    (
        "{ratios: {A: 1, B: 2, C: 0.5}}",
        "{levers: {letter: {}}}",
        "gearbox.levers.letter",
        "no lever is named",
    ),
    ("module: 1 mm", "module: 1 mm\n  now: [40, 60, 80]", "train.now", "an even count"),
    ("module: 1 mm", "module: 1 mm\n  now: [40, 40]", "train.now.2", "not owned twice"),
    ("module: 1 mm", "module: 1 mm\n  now: [41, 40]", "train.now.1", "not owned"),
    (
        "module: 1 mm",
        "module: 1 mm\n  fixed: {first: 36}\n  now: [40, 60]",
        "train.now.1",
        "cannot be taken off",
    ),
    ("module: 1 mm", "module: 1 mm\n  banjo: {min: 90 mm, max: 50 mm}", "train.banjo.max", "below"),
    ("efficiency: 0.75", "efficiency: 75 %", "spindle.efficiency", "not a plain number"),
    ("efficiency: 0.75", "efficiency: 1.5", "spindle.efficiency", "0.1 to 1"),
    ("reverse: true", "reverse: maybe", "spindle.reverse", "true or false"),
    ("C: 0.5", "C: 0", "gearbox.ratios.C", "out of range"),
    ("C: 0.5", "'../x': 1", "gearbox.ratios.../x", "cannot stand here"),
    ("{A: 1, B: 2, C: 0.5}", "{}", "gearbox.ratios", "no lever is named"),
    ("{gear: 16, marks: 8}", "{gear: 16}", "thread-dial.marks", "marks is missing"),
    ("kind: fixed", "kind: loose", "carriage-stop.kind", "none, fixed, trip"),
    ("cardgen: 1", "cardgen: 3", "cardgen", "out of range"),
    ("title: Bench", "titel: Bench", "titel", "did you mean title?"),
]


@pytest.mark.parametrize(("old", "new", "key", "words"), MACHINE_FAULTS)
def test_a_machine_is_judged_in_its_own_file(
    tmp_path: Path, old: str, new: str, key: str, words: str
) -> None:
    path = lay_out(tmp_path)
    assert old in MACHINE
    rewrite(tmp_path, "specs/machines/bench-metric.yaml", MACHINE.replace(old, new, 1))
    (found,) = problems(path)
    assert found.place.file.endswith("machines/bench-metric.yaml")
    assert found.key == key
    assert words in str(found)


TEMPLATE_FAULTS = [
    ("body: 9 pt", "body: 8 pt", "type.body", "9 pt or more"),
    ("dial: 14 pt", "dial: 13.9 pt", "type.dial", "14 pt or more"),
    ("small: 7 pt", "small: 5 pt", "type.small", "out of range"),
    ("small: 7 pt", "small: 10 pt", "type.small", "larger than body"),
    ("small: 7 pt", "small: 7 pt, minimum: 8 pt", "type.small", "below the minimum of 8 pt"),
    ("page: A5", "page: A55", "page", "A5"),
    ("page: A5", "page: {width: 148 mm}", "page.height", "height is missing"),
    ("columns: 2", "columns: 5", "columns", "from 1 to 4"),
    ("columns: 2", "columns: 4\nseal-edge: 3 mm", "seal-edge", "written twice"),
    ("margin: 6 mm", "margin: 50 mm", "page", "no room for its columns"),
    ("[thread, setup,", "[thread, thread,", "order.2", "stands twice"),
    ("[thread, setup,", "[thread, sett,", "order.2", "not a word known here"),
    ("ink: colour", "ink: color", "ink", "did you mean colour?"),
    ("template: a5-two-column", "template: a5", "template", "is called a5-two-column"),
    ("orientation: portrait", "orientation: upright", "orientation", "portrait, landscape"),
]


@pytest.mark.parametrize(("old", "new", "key", "words"), TEMPLATE_FAULTS)
def test_a_template_is_judged_in_its_own_file(
    tmp_path: Path, old: str, new: str, key: str, words: str
) -> None:
    path = lay_out(tmp_path)
    assert old in TEMPLATE
    rewrite(tmp_path, "templates/a5-two-column.yaml", TEMPLATE.replace(old, new, 1))
    found = problems(path)[0]
    assert found.place.file.endswith("templates/a5-two-column.yaml")
    assert found.key == key
    assert words in str(found)


MATERIAL_FAULTS = [
    ("yield: 600 MPa", "yield: 600", "yield", "600 MPa"),
    ("yield: 600 MPa", "yield: 1200 MPa", "yield", "above the tensile strength"),
    ("yield: 600 MPa", "yield: {low: 500 MPa}", "yield", "no value and no whole range"),
    ("yield: 600 MPa", "yield: {low: 700 MPa, high: 500 MPa}", "yield.low", "low below high"),
    (
        "yield: 600 MPa",
        "yield: {value: 9 MPa, low: 500 MPa, high: 600 MPa}",
        "yield.value",
        "outside its own range",
    ),
    ("{C: 0.6,", "{Carbon: 0.6,", "composition.Carbon", "symbols of the elements"),
    ("{C: 0.6,", "{C: 160,", "composition.C", "out of range"),
    ("mc: 0.25", "mc: 2.5", "cutting.mc", "out of range"),
    (", rake: 6 deg", "", "cutting.rake", "rake is missing"),
    ("  quench: oil\n", "", "heat.quench", "without a quench"),
    ("[400 degC, 52 HRC]", "[150 degC, 52 HRC]", "heat.temper.rows.2.1", "does not rise"),
    ("[400 degC, 52 HRC]", "[400 degC]", "heat.temper.rows.2", "has 1 items"),
    ("source: mill sheet of the bar in the rack", "", "source", "source is missing"),
    ("material: spring-steel", "material: spring", "material", "is called spring-steel"),
    ("evidence: read", "evidence: rumour", "heat.harden.evidence", "read, derived"),
]


@pytest.mark.parametrize(("old", "new", "key", "words"), MATERIAL_FAULTS)
def test_a_material_is_judged_in_its_own_file(
    tmp_path: Path, old: str, new: str, key: str, words: str
) -> None:
    path = lay_out(tmp_path, LEAST.replace("c45", "spring-steel"))
    assert old in MATERIAL
    rewrite(tmp_path, "specs/materials/spring-steel.yaml", MATERIAL.replace(old, new, 1))
    (found,) = problems(path)
    assert found.place.file.endswith("materials/spring-steel.yaml")
    assert found.key == key
    assert words in str(found)


def test_faults_of_all_files_come_together(tmp_path: Path) -> None:
    path = lay_out(tmp_path, JOB.replace("stock: 30 mm", "stock: 30"))
    rewrite(tmp_path, "specs/machines/bench-metric.yaml", MACHINE.replace("550 W", "550"))
    rewrite(tmp_path, "specs/shop.yaml", SHOP.replace("paper: a4", "paper: a44"))
    rewrite(tmp_path, "templates/a5-two-column.yaml", TEMPLATE.replace("9 pt", "8 pt"))
    files = [Path(p.place.file).name for p in problems(path)]
    assert sorted(files) == [
        "a5-two-column.yaml",
        "bench-metric.yaml",
        "press.yaml",
        "shop.yaml",
    ]


def test_a_faulty_job_does_not_hide_its_machine(tmp_path: Path) -> None:
    path = lay_out(tmp_path, JOB + "units: in\n")
    rewrite(tmp_path, "specs/machines/bench-metric.yaml", "machine: [\n")
    rewrite(tmp_path, "specs/shop.yaml", SHOP.replace("2.5 mm", "2.5"))
    files = {Path(p.place.file).name for p in problems(path)}
    # A job that cannot be read names no machine, but the shop's default still is one.
    assert files == {"press.yaml", "bench-metric.yaml", "shop.yaml"}


def test_a_material_of_ones_own(tmp_path: Path) -> None:
    job = load(lay_out(tmp_path, LEAST.replace("c45", "spring-steel")))
    steel = job.work.material
    assert steel.group == "alloy-steel"
    assert steel.strength.value == 900
    assert (steel.strength.low, steel.strength.high) == (800, 1000)
    assert steel.yield_.source == "mill sheet of the bar in the rack"
    assert steel.yield_.evidence == "practice"
    assert steel.density.value == 7850
    assert steel.heat is not None
    assert steel.heat.harden is not None
    assert (steel.heat.harden.value, steel.heat.harden.evidence) == (860, "read")
    assert steel.heat.temper == ((200, 60), (400, 52))
    assert steel.heat.temper_time == 7200
    assert "material.group" in {item.key for item in job.assumed}


def test_the_least_material_is_the_contracts(tmp_path: Path) -> None:
    text = "\n".join(
        line for line in MATERIAL.splitlines() if not line.startswith(("material:", "hardness:"))
    )
    path = lay_out(tmp_path, LEAST.replace("c45", "spring-steel"))
    rewrite(tmp_path, "specs/materials/spring-steel.yaml", text)
    assert load(path).work.material.name == "spring-steel"


def test_own_materials_come_before_shipped_ones(tmp_path: Path) -> None:
    path = lay_out(tmp_path, LEAST)
    rewrite(tmp_path, "specs/materials/c45.yaml", MATERIAL.replace("spring-steel", "c45"))
    assert load(path).work.material.strength.value == 900


@pytest.mark.parametrize("name", ["C45", "1045", "s45c", "S45C", "1.0503"])
def test_a_shipped_material_is_known_by_its_other_names(tmp_path: Path, name: str) -> None:
    assert load(lay_out(tmp_path, LEAST.replace("c45", name))).work.material.name == "c45"


@pytest.mark.parametrize("name", library.names("materials", ".yaml"))
def test_every_shipped_material_is_whole(name: str) -> None:
    content = library.text(f"materials/{name}.yaml").encode()
    outcome = material(content, name, name)
    assert outcome.problems == ()
    assert outcome.assumed == ()


def test_defaults_of_a_machine_are_named(tmp_path: Path) -> None:
    bare = """\
cardgen: 1
machine: bench-metric
leadscrew: {pitch: 8 tpi}
gears: [20, 40, 60]
spindle: {speeds: [90 rev/min]}
cross-slide: {division: 0.001 in, per-turn: 0.1 in}
"""
    path = lay_out(tmp_path, LEAST)
    rewrite(tmp_path, "specs/machines/bench-metric.yaml", bare)
    job = load(path)
    lathe = job.machine
    assert lathe.leadscrew_exact == Fraction(127, 40)
    assert lathe.leadscrew_inch
    assert lathe.cross_slide.inch
    # A dial that reads diameter after all leaves the thread too shallow, never too deep.
    assert lathe.cross_slide.reads == "radius"
    assert lathe.arrangements == ("single", "compound")
    assert lathe.title == "bench-metric"
    assert lathe.thread_dial is None
    assert lathe.compound_slide is None
    assert lathe.stop == "none"
    assert job.inch
    assert job.tool.blank == pytest.approx(9.525)
    assert {item.key for item in job.assumed if item.key.startswith("machine.")} == {
        "machine.train.arrangements",
        "machine.train.module",
        "machine.spindle.power",
        "machine.spindle.efficiency",
        "machine.spindle.reverse",
        "machine.cross-slide.reads",
        "machine.carriage-stop.kind",
        "machine.carriage-stop.reaction",
    }


def test_levers_of_several_groups_multiply(tmp_path: Path) -> None:
    path = lay_out(tmp_path, LEAST)
    levers = "{levers: {letter: {A: 1, B: 1/2}, number: {1: 1, 2: 3/4}}}"
    text = MACHINE.replace("{ratios: {A: 1, B: 2, C: 0.5}}", levers)
    rewrite(tmp_path, "specs/machines/bench-metric.yaml", text)
    assert load(path).machine.gearbox == {
        "letter A, number 1": 1,
        "letter A, number 2": Fraction(3, 4),
        "letter B, number 1": Fraction(1, 2),
        "letter B, number 2": Fraction(3, 8),
    }


def test_a_variable_spindle_has_its_settings_and_its_torque(tmp_path: Path) -> None:
    """400 W, 4 N m at most in the slow range: 42 W at 100 rev/min, and 40 W in the fast."""
    path = lay_out(tmp_path, LEAST)
    speeds = "speeds: [60 rev/min, 110 rev/min, 200 rev/min, 350 rev/min, 700 rev/min]"
    ranges = (
        "ranges: {low: {min: 45 rev/min, max: 900 rev/min, full-power-from: 500 rev/min,"
        " torque: 4 N m}, high: {min: 90 rev/min, max: 2000 rev/min,"
        " full-power-from: 1000 rev/min}}\n  step: 5 rev/min"
    )
    text = MACHINE.replace(speeds, ranges).replace("550 W", "400 W").replace("0.75", "1")
    rewrite(tmp_path, "specs/machines/bench-metric.yaml", text)
    lathe = load(path).machine
    assert lathe.speeds[:3] == (45.0, 50.0, 55.0)
    assert lathe.speeds[-1] == 2000.0
    assert lathe.power_at(45.0) == pytest.approx(4 * 2 * pi * 45 / 60)
    names = {n: own.name for n in (100.0, 950.0) if (own := lathe.range_at(n)) is not None}
    assert names == {100.0: "low", 950.0: "high"}
    assert lathe.power_at(100.0) == pytest.approx(4 * 2 * pi * 100 / 60)
    assert lathe.power_at(950.0) == pytest.approx(400 * 950 / 1000)


def test_two_ranges_of_steps(tmp_path: Path) -> None:
    """A back gear and a direct drive: 200 rev/min is in both, and the back gear turns harder."""
    path = lay_out(tmp_path, LEAST)
    speeds = "speeds: [60 rev/min, 110 rev/min, 200 rev/min, 350 rev/min, 700 rev/min]"
    ranges = (
        "ranges: {back-gear: {speeds: [30 rev/min, 90 rev/min, 200 rev/min]},"
        " direct: {speeds: [200 rev/min, 600 rev/min], torque: 8 N m}}"
    )
    rewrite(tmp_path, "specs/machines/bench-metric.yaml", MACHINE.replace(speeds, ranges))
    lathe = load(path).machine
    assert lathe.speeds == (30.0, 90.0, 200.0, 600.0)
    assert not any(each.variable for each in lathe.ranges)
    names = {n: own.name for n in lathe.speeds if (own := lathe.range_at(n)) is not None}
    assert names == {30.0: "back-gear", 90.0: "back-gear", 200.0: "back-gear", 600.0: "direct"}
    assert lathe.power_at(30.0) == pytest.approx(550 * 0.75)
    assert lathe.power_at(600.0) == pytest.approx(min(550 * 0.75, 8 * 2 * pi * 10))


def test_the_shop_gives_defaults(tmp_path: Path) -> None:
    path = lay_out(tmp_path, LEAST)
    rewrite(tmp_path, "specs/shop.yaml", SHOP + "units: in\n")
    job = load(path)
    assert job.machine.name == "bench-metric"
    assert job.template.name == "a5-two-column"
    assert job.tool.wires == (2.5, 3.0)
    assert job.inch


def test_the_job_goes_before_the_shop(tmp_path: Path) -> None:
    path = lay_out(tmp_path)
    rewrite(tmp_path, "specs/shop.yaml", SHOP.replace("bench-metric", "other") + "units: in\n")
    job = load(path)
    assert job.tool.wires == (3.0, 3.5)
    assert not job.inch


def test_the_command_line_goes_before_both(tmp_path: Path) -> None:
    path = lay_out(tmp_path)
    rewrite(tmp_path, "lathe.yaml", MACHINE.replace("bench-metric", "other"))
    rewrite(tmp_path, "templates/card.yaml", TEMPLATE.replace("a5-two-column", "card"))
    job = load(path, machine=tmp_path / "lathe.yaml", template="card")
    assert job.machine.name == "other"
    assert job.template.name == "card"
    assert [p.found for p in problems(path, machine=tmp_path / "none.yaml")] == [
        "there is no such file"
    ]
    assert "no template ../card" in problems(path, template="../card")[0].found


def test_no_machine_at_all_is_told(tmp_path: Path) -> None:
    (found,) = problems(lay_out(tmp_path, LEAST, shop=False))
    assert found.key == "machine"
    assert "no machine is named" in found.found


def test_a_faulty_shop_is_not_blamed_on_the_job(tmp_path: Path) -> None:
    path = lay_out(tmp_path, LEAST)
    rewrite(tmp_path, "specs/shop.yaml", SHOP + "paper: a4\n")
    (found,) = problems(path)
    assert found.place.file.endswith("shop.yaml")
    rewrite(tmp_path, "specs/shop.yaml", SHOP.replace("bench-metric", "none"))
    (found,) = problems(path)
    assert found.place.file.endswith("shop.yaml")
    assert found.key == "machine"
    rewrite(tmp_path, "specs/shop.yaml", SHOP.replace("a5-two-column", "none"))
    (found,) = problems(path)
    assert found.place.file.endswith("shop.yaml")
    assert found.key == "template"


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("specs/machines/bench-metric.yaml", "machine"),
        ("specs/materials/spring-steel.yaml", "material"),
        ("templates/a5-two-column.yaml", "template"),
        ("specs/shop.yaml", "shop"),
    ],
)
def test_another_kind_of_file_is_known_for_what_it_is(tmp_path: Path, name: str, kind: str) -> None:
    lay_out(tmp_path)
    assert problems(tmp_path / name)[0].found == f"this is a {kind} file, not a job"


def test_speeds_are_sorted(tmp_path: Path) -> None:
    path = lay_out(tmp_path)
    turned = MACHINE.replace("[60 rev/min, 110 rev/min,", "[110 rev/min, 60 rev/min,")
    rewrite(tmp_path, "specs/machines/bench-metric.yaml", turned)
    assert load(path).machine.speeds == (60, 110, 200, 350, 700)


def test_nothing_is_looked_for_above_home(tmp_path: Path) -> None:
    path = lay_out(tmp_path, LEAST)
    assert load(path, home=tmp_path).machine.name == "bench-metric"
    (found,) = problems(path, home=path.parent)
    assert found.key == "machine"


def test_a_job_that_is_not_there(tmp_path: Path) -> None:
    (found,) = problems(tmp_path / "none.yaml")
    assert found.found == "there is no such file"
    assert "folder" in problems(tmp_path)[0].found or "plain" in problems(tmp_path)[0].found


def test_every_file_is_kept_byte_for_byte(tmp_path: Path) -> None:
    job = load(lay_out(tmp_path))
    kept = {(source.role, source.name): source.content for source in job.sources}
    assert next(iter(kept)) == ("job", "press.yaml")
    assert set(kept) == {
        ("job", "press.yaml"),
        ("shop", "../shop.yaml"),
        ("machine", "../machines/bench-metric.yaml"),
        ("template", "../../templates/a5-two-column.yaml"),
        ("material", "cardgen/data/materials/c45.yaml"),
        ("material", "cardgen/data/materials/bronze-pb1.yaml"),
    }
    assert kept["job", "press.yaml"] == JOB.encode()


def test_a_job_does_not_depend_on_where_its_folder_lies(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    jobs = []
    for name in ("one", "two/three"):
        path = lay_out(tmp_path / name)
        monkeypatch.chdir(path.parent)
        jobs.append(load("press.yaml"))
        monkeypatch.chdir(tmp_path / name)
        jobs.append(load("specs/jobs/press.yaml"))
    assert len({tuple(job.sources) for job in jobs}) == 1
    assert len({job.machine.file for job in jobs}) == 1


def test_places_lead_from_a_key_to_its_line(tmp_path: Path) -> None:
    job = load(lay_out(tmp_path))
    assert job.places["thread.pitch"].line == 11
    assert job.places["heat.2.temperature"].line == 43
    assert job.heat[1].place is not None
    assert job.heat[1].place.line == 43
    assert job.machine.places["cross-slide.division"].source_line.startswith("cross-slide")
    assert "thread.series" not in job.places


def test_panels_shown_are_those_asked_for(tmp_path: Path) -> None:
    job = load(lay_out(tmp_path, LEAST + "card: {show: [thread, infeed], date: 3 May}\n"))
    assert job.show == ("thread", "infeed")
    assert job.date == "3 May"
    assert load(lay_out(tmp_path, LEAST)).show == job.template.order


@pytest.mark.parametrize(
    ("page", "size"),
    [
        ("A6\norientation: landscape", (148, 105)),
        ("a6", (105, 148)),
        ("{width: 6 in, height: 4 in}", (152.4, 101.6)),
        ("index-5x8", (127, 203.2)),
    ],
)
def test_a_page_has_a_name_or_a_size(tmp_path: Path, page: str, size: tuple[float, float]) -> None:
    path = lay_out(tmp_path, LEAST)
    text = TEMPLATE.replace("orientation: portrait\n", "").replace("page: A5", f"page: {page}")
    rewrite(tmp_path, "templates/a5-two-column.yaml", text)
    template = load(path).template
    assert (template.width, template.height) == pytest.approx(size)
    assert (template.body, template.dial, template.head, template.small) == (9, 14, 12, 7)


def test_a_template_s_sizes_have_defaults(tmp_path: Path) -> None:
    path = lay_out(tmp_path, LEAST)
    lines = [line for line in TEMPLATE.splitlines() if not line.startswith("type")]
    rewrite(tmp_path, "templates/a5-two-column.yaml", "\n".join(lines))
    template = load(path).template
    assert (template.body, template.dial, template.head, template.small) == (9, 14, 12, 7)
