"""The heat sheet: numbers from the steel's own rows, and refusals that give numbers."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cardgen.core.figure import Sheet
from cardgen.core.swatch import Swatch
from cardgen.spec.keys.job import STEPS
from tests.ledger import evaluate
from tests.parts import hardenable, heated, job, material, names, refusals, step, warnings, worked

HARDEN = step("harden")
TEMPER = step("temper", 320, 3600)


def check_ledger(sheet: Sheet) -> None:
    """Every figure's formula, worked out again from its inputs by the independent evaluator."""
    for figure in sheet.figures.values():
        if isinstance(figure.value, str) or figure.formula.startswith("method:"):
            continue
        assert figure.formula, figure.id
        inputs = {name: part.value for name, part in figure.inputs.items()}
        found = evaluate(figure.formula, inputs)  # type: ignore[arg-type]
        assert found == pytest.approx(figure.value, rel=1e-9, abs=1e-9), figure.id


def test_nothing_asked_nothing_recorded() -> None:
    sheet = heated()
    assert not sheet.figures
    assert not sheet.findings
    assert not sheet.steps


def test_c45_hardened_tempered_and_blacked() -> None:
    """Lucefin card C45E: 58 HRC quenched, 52 HRC at 300 and 43 at 400 degC; so 50.2 at 320."""
    sheet = heated(step("harden", hardness=52), TEMPER, step("blacken", 300))
    assert not refusals(sheet)
    assert sheet.number("heat.hardness_quenched") == 58
    assert (sheet["heat.hardness_quenched"].low, sheet["heat.hardness_quenched"].high) == (55, 61)
    assert sheet.number("heat.hardness_final") == pytest.approx(50.2)
    assert sheet.number("heat.a1") == 735
    assert sheet.number("heat.ac3") == 780
    assert sheet.number("heat.ms") == 350
    assert sheet["heat.temper_colour"].value == "light blue"
    assert sheet["heat.quench"].value == "water"
    assert "heat.brittle_temper" in warnings(sheet)
    assert "heat.hard_skin" in warnings(sheet)
    heats = ("harden", "temper", "blacken")
    assert tuple(s.kind for s in sheet.steps if s.kind in heats) == heats
    check_ledger(sheet)


def test_black_hotter_than_the_temper_is_refused_with_numbers() -> None:
    """42CrMo4 card: 51 HRC at 300, 36 at 600, 31 at 650. A black is held 15 min by practice, which
    is an hour at 923.15 x 19.398 / 20 - 273.15 = 622 degC: 36 - 5 x 22.2 / 50 = 33.8 HRC."""
    sheet = heated(HARDEN, step("temper", 300, 3600), step("blacken", 650), screw="42crmo4")
    text = refusals(sheet)["heat.blacken_undoes_temper"]
    assert "650 °C" in text
    assert "300 °C" in text
    assert "51 HRC" in text
    assert sheet.number("heat.hardness_final") == pytest.approx(33.8, abs=0.05)
    assert "34 HRC" in text
    check_ledger(sheet)


def test_black_of_a_soft_part_is_common_practice() -> None:
    for name in ("1018", "s235", "c45", "11smnpb30"):
        sheet = heated(step("blacken"), screw=name)
        assert not sheet.findings
        assert 650 <= sheet.number("heat.blacken_temperature") <= 700
        assert "common practice" in sheet["heat.blacken_temperature"].source
        assert "heat.hardness_final" not in sheet


def test_default_black_on_hardened_work_is_refused() -> None:
    sheet = heated(HARDEN, TEMPER, step("blacken"))
    assert "less than 23 HRC" in refusals(sheet)["heat.blacken_undoes_temper"]


def test_black_as_only_temper_is_refused() -> None:
    sheet = heated(HARDEN, step("blacken", 300))
    assert "temper step" in refusals(sheet)["heat.blacken_undoes_temper"]


def test_hardness_out_of_reach() -> None:
    sheet = heated(step("harden", hardness=62), TEMPER)
    assert "55 to 61 HRC" in refusals(sheet)["heat.hardness_not_reached"]
    sheet = heated(HARDEN, step("temper", hardness=60))
    assert "58 HRC at 100 °C" in refusals(sheet)["heat.hardness_not_reached"]
    sheet = heated(HARDEN, step("temper", hardness=15))
    assert "23 HRC at 600 °C" in refusals(sheet)["heat.hardness_not_reached"]


@pytest.mark.parametrize("name", [n for n in names() if material(n).heat is None])
def test_what_does_not_harden(name: str) -> None:
    sheet = heated(HARDEN, step("temper", 300), screw=name)
    assert "heat.not_hardenable" in refusals(sheet)
    assert "heat.hardness_final" not in sheet
    assert "heat.temper_temperature" not in sheet


def test_section_too_thick() -> None:
    """C45 water: through to 15 mm, a skin to 60 mm; the core of the thread is what rules."""
    sheet = worked(job(diameter=70, pitch=10, stock=75, heats=(HARDEN, TEMPER)))["heat"]
    assert not refusals(sheet)
    assert "59.0 mm" in warnings(sheet)["heat.hard_skin"]
    sheet = worked(job(diameter=80, pitch=10, stock=80, heats=(HARDEN, TEMPER)))["heat"]
    assert "69.0 mm" in refusals(sheet)["heat.section_too_thick"]
    sheet = worked(job("o1", diameter=80, pitch=10, stock=80, heats=(HARDEN, TEMPER)))["heat"]
    assert not refusals(sheet)


def test_temper_found_for_a_hardness() -> None:
    """O1, Diamond Metals: 60 HRC at 260 degC, the rows taken as 2 h."""
    sheet = heated(HARDEN, step("temper", time=7200, hardness=60), screw="o1")
    assert sheet.number("heat.temper_temperature") == pytest.approx(260)
    assert sheet.number("heat.hardness_final") == pytest.approx(60)
    shorter = heated(HARDEN, step("temper", time=1800, hardness=60), screw="o1")
    assert 270 < shorter.number("heat.temper_temperature") < 285
    assert shorter.number("heat.hardness_final") == pytest.approx(60)
    check_ledger(sheet)
    check_ledger(shorter)


def test_hardness_of_the_quench_step_rules_a_bare_temper() -> None:
    sheet = heated(step("harden", hardness=52), step("temper", time=3600))
    assert sheet.number("heat.temper_temperature") == pytest.approx(300)


def test_temper_that_disagrees_with_its_hardness() -> None:
    sheet = heated(HARDEN, step("temper", 400, 3600, 52))
    text = refusals(sheet)["heat.temper_disagrees"]
    assert "43 HRC" in text
    assert "300 °C" in text
    assert not refusals(heated(HARDEN, step("temper", 310, 3600, 52)))


def test_softer_than_the_quench_was_asked_for() -> None:
    sheet = heated(step("harden", hardness=57), step("temper", 400, 3600))
    assert "43 HRC" in warnings(sheet)["heat.softer_than_asked"]


def test_embrittlement_gives_the_hardness_on_either_side() -> None:
    text = warnings(heated(HARDEN, TEMPER))["heat.brittle_temper"]
    assert "57 HRC" in text
    assert "46 HRC" in text
    assert "heat.brittle_temper" not in warnings(heated(HARDEN, step("temper", 180, 3600)))
    slow = heated(HARDEN, step("temper", 450, 3600), screw="52100")
    assert "heat.slow_cooling" in warnings(slow)


def test_untempered_and_left() -> None:
    sheet = heated(HARDEN)
    assert "heat.untempered" in warnings(sheet)
    assert sheet.number("heat.hardness_final") == 58
    check_ledger(sheet)


def test_temper_above_ac1() -> None:
    assert "735 °C" in refusals(heated(HARDEN, step("temper", 740)))["heat.temper_too_hot"]


def test_hardening_heat_out_of_range() -> None:
    assert "heat.too_cold_to_harden" in refusals(heated(step("harden", 700), TEMPER))
    assert "heat.cool_hardening" in warnings(heated(step("harden", 800), TEMPER))
    assert "heat.coarse_grain" in warnings(heated(step("harden", 950), TEMPER))


def test_stress_relief_keeps_below_the_temper() -> None:
    sheet = heated(HARDEN, step("temper", 400, 3600), step("stress-relieve"))
    assert sheet.number("heat.stress_relieve_temperature") == 350
    assert not refusals(sheet)
    sheet = heated(HARDEN, step("temper", 400, 3600), step("stress-relieve", 500))
    assert "33 HRC" in refusals(sheet)["heat.stress_relieve_undoes_temper"]
    assert heated(step("stress-relieve")).number("heat.stress_relieve_temperature") == 600


def test_normalise_first() -> None:
    sheet = heated(step("normalise"), HARDEN, TEMPER)
    assert sheet.number("heat.normalise_temperature") == 870
    assert "heat.no_normalising" in refusals(heated(step("normalise"), screw="o1"))
    assert not refusals(heated(step("normalise", 900), screw="1018"))


def test_metals_that_melt_first() -> None:
    for name in ("6082", "cw614n", "acetal", "bronze-pb1"):
        assert refusals(heated(step("blacken", 680), screw=name))
    melted = refusals(heated(step("stress-relieve", 600), screw="6082"))
    assert "585 °C" in melted["heat.too_hot_for_material"]


def test_double_temper_and_retained_austenite() -> None:
    sheet = heated(HARDEN, step("temper", 300, 7200), screw="s7")
    assert any("second time" in s.text for s in sheet.steps)
    # 102Cr6: Ms 210, so exp(-0.011 * 190) = 12.4 % is left.
    sheet = heated(HARDEN, step("temper", 180, 7200), screw="52100", stock=20)
    assert sheet.number("heat.retained_austenite") == pytest.approx(0.124, abs=0.0005)
    assert "12 %" in warnings(sheet)["heat.retained_austenite"]


def test_regressions_only_where_they_hold() -> None:
    """No Ae1 to Ms above 0.6 % C; 5160 at 0.60 % has an Ms but no Ae3; S7 has all three."""
    for name in ("w1", "1095"):
        sheet = heated(HARDEN, step("temper", 200), screw=name)
        assert not {"heat.a1", "heat.ac3", "heat.ms"} & set(sheet.figures)
    sheet = heated(HARDEN, step("temper", 200), screw="5160")
    assert sheet.number("heat.ms") == pytest.approx(249, abs=0.6)
    assert "heat.ac3" not in sheet
    assert sheet["heat.ms"].evidence == "read"
    check_ledger(sheet)
    check_ledger(heated(HARDEN, step("temper", 300, 7200), screw="s7"))


def test_memory_is_marked_on_the_way_through() -> None:
    assert heated(HARDEN, step("temper", 200), screw="1084")["heat.hardness_final"].evidence == (
        "memory"
    )
    assert heated(HARDEN, TEMPER)["heat.hardness_final"].evidence != "memory"


def test_the_chart_marks_one_colour() -> None:
    sheet = heated(HARDEN, step("temper", 241, 3600))
    chart = [Swatch.read(s.text) for s in sheet.steps if s.kind == "swatch"]
    assert [s.name for s in chart if s.chosen] == ["dark straw"]
    assert len({s.hatch for s in chart}) == len(chart)
    assert all(a.temperature < b.temperature for a, b in itertools.pairwise(chart))
    assert all(s.low <= s.temperature <= s.high for s in chart)


@pytest.mark.parametrize("name", hardenable())
def test_every_shipped_steel(name: str) -> None:
    steel = material(name).heat
    assert steel is not None
    (cold, hard), (hot, soft) = steel.temper[0], steel.temper[-1]
    sheet = heated(HARDEN, step("temper", (cold + hot) / 2), screw=name, stock=12)
    assert soft <= sheet.number("heat.hardness_final") <= hard
    check_ledger(sheet)
    target = round((hard + soft) / 2)
    sheet = heated(HARDEN, step("temper", hardness=target), screw=name, stock=12)
    assert sheet.number("heat.hardness_final") == pytest.approx(target)
    check_ledger(sheet)


@settings(max_examples=150, deadline=None)
@given(
    name=st.sampled_from(names()),
    heats=st.lists(
        st.builds(
            step,
            st.sampled_from(STEPS),
            st.none() | st.floats(1, 1400),
            st.none() | st.floats(0, 1e6),
            st.none() | st.floats(5, 70),
        ),
        max_size=4,
    ).filter(lambda heats: [one.step for one in heats].count("harden") <= 1),
)
def test_no_order_of_heats_is_a_fault_of_ours(name: str, heats: list[object]) -> None:
    """The door lets one hardening through; all else may come in any order."""
    sheet = heated(*heats, screw=name)  # type: ignore[arg-type]
    check_ledger(sheet)
    for figure in sheet.figures.values():
        assert figure.source
        if figure.low is not None and figure.high is not None:
            assert figure.low <= figure.high
